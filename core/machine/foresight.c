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

  g_autoptr (GArray) stated = trammel_machine_adjustment_input (machine, options, letters, &input);
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

  g_autoptr (GArray) stated = trammel_machine_adjustment_input (machine, options, letters, &input);
  return trammel_budget (adjustment, &input);
}

TrammelAdjustment *
trammel_machine_plan (const TrammelMachine *machine, const TrammelReadings *plan, GError **error)
{
  const TrammelAdjustOptions options = { .readings = plan };
  char letters[TRAMMEL_MAX_AXES + 1];
  TrammelAdjustmentInput input;

  g_return_val_if_fail (machine != NULL && plan != NULL, NULL);

  g_autoptr (GArray) stated = trammel_machine_adjustment_input (machine, &options, letters, &input);
  return trammel_plan_adjustment (&input, error);
}
