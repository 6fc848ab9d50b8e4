/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/drift-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/sentences.h"

#define DAYS_PER_YEAR 365.25
#define PERCENT 100
#define DATE_LENGTH 10

static const TrammelAxis *
axis_of (const TrammelMachine *machine, char letter)
{
  return trammel_machine_axis (machine, (gsize)trammel_machine_axis_index (machine, letter));
}

static gboolean
turns (const TrammelMachine *machine, char letter)
{
  return trammel_axis_kind (axis_of (machine, letter)) == TRAMMEL_AXIS_ROTARY;
}

const char *
trammel_sentences_drift_quantity (TrammelDriftQuantity quantity)
{
  switch (quantity)
    {
    case TRAMMEL_DRIFT_LASH:
      return _ ("Lash");
    case TRAMMEL_DRIFT_HOME:
      return _ ("Scatter s of homing");
    case TRAMMEL_DRIFT_COUNTS:
    default:
      return _ ("Corrected value");
    }
}

char *
trammel_sentences_drift_unit (const TrammelMachine *machine, char letter, TrammelDriftQuantity quantity)
{
  g_return_val_if_fail (machine != NULL && trammel_machine_axis_index (machine, letter) >= 0, NULL);

  if (quantity == TRAMMEL_DRIFT_COUNTS)
    return trammel_sentences_counts_unit (axis_of (machine, letter));
  return g_strdup (turns (machine, letter) ? "°" : trammel_unit_symbol (trammel_machine_display_unit (machine)));
}

double
trammel_sentences_drift_factor (const TrammelMachine *machine, char letter, TrammelDriftQuantity quantity)
{
  g_return_val_if_fail (machine != NULL && trammel_machine_axis_index (machine, letter) >= 0, NAN);

  if (quantity == TRAMMEL_DRIFT_COUNTS || turns (machine, letter))
    return 1;
  return 1 / trammel_unit_factor (trammel_machine_display_unit (machine));
}

static int
digits_of (TrammelDriftQuantity quantity)
{
  return quantity == TRAMMEL_DRIFT_COUNTS ? 8 : 3;
}

char *
trammel_sentences_drift_value (const TrammelMachine *machine, char letter, TrammelDriftQuantity quantity,
                               const TrammelDriftCheck *check)
{
  g_return_val_if_fail (machine != NULL && check != NULL, NULL);

  const double factor = trammel_sentences_drift_factor (machine, letter, quantity);
  return check->u > 0 ? trammel_display_interval (check->value * factor, TRAMMEL_DISPLAY_95 * check->u * factor)
                      : trammel_display_significant (check->value * factor, digits_of (quantity));
}

static char *
limits_sentence (const TrammelDriftSeries *series, double factor)
{
  const TrammelControlChart *chart = &series->chart;
  const double half = (chart->high - chart->low) / 2 * factor;
  g_autofree char *low = trammel_display_rounded (chart->low * factor, half);
  g_autofree char *high = trammel_display_rounded (chart->high * factor, half);
  g_autofree char *range = trammel_display_significant (chart->range_high * factor, 3);

  return g_strdup_printf (_ ("Control limits %s to %s; at most %s from one check to the next."), low, high, range);
}

static char *
trend_sentence (const TrammelDriftSeries *series, double factor, const char *unit)
{
  const double per_year = DAYS_PER_YEAR * factor;

  if (!series->has_trend)
    return g_strdup (_ ("No trend yet: it takes two checks on different days (three where they have no u)."));
  g_autofree char *slope
      = trammel_display_interval (series->slope * per_year, (series->slope_high - series->slope_low) / 2 * per_year);
  /* Translators: value ± half-width, and % or a unit */
  return g_strdup_printf (
      series->is_significant ? _ ("It drifts: %s %s a year.") : _ ("No drift can be told: %s %s a year."), slope, unit);
}

static char *
due_of_scale (const TrammelDriftSeries *series, const char *due)
{
  g_autofree char *tolerance = trammel_display_significant (series->tolerance * PERCENT, 3);

  if (series->is_due_at_once)
    return g_strdup_printf (_ ("The checks do not tell the scale within %s %%: check again now, and better."),
                            tolerance);
  if (due)
    /* translators: a tolerance in percent, then a date */
    return g_strdup_printf (_ ("Within %s %% (95 %%) until %s: check again by then."), tolerance, due);
  return g_strdup_printf (_ ("Within %s %% (95 %%) for ten years to come."), tolerance);
}

static char *
due_of_lash (const TrammelDriftSeries *series, const char *due, double factor, const char *unit)
{
  g_autofree char *tolerance = trammel_display_significant (series->tolerance * factor, 3);

  /* Translators: in these three, the most lash that is borne and its unit */
  if (series->is_due_at_once)
    return g_strdup_printf (_ ("It may be more than %s %s now: check again, or take out the play."), tolerance, unit);
  if (due)
    return g_strdup_printf (_ ("At most %s %s (95 %%) until %s: check again by then."), tolerance, unit, due);
  return g_strdup_printf (_ ("At most %s %s (95 %%) for ten years to come."), tolerance, unit);
}

/* NULL: no tolerance is wanted, or there is no trend. */
static char *
due_sentence (const TrammelDriftSeries *series, TrammelDriftQuantity quantity, double factor, const char *unit)
{
  g_autofree char *time = trammel_drift_day_to_text (series->due);
  g_autofree char *date = time ? g_strndup (time, DATE_LENGTH) : NULL;

  if (!series->has_trend || isnan (series->tolerance))
    return NULL;
  return quantity == TRAMMEL_DRIFT_COUNTS ? due_of_scale (series, date) : due_of_lash (series, date, factor, unit);
}

GPtrArray *
trammel_sentences_drift (const TrammelMachine *machine, const TrammelDrift *drift, TrammelDriftQuantity quantity)
{
  g_return_val_if_fail (machine != NULL && drift != NULL && quantity < TRAMMEL_N_DRIFT_QUANTITIES, NULL);

  const TrammelDriftSeries *series = &drift->series[quantity];
  const double factor = trammel_sentences_drift_factor (machine, drift->letter, quantity);
  g_autofree char *unit = trammel_sentences_drift_unit (machine, drift->letter, quantity);
  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);

  if (series->checks->len == 0)
    return sentences;
  if (series->has_chart)
    g_ptr_array_add (sentences, limits_sentence (series, factor));
  g_ptr_array_add (sentences,
                   trend_sentence (series, series->is_relative ? PERCENT : factor, series->is_relative ? "%" : unit));
  char *due = due_sentence (series, quantity, factor, unit);
  if (due)
    g_ptr_array_add (sentences, due);
  return sentences;
}

char *
trammel_sentences_drift_unchecked (const TrammelDrift *drift)
{
  g_return_val_if_fail (drift != NULL, NULL);

  g_autofree char *since = trammel_drift_day_to_text (drift->since);
  if (drift->series[TRAMMEL_DRIFT_COUNTS].checks->len > 0)
    return NULL;
  if (!since)
    return g_strdup_printf (_ ("%c was never corrected; the log holds no check of it."), drift->letter);
  g_autofree char *date = g_strndup (since, DATE_LENGTH);
  return g_strdup_printf (_ ("%c was put right on %s and not checked since."), drift->letter, date);
}

const char *
trammel_sentences_drift_left_out (const TrammelDrift *drift)
{
  g_return_val_if_fail (drift != NULL, NULL);

  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    if (drift->series[i].n_set_aside > 0)
      return _ ("Checks before another train was put in, or this one put right, are left out.");
  return NULL;
}
