/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "cli/console.h"
#include "cli/drift.h"
#include "draw/display.h"
#include "draw/sentences.h"

#define DAYS_PER_YEAR 365.25
#define PERCENT 100
#define HALF_WIDTH_95 1.959963984540054

/* How the numbers of a series are shown. */
typedef struct
{
  double factor; /* on values */
  int digits;    /* of limits */
  double trend_factor;
  const char *trend_unit;
} Telling;

static void
append_checks (GString *text, const TrammelDriftSeries *series, const Telling *telling)
{
  for (guint i = 0; i < series->checks->len; i++)
    {
      const TrammelDriftCheck *check = &g_array_index (series->checks, TrammelDriftCheck, i);
      const double value = check->value * telling->factor;
      g_autofree char *time = trammel_drift_day_to_text (check->day);
      g_autofree char *shown = check->u > 0
                                   ? trammel_display_interval (value, HALF_WIDTH_95 * check->u * telling->factor)
                                   : trammel_display_significant (value, telling->digits);

      g_string_append_printf (text, "   %.10s  %s%s%s\n", time, shown,
                              check->is_outside ? _ ("  outside the limits") : "",
                              check->is_jump ? _ ("  a jump") : "");
    }
}

static void
append_chart (GString *text, const TrammelDriftSeries *series, const Telling *telling)
{
  const TrammelControlChart *chart = &series->chart;
  g_autofree char *low = trammel_display_significant (chart->low * telling->factor, telling->digits);
  g_autofree char *high = trammel_display_significant (chart->high * telling->factor, telling->digits);
  g_autofree char *range = trammel_display_significant (chart->range_high * telling->factor, 3);

  if (series->has_chart)
    g_string_append_printf (text, _ ("   Control limits %s to %s; at most %s from one check to the next.\n"), low, high,
                            range);
}

/* FALSE where there is none. */
static gboolean
append_trend (GString *text, const TrammelDriftSeries *series, const Telling *telling)
{
  const double per_year = DAYS_PER_YEAR * telling->trend_factor;
  g_autofree char *slope = NULL;

  if (!series->has_trend)
    {
      g_string_append (text,
                       _ ("   No trend yet: it takes two checks on different days (three where they have no u).\n"));
      return FALSE;
    }
  slope = trammel_display_interval (series->slope * per_year, (series->slope_high - series->slope_low) / 2 * per_year);
  /* Translators: value ± half-width, and % or a unit */
  g_string_append_printf (text,
                          series->is_significant ? _ ("   It drifts: %s %s a year.\n")
                                                 : _ ("   No drift can be told: %s %s a year.\n"),
                          slope, telling->trend_unit);
  return TRUE;
}

static void
append_due_of_scale (GString *text, const TrammelDriftSeries *series)
{
  g_autofree char *due = trammel_drift_day_to_text (series->due);
  g_autofree char *tolerance = trammel_display_significant (series->tolerance * PERCENT, 3);

  if (series->is_due_at_once)
    g_string_append_printf (
        text, _ ("   The checks do not tell the scale within %s %%: check again now, and better.\n"), tolerance);
  else if (due)
    /* translators: a tolerance in percent, then a date */
    g_string_append_printf (text, _ ("   Within %s %% (95 %%) until %.10s: check again by then.\n"), tolerance, due);
  else
    g_string_append_printf (text, _ ("   Within %s %% (95 %%) for ten years to come.\n"), tolerance);
}

static void
append_due_of_lash (GString *text, const TrammelDriftSeries *series, const Telling *telling)
{
  g_autofree char *due = trammel_drift_day_to_text (series->due);
  g_autofree char *tolerance = trammel_display_significant (series->tolerance * telling->factor, 3);

  if (isnan (series->tolerance))
    return;
  /* Translators: in these three, the most lash that is borne and its unit */
  if (series->is_due_at_once)
    g_string_append_printf (text, _ ("   It may be more than %s %s now: check again, or take out the play.\n"),
                            tolerance, telling->trend_unit);
  else if (due)
    g_string_append_printf (text, _ ("   At most %s %s (95 %%) until %.10s: check again by then.\n"), tolerance,
                            telling->trend_unit, due);
  else
    g_string_append_printf (text, _ ("   At most %s %s (95 %%) for ten years to come.\n"), tolerance,
                            telling->trend_unit);
}

static void
append_counts (GString *text, const TrammelDrift *drift, const TrammelAxis *axis)
{
  const TrammelDriftSeries *series = &drift->series[TRAMMEL_DRIFT_COUNTS];
  const Telling telling = { 1, 8, PERCENT, "%" };
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  g_autofree char *since = trammel_drift_day_to_text (drift->since);

  if (series->checks->len == 0 && since)
    g_string_append_printf (text, _ ("%c  was put right on %.10s and not checked since.\n"), drift->letter, since);
  else if (series->checks->len == 0)
    g_string_append_printf (text, _ ("%c  was never corrected; the log holds no check of it.\n"), drift->letter);
  if (series->checks->len == 0)
    return;
  g_string_append_printf (text, "%c  %s\n", drift->letter, unit);
  append_checks (text, series, &telling);
  append_chart (text, series, &telling);
  if (append_trend (text, series, &telling))
    append_due_of_scale (text, series);
}

static void
append_lash (GString *text, const TrammelDriftSeries *series, const Telling *telling)
{
  if (series->checks->len == 0)
    return;
  g_string_append_printf (text, _ ("   Lash, %s:\n"), telling->trend_unit);
  append_checks (text, series, telling);
  append_chart (text, series, telling);
  if (append_trend (text, series, telling))
    append_due_of_lash (text, series, telling);
}

static void
append_homing (GString *text, const TrammelDriftSeries *series, const Telling *telling)
{
  if (series->checks->len == 0)
    return;
  g_string_append_printf (text, _ ("   Scatter s of homing, %s:\n"), telling->trend_unit);
  append_checks (text, series, telling);
  append_chart (text, series, telling);
  append_trend (text, series, telling);
}

static gboolean
leaves_out_checks (const TrammelDrift *drift)
{
  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    if (drift->series[i].n_set_aside > 0)
      return TRUE;
  return FALSE;
}

static void
append_axis (GString *text, const TrammelMachine *machine, const TrammelDrift *drift)
{
  const TrammelAxis *axis = trammel_machine_axis (machine, (gsize)trammel_machine_axis_index (machine, drift->letter));
  const gboolean turns = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY;
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  const double factor = turns ? 1 : 1 / trammel_unit_factor (unit);
  const Telling telling = { factor, 3, factor, turns ? "°" : trammel_unit_symbol (unit) };

  append_counts (text, drift, axis);
  append_lash (text, &drift->series[TRAMMEL_DRIFT_LASH], &telling);
  append_homing (text, &drift->series[TRAMMEL_DRIFT_HOME], &telling);
  if (leaves_out_checks (drift))
    g_string_append (text, _ ("   Checks before another train was put in, or this one put right, are left out.\n"));
}

void
cli_drift_print_words (const TrammelMachine *machine, const GPtrArray *drifts)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < drifts->len; i++)
    append_axis (text, machine, g_ptr_array_index (drifts, i));
  if (drifts->len == 0)
    g_string_append (text, _ ("The machine has no axes.\n"));
  cli_say (stdout, text->str);
}
