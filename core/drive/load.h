/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* What an axis has to move: a record of one of these kinds. No field is required; what is not known is not set.
 *
 *   linear  mass, slope (from horizontal, 0…90°), drag, breakaway, process, speed, acceleration
 *   rotary  inertia, drag, breakaway, process, speed, acceleration
 *
 * drag is what moving it slowly takes (force; of a rotary axis a torque at the table), as pulled with a spring scale
 * with the drive taken off and on the level; breakaway what it takes to start it; process what the work pushes back
 * with; speed and acceleration what is wanted of the axis. */

const TrammelRecordKind *trammel_load_kind (gboolean rotary);

G_END_DECLS
