/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/mesh-grid.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Part of a distance that may be due to rounding. */
#define ROUNDING 1e-6

/* Beyond this distance the pair is out of mesh or, in a ring, binds. */
static double
furthest_mesh (const TrammelGearPair *pair)
{
  const double tip_a = trammel_gear_tip_diameter (pair->a) / 2, tip_b = trammel_gear_tip_diameter (pair->b) / 2;
  if (!pair->b.internal)
    return tip_a + tip_b;
  return trammel_gear_root_diameter (pair->b) / 2 - tip_a;
}

/* How many steps to go; 0 with @error set. */
static int
steps_within_reach (const TrammelGearPair *pair, TrammelHoleGrid grid, GError **error)
{
  if (!(grid.pitch > 0) || isinf (grid.pitch) || grid.reach < 0)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                   _ ("found holes %g mm apart within a reach of %d; a pitch and a reach above 0 are wanted"),
                   grid.pitch, grid.reach);
      return 0;
    }
  const double pitches = grid.reach > 0 ? grid.reach : fmax (ceil (furthest_mesh (pair) / grid.pitch), 1);
  const double steps = pitches * (grid.half ? 2 : 1);
  if (steps <= TRAMMEL_HOLE_GRID_MOST_STEPS)
    return (int)steps;

  g_set_error (
      error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
      _ ("found a grid of %.0f steps in each direction; at most %d are wanted: a wider pitch or a smaller reach"),
      steps, TRAMMEL_HOLE_GRID_MOST_STEPS);
  return 0;
}

static int
by_distance (gconstpointer a, gconstpointer b)
{
  const TrammelMeshOffset *left = a, *right = b;
  if (left->mesh.distance != right->mesh.distance)
    return left->mesh.distance < right->mesh.distance ? -1 : 1;
  return (left->dx > right->dx) - (left->dx < right->dx);
}

static double
step_of (TrammelHoleGrid grid)
{
  return grid.half ? grid.pitch / 2 : grid.pitch;
}

/* From whole squares, so that 3, 4, 5 is exact. */
static double
distance_of (gint64 i, gint64 j, double step)
{
  return j == 0 ? (double)i * step : sqrt ((double)i * (double)i + (double)j * (double)j) * step;
}

static TrammelMeshOffset
offset_at (const TrammelGearPair *pair, gint64 i, gint64 j, double step)
{
  return (TrammelMeshOffset){ (double)i * step, (double)j * step, j == 0 || j == i ? 4 : 8,
                              trammel_gear_pair_at (pair, distance_of (i, j, step)) };
}

TrammelMeshOffset *
trammel_mesh_grid_offsets (const TrammelGearPair *pair, TrammelHoleGrid grid, gsize *n, GError **error)
{
  g_return_val_if_fail (pair != NULL && n != NULL, NULL);

  if (!trammel_gear_pair_check (pair, error))
    return NULL;
  const int steps = steps_within_reach (pair, grid, error);
  if (steps == 0)
    return NULL;

  const double step = step_of (grid);
  TrammelMeshOffset *offsets = g_new (TrammelMeshOffset, (gsize)steps * (steps + 3) / 2);
  *n = 0;
  for (int i = 1; i <= steps; i++)
    for (int j = 0; j <= i; j++)
      offsets[(*n)++] = offset_at (pair, i, j, step);
  qsort (offsets, *n, sizeof *offsets, by_distance);
  return offsets;
}

void
trammel_mesh_grid_worth_knowing (const TrammelMeshOffset *offsets, gsize n, double distance, gsize *first, gsize *end)
{
  g_return_if_fail ((offsets != NULL || n == 0) && first != NULL && end != NULL);

  gsize nearer = 0;
  *first = n;
  *end = 0;
  for (gsize i = 0; i < n; i++)
    {
      if (offsets[i].mesh.distance < distance)
        nearer = i + 1;
      if (offsets[i].mesh.state != TRAMMEL_MESH_RUNS)
        continue;
      *first = MIN (*first, i);
      *end = i + 1;
    }
  if (*end == 0)
    *first = *end = nearer;
  *first = *first > 0 ? *first - 1 : 0;
  *end = MIN (*end + 1, n);
}

/* The distances between which a pair can run at all: from none to too much backlash; in a ring the other way round. */
static gboolean
find_band (const TrammelGearPair *pair, double *natural, double *low, double *high)
{
  if (!trammel_gear_pair_distance (pair, natural, NULL))
    return FALSE;
  *low = pair->b.internal ? 0 : *natural * (1 - ROUNDING);
  *high = pair->b.internal ? *natural * (1 + ROUNDING) : furthest_mesh (pair);
  return TRUE;
}

/* The offset of the pair that runs with the least backlash, or with @any the first that is met. */
static gboolean
find_running (const TrammelGearPair *pair, double step, gboolean any, TrammelMeshOffset *out)
{
  double natural, low, high, best = INFINITY;

  if (!find_band (pair, &natural, &low, &high))
    return FALSE;
  for (gint64 i = MAX ((gint64)(low / G_SQRT2 / step), 1); (double)i * step <= high; i++)
    {
      const double across = (double)i * step, ahead = sqrt (fmax (low * low - across * across, 0));
      for (gint64 j = (gint64)(ahead / step); j <= i && distance_of (i, j, step) <= high; j++)
        {
          const double distance = distance_of (i, j, step), away = fabs (distance - natural);
          if (distance < low || away >= best || trammel_gear_pair_at (pair, distance).state != TRAMMEL_MESH_RUNS)
            continue;
          best = away;
          *out = offset_at (pair, i, j, step);
          if (any)
            return TRUE;
        }
    }
  return isfinite (best);
}

static gboolean
is_coarse (const TrammelGearPair *pair, double step)
{
  return step > 0 && furthest_mesh (pair) / step <= TRAMMEL_HOLE_GRID_MOST_STEPS;
}

gboolean
trammel_mesh_grid_runs (const TrammelGearPair *pair, TrammelHoleGrid grid)
{
  g_return_val_if_fail (pair != NULL, FALSE);

  TrammelMeshOffset first;
  double distance;
  if (!(grid.pitch > 0) || !trammel_gear_pair_distance (pair, &distance, NULL))
    return FALSE;
  if (is_coarse (pair, step_of (grid)))
    return find_running (pair, step_of (grid), TRUE, &first);
  return trammel_gear_pair_at (pair, distance).state == TRAMMEL_MESH_RUNS;
}

gboolean
trammel_mesh_grid_closest (const TrammelGearPair *pair, TrammelHoleGrid grid, TrammelMeshOffset *out)
{
  g_return_val_if_fail (pair != NULL && out != NULL, FALSE);

  return trammel_gear_pair_check (pair, NULL) && is_coarse (pair, step_of (grid))
         && find_running (pair, step_of (grid), FALSE, out);
}
