/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "draw/display.h"
#include "draw/duty-sentences.h"
#include "drive/needs.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "drive/words.h"

static char *
with_unit (double value, const char *unit)
{
  g_autofree char *number = trammel_display_significant (value, 3);
  return isnan (value) ? g_steal_pointer (&number) : g_strconcat (number, unit, NULL);
}

static gboolean
in_inches (const TrammelUnit *unit)
{
  return trammel_unit_factor (unit) != 1;
}

char *
trammel_sentences_force (const TrammelBench *bench, double force, const TrammelUnit *unit)
{
  if (bench->facts->rotary || !in_inches (unit) || isnan (force))
    return with_unit (force, bench->facts->rotary ? " N·m" : " N");
  g_autofree char *newtons = with_unit (force, " N");
  g_autofree char *pounds
      = with_unit (force / trammel_unit_factor (trammel_unit_find (TRAMMEL_DIMENSION_FORCE, "lbf")), " lbf");
  return g_strdup_printf ("%s (%s)", newtons, pounds);
}

char *
trammel_sentences_torque (double torque)
{
  return fabs (torque) < 0.01 ? with_unit (torque * 1000, " mN·m") : with_unit (torque, " N·m");
}

char *
trammel_sentences_travel (const TrammelBench *bench, double travel, const TrammelUnit *unit)
{
  if (bench->facts->rotary)
    return with_unit (travel, "°");
  if (in_inches (unit))
    {
      const double inches = travel / trammel_unit_factor (unit);
      return inches != 0 && fabs (inches) < 0.0001 ? with_unit (inches * 1e6, " µin") : with_unit (inches, " in");
    }
  return travel != 0 && fabs (travel) < 0.01 ? with_unit (travel * 1000, " µm") : with_unit (travel, " mm");
}

char *
trammel_sentences_speed (const TrammelBench *bench, double speed, const TrammelUnit *unit)
{
  if (bench->facts->rotary)
    return with_unit (speed, "°/s");
  return with_unit (speed / trammel_unit_factor (unit), in_inches (unit) ? " in/s" : " mm/s");
}

char *
trammel_sentences_inertia_value (double inertia)
{
  return with_unit (inertia * 1e7, " g·cm²");
}

static char *
acceleration_text (const TrammelBench *bench, double acceleration, const TrammelUnit *unit)
{
  if (bench->facts->rotary)
    return with_unit (acceleration, "°/s²");
  return with_unit (acceleration / trammel_unit_factor (unit), in_inches (unit) ? " in/s²" : " mm/s²");
}

static char *
percent (double share)
{
  g_autofree char *number = trammel_display_significant (share * 100, 2);
  return isnan (share) ? g_steal_pointer (&number) : g_strconcat (number, " %", NULL);
}

const char *
trammel_sentences_limit (TrammelLimit limit)
{
  static const char *const names[] = {
    [TRAMMEL_LIMIT_NONE] = "",
    [TRAMMEL_LIMIT_MOTOR_SPEED] = N_ ("the motor's speed"),
    [TRAMMEL_LIMIT_COUNT_RATE] = N_ ("the rate of counts"),
    [TRAMMEL_LIMIT_WHIRL] = N_ ("the whirling of the screw"),
    [TRAMMEL_LIMIT_TORQUE] = N_ ("the motor's torque at that speed"),
  };

  g_return_val_if_fail (limit < G_N_ELEMENTS (names), "");
  return limit == TRAMMEL_LIMIT_NONE ? "" : _ (names[limit]);
}

char *
trammel_sentences_part (const TrammelTrain *train, gsize part)
{
  if (part == 0)
    return trammel_motor_to_words (trammel_train_motor (train));
  return part <= trammel_train_n_stages (train) ? trammel_stage_to_words (trammel_train_stage (train, part - 1))
                                                : trammel_output_to_words (trammel_train_output (train));
}

