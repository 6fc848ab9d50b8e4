/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/resolution.h"

#include <math.h>

double
trammel_output_travel_per_tooth (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL, NAN);

  if (trammel_record_is (output, "belt"))
    return trammel_record_value (output, "pitch") / trammel_record_value (output, "fall");
  if (!trammel_record_is (output, "rack") && !trammel_record_is (output, "worm-rack"))
    return NAN;
  return trammel_record_has (output, "pitch") ? trammel_record_value (output, "pitch")
                                              : trammel_record_value (output, "module") * G_PI;
}

double
trammel_stage_travel_per_tooth (const TrammelTrain *train, const TrammelFacts *facts, gsize i)
{
  g_return_val_if_fail (train != NULL && facts != NULL && i + 1 < facts->n_shafts, NAN);

  const TrammelRecord *stage = trammel_train_stage (train, i);
  const TrammelRecordKind *kind = trammel_record_kind (stage);
  if (trammel_record_is (stage, "worm"))
    return fabs (facts->shafts[i + 1].travel_per_turn) / trammel_record_value (stage, "wheel");
  if (trammel_record_kind_field (kind, "driver") == NULL)
    return NAN;
  return fabs (facts->shafts[i].travel_per_turn) / trammel_record_value (stage, "driver");
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
