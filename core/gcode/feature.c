/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gcode/feature.h"

#include <math.h>

/* A reading is of a feature whose nominal it has within 1 µm. */
#define SAME_SIZE 1e-3

static void
clear_feature (gpointer data)
{
  g_free (((TrammelFeature *)data)->note);
}

GArray *
trammel_feature_array_new (void)
{
  GArray *features = g_array_new (FALSE, FALSE, sizeof (TrammelFeature));

  g_array_set_clear_func (features, clear_feature);
  return features;
}

const TrammelFeature *
trammel_feature_find (const GArray *features, const TrammelReading *reading)
{
  g_return_val_if_fail (features != NULL && reading != NULL, NULL);

  for (guint i = 0; i < features->len && reading->has_along; i++)
    {
      const TrammelFeature *feature = &g_array_index (features, TrammelFeature, i);
      if (feature->kind == (TrammelReadingKind)reading->kind
          && trammel_direction_equal (&feature->along, &reading->along)
          && fabs (feature->nominal - reading->nominal) <= SAME_SIZE)
        return feature;
    }
  return NULL;
}

/* Whole nanometers: what a person sees of size·√2, and nothing less than any instrument tells. */
static double
rounded_nominal (double nominal)
{
  return round (nominal * 1e6) / 1e6;
}

TrammelReadings *
trammel_feature_plan (const GArray *features)
{
  GArray *rows;

  g_return_val_if_fail (features != NULL, NULL);

  rows = trammel_reading_array_new (features->len);
  for (guint i = 0; i < features->len; i++)
    {
      const TrammelFeature *feature = &g_array_index (features, TrammelFeature, i);
      TrammelReading row;

      trammel_reading_init (&row);
      row.kind = (guint8)feature->kind;
      row.has_along = TRUE;
      row.along = feature->along;
      row.nominal = rounded_nominal (feature->nominal);
      row.u = feature->u;
      row.note = feature->note ? g_ref_string_new (feature->note) : NULL;
      g_array_append_val (rows, row);
    }
  return trammel_readings_take (rows);
}