char *
trammel_sentences_holds (const TrammelAxis *axis, const TrammelBench *bench, const TrammelUnit *unit)
{
  const TrammelDuty *duty = bench->duty;
  const char letter = trammel_axis_letter (axis);
  if (isnan (duty->force_holds))
    return NULL;

  g_autofree char *holds = trammel_sentences_force (bench, duty->force_holds, unit);
  g_autofree char *speed = trammel_sentences_speed (bench, duty->speed, unit);
  g_autofree char *needs = trammel_sentences_force (bench, duty->force_run, unit);
  if (isnan (duty->force_run) || duty->force_run == 0)
    return g_strdup_printf (_ ("%c holds %s before it slips; enter its drag, and what the carriage needs is told."),
                            letter, holds);
  if (duty->force_run > duty->force_holds)
    return g_strdup_printf (_ ("%c slips: the carriage needs %s, and it holds only %s."), letter, needs, holds);
  if (isnan (duty->speed))
    return g_strdup_printf (_ ("%c holds %s before it slips; the carriage needs %s."), letter, holds, needs);
  if (duty->speed > bench->top_speed)
    return g_strdup_printf (_ ("At %s, faster than it goes, %c would hold %s before it slips; the carriage needs %s."),
                            speed, letter, holds, needs);
  return g_strdup_printf (_ ("At %s, %c holds %s before it slips; the carriage needs %s."), speed, letter, holds,
                          needs);
}

char *
trammel_sentences_margin (const TrammelBench *bench)
{
  const TrammelDuty *duty = bench->duty;
  if (isnan (duty->margin))
    return NULL;

  const gboolean starting = duty->torque_start >= duty->torque_run;
  g_autofree char *needed = trammel_sentences_torque (fmax (duty->torque_start, duty->torque_run));
  g_autofree char *available = trammel_sentences_torque (duty->torque_available);
  g_autofree char *times = trammel_display_significant (duty->margin, 2);
  g_autofree char *most = g_strdup_printf (starting ? _ ("Starting takes the most, %s; the motor has %s")
                                                    : _ ("Running takes the most, %s; the motor has %s"),
                                           needed, available);
  if (duty->margin < 1)
    return g_strdup_printf (_ ("%s, which is not enough (%s times what is needed)."), most, times);
  if (duty->margin < TRAMMEL_DUTY_USUAL_MARGIN)
    return g_strdup_printf (_ ("%s, %s times what is needed. Twice is usual (common practice)."), most, times);
  return g_strdup_printf (_ ("%s, %s times what is needed."), most, times);
}

char *
trammel_sentences_torques (const TrammelBench *bench)
{
  const TrammelDuty *duty = bench->duty;
  if (isnan (duty->torque_run))
    return NULL;

  g_autofree char *start = trammel_sentences_torque (duty->torque_start);
  g_autofree char *run = trammel_sentences_torque (duty->torque_run);
  g_autofree char *raise = trammel_sentences_torque (duty->torque_raise);
  g_autofree char *lower = trammel_sentences_torque (fabs (duty->torque_lower));
  if (isnan (duty->torque_start))
    return g_strdup_printf (_ ("At the motor: %s to run."), run);
  if (duty->weight == 0 || isnan (duty->weight))
    return g_strdup_printf (_ ("At the motor: %s to start, %s to run."), start, run);
  return g_strdup_printf (duty->torque_lower < 0
                              ? _ ("At the motor: %s to start, %s to run, %s to raise, and %s of braking to lower.")
                              : _ ("At the motor: %s to start, %s to run, %s to raise, %s to lower."),
                          start, run, raise, lower);
}

char *
trammel_sentences_acceleration (const TrammelBench *bench, const TrammelUnit *unit)
{
  const TrammelDuty *duty = bench->duty;
  if (isnan (duty->acceleration_largest))
    return NULL;

  g_autofree char *largest = acceleration_text (bench, duty->acceleration_largest, unit);
  g_autofree char *wanted = acceleration_text (bench, duty->acceleration, unit);
  if (duty->acceleration_largest == 0)
    return g_strdup (_ ("It cannot start: the motor's torque does not even keep it moving."));
  if (isnan (duty->acceleration))
    return g_strdup_printf (_ ("It can speed up by %s at most."), largest);
  return g_strdup_printf (_ ("It can speed up by %s at most; %s is wanted."), largest, wanted);
}

/* The stage, or n_stages for the output, that loses most. */
static gsize
worst_part (const TrammelTrain *train, double *efficiency)
{
  gsize worst = trammel_train_n_stages (train);
  *efficiency = trammel_output_efficiency (trammel_train_output (train)).forward;
  for (gsize i = 0; i < trammel_train_n_stages (train); i++)
    {
      const double own = trammel_stage_efficiency (trammel_train_stage (train, i)).forward;
      if (own < *efficiency)
        {
          *efficiency = own;
          worst = i;
        }
    }
  return worst;
}

