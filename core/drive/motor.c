/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/motor.h"
#include "drive/part-fields.h"
#include "drive/words.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* clang-format off */
#define COMMON_FIELDS                                                                                                 \
  { .key = "max_speed", .label = N_ ("Top speed"),                                                                    \
    .meaning = N_ ("how fast the shaft can turn and still pull, from its data sheet or from trial"),                  \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_ROTATION,                                          \
    .low = 0, .above_low = TRUE, .high = 1e6 },                                                                       \
  { .key = "torque", .label = N_ ("Torque"), .meaning = N_ ("what the shaft can push with at working speed"),         \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_TORQUE,                                            \
    .low = 0, .above_low = TRUE, .high = 1e6 },                                                                       \
  { .key = "rotor_inertia", .label = N_ ("Rotor inertia"), .meaning = N_ ("of the rotor alone, from its data sheet"), \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_INERTIA, .low = 0, .high = 1e6 },                  \
  { .key = "max_count_rate", .label = N_ ("Top count rate"),                                                          \
    .meaning = N_ ("counts per second that the controller can send to, or read from, this motor"),                    \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_RATE,                                              \
    .low = 0, .above_low = TRUE, .high = 1e12 },                                                                      \
  { .key = "torque_points", .label = N_ ("Torque at speed"),                                                          \
    .meaning = N_ ("pairs from its curve, 0 rpm 0.4 N·m; 600 rpm 0.2 N·m; used in place of the one torque"),          \
    .type = TRAMMEL_FIELD_PAIRS, .dimension = TRAMMEL_DIMENSION_ROTATION,                                            \
    .other_dimension = TRAMMEL_DIMENSION_TORQUE, .low = 0, .high = 1e6, .group = TRAMMEL_GROUP_LOAD },                \
  { .key = "holding_torque", .label = N_ ("Holding torque"),                                                          \
    .meaning = N_ ("the most it resists with while it is powered and stands still, from its data sheet"),             \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_TORQUE,                                            \
    .low = 0, .above_low = TRUE, .high = 1e6, .group = TRAMMEL_GROUP_LOAD },                                          \
  { .key = "detent_torque", .label = N_ ("Detent torque"),                                                            \
    .meaning = N_ ("what it takes to turn the shaft with the power off"),                                             \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_TORQUE,                                            \
    .low = 0, .high = 1e6, .group = TRAMMEL_GROUP_LOAD }

