/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"

#include <math.h>

/* A new kind of output is a file of its own and a line here. */
static const TrammelOutputKind *const output_kinds[] = {
  &trammel_output_screw, &trammel_output_rack,   &trammel_output_worm_rack,
  &trammel_output_belt,  &trammel_output_roller, &trammel_output_table,
};

const TrammelRecordKind *const *
trammel_output_kinds (gsize *n)
{
  static const TrammelRecordKind *records[G_N_ELEMENTS (output_kinds)];
  static gsize once;

  g_return_val_if_fail (n != NULL, NULL);

  if (g_once_init_enter (&once))
    {
      for (gsize i = 0; i < G_N_ELEMENTS (output_kinds); i++)
        records[i] = &output_kinds[i]->record;
      g_once_init_leave (&once, 1);
    }
  *n = G_N_ELEMENTS (output_kinds);
  return records;
}

const TrammelRecordKind *
trammel_output_kind (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (output_kinds); i++)
    if (g_strcmp0 (output_kinds[i]->record.type, type) == 0)
      return &output_kinds[i]->record;
  return NULL;
}

/* The whole kind behind the record's; NULL for a record that is no output. */
static const TrammelOutputKind *
whole_kind (const TrammelRecord *output)
{
  for (gsize i = 0; i < G_N_ELEMENTS (output_kinds); i++)
    if (&output_kinds[i]->record == trammel_record_kind (output))
      return output_kinds[i];
  return NULL;
}

gboolean
trammel_output_is_rotary (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, FALSE);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, FALSE);

  return kind->rotary;
}

gboolean
trammel_output_travel_per_turn (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (output != NULL && out != NULL, FALSE);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, FALSE);

  return trammel_record_check (output, error) && kind->travel_per_turn (output, out, error);
}

void
trammel_output_wheel_bar (const TrammelRecord *output, double *diameter, double *length)
{
  TrammelExact travel;
  if (!trammel_output_travel_per_turn (output, &travel, NULL))
    return;
  *diameter = trammel_exact_to_double (travel) / G_PI;
  *length = trammel_record_value (output, "face");
}

const char *
trammel_output_wheel_bar_wants (const TrammelRecord *output)
{
  return "face";
}

TrammelEfficiency
trammel_output_efficiency (const TrammelRecord *output)
{
  const TrammelEfficiency none = { NAN, NAN, FALSE };

  g_return_val_if_fail (output != NULL, none);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, none);

  if (kind->efficiency != NULL)
    return kind->efficiency (output);
  const double either_way = trammel_record_value_or (output, "efficiency", kind->usual_efficiency);
  return (TrammelEfficiency){ either_way, either_way, trammel_record_has (output, "efficiency") };
}

double
trammel_output_lash (const TrammelRecord *output)
{
  TrammelQuantity lash;
  TrammelExact travel;

  g_return_val_if_fail (output != NULL, NAN);

  if (!trammel_record_quantity (output, "lash", &lash) || !trammel_output_travel_per_turn (output, &travel, NULL))
    return NAN;
  const double value = trammel_quantity_value (lash);
  if (trammel_unit_dimension (lash.unit) == TRAMMEL_DIMENSION_ANGLE)
    return value / (2 * G_PI) * fabs (trammel_exact_to_double (travel));
  return trammel_output_is_rotary (output) && value > 0 ? NAN : value;
}

gboolean
trammel_output_bar (const TrammelRecord *output, double *diameter, double *length)
{
  g_return_val_if_fail (output != NULL && diameter != NULL && length != NULL, FALSE);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, FALSE);

  *diameter = *length = NAN;
  if (kind->bar != NULL)
    kind->bar (output, diameter, length);
  return *diameter > 0 && *length > 0;
}

const char *
trammel_output_bar_wants (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, NULL);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, NULL);

  return kind->bar_wants != NULL ? kind->bar_wants (output) : "inertia";
}

double
trammel_output_count (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, NAN);

  const gboolean counted = trammel_record_kind_field (trammel_record_kind (output), "count") != NULL;
  return counted ? trammel_record_value_or (output, "count", 1) : 1;
}

const char *
trammel_output_turning_part (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, NULL);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, NULL);

  return _ (kind->turning_part (output));
}

double
trammel_output_travel_per_tooth (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, NAN);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, NAN);

  return kind->travel_per_tooth != NULL ? kind->travel_per_tooth (output) : NAN;
}

char *
trammel_output_to_words (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, NULL);
  const TrammelOutputKind *kind = whole_kind (output);
  g_return_val_if_fail (kind != NULL, NULL);

  return kind->words (output);
}