char *
trammel_sentences_efficiency (const TrammelTrain *train, const TrammelBench *bench)
{
  double least;
  if (isnan (bench->duty->efficiency))
    return NULL;

  const gsize part = worst_part (train, &least);
  g_autofree char *share = percent (bench->duty->efficiency);
  g_autofree char *own = percent (least);
  g_autofree char *name = trammel_sentences_part (train, part + 1);
  if (trammel_train_n_stages (train) == 0)
    return g_strdup_printf (_ ("%s of the motor's work reaches the carriage."), share);
  return g_strdup_printf (_ ("%s of the motor's work reaches the carriage; most is lost in the %s (%s gets through)."),
                          share, name, own);
}

char *
trammel_sentences_inertia (const TrammelBench *bench)
{
  const TrammelDuty *duty = bench->duty;
  if (isnan (duty->inertia) || duty->inertia <= 0)
    return NULL;

  g_autofree char *all = trammel_sentences_inertia_value (duty->inertia);
  g_autofree char *load = percent (duty->inertia_load / duty->inertia);
  if (duty->inertia_partial)
    return g_strdup_printf (_ ("The motor has more than %s to speed up: of what turns, not all is known."), all);
  return g_strdup_printf (_ ("The motor has %s to speed up; %s of it is the load."), all, load);
}

char *
trammel_sentences_power_loss (const TrammelAxis *axis, const TrammelBench *bench)
{
  const TrammelTrain *train = trammel_axis_train (axis);
  g_autofree char *part = NULL;

  switch (bench->duty->power_loss)
    {
    case TRAMMEL_POWER_LOSS_STAYS:
      return g_strdup (_ ("When the power goes it stays where it is: nothing pulls at it."));
    case TRAMMEL_POWER_LOSS_DRAG:
      return g_strdup (_ ("When the power goes its own drag holds it, as long as the drag stays what it is."));
    case TRAMMEL_POWER_LOSS_LOCKED:
      part = trammel_sentences_part (train, bench->duty->locked_by + 1);
      return g_strdup_printf (_ ("When the power goes the %s holds it: the load cannot drive it backwards."), part);
    case TRAMMEL_POWER_LOSS_DETENT:
      return g_strdup (_ ("When the power goes only the motor's detent torque holds it."));
    case TRAMMEL_POWER_LOSS_FALLS:
      return g_strdup (_ ("When the power goes it falls."));
    case TRAMMEL_POWER_LOSS_UNKNOWN:
    default:
      return NULL;
    }
}

char *
trammel_sentences_top_speed (const TrammelBench *bench, const TrammelUnit *unit)
{
  if (isnan (bench->top_speed))
    return NULL;

  g_autofree char *speed = trammel_sentences_speed (bench, bench->top_speed, unit);
  g_autofree char *wanted = trammel_sentences_speed (bench, bench->duty->speed, unit);
  const char *limit = trammel_sentences_limit (bench->limit);
  if (bench->duty->speed > bench->top_speed)
    return g_strdup_printf (_ ("It goes %s at most, limited by %s; %s is wanted."), speed, limit, wanted);
  return g_strdup_printf (_ ("It goes %s at most, limited by %s."), speed, limit);
}

char *
trammel_sentences_play (const TrammelTrain *train, const TrammelBench *bench, const TrammelUnit *unit)
{
  const TrammelPlay *play = bench->play;
  gsize most = 0;
  if (isnan (play->worst))
    return NULL;

  g_autofree char *worst = trammel_sentences_travel (bench, play->worst, unit);
  g_autofree char *rss = trammel_sentences_travel (bench, play->rss, unit);
  for (gsize i = 1; i < play->n_parts; i++)
    if (isnan (play->parts[most].travel) || play->parts[i].travel > play->parts[most].travel)
      most = i;
  g_autofree char *share = percent (play->parts[most].share);
  g_autofree char *name = trammel_sentences_part (train, most + 1);
  g_autofree char *all = g_strdup_printf (
      play->partial ? _ ("The play that is known comes to %s at the carriage if it all adds up, more likely %s.")
                    : _ ("The play comes to %s at the carriage if it all adds up, more likely %s."),
      worst, rss);
  if (play->worst == 0 || play->n_parts == 1)
    return g_steal_pointer (&all);
  return g_strdup_printf (_ ("%s Most of it, %s, is from the %s."), all, share, name);
}

