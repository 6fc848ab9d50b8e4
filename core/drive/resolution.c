/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/resolution.h"

#include "drive/stage.h"

#include <math.h>

double
trammel_stage_travel_per_tooth (const TrammelTrain *train, const TrammelFacts *facts, gsize i)
{
  g_return_val_if_fail (train != NULL && facts != NULL && i + 1 < facts->n_shafts, NAN);

  return fabs (facts->shafts[i].travel_per_turn) / trammel_stage_teeth_in (trammel_train_stage (train, i));
}

double
trammel_stepper_pull_off (double torque, double holding_torque)
{
  if (!(holding_torque > 0) || !(torque <= holding_torque))
    return NAN;
  return 2 / G_PI * asin (torque / holding_torque);
}

double
trammel_stepper_microstep_torque (double holding_torque, gint64 microsteps)
{
  return microsteps > 0 ? holding_torque * sin (G_PI / 2 / (double)microsteps) : NAN;
}

GArray *
trammel_layer_heights (double travel_per_full_step)
{
  static const double usual[] = { 0.05, 0.08, 0.1, 0.12, 0.15, 0.16, 0.2, 0.24, 0.25, 0.28, 0.3, 0.32, 0.4 };
  GArray *layers = g_array_new (FALSE, FALSE, sizeof (TrammelLayer));
  gint64 last = 0;

  if (!(travel_per_full_step > 1e-6))
    return layers;
  for (gsize i = 0; i < G_N_ELEMENTS (usual); i++)
    {
      const gint64 steps = (gint64)round (usual[i] / travel_per_full_step);
      const TrammelLayer layer = { steps, (double)steps * travel_per_full_step };
      if (steps > last)
        g_array_append_val (layers, layer);
      last = steps;
    }
  return layers;
}
