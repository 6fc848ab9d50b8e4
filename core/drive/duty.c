/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/duty.h"

#include "drive/load.h"
#include "drive/needs.h"
#include "drive/output.h"
#include "drive/rotor.h"
#include "drive/stage.h"

#include <math.h>

#define GRAVITY 9.80665 /* m/s², 3rd CGPM, 1901 */
#define DEGREES (180 / G_PI)

/* The way from the carriage back to the motor. In here travel is in m, of a table in rad. */
typedef struct
{
  gsize n_stages;
  double travel_per_radian; /* of the last shaft */
  TrammelEfficiency output;
  TrammelEfficiency stages[TRAMMEL_TRAIN_MAX_STAGES];
  double ratios[TRAMMEL_TRAIN_MAX_STAGES];      /* turns out per turn in */
  double inertia[TRAMMEL_TRAIN_MAX_STAGES + 1]; /* on each shaft */
  double radians_per_travel[TRAMMEL_TRAIN_MAX_STAGES + 1];
} Chain;

/* The load as it is entered, in SI units; NaN: not entered. */
typedef struct
{
  double mass, weight, drag, breakaway, process, speed, acceleration;
  gboolean any; /* something is known of the forces */
} Load;

static double
radians_per_travel (const TrammelFacts *facts, const TrammelShaft *shaft)
{
  const double travel = fabs (shaft->travel_per_turn);
  return facts->rotary ? 360 / travel : 2 * G_PI / (travel / 1000);
}

static void
need_usual_efficiency (GPtrArray *needs, const char *place, const TrammelRecord *part, TrammelEfficiency efficiency)
{
  if (!efficiency.given && efficiency.forward > 0)
    trammel_needs_add_number (needs, place, trammel_record_kind (part), "efficiency", efficiency.forward);
}

/* A screw's efficiency is found from its thread: what is asked for is what that takes. */
static void
need_for_screw (GPtrArray *needs, const TrammelRecord *screw, TrammelEfficiency efficiency)
{
  const TrammelRecordKind *kind = trammel_record_kind (screw);
  if (efficiency.given)
    return;
  if (!trammel_record_has (screw, "major"))
    trammel_needs_add (needs, "output", kind, "major", NULL);
  if (!trammel_record_has (screw, "thread"))
    trammel_needs_add (needs, "output", kind, "thread", "trapezoidal");
  if (!trammel_record_has (screw, "friction"))
    trammel_needs_add (needs, "output", kind, "friction", "0.15");
}

static void
find_chain (const TrammelTrain *train, const TrammelFacts *facts, TrammelDuty *duty, Chain *chain)
{
  const TrammelRecord *output = trammel_train_output (train);

  *chain = (Chain){ .n_stages = trammel_train_n_stages (train), .output = trammel_output_efficiency (output) };
  if (trammel_record_is (output, "screw"))
    need_for_screw (duty->needs, output, chain->output);
  else
    need_usual_efficiency (duty->needs, "output", output, chain->output);
  duty->efficiency = chain->output.forward;
  duty->efficiency_back = chain->output.backward;
  for (gsize i = 0; i < chain->n_stages; i++)
    {
      const TrammelRecord *stage = trammel_train_stage (train, i);
      g_autofree char *place = trammel_needs_stage_place (i);
      const double before = trammel_exact_to_double (facts->shafts[i].turns_per_motor_turn);

      chain->stages[i] = trammel_stage_efficiency (stage);
      chain->ratios[i] = fabs (trammel_exact_to_double (facts->shafts[i + 1].turns_per_motor_turn) / before);
      need_usual_efficiency (duty->needs, place, stage, chain->stages[i]);
      duty->efficiency *= chain->stages[i].forward;
      /* Two parts that lock do not make one that can be driven. */
      if (duty->efficiency_back > 0 || chain->stages[i].backward > 0)
        duty->efficiency_back *= chain->stages[i].backward;
    }
  for (gsize i = 0; i < facts->n_shafts; i++)
    chain->radians_per_travel[i] = radians_per_travel (facts, &facts->shafts[i]);
  chain->travel_per_radian = 1 / chain->radians_per_travel[chain->n_stages];

  g_autoptr (GPtrArray) of_rotors = trammel_needs_new ();
  duty->rotors = trammel_train_rotors (train, facts, of_rotors);
  for (guint i = 0; i < of_rotors->len; i++)
    duty->inertia_partial |= ((const TrammelNeed *)of_rotors->pdata[i])->taken == NULL;
  trammel_needs_add_all (duty->needs, of_rotors);
  for (guint i = 0; i < duty->rotors->len; i++)
    {
      const TrammelRotor *rotor = &g_array_index (duty->rotors, TrammelRotor, i);
      chain->inertia[rotor->shaft] += rotor->inertia;
      duty->inertia_parts += rotor->reflected;
    }
}

