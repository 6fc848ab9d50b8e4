/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/train.h"

G_BEGIN_DECLS

/* How finely an axis moves, and how far a load pulls a stepper off its place. Travel in mm, of a table in degrees. */

/* Travel when the driver of stage @i turns by one tooth (of a worm: when the wheel does); NaN where there are no teeth.
 */
double trammel_stage_travel_per_tooth (const TrammelTrain *train, const TrammelFacts *facts, gsize i);

/**
 * trammel_stepper_pull_off:
 * @torque: on the shaft, N·m, ≥ 0
 * @holding_torque: the peak of the torque curve, N·m
 *
 * How far the load pulls the rotor off the place it is told to stand at, in full steps. A stepper's torque goes with
 * the sine of that distance, one period in four full steps: T = T_h sin(π/2 · steps), so steps = 2/π · arcsin(T/T_h),
 * at most 1, where it slips. (T. Kenjo and A. Sugawara, Stepping Motors and Their Microprocessor Controls, static
 * characteristics; from memory.)
 *
 * Returns: NaN when the torque is more than the holding torque, or either is not known.
 */
double trammel_stepper_pull_off (double torque, double holding_torque);

/* By the same law, the torque that the first microstep of @microsteps per full step adds: T_h sin(π/2 / microsteps).
 * Less than the friction, and the step waits for the next ones. */
double trammel_stepper_microstep_torque (double holding_torque, gint64 microsteps);

/* A layer height that is a whole number of full steps, where the rotor rests by itself. */
typedef struct
{
  gint64 full_steps;
  double height; /* mm */
} TrammelLayer;

/**
 * trammel_layer_heights:
 * @travel_per_full_step: mm
 *
 * Whole full steps nearest to the layer heights in use (0.05, 0.08, 0.1, 0.12, 0.15, 0.16, 0.2, 0.24, 0.25, 0.28, 0.3,
 * 0.32, 0.4 mm: common practice, no source), each once, rising.
 *
 * Returns: (transfer full): of TrammelLayer; empty for a step that is not known or is larger than all of them.
 */
GArray *trammel_layer_heights (double travel_per_full_step);

G_END_DECLS
