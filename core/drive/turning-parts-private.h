/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* Inside of core/drive: how a list of turning parts grows. */

/* A stage, for what turns in it. */
typedef struct
{
  guint number;                 /* from 1 */
  double travel_in, travel_out; /* per turn of its shafts, signed */
} TrammelStageTurning;

/* Takes @name over. A part that turns in step with an earlier one takes its place. @travel_per_turn: not 0, its sign
 * does not matter. */
void trammel_turning_add (GArray *parts, char *name, double travel_per_turn);
/* What turns in @stage beside its two shafts. */
void trammel_stage_add_turning (const TrammelRecord *stage, const TrammelStageTurning *turning, GArray *parts);

G_END_DECLS