static double
passed_back (double torque, TrammelEfficiency efficiency)
{
  return torque > 0 ? torque / efficiency.forward : torque * efficiency.backward;
}

/* Torque at the motor's shaft for a force against the motion and an acceleration of what turns. */
static double
torque_at_motor (const Chain *chain, double force, double acceleration)
{
  double torque = passed_back (force * chain->travel_per_radian, chain->output);
  for (gsize i = chain->n_stages;; i--)
    {
      torque += chain->inertia[i] * acceleration * chain->radians_per_travel[i];
      if (i == 0)
        return torque;
      torque = passed_back (torque * chain->ratios[i - 1], chain->stages[i - 1]);
    }
}

static double
value_of (const TrammelRecord *load, const char *key)
{
  return load != NULL ? trammel_record_value (load, key) : NAN;
}

static double
or_none (double value)
{
  return isnan (value) ? 0 : value;
}

static void
read_load (const TrammelRecord *record, TrammelDuty *duty, Load *load)
{
  const TrammelRecordKind *kind = trammel_load_kind (duty->rotary);
  const char *mass_key = duty->rotary ? "inertia" : "mass";
  const double scale = duty->rotary ? 1 : 1000, slope = duty->rotary ? 0 : value_of (record, "slope");

  load->mass = value_of (record, mass_key);
  load->drag = value_of (record, "drag");
  load->breakaway = value_of (record, "breakaway");
  load->process = value_of (record, "process");
  load->speed = value_of (record, "speed") / scale;
  load->acceleration = value_of (record, "acceleration") / scale;
  load->any = !isnan (load->mass) || !isnan (load->drag) || !isnan (load->process) || !isnan (load->breakaway);
  load->weight = or_none (slope) == 0 ? 0 : load->mass * GRAVITY * sin (slope);

  if (isnan (load->mass))
    trammel_needs_add (duty->needs, "load", kind, mass_key, NULL);
  if (isnan (slope))
    trammel_needs_add (duty->needs, "load", kind, "slope", "0 deg");
  if (isnan (load->drag))
    trammel_needs_add (duty->needs, "load", kind, "drag", load->any ? (duty->rotary ? "0 N·m" : "0 N") : NULL);
  if (isnan (load->speed))
    trammel_needs_add (duty->needs, "load", kind, "speed", NULL);
  if (isnan (load->acceleration))
    trammel_needs_add (duty->needs, "load", kind, "acceleration", NULL);
}

static void
find_needed (const Chain *chain, const Load *load, TrammelDuty *duty)
{
  const double drag = load->any ? or_none (load->drag) : NAN, process = or_none (load->process);
  const double breakaway = fmax (or_none (load->breakaway), drag);
  const double acceleration = or_none (load->acceleration);
  const double inertial = acceleration > 0 ? load->mass * acceleration : 0;

  duty->force_raise = drag + load->weight;
  duty->force_lower = drag - load->weight;
  duty->force_run = duty->force_raise + process;
  duty->force_start = duty->force_run - drag + breakaway + inertial;
  duty->torque_raise = torque_at_motor (chain, duty->force_raise, 0);
  duty->torque_lower = torque_at_motor (chain, duty->force_lower, 0);
  duty->torque_run = torque_at_motor (chain, duty->force_run, 0);
  duty->torque_start = torque_at_motor (chain, duty->force_start, acceleration);
  duty->inertia_load = load->mass / pow (chain->radians_per_travel[0], 2);
  duty->inertia = duty->inertia_load + duty->inertia_parts;
}

/* Torque grows in proportion to force, and in proportion to acceleration, as long as the motor drives. */
static void
find_largest_acceleration (const Chain *chain, const Load *load, TrammelDuty *duty)
{
  const double at_rest
      = fmax (or_none (load->breakaway), or_none (load->drag)) + load->weight + or_none (load->process);
  const double still = torque_at_motor (chain, at_rest, 0);
  const double per_unit = torque_at_motor (chain, at_rest + load->mass, 1) - still;
  const double found = (duty->torque_available - still) / per_unit;
  if (load->any && isfinite (found))
    duty->acceleration_largest = fmax (0, found) * (duty->rotary ? DEGREES : 1000);
}

