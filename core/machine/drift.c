/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/drift.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/error.h"

#define SECONDS_PER_DAY 86400.0
#define COVERAGE 0.95
#define SIGNIFICANCE 0.05

/* value/last = level + slope (day − center) */
typedef struct
{
  double center, level, slope;
  double level_u, slope_u;
  double factor; /* half-width of a 95 % interval in units of u */
} Line;

static gboolean
day_of (const char *time, double *out)
{
  g_autoptr (GTimeZone) utc = g_time_zone_new_utc ();
  g_autoptr (GDateTime) parsed = g_date_time_new_from_iso8601 (time, utc);

  if (parsed == NULL)
    return FALSE;
  *out = ((double)g_date_time_to_unix (parsed) + g_date_time_get_microsecond (parsed) / 1e6) / SECONDS_PER_DAY;
  return TRUE;
}

static int
compare_checks (gconstpointer a, gconstpointer b)
{
  const TrammelDriftCheck *one = a, *other = b;

  if (one->day != other->day)
    return one->day < other->day ? -1 : 1;
  return one->entry < other->entry ? -1 : one->entry > other->entry;
}

static void
take_change (TrammelDrift *drift, const TrammelLogEntry *entry, gsize i, const TrammelLogChange *change)
{
  TrammelDriftCheck check = { .entry = i, .value = change->after, .u = change->after_u, .moving_range = NAN };

  if (change->letter != drift->letter || !isfinite (check.value) || check.value == 0
      || !day_of (entry->time, &check.day))
    return;
  g_array_append_val (drift->checks, check);
}

static void
take_log (TrammelDrift *drift, const TrammelMachine *machine)
{
  for (gsize i = 0; i < trammel_machine_n_log (machine); i++)
    {
      const TrammelLogEntry *entry = trammel_machine_log (machine, i);
      for (gsize k = 0; k < entry->n_changes; k++)
        take_change (drift, entry, i, &entry->changes[k]);
    }
  g_array_sort (drift->checks, compare_checks);
}

static const TrammelDriftCheck *
check_at (const TrammelDrift *drift, guint i)
{
  return &g_array_index (drift->checks, TrammelDriftCheck, i);
}

static void
set_aside_before_break (TrammelDrift *drift)
{
  guint first = 0;

  for (guint i = 1; i < drift->checks->len; i++)
    if (!(fabs (check_at (drift, i)->value / check_at (drift, i - 1)->value - 1) <= TRAMMEL_DRIFT_BREAK))
      first = i;
  drift->n_set_aside = first;
  if (first > 0)
    g_array_remove_range (drift->checks, 0, first);
}

