/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-grid.h"

static TrammelGearPair
pair_of (int one, int other, TrammelExact module)
{
  const TrammelGear gear = { one, trammel_exact_to_double (module), TRAMMEL_GEAR_USUAL_ANGLE, 0, FALSE };
  TrammelGearPair pair = { gear, gear };
  pair.b.teeth = other;
  return pair;
}

gboolean
trammel_finder_fits_grid (const TrammelGearSize *one, const TrammelGearSize *other, gpointer grid)
{
  g_return_val_if_fail (one != NULL && other != NULL && grid != NULL, FALSE);

  const TrammelHoleGrid *holes = grid;
  const TrammelGearPair pair = pair_of (one->teeth, other->teeth, one->module);
  return trammel_mesh_grid_runs (&pair, *holes);
}

gsize
trammel_finder_places (const TrammelFinderTrain *train, TrammelHoleGrid grid, TrammelMeshOffset *places)
{
  g_return_val_if_fail (train != NULL && places != NULL, 0);

  gsize n = 0;
  for (int i = 0; i < train->n_pairs; i++)
    {
      const TrammelFinderPair *pair = &train->pairs[i];
      const int teeth[] = { pair->driver, pair->idler > 0 ? pair->idler : pair->driven, pair->driven };
      for (int mesh = 0; mesh < (pair->idler > 0 ? 2 : 1); mesh++)
        {
          const TrammelGearPair gears = pair_of (teeth[mesh], teeth[mesh + 1], pair->module);
          if (!trammel_mesh_grid_closest (&gears, grid, &places[n++]))
            return 0;
        }
    }
  return n;
}
