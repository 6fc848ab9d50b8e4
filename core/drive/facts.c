/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/train.h"

#include "drive/motor.h"
#include "drive/output.h"
#include "drive/slender.h"
#include "drive/stage.h"

#include <math.h>

/* Checks a part and puts its place before the message, as "stages[1].driver: …". */
static gboolean
check_part (const TrammelRecord *part, const char *place, GError **error)
{
  if (trammel_record_check (part, error))
    return TRUE;
  g_prefix_error (error, "%s.", place);
  return FALSE;
}

static gboolean
check_parts (const TrammelTrain *train, GError **error)
{
  if (!check_part (trammel_train_motor (train), "motor", error))
    return FALSE;
  for (gsize i = 0; i < trammel_train_n_stages (train); i++)
    {
      g_autofree char *place = g_strdup_printf ("stages[%" G_GSIZE_FORMAT "]", i);
      if (!check_part (trammel_train_stage (train, i), place, error))
        return FALSE;
    }
  return check_part (trammel_train_output (train), "output", error);
}

/* Turns of the shaft behind stage @i per turn of the motor, from those of the shaft before it. */
static gboolean
pass_stage (const TrammelTrain *train, gsize i, TrammelExact before, TrammelExact *behind, GError **error)
{
  TrammelExact ratio;
  if (trammel_stage_ratio (trammel_train_stage (train, i), &ratio, error)
      && trammel_exact_multiply (before, ratio, behind, error))
    return TRUE;
  g_prefix_error (error, "stages[%" G_GSIZE_FORMAT "]: ", i);
  return FALSE;
}

static gboolean
find_shafts (const TrammelTrain *train, TrammelFacts *facts, GError **error)
{
  facts->n_shafts = trammel_train_n_stages (train) + 1;
  facts->shafts = g_new0 (TrammelShaft, facts->n_shafts);
  facts->shafts[0].turns_per_motor_turn = TRAMMEL_EXACT_ONE;
  for (gsize i = 1; i < facts->n_shafts; i++)
    if (!pass_stage (train, i - 1, facts->shafts[i - 1].turns_per_motor_turn, &facts->shafts[i].turns_per_motor_turn,
                     error))
      return FALSE;
  return TRUE;
}

/* Signed travel per turn of the motor. */
static gboolean
find_travel (const TrammelTrain *train, const TrammelFacts *facts, TrammelExact *out, GError **error)
{
  TrammelExact per_turn;
  if (!trammel_output_travel_per_turn (trammel_train_output (train), &per_turn, error)
      || !trammel_exact_multiply (facts->shafts[facts->n_shafts - 1].turns_per_motor_turn, per_turn, out, error))
    {
      g_prefix_error (error, "output: ");
      return FALSE;
    }
  if (trammel_train_reverse (train))
    *out = trammel_exact_negate (*out);
  return TRUE;
}

static gboolean
find_counts (const TrammelTrain *train, TrammelExact travel, TrammelExact *out, GError **error)
{
  TrammelExact counts;
  if (trammel_motor_counts_per_turn (trammel_train_motor (train), &counts, error)
      && trammel_exact_divide (counts, trammel_exact_absolute (travel), out, error))
    return TRUE;
  g_prefix_error (error, "motor: ");
  return FALSE;
}

/* NaN where there is no lead screw that turns, or its size is not known. */
static double
speed_of_whirl (const TrammelRecord *output, const TrammelShaft *last)
{
  TrammelBar bar;
  if (!trammel_record_is (output, "screw") || !trammel_screw_turns (output) || !trammel_bar_from_output (output, &bar))
    return NAN;
  return trammel_bar_whirl (&bar) / (2 * G_PI) * fabs (last->travel_per_turn);
}

static void
find_speeds (const TrammelTrain *train, TrammelFacts *facts)
{
  const TrammelRecord *motor = trammel_train_motor (train);

  facts->top_speed_motor = trammel_record_value (motor, "max_speed") / (2 * G_PI) * facts->travel_per_motor_turn;
  facts->top_speed_rate = trammel_record_value (motor, "max_count_rate") * facts->travel_per_count;
  facts->whirl_speed = speed_of_whirl (trammel_train_output (train), &facts->shafts[facts->n_shafts - 1]);
  facts->top_speed_whirl = TRAMMEL_SLENDER_MARGIN * facts->whirl_speed;
  /* A NaN gives way to the others. */
  facts->top_speed = fmin (fmin (facts->top_speed_motor, facts->top_speed_rate), facts->top_speed_whirl);
  if (isnan (facts->top_speed))
    facts->limit = TRAMMEL_LIMIT_NONE;
  else if (facts->top_speed == facts->top_speed_motor)
    facts->limit = TRAMMEL_LIMIT_MOTOR_SPEED;
  else if (facts->top_speed == facts->top_speed_rate)
    facts->limit = TRAMMEL_LIMIT_COUNT_RATE;
  else
    facts->limit = TRAMMEL_LIMIT_WHIRL;
}

static void
find_numbers (const TrammelTrain *train, TrammelExact travel, TrammelFacts *facts)
{
  const gint64 counts_per_full_step = trammel_motor_counts_per_full_step (trammel_train_motor (train));

  facts->rotary = trammel_output_is_rotary (trammel_train_output (train));
  facts->direction = trammel_exact_sign (travel);
  facts->travel_per_motor_turn = fabs (trammel_exact_to_double (travel));
  facts->travel_per_count = 1.0 / trammel_exact_to_double (facts->counts_per_unit);
  facts->travel_per_full_step = counts_per_full_step > 0 ? (double)counts_per_full_step * facts->travel_per_count : NAN;
  for (gsize i = 0; i < facts->n_shafts; i++)
    {
      TrammelShaft *shaft = &facts->shafts[i];
      shaft->travel_per_turn = trammel_exact_to_double (travel) / trammel_exact_to_double (shaft->turns_per_motor_turn);
      shaft->turns_per_unit = 1.0 / shaft->travel_per_turn;
    }
  find_speeds (train, facts);
}

TrammelFacts *
trammel_train_facts (const TrammelTrain *train, GError **error)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autoptr (TrammelFacts) facts = g_new0 (TrammelFacts, 1);
  TrammelExact travel;
  if (!check_parts (train, error) || !find_shafts (train, facts, error) || !find_travel (train, facts, &travel, error)
      || !find_counts (train, travel, &facts->counts_per_unit, error))
    return NULL;

  find_numbers (train, travel, facts);
  return g_steal_pointer (&facts);
}

void
trammel_facts_free (TrammelFacts *facts)
{
  if (facts == NULL)
    return;
  g_free (facts->shafts);
  g_free (facts);
}

gboolean
trammel_train_check (const TrammelTrain *train, GError **error)
{
  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, error);
  return facts != NULL;
}