static const TrammelField stepper_fields[] = {
  { .key = "full_steps", .table = "full-steps", .label = N_ ("Full steps"),
    .meaning = N_ ("per turn of the shaft: 200 for 1.8° a step, 400 for 0.9°, 48 for 7.5°"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 100000, .initial = "200", .required = TRUE },
  { .key = "microsteps", .table = "microsteps", .label = N_ ("Microsteps"),
    .meaning = N_ ("per full step, as set on the driver board: 1, 2, 4, 8, 16, 32, …"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 65536, .initial = "16", .required = TRUE },
  COMMON_FIELDS,
};

static const TrammelField encoder_fields[] = {
  { .key = "counts", .label = N_ ("Counts"),
    .meaning = N_ ("per turn of the shaft that drives the first stage; may be a fraction, 2797/5"),
    .type = TRAMMEL_FIELD_EXACT, .low = 0, .above_low = TRUE, .high = 1e12, .initial = "360", .required = TRUE },
  { .key = "count_name", .label = N_ ("Name of a count"),
    .meaning = N_ ("what the controller calls one count: degree, tick, pulse"),
    .type = TRAMMEL_FIELD_TEXT },
  COMMON_FIELDS,
};
/* clang-format on */

static const TrammelRecordKind stepper = {
  .type = "stepper", .label = N_ ("Stepper"), .fields = stepper_fields, .n_fields = G_N_ELEMENTS (stepper_fields)
};
static const TrammelRecordKind encoder = { .type = "encoder",
                                           .label = N_ ("Motor with encoder"),
                                           .fields = encoder_fields,
                                           .n_fields = G_N_ELEMENTS (encoder_fields) };

static const TrammelRecordKind *const motor_kinds[] = { &stepper, &encoder };

const TrammelRecordKind *const *
trammel_motor_kinds (gsize *n)
{
  g_return_val_if_fail (n != NULL, NULL);

  *n = G_N_ELEMENTS (motor_kinds);
  return motor_kinds;
}

const TrammelRecordKind *
trammel_motor_kind (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (motor_kinds); i++)
    if (g_strcmp0 (motor_kinds[i]->type, type) == 0)
      return motor_kinds[i];
  return NULL;
}

gboolean
trammel_motor_counts_per_turn (const TrammelRecord *motor, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (motor != NULL && out != NULL, FALSE);

  TrammelExact full_steps, microsteps;
  if (trammel_record_kind (motor) == &encoder)
    return trammel_record_exact (motor, "counts", out, error);
  return trammel_record_exact (motor, "full_steps", &full_steps, error)
         && trammel_record_exact (motor, "microsteps", &microsteps, error)
         && trammel_exact_multiply (full_steps, microsteps, out, error);
}

gint64
trammel_motor_counts_per_full_step (const TrammelRecord *motor)
{
  g_return_val_if_fail (motor != NULL, 0);

  return trammel_record_kind (motor) == &stepper ? trammel_record_integer (motor, "microsteps") : 0;
}

TrammelTorqueSource
trammel_motor_torque_source (const TrammelRecord *motor)
{
  g_return_val_if_fail (motor != NULL, TRAMMEL_TORQUE_UNKNOWN);

  if (trammel_record_has (motor, "torque_points"))
    return TRAMMEL_TORQUE_POINTS;
  if (trammel_record_has (motor, "torque"))
    return TRAMMEL_TORQUE_GIVEN;
  return trammel_record_has (motor, "holding_torque") ? TRAMMEL_TORQUE_HOLDING : TRAMMEL_TORQUE_UNKNOWN;
}

static double
speed_of (TrammelPair point)
{
  return trammel_quantity_value (point.first);
}

static double
torque_of (TrammelPair point)
{
  return trammel_quantity_value (point.second);
}

static double
torque_between_points (const TrammelPair *points, gsize n, double speed)
{
  if (speed <= speed_of (points[0]))
    return torque_of (points[0]);
  for (gsize i = 1; i < n; i++)
    if (speed <= speed_of (points[i]))
      {
        const double from = speed_of (points[i - 1]), share = (speed - from) / (speed_of (points[i]) - from);
        return torque_of (points[i - 1]) + share * (torque_of (points[i]) - torque_of (points[i - 1]));
      }
  return 0;
}

double
trammel_motor_torque (const TrammelRecord *motor, double speed)
{
  gsize n;

  g_return_val_if_fail (motor != NULL, NAN);

  const TrammelPair *points = trammel_record_pairs (motor, "torque_points", &n);
  switch (trammel_motor_torque_source (motor))
    {
    case TRAMMEL_TORQUE_POINTS:
      return torque_between_points (points, n, speed);
    case TRAMMEL_TORQUE_GIVEN:
      return trammel_record_value (motor, "torque");
    case TRAMMEL_TORQUE_HOLDING:
      return TRAMMEL_MOTOR_PULL * trammel_record_value (motor, "holding_torque");
    case TRAMMEL_TORQUE_UNKNOWN:
    default:
      return NAN;
    }
}

double
trammel_motor_speed_at_torque (const TrammelRecord *motor, double torque)
{
  gsize n;

  g_return_val_if_fail (motor != NULL, NAN);

  const TrammelPair *points = trammel_record_pairs (motor, "torque_points", &n);
  if (n == 0)
    {
      const double given = trammel_motor_torque (motor, 0);
      return isnan (given) ? NAN : given >= torque ? INFINITY : 0;
    }
  if (torque_of (points[n - 1]) >= torque)
    return speed_of (points[n - 1]);
  for (gsize i = n - 1; i > 0; i--)
    {
      const double below = torque_of (points[i]), above = torque_of (points[i - 1]);
      if (above >= torque)
        return speed_of (points[i])
               - (torque - below) / (above - below) * (speed_of (points[i]) - speed_of (points[i - 1]));
    }
  return 0;
}

char *
trammel_motor_to_words (const TrammelRecord *motor)
{
  g_return_val_if_fail (motor != NULL, NULL);

  if (trammel_record_kind (motor) == &encoder)
    {
      g_autofree char *counts = trammel_words_of_field (motor, "counts");
      return g_strdup_printf (_ ("encoder %s"), counts);
    }
  g_autofree char *full_steps = trammel_words_of_field (motor, "full_steps");
  g_autofree char *microsteps = trammel_words_of_field (motor, "microsteps");
  return g_strdup_printf (_ ("stepper %s × %s"), full_steps, microsteps);
}
