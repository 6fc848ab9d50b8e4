/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/motor.h"
#include "drive/train.h"

G_BEGIN_DECLS

/* Torque that a motor should have over what is needed: twice is common practice, no source. */
#define TRAMMEL_DUTY_USUAL_MARGIN 2

/* What becomes of the carriage when the power goes. */
typedef enum
{
  TRAMMEL_POWER_LOSS_UNKNOWN, /* not enough is known */
  TRAMMEL_POWER_LOSS_STAYS,   /* nothing pulls at it: the axis lies level, or turns a table */
  TRAMMEL_POWER_LOSS_DRAG,    /* its own drag holds it */
  TRAMMEL_POWER_LOSS_LOCKED,  /* a part that the load cannot drive holds it */
  TRAMMEL_POWER_LOSS_DETENT,  /* the motor's detent torque holds it */
  TRAMMEL_POWER_LOSS_FALLS,
} TrammelPowerLoss;

/**
 * TrammelDuty:
 *
 * What an axis is asked to do against what its motor can. NaN where it is not known. Forces are at the carriage, N (of
 * a rotary axis torques at the table, N·m); torques are at the motor's shaft, N·m; speeds and accelerations are of the
 * carriage, mm/s and mm/s² (deg/s and deg/s²).
 *
 *   raise  drag + weight down the slope
 *   lower  drag − weight down the slope; negative: the load drives, and the motor brakes
 *   run    raise and the process force
 *   start  run with the breakaway in place of the drag where that is more, and the wanted acceleration of the mass
 *          and of all that turns
 *
 * Through output and stages back to the motor, T_in = T_out·ratio/forward where the motor drives and
 * T_out·ratio·backward where the load does (drive/efficiency.h); to it comes inertia × angular acceleration at each
 * shaft. (Budynas & Nisbett, chapters 8 and 13; d'Alembert.)
 */
typedef struct
{
  gboolean rotary;
  double mass;   /* kg; of a rotary axis kg·m² */
  double weight; /* what gravity pulls along the slope with: mass·g·sin(slope), g = 9.80665 m/s² (3rd CGPM, 1901) */
  double force_start, force_run, force_raise, force_lower;
  double torque_start, torque_run, torque_raise, torque_lower;

  double speed, acceleration; /* wanted */
  double motor_speed;         /* rad/s at the wanted speed; 0 where none is given */
  TrammelTorqueSource torque_source;
  double torque_available; /* at motor_speed */
  double margin;           /* torque_available over the largest of those needed; below 1 it slips or stalls */
  double force_holds;      /* force at which it slips while moving at that speed */
  double acceleration_largest;
  double top_speed_torque; /* where the torque for run is all there is; NaN also where torque does not limit */

  double efficiency;      /* of the whole, motor to carriage */
  double efficiency_back; /* carriage to motor; ≤ 0: it cannot be driven from the carriage */

  /* As the motor's shaft feels it, kg·m². Parts that are not known are left out; see needs. */
  double inertia_load;      /* mass × (travel per radian)² */
  double inertia_parts;     /* all that turns, the rotor too */
  double inertia;           /* both; NaN when the load's is */
  gboolean inertia_partial; /* something that turns is left out */
  GArray *rotors;           /* of TrammelRotor */

  TrammelPowerLoss power_loss;
  gsize locked_by; /* LOCKED: stage, or n_stages for the output */

  GPtrArray *needs; /* of TrammelNeed: what is missing, and what was taken in its place */
} TrammelDuty;

/**
 * trammel_duty_new:
 * @load: (nullable): of trammel_load_kind()
 *
 * Returns: (transfer full) (nullable): a pure function of both. Errors as trammel_train_facts().
 */
TrammelDuty *trammel_duty_new (const TrammelTrain *train, const TrammelRecord *load, GError **error);
void trammel_duty_free (TrammelDuty *duty);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelDuty, trammel_duty_free)

G_END_DECLS
