/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/turning-parts.h"
#include "machine/axis.h"
#include "measure/cycles.h"
#include "measure/periodogram.h"

G_BEGIN_DECLS

/* Which part of an axis's train is to blame for what comes back with every turn. */
typedef struct
{
  GArray *parts;  /* of TrammelTurning: what turns in the train */
  GArray *cycles; /* of TrammelCycle: two for each part, in their order; periods in commanded travel */
  TrammelCycleLine line;
  gboolean has_strongest;
  TrammelPeriodFound strongest; /* of all periods, a part's or not */
  double spacing,
      coverage; /* of as many targets over the same range that would show every cycle; NaN: cannot be told */
} TrammelAxisCycles;

/* @positions is a position test of @axis, made with what is in force: a part turns once in as many counts as its train
 * says, so in a commanded travel that goes with the counts per unit. (transfer full) (nullable); errors as
 * trammel_train_facts(). */
TrammelAxisCycles *trammel_axis_cycles_new (const TrammelAxis *axis, const TrammelPositions *positions, GError **error);
void trammel_axis_cycles_free (TrammelAxisCycles *cycles);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelAxisCycles, trammel_axis_cycles_free)

/* TRUE when some cycle cannot be seen at the targets of the test. */
gboolean trammel_axis_cycles_any_unseen (const TrammelAxisCycles *cycles);

G_END_DECLS
