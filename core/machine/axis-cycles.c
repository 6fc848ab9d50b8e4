/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/axis-cycles.h"

#include <math.h>

/* How far the axis is commanded to go where its train makes it go 1: another scale may be in force than the train's. */
static double
commanded_for_one (const TrammelAxis *axis)
{
  g_autoptr (TrammelFacts) facts = trammel_train_facts (trammel_axis_train (axis), NULL);
  double in_force;

  return facts != NULL && trammel_axis_set_in_force (axis, &in_force, NULL) && in_force > 0
             ? trammel_exact_to_double (facts->counts_per_unit) / in_force
             : 1;
}

static GArray *
parts_for_measure (const GArray *turning, double commanded)
{
  const guint n = MIN (turning->len, TRAMMEL_MAX_TURNING_PARTS);
  GArray *parts = g_array_sized_new (FALSE, FALSE, sizeof (TrammelTurningPart), n);

  for (guint i = 0; i < n; i++)
    {
      const TrammelTurning *each = &g_array_index (turning, TrammelTurning, i);
      TrammelTurningPart part = { each->name, each->travel_per_turn * commanded };
      g_array_append_val (parts, part);
    }
  return parts;
}

static void
propose_spacing (TrammelAxisCycles *self, const TrammelPositions *positions, const GArray *parts)
{
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, &n);
  const double range = n > 1 ? targets[n - 1].target - targets[0].target : 0;

  self->spacing = self->coverage = NAN;
  if (range > 0 && trammel_axis_cycles_any_unseen (self))
    self->spacing = trammel_cycles_propose_spacing ((const TrammelTurningPart *)(gconstpointer)parts->data, parts->len,
                                                    range, (guint)MIN (MAX (n, 11), 1000), &self->coverage);
}

TrammelAxisCycles *
trammel_axis_cycles_new (const TrammelAxis *axis, const TrammelPositions *positions, GError **error)
{
  g_return_val_if_fail (axis != NULL && positions != NULL, NULL);

  GArray *turning = trammel_train_turning_parts (trammel_axis_train (axis), error);
  if (!turning)
    return NULL;

  g_autoptr (GArray) parts = parts_for_measure (turning, commanded_for_one (axis));
  TrammelAxisCycles *self = g_new0 (TrammelAxisCycles, 1);
  self->parts = turning;
  self->cycles = trammel_cycles_find (positions, (const TrammelTurningPart *)(gconstpointer)parts->data, parts->len,
                                      &self->line);
  self->has_strongest = trammel_periodogram_search (positions, &self->strongest);
  propose_spacing (self, positions, parts);
  return self;
}

void
trammel_axis_cycles_free (TrammelAxisCycles *cycles)
{
  if (!cycles)
    return;
  g_array_unref (cycles->parts);
  g_array_unref (cycles->cycles);
  g_free (cycles);
}

gboolean
trammel_axis_cycles_any_unseen (const TrammelAxisCycles *cycles)
{
  g_return_val_if_fail (cycles != NULL, FALSE);

  for (guint i = 0; i < cycles->cycles->len; i++)
    if (g_array_index (cycles->cycles, TrammelCycle, i).sight == TRAMMEL_CYCLE_UNSEEN)
      return TRUE;
  return FALSE;
}
