/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* The motor of a train: a record of one of these kinds.
 *
 *   stepper  full_steps (per turn, 1…100000), microsteps (per full step, 1…65536)
 *   encoder  counts (exact, per turn of the shaft that drives the first stage; may be fractional), count_name (text)
 *
 * Both may carry max_speed (rotation), torque, rotor_inertia, max_count_rate, torque_points (torque at speed),
 * holding_torque, detent_torque. */

/* The kinds, in the order offered to people. */
const TrammelRecordKind *const *trammel_motor_kinds (gsize *n);
const TrammelRecordKind *trammel_motor_kind (const char *type); /* NULL when there is none of that name */

/* Counts per turn of the motor shaft: full_steps·microsteps, or counts. Errors: not set, overflow. */
gboolean trammel_motor_counts_per_turn (const TrammelRecord *motor, TrammelExact *out, GError **error);

/* Counts per full step (microsteps); 0 for a motor that has no full steps. */
gint64 trammel_motor_counts_per_full_step (const TrammelRecord *motor);

G_END_DECLS