static void
draw_chart (TrammelDrift *drift)
{
  const guint n = drift->checks->len;
  g_autofree double *values = g_new (double, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    values[i] = check_at (drift, i)->value;
  drift->has_chart = trammel_control_chart_make (values, n, &drift->chart);
  for (guint i = 0; drift->has_chart && i < n; i++)
    {
      TrammelDriftCheck *check = &g_array_index (drift->checks, TrammelDriftCheck, i);
      check->is_outside = trammel_control_chart_is_outside (&drift->chart, values[i]);
      if (i == 0)
        continue;
      check->moving_range = fabs (values[i] - values[i - 1]);
      check->is_jump = trammel_control_chart_is_jump (&drift->chart, values[i - 1], values[i]);
    }
}

static gboolean
all_have_u (const TrammelDrift *drift)
{
  for (guint i = 0; i < drift->checks->len; i++)
    if (!(check_at (drift, i)->u > 0) || !isfinite (check_at (drift, i)->u))
      return FALSE;
  return TRUE;
}

/* Two passes, so that days since 1970 lose no figures. */
static gboolean
fit_line (const TrammelDrift *drift, gboolean weighted, Line *line, double *square)
{
  const guint n = drift->checks->len;
  const double last = check_at (drift, n - 1)->value;
  double weights = 0, days = 0, values = 0, days_square = 0, product = 0;

  for (guint i = 0; i < n; i++)
    {
      const TrammelDriftCheck *check = check_at (drift, i);
      const double w = weighted ? pow (last / check->u, 2) : 1;
      weights += w;
      days += w * check->day;
      values += w * (check->value / last - 1);
    }
  *line = (Line){ .center = days / weights, .level = values / weights, .level_u = 1 / sqrt (weights) };
  for (guint i = 0; i < n; i++)
    {
      const TrammelDriftCheck *check = check_at (drift, i);
      const double w = weighted ? pow (last / check->u, 2) : 1;
      const double day = check->day - line->center;
      days_square += w * day * day;
      product += w * day * (check->value / last - 1 - line->level);
    }
  if (!(days_square > 0))
    return FALSE;
  line->slope = product / days_square;
  line->slope_u = 1 / sqrt (days_square);
  *square = 0;
  for (guint i = 0; i < n; i++)
    {
      const TrammelDriftCheck *check = check_at (drift, i);
      const double off = check->value / last - 1 - line->level - line->slope * (check->day - line->center);
      *square += (weighted ? pow (last / check->u, 2) : 1) * off * off;
    }
  return TRUE;
}

/* How far the checks scatter decides u and the width of intervals. */
static void
widen (TrammelDrift *drift, gboolean weighted, double square, Line *line)
{
  const double freedom = drift->checks->len - 2.0;
  const double tail = (1 - COVERAGE) / 2;
  double spread = 1;

  line->factor = gsl_cdf_ugaussian_Qinv (tail);
  if (!weighted || (freedom > 0 && gsl_cdf_chisq_Q (square, freedom) < SIGNIFICANCE))
    {
      spread = sqrt (square / freedom);
      line->factor = gsl_cdf_tdist_Qinv (tail, freedom);
    }
  line->level_u *= spread;
  line->slope_u *= spread;
  drift->birge = weighted ? spread : 1;
}

static gboolean
find_trend (TrammelDrift *drift, Line *line)
{
  const gboolean weighted = all_have_u (drift);
  double square;

  if (drift->checks->len < (weighted ? 2u : 3u) || !fit_line (drift, weighted, line, &square))
    return FALSE;
  widen (drift, weighted, square, line);
  drift->slope = line->slope;
  drift->slope_u = line->slope_u;
  drift->slope_low = line->slope - line->factor * line->slope_u;
  drift->slope_high = line->slope + line->factor * line->slope_u;
  drift->is_significant = drift->slope_low > 0 || drift->slope_high < 0;
  return TRUE;
}

/* How far from the value in force the line may be at @day, with 95 %. */
static double
farthest (const Line *line, double day)
{
  const double away = day - line->center;

  return fabs (line->level + line->slope * away) + line->factor * hypot (line->level_u, line->slope_u * away);
}

/* The bound is convex, so that it is left for good once it is left. */
static void
find_due (TrammelDrift *drift, const Line *line)
{
  const double last = check_at (drift, drift->checks->len - 1)->day;
  double inside = last, outside = last + TRAMMEL_DRIFT_HORIZON;

  drift->is_due_at_once = farthest (line, last) > drift->tolerance;
  if (drift->is_due_at_once)
    {
      drift->due = last;
      return;
    }
  if (!(farthest (line, outside) > drift->tolerance))
    return;
  while (outside - inside > 0.5 / SECONDS_PER_DAY)
    {
      const double middle = inside + (outside - inside) / 2;
      if (farthest (line, middle) > drift->tolerance)
        outside = middle;
      else
        inside = middle;
    }
  drift->due = inside;
}

TrammelDrift *
trammel_drift_new (const TrammelMachine *machine, char letter, double tolerance, GError **error)
{
  Line line;

  g_return_val_if_fail (machine != NULL && tolerance > 0, NULL);

  if (trammel_machine_axis_index (machine, letter) < 0)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("the machine has no axis %c"), letter);
      return NULL;
    }
  TrammelDrift *drift = g_new0 (TrammelDrift, 1);
  drift->letter = letter;
  drift->checks = g_array_new (FALSE, FALSE, sizeof (TrammelDriftCheck));
  drift->slope = drift->slope_u = drift->slope_low = drift->slope_high = drift->due = NAN;
  drift->birge = 1;
  drift->tolerance = tolerance;
  take_log (drift, machine);
  set_aside_before_break (drift);
  draw_chart (drift);
  drift->has_trend = find_trend (drift, &line);
  if (drift->has_trend)
    find_due (drift, &line);
  return drift;
}

void
trammel_drift_free (TrammelDrift *drift)
{
  if (drift == NULL)
    return;
  g_array_unref (drift->checks);
  g_free (drift);
}

char *
trammel_drift_day_to_text (double day)
{
  g_autoptr (GDateTime) time = isfinite (day) ? g_date_time_new_from_unix_utc ((gint64)(day * SECONDS_PER_DAY)) : NULL;

  return time != NULL ? g_date_time_format (time, "%Y-%m-%dT%H:%M:%SZ") : NULL;
}
