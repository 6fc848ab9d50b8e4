/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/drift-series.h"

#include <gsl/gsl_cdf.h>
#include <math.h>

#define SECONDS_PER_DAY 86400.0
#define COVERAGE 0.95
#define SIGNIFICANCE 0.05

/* A check as the line is fitted to it. */
typedef struct
{
  double day, y, weight;
} Point;

void
trammel_drift_series_init (TrammelDriftSeries *series, double tolerance)
{
  g_return_if_fail (series != NULL);

  *series = (TrammelDriftSeries){ .birge = 1, .tolerance = tolerance };
  series->checks = g_array_new (FALSE, FALSE, sizeof (TrammelDriftCheck));
  series->slope = series->slope_u = series->slope_low = series->slope_high = series->due = NAN;
}

void
trammel_drift_series_clear (TrammelDriftSeries *series)
{
  g_return_if_fail (series != NULL);

  g_clear_pointer (&series->checks, g_array_unref);
}

static TrammelDriftCheck *
check_at (const TrammelDriftSeries *series, guint i)
{
  return &g_array_index (series->checks, TrammelDriftCheck, i);
}

static void
draw_chart (TrammelDriftSeries *series)
{
  const guint n = series->checks->len;
  g_autofree double *values = g_new (double, MAX (n, 1));

  for (guint i = 0; i < n; i++)
    values[i] = check_at (series, i)->value;
  series->has_chart = trammel_control_chart_make (values, n, &series->chart);
  for (guint i = 0; series->has_chart && i < n; i++)
    {
      TrammelDriftCheck *check = check_at (series, i);

      check->is_outside = trammel_control_chart_is_outside (&series->chart, values[i]);
      if (i == 0)
        continue;
      check->moving_range = fabs (values[i] - values[i - 1]);
      check->is_jump = trammel_control_chart_is_jump (&series->chart, values[i - 1], values[i]);
    }
}

static gboolean
all_have_u (const TrammelDriftSeries *series)
{
  for (guint i = 0; i < series->checks->len; i++)
    if (!(check_at (series, i)->u_in_trend > 0) || !isfinite (check_at (series, i)->u_in_trend))
      return FALSE;
  return TRUE;
}

/* (transfer full) */
static Point *
points_of (const TrammelDriftSeries *series, gboolean relative, gboolean weighted)
{
  const guint n = series->checks->len;
  const double last = check_at (series, n - 1)->value;
  Point *points = g_new (Point, n);

  for (guint i = 0; i < n; i++)
    {
      const TrammelDriftCheck *check = check_at (series, i);
      const double u = relative ? check->u_in_trend / last : check->u_in_trend;

      points[i] = (Point){ check->day, relative ? check->value / last - 1 : check->value, weighted ? 1 / (u * u) : 1 };
    }
  return points;
}

/* Two passes, so that days since 1970 lose no figures. */
static gboolean
fit_line (const Point *points, guint n, TrammelDriftLine *line, double *square)
{
  double weights = 0, days = 0, values = 0, days_square = 0, product = 0;

  for (guint i = 0; i < n; i++)
    {
      weights += points[i].weight;
      days += points[i].weight * points[i].day;
      values += points[i].weight * points[i].y;
    }
  *line = (TrammelDriftLine){ .center = days / weights, .level = values / weights, .level_u = 1 / sqrt (weights) };
  for (guint i = 0; i < n; i++)
    {
      const double day = points[i].day - line->center;

      days_square += points[i].weight * day * day;
      product += points[i].weight * day * (points[i].y - line->level);
    }
  if (!(days_square > 0))
    return FALSE;
  line->slope = product / days_square;
  line->slope_u = 1 / sqrt (days_square);
  *square = 0;
  for (guint i = 0; i < n; i++)
    {
      const double off = points[i].y - line->level - line->slope * (points[i].day - line->center);

      *square += points[i].weight * off * off;
    }
  return TRUE;
}

/* How far the checks scatter decides u and the width of intervals. */
static void
widen (TrammelDriftSeries *series, gboolean weighted, double square, TrammelDriftLine *line)
{
  const double freedom = series->checks->len - 2.0;
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
  series->birge = weighted ? spread : 1;
}

static gboolean
find_trend (TrammelDriftSeries *series, gboolean relative, TrammelDriftLine *line)
{
  const gboolean weighted = all_have_u (series);
  const guint n = series->checks->len;
  double square;

  if (n < (weighted ? 2u : 3u))
    return FALSE;
  g_autofree Point *points = points_of (series, relative, weighted);
  if (!fit_line (points, n, line, &square))
    return FALSE;
  widen (series, weighted, square, line);
  series->slope = line->slope;
  series->slope_u = line->slope_u;
  series->slope_low = line->slope - line->factor * line->slope_u;
  series->slope_high = line->slope + line->factor * line->slope_u;
  series->is_significant = series->slope_low > 0 || series->slope_high < 0;
  return TRUE;
}

/* How far from 0 the line may be at @day, with 95 %. */
static double
farthest (const TrammelDriftLine *line, double day)
{
  const double away = day - line->center;

  return fabs (line->level + line->slope * away) + line->factor * hypot (line->level_u, line->slope_u * away);
}

/* The bound is convex, so that it is left for good once it is left. */
static void
find_due (TrammelDriftSeries *series, const TrammelDriftLine *line)
{
  const double last = check_at (series, series->checks->len - 1)->day;
  double inside = last, outside = last + TRAMMEL_DRIFT_HORIZON;

  series->is_due_at_once = farthest (line, last) > series->tolerance;
  if (series->is_due_at_once)
    {
      series->due = last;
      return;
    }
  if (!(farthest (line, outside) > series->tolerance))
    return;
  while (outside - inside > 0.5 / SECONDS_PER_DAY)
    {
      const double middle = inside + (outside - inside) / 2;
      if (farthest (line, middle) > series->tolerance)
        outside = middle;
      else
        inside = middle;
    }
  series->due = inside;
}

void
trammel_drift_series_work_out (TrammelDriftSeries *series, gboolean relative)
{
  g_return_if_fail (series != NULL);

  series->is_relative = relative;
  draw_chart (series);
  series->has_trend = find_trend (series, relative, &series->line);
  if (series->has_trend && !isnan (series->tolerance))
    find_due (series, &series->line);
}

gboolean
trammel_drift_series_trend_at (const TrammelDriftSeries *series, double day, double *value, double *half_width)
{
  g_return_val_if_fail (series != NULL && value != NULL && half_width != NULL, FALSE);

  if (!series->has_trend)
    return FALSE;
  const TrammelDriftLine *line = &series->line;
  const double last = series->is_relative ? check_at (series, series->checks->len - 1)->value : 1;
  const double away = day - line->center, y = line->level + line->slope * away;
  *value = (series->is_relative ? 1 + y : y) * last;
  *half_width = fabs (last) * line->factor * hypot (line->level_u, line->slope_u * away);
  return TRUE;
}
