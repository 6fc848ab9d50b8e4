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

/* Where a motor's torque comes from. */
typedef enum
{
  TRAMMEL_TORQUE_UNKNOWN,
  TRAMMEL_TORQUE_POINTS,  /* torque_points */
  TRAMMEL_TORQUE_GIVEN,   /* torque, the same at every speed */
  TRAMMEL_TORQUE_HOLDING, /* TRAMMEL_MOTOR_PULL of the holding torque, at every speed: true only of slow turning */
} TrammelTorqueSource;

/* Share of its holding torque that a stepper pulls with while it turns slowly, which is below some 100 rev/min: common
 * practice, no source. Faster it has less, which only torque_points can tell. */
#define TRAMMEL_MOTOR_PULL 0.7

TrammelTorqueSource trammel_motor_torque_source (const TrammelRecord *motor);

/**
 * trammel_motor_torque:
 * @speed: rad/s, ≥ 0
 *
 * What the motor can turn with at @speed, N·m: between two torque points on the straight line through them, below the
 * first as at the first, beyond the last 0; else the one torque; else TRAMMEL_MOTOR_PULL of the holding torque; NaN.
 */
double trammel_motor_torque (const TrammelRecord *motor, double speed);

/* The highest speed, rad/s, at which the motor still turns with @torque; infinite where nothing says that it falls with
 * speed; 0 where it never does, NaN when its torque is not known. */
double trammel_motor_speed_at_torque (const TrammelRecord *motor, double torque);

G_END_DECLS