static void
find_available (const TrammelTrain *train, const TrammelFacts *facts, const Chain *chain, const Load *load,
                TrammelDuty *duty)
{
  const TrammelRecord *motor = trammel_train_motor (train);
  const double needed = fmax (duty->torque_start, duty->torque_run);

  duty->torque_source = trammel_motor_torque_source (motor);
  if (duty->torque_source == TRAMMEL_TORQUE_UNKNOWN)
    trammel_needs_add (duty->needs, "motor", trammel_record_kind (motor), "torque", NULL);
  duty->motor_speed = or_none (load->speed) * chain->radians_per_travel[0];
  duty->torque_available = trammel_motor_torque (motor, duty->motor_speed);
  if (duty->torque_source == TRAMMEL_TORQUE_HOLDING)
    trammel_needs_add_number (duty->needs, "motor", trammel_record_kind (motor), "torque", duty->torque_available);
  /* A start that is not known is more than the run. */
  duty->margin = isnan (duty->torque_start) || needed <= 0 ? NAN : duty->torque_available / needed;
  duty->force_holds = duty->torque_available / torque_at_motor (chain, 1, 0);
  find_largest_acceleration (chain, load, duty);

  const double top = trammel_motor_speed_at_torque (motor, fmax (0, duty->torque_run));
  duty->top_speed_torque
      = isfinite (top) && !isnan (duty->torque_run) ? top / (2 * G_PI) * facts->travel_per_motor_turn : NAN;
}

/* From the carriage to the motor: what is left of the weight, and which part stops it. */
static void
find_power_loss (const TrammelTrain *train, const Chain *chain, const Load *load, TrammelDuty *duty)
{
  const double drag = fmax (or_none (load->breakaway), or_none (load->drag));
  double torque = (load->weight - drag) * chain->travel_per_radian;

  duty->power_loss = TRAMMEL_POWER_LOSS_UNKNOWN;
  if (isnan (load->weight))
    return;
  if (load->weight == 0)
    duty->power_loss = TRAMMEL_POWER_LOSS_STAYS;
  else if (torque <= 0)
    duty->power_loss = TRAMMEL_POWER_LOSS_DRAG;
  if (duty->power_loss != TRAMMEL_POWER_LOSS_UNKNOWN || isnan (duty->efficiency_back))
    return;

  for (gsize i = chain->n_stages;; i--)
    {
      const TrammelEfficiency part = i == chain->n_stages ? chain->output : chain->stages[i];
      torque *= part.backward * (i == chain->n_stages ? 1 : chain->ratios[i]);
      if (torque <= 0)
        {
          duty->power_loss = TRAMMEL_POWER_LOSS_LOCKED;
          duty->locked_by = i;
          return;
        }
      if (i == 0)
        break;
    }
  const double detent = trammel_record_value (trammel_train_motor (train), "detent_torque");
  duty->power_loss = detent >= torque ? TRAMMEL_POWER_LOSS_DETENT : TRAMMEL_POWER_LOSS_FALLS;
  if (isnan (detent))
    trammel_needs_add (duty->needs, "motor", trammel_record_kind (trammel_train_motor (train)), "detent_torque",
                       "0 N·m");
}

TrammelDuty *
trammel_duty_new (const TrammelTrain *train, const TrammelRecord *record, GError **error)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, error);
  if (facts == NULL)
    return NULL;
  g_return_val_if_fail (record == NULL || trammel_record_kind (record) == trammel_load_kind (facts->rotary), NULL);

  TrammelDuty *duty = g_new0 (TrammelDuty, 1);
  Chain chain;
  Load load = { 0 };
  duty->rotary = facts->rotary;
  duty->needs = trammel_needs_new ();
  duty->acceleration_largest = NAN;
  read_load (record, duty, &load);
  find_chain (train, facts, duty, &chain);
  duty->mass = load.mass;
  duty->weight = load.weight;
  duty->speed = load.speed * (duty->rotary ? DEGREES : 1000);
  duty->acceleration = load.acceleration * (duty->rotary ? DEGREES : 1000);
  find_needed (&chain, &load, duty);
  find_available (train, facts, &chain, &load, duty);
  find_power_loss (train, &chain, &load, duty);
  return duty;
}

void
trammel_duty_free (TrammelDuty *duty)
{
  if (duty == NULL)
    return;
  g_array_unref (duty->rotors);
  g_ptr_array_unref (duty->needs);
  g_free (duty);
}
