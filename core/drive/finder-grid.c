/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-grid.h"

#include <math.h>

#define PRESSURE_ANGLE (20 * G_PI / 180)

/* Some hole @across to the side and any number of @step ahead lies where the pair runs: between @nearest, where the
 * gears have no backlash, and @furthest, where their tips part. */
static gboolean
runs_beside (const TrammelGearPair *pair, double across, double step, double nearest, double furthest)
{
  const double ahead = sqrt (fmax (nearest * nearest - across * across, 0));
  for (double steps = fmax (floor (ahead / step) - 1, 0);; steps++)
    {
      const double distance = steps == 0 ? across : across == 0 ? steps * step : hypot (across, steps * step);
      if (distance > furthest)
        return FALSE;
      if (distance >= nearest * (1 - 1e-6) && trammel_gear_pair_at (pair, distance).state == TRAMMEL_MESH_RUNS)
        return TRUE;
    }
}

gboolean
trammel_finder_fits_grid (const TrammelGearSize *one, const TrammelGearSize *other, gpointer grid)
{
  g_return_val_if_fail (one != NULL && other != NULL && grid != NULL, FALSE);

  const TrammelHoleGrid *holes = grid;
  const double module = trammel_exact_to_double (one->module);
  const double step = holes->half ? holes->pitch / 2 : holes->pitch;
  const TrammelGearPair pair
      = { { one->teeth, module, PRESSURE_ANGLE, 0, FALSE }, { other->teeth, module, PRESSURE_ANGLE, 0, FALSE } };
  g_return_val_if_fail (step > 0, FALSE);

  if (!trammel_gear_pair_check (&pair, NULL))
    return FALSE;
  const double nearest = trammel_gear_pair_reference_distance (&pair);
  const double furthest = (trammel_gear_tip_diameter (pair.a) + trammel_gear_tip_diameter (pair.b)) / 2;
  for (double steps = 0; steps * step <= furthest; steps++)
    if (runs_beside (&pair, steps * step, step, nearest, furthest))
      return TRUE;
  return FALSE;
}
