/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/foresight.h"

#include <math.h>

#include "machine/machine-private.h"
#include "measure/plan.h"

#define FULL_TURN 360

static double
room_along (const TrammelAxis *axis)
{
  double travel = trammel_axis_travel_value (axis);

  return isnan (travel) && trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY ? FULL_TURN : travel;
}

GArray *
trammel_machine_next (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                      const TrammelAdjustOptions *options, char letter, guint most)
{
  char letters[TRAMMEL_MAX_AXES + 1];
  double travels[TRAMMEL_MAX_AXES];
  TrammelAdjustmentInput input;

  g_return_val_if_fail (machine != NULL && adjustment != NULL, NULL);

  g_autoptr (GArray) stated G_GNUC_UNUSED = trammel_machine_adjustment_input (machine, options, letters, &input);
  for (gsize i = 0; letters[i] != '\0'; i++)
    travels[i] = room_along (trammel_machine_axis (machine, i));
  return trammel_next_rank (adjustment, &input, travels, letter, most);
}

GArray *
trammel_machine_budget (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                        const TrammelAdjustOptions *options)
{
  char letters[TRAMMEL_MAX_AXES + 1];
  TrammelAdjustmentInput input;

  g_return_val_if_fail (machine != NULL && adjustment != NULL, NULL);

  g_autoptr (GArray) stated G_GNUC_UNUSED = trammel_machine_adjustment_input (machine, options, letters, &input);
  return trammel_budget (adjustment, &input);
}

GArray *
trammel_machine_monte_carlo (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                             const TrammelAdjustOptions *options, const TrammelMonteCarloOptions *trials,
                             GError **error)
{
  char letters[TRAMMEL_MAX_AXES + 1];
  TrammelAdjustmentInput input;

  g_return_val_if_fail (machine != NULL && adjustment != NULL, NULL);

  g_autoptr (GArray) stated G_GNUC_UNUSED = trammel_machine_adjustment_input (machine, options, letters, &input);
  return trammel_monte_carlo (adjustment, &input, trials, error);
}

static TrammelReadings *
with_instrument (const TrammelReadings *plan, const TrammelInstrument *instrument)
{
  const gsize n = trammel_readings_length (plan);
  GArray *rows = trammel_reading_array_new (n);

  for (gsize i = 0; i < n; i++)
    {
      TrammelReading row;
      trammel_reading_copy (trammel_readings_get (plan, i), &row);
      if (isnan (row.u) && row.instrument == NULL)
        row.instrument = g_ref_string_new (instrument->name);
      g_array_append_val (rows, row);
    }
  return trammel_readings_take (rows);
}

TrammelAdjustment *
trammel_machine_plan (const TrammelMachine *machine, const TrammelReadings *plan, GError **error)
{
  char letters[TRAMMEL_MAX_AXES + 1];
  TrammelAdjustmentInput input;
  gsize n_instruments;

  g_return_val_if_fail (machine != NULL && plan != NULL, NULL);

  const TrammelInstrument *instruments = trammel_machine_instruments (machine, &n_instruments);
  g_autoptr (TrammelReadings) rows
      = n_instruments > 0 ? with_instrument (plan, &instruments[0]) : trammel_readings_ref (plan);
  const TrammelAdjustOptions options = { .readings = rows };
  g_autoptr (GArray) stated G_GNUC_UNUSED = trammel_machine_adjustment_input (machine, &options, letters, &input);
  return trammel_plan_adjustment (&input, error);
}
