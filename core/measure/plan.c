/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/plan.h"

#include <math.h>

#include "measure/model-private.h"

static void
take_predicted (const TrammelAdjustmentInput *input, TrammelReading *reading)
{
  TrammelUnknowns unknowns;
  TrammelModelRow row;

  /* A row that cannot be read is left out of the fit. */
  reading->measured = 0;
  if (!trammel_reading_is_fitted (reading) || !trammel_reading_check (reading, NULL))
    {
      reading->measured = NAN;
      return;
    }
  trammel_unknowns_init (&unknowns);
  trammel_unknowns_take_instruments (&unknowns, input);
  if (trammel_unknowns_touch (&unknowns, reading) && trammel_unknowns_arrange (&unknowns, input, NULL))
    {
      g_autofree double *values = g_new0 (double, MAX (unknowns.n, 1));
      for (guint i = 0; i < unknowns.n; i++)
        values[i] = unknowns.parameters[i].has_stated ? unknowns.parameters[i].stated_value : 0;
      trammel_model_evaluate (&unknowns, values, reading, unknowns.datums->len > 0 ? 0 : -1, &row);
      reading->measured = row.predicted;
    }
  trammel_unknowns_clear (&unknowns);
}

TrammelAdjustment *
trammel_plan_adjustment (const TrammelAdjustmentInput *input, GError **error)
{
  g_return_val_if_fail (input != NULL && input->axes != NULL, NULL);

  TrammelAdjustmentInput planned = *input;
  g_autoptr (GArray) rows = trammel_reading_array_new (input->n_readings);
  planned.scatter = TRAMMEL_SCATTER_STATED;
  planned.robust = FALSE;
  for (gsize i = 0; i < input->n_readings; i++)
    {
      TrammelReading reading;
      trammel_reading_copy (&input->readings[i], &reading);
      take_predicted (&planned, &reading);
      g_array_append_val (rows, reading);
    }
  planned.readings = (const TrammelReading *)(gpointer)rows->data;
  planned.n_readings = rows->len;
  return trammel_adjustment_new (&planned, NULL, error);
}