char *
trammel_sentences_play_found (const TrammelBench *bench, double found, double half_width, const TrammelUnit *unit)
{
  if (isnan (found))
    return NULL;

  g_autofree char *value = trammel_sentences_travel (bench, found, unit);
  g_autofree char *half = trammel_sentences_travel (bench, half_width, unit);
  if (isnan (bench->play->worst))
    return g_strdup_printf (_ ("The readings found %s of play (± %s)."), value, half);
  if (found - half_width > bench->play->worst)
    return g_strdup_printf (_ ("The readings found %s of play (± %s), more than the parts explain: look for a loose "
                               "screw, a bearing or a belt that gives."),
                            value, half);
  return g_strdup_printf (_ ("The readings found %s of play (± %s), no more than the parts explain."), value, half);
}

static void
add (GPtrArray *list, const char *sentence)
{
  g_ptr_array_add (list, g_strdup (sentence));
}

GPtrArray *
trammel_sentences_cautions (const TrammelAxis *axis, const TrammelBench *bench)
{
  GPtrArray *list = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (axis != NULL && bench != NULL, list);

  if (bench->duty->power_loss == TRAMMEL_POWER_LOSS_FALLS)
    add (list, _ ("It falls when the power goes: keep hands from under it, and fit a brake, a counterweight or a part "
                  "that locks."));
  if (bench->duty->power_loss == TRAMMEL_POWER_LOSS_DETENT)
    add (list, _ ("Only the motor's detent holds it when the power goes; a knock lets it fall."));
  if (bench->duty->power_loss == TRAMMEL_POWER_LOSS_LOCKED)
    add (list, _ ("A part that locks can creep when it is shaken: it is no brake for people to stand under."));
  if (trammel_bench_may_whirl (bench))
    add (list, _ ("The screw is driven past the speed at which it whirls: it bends, hammers and can break loose."));
  if (trammel_bench_may_buckle (bench))
    add (list, _ ("The screw is pushed so hard that it may buckle."));
  if (bench->duty->margin < 1)
    add (list, _ ("The motor is too weak for this load: it stalls or loses steps, and the carriage is not where the "
                  "controller takes it to be."));
  add (list,
       _ ("The moving carriage, belts and gears pinch: keep fingers, hair and sleeves away while it is powered."));
  return list;
}

/* Which part a place names: "motor", "stages[1]", "output"; NULL for the load. */
static char *
part_of_place (const TrammelTrain *train, const char *place)
{
  if (g_str_has_prefix (place, "motor."))
    return trammel_sentences_part (train, 0);
  if (g_str_has_prefix (place, "output."))
    return trammel_sentences_part (train, trammel_train_n_stages (train) + 1);
  if (!g_str_has_prefix (place, "stages["))
    return NULL;
  const guint64 i = g_ascii_strtoull (place + strlen ("stages["), NULL, 10);
  return i < trammel_train_n_stages (train) ? trammel_sentences_part (train, (gsize)i + 1) : NULL;
}

static char *
taken_for_people (const TrammelNeed *need)
{
  if (need->field->type == TRAMMEL_FIELD_CHOICE)
    for (gsize i = 0; need->field->choices[i] != NULL; i++)
      if (g_str_equal (need->field->choices[i], need->taken))
        return g_strdup (_ (need->field->choice_labels[i]));
  return trammel_display_text (need->taken);
}

char *
trammel_sentences_need (const TrammelTrain *train, const TrammelNeed *need)
{
  g_return_val_if_fail (train != NULL && need != NULL, NULL);

  g_autofree char *part = part_of_place (train, need->place);
  g_autofree char *what = part != NULL ? g_strdup_printf (_ ("%s of the %s"), _ (need->field->label), part)
                                       : g_strdup (_ (need->field->label));
  if (need->taken == NULL)
    return g_strdup_printf ("%s: %s", what, _ (need->field->meaning));
  g_autofree char *taken = taken_for_people (need);
  return g_strdup_printf (_ ("%s: %s was taken"), what, taken);
}
