/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "draw/display.h"
#include "draw/error-plot-private.h"

#define PERCENT 100.0
#define DEGREES (180 / G_PI)
/* A suspect may widen the range this much; one farther out is shown at the edge. */
#define SUSPECT_STRETCH 1.6
#define NEAR_ENOUGH 14.0

static gboolean
view_is_pair (const TrammelErrorPlot *plot)
{
  return plot->letters[1] != '\0';
}

/* A reversal is of play alone, whatever the scale is. */
static gboolean
tells_of_slope (const TrammelReading *reading)
{
  return reading->kind != TRAMMEL_READING_REVERSAL;
}

/* Lengths across both axes, and no third. */
static gboolean
lies_across (const TrammelDirection *along, const char *letters)
{
  return !trammel_direction_is_single (along) && along->axes[2] == '\0' && trammel_direction_touches (along, letters[0])
         && trammel_direction_touches (along, letters[1]);
}

static gboolean
belongs_to_view (const TrammelErrorPlot *plot, const TrammelReading *reading)
{
  if (view_is_pair (plot))
    return lies_across (&reading->along, plot->letters);
  return trammel_direction_is_single (&reading->along) && reading->along.axes[0] == plot->letters[0];
}

/* 2·cx·cy·length: how much a length across two axes feels their skew. */
static double
skew_leverage (const TrammelReading *reading)
{
  double vector[3], product = 1;

  trammel_direction_vector (&reading->along, vector);
  for (int i = 0; i < 3; i++)
    product *= vector[i] != 0 ? vector[i] : 1;
  return trammel_direction_is_single (&reading->along) ? 0 : 2 * product * reading->nominal;
}

/* Half-width of a reading's own 95 % interval, in its unit. */
static double
half_width_of_reading (const TrammelAdjustment *adjustment, const TrammelFitted *fitted)
{
  double spread = trammel_adjustment_scatter (adjustment) == TRAMMEL_SCATTER_ESTIMATED
                      ? trammel_adjustment_sigma (adjustment)
                      : trammel_adjustment_birge (adjustment);
  double half = fitted->u * spread * trammel_adjustment_coverage_factor (adjustment);

  return isfinite (half) ? half : 0;
}

static void
note_what_it_is_of (TrammelErrorPlot *plot, const TrammelReading *reading)
{
  plot->kinds |= 1u << reading->kind;
  if (reading->kind == TRAMMEL_READING_POSITION)
    plot->places = TRUE;
  else
    plot->lengths = TRUE;
}

static void
collect_points (TrammelErrorPlot *plot, const TrammelAdjustment *adjustment, const TrammelReadings *readings,
                double factor)
{
  gsize n, n_fitted;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n_fitted);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (TrammelErrorPoint));

  for (gsize i = 0; i < MIN (n, n_fitted); i++)
    {
      if (!rows[i].has_along || !isfinite (fitted[i].residual) || !tells_of_slope (&rows[i])
          || !belongs_to_view (plot, &rows[i]))
        continue;
      double x = view_is_pair (plot) ? skew_leverage (&rows[i]) : rows[i].nominal;
      TrammelErrorPoint point = {
        .x = x / factor,
        .after = fitted[i].residual / factor,
        .half = half_width_of_reading (adjustment, &fitted[i]) / factor,
        .row = i,
        .kind = rows[i].kind,
        .suspect = fitted[i].suspect != FALSE,
      };
      plot->across.low = MIN (plot->across.low, point.x);
      plot->across.high = MAX (plot->across.high, point.x);
      plot->n_suspects += point.suspect;
      note_what_it_is_of (plot, &rows[i]);
      g_array_append_val (points, point);
    }
  plot->n_points = points->len;
  plot->points = (TrammelErrorPoint *)g_array_free (g_steal_pointer (&points), FALSE);
}

static void
take_line_of_axis (TrammelErrorPlot *plot, const TrammelAdjustment *adjustment)
{
  const TrammelAxisScale *scale = trammel_adjustment_axis (adjustment, plot->letters[0]);

  plot->value_unit = " %";
  if (!scale)
    return;
  plot->slope = scale->scale_error;
  plot->slope_half = (scale->high - scale->low) / 2;
  plot->value = PERCENT * plot->slope;
  plot->value_half = PERCENT * plot->slope_half;
}

static void
take_line_of_skew (TrammelErrorPlot *plot, const TrammelAdjustment *adjustment)
{
  g_autofree char *name = g_strdup_printf ("skew.%s", plot->letters);
  const TrammelParameter *skew = trammel_adjustment_parameter (adjustment, name);

  plot->value_unit = "°";
  if (!skew)
    return;
  plot->slope = -skew->value / 2;
  plot->slope_half = (skew->high - skew->low) / 4;
  plot->value = DEGREES * skew->value;
  plot->value_half = DEGREES * (skew->high - skew->low) / 2;
}

static const TrammelUnit *
unit_of_view (const TrammelMachine *machine, char letter)
{
  int i = trammel_machine_axis_index (machine, letter);

  if (i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, i)) == TRAMMEL_AXIS_ROTARY)
    return NULL;
  return trammel_machine_display_unit (machine);
}

void
trammel_error_plot_free (TrammelErrorPlot *plot)
{
  if (!plot)
    return;
  g_free (plot->unit);
  g_free (plot->points);
  g_free (plot->shifts);
  g_free (plot);
}

char **
trammel_error_plot_views (const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  g_autoptr (GStrvBuilder) views = g_strv_builder_new ();
  gsize n;

  g_return_val_if_fail (machine != NULL && adjustment != NULL, NULL);

  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
  for (gsize i = 0; i < n; i++)
    if (parameters[i].kind == TRAMMEL_PARAMETER_SCALE || parameters[i].kind == TRAMMEL_PARAMETER_SKEW)
      {
        char letters[3] = { parameters[i].axes[0], parameters[i].axes[1], '\0' };
        g_strv_builder_add (views, letters);
      }
  return g_strv_builder_end (views);
}

gsize
trammel_error_plot_n_readings (const TrammelErrorPlot *plot)
{
  g_return_val_if_fail (plot != NULL, 0);
  return plot->n_points;
}

gboolean
trammel_error_plot_showed_both (const TrammelErrorPlot *plot)
{
  g_return_val_if_fail (plot != NULL, FALSE);
  return plot->n_panels == 2;
}

gboolean
trammel_error_plot_is_many (const TrammelErrorPlot *plot)
{
  return plot->n_points >= TRAMMEL_ERROR_PLOT_MANY;
}

double
trammel_error_plot_value (const TrammelErrorPlot *plot, const TrammelErrorPoint *point, gboolean after)
{
  return after ? point->after : point->after + plot->slope * point->x;
}

static void
widen (TrammelRange *range, double low, double high)
{
  range->low = MIN (range->low, low);
  range->high = MAX (range->high, high);
}

static void
widen_by_band (TrammelRange *range, const TrammelErrorPlot *plot, gboolean after, double x)
{
  double middle = after ? 0 : plot->slope * x, half = fabs (plot->slope_half * x);

  if (isfinite (middle) && isfinite (half))
    widen (range, middle - half, middle + half);
}

static void
widen_by_suspects (TrammelRange *range, const TrammelErrorPlot *plot, gboolean after)
{
  double room = (range->high - range->low) * (SUSPECT_STRETCH - 1);
  TrammelRange most = { range->low - room, range->high + room };

  for (gsize i = 0; i < plot->n_points; i++)
    {
      double value = trammel_error_plot_value (plot, &plot->points[i], after);
      if (plot->points[i].suspect && value >= most.low && value <= most.high)
        widen (range, value, value);
    }
}

static TrammelRange
range_of_panel (const TrammelErrorPlot *plot, gboolean after)
{
  TrammelRange range = { 0, 0 };
  gboolean many = trammel_error_plot_is_many (plot);

  for (gsize i = 0; i < plot->n_points; i++)
    {
      double value = trammel_error_plot_value (plot, &plot->points[i], after);
      double half = many ? 0 : plot->points[i].half;
      if (!plot->points[i].suspect)
        widen (&range, value - half, value + half);
    }
  widen_by_band (&range, plot, after, plot->across.low);
  widen_by_band (&range, plot, after, plot->across.high);
  if (range.high - range.low <= 0)
    range = (TrammelRange){ -1e-3, 1e-3 };
  widen_by_suspects (&range, plot, after);
  double margin = 0.06 * (range.high - range.low);
  return (TrammelRange){ range.low - margin, range.high + margin };
}

void
trammel_error_plot_measure (TrammelErrorPlot *plot)
{
  plot->up[FALSE] = range_of_panel (plot, FALSE);
  plot->up[TRUE] = range_of_panel (plot, TRUE);
}

TrammelErrorPlot *
trammel_error_plot_new (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                        const TrammelReadings *readings, const char *view)
{
  g_return_val_if_fail (machine != NULL && adjustment != NULL && readings != NULL, NULL);
  g_return_val_if_fail (view != NULL && *view != '\0', NULL);

  TrammelErrorPlot *plot = g_new0 (TrammelErrorPlot, 1);
  const TrammelUnit *unit = unit_of_view (machine, view[0]);

  g_strlcpy (plot->letters, view, sizeof plot->letters);
  plot->unit = g_strdup (unit ? trammel_unit_symbol (unit) : "°");
  if (view_is_pair (plot))
    take_line_of_skew (plot, adjustment);
  else
    take_line_of_axis (plot, adjustment);
  collect_points (plot, adjustment, readings, unit ? trammel_unit_factor (unit) : 1);
  trammel_error_plot_measure (plot);
  return plot;
}

double
trammel_error_panel_x (const TrammelErrorPanel *panel, double value)
{
  return panel->x + panel->width * (value - panel->across.low) / (panel->across.high - panel->across.low);
}

double
trammel_error_panel_y (const TrammelErrorPanel *panel, double value)
{
  return panel->y + panel->height * (panel->up.high - value) / (panel->up.high - panel->up.low);
}

static gboolean
panel_holds (const TrammelErrorPanel *panel, double x, double y)
{
  return x >= panel->x - NEAR_ENOUGH && x <= panel->x + panel->width + NEAR_ENOUGH && y >= panel->y - NEAR_ENOUGH
         && y <= panel->y + panel->height + NEAR_ENOUGH;
}

int
trammel_error_plot_row_at (const TrammelErrorPlot *plot, double x, double y)
{
  double nearest = NEAR_ENOUGH * NEAR_ENOUGH;
  int row = -1;

  g_return_val_if_fail (plot != NULL, -1);

  for (guint p = 0; p < plot->n_panels; p++)
    {
      const TrammelErrorPanel *panel = &plot->panels[p];
      if (!panel_holds (panel, x, y))
        continue;
      for (gsize i = 0; i < plot->n_points; i++)
        {
          const TrammelErrorPoint *point = &plot->points[i];
          double dx = trammel_error_panel_x (panel, point->x) + (plot->shifts ? plot->shifts[i] : 0) - x;
          double up = trammel_error_panel_y (panel, trammel_error_plot_value (plot, point, panel->after));
          double dy = CLAMP (up, panel->y, panel->y + panel->height) - y;
          if (dx * dx + dy * dy >= nearest)
            continue;
          nearest = dx * dx + dy * dy;
          row = (int)point->row;
        }
    }
  return row;
}

/* Where @row is, or would be, among the points. */
static gsize
place_among_points (const TrammelErrorPlot *plot, guint32 row)
{
  gsize low = 0, high = plot->n_points;

  while (low < high)
    {
      gsize middle = low + (high - low) / 2;
      if (plot->points[middle].row < row)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

int
trammel_error_plot_neighbor (const TrammelErrorPlot *plot, int row, int step)
{
  g_return_val_if_fail (plot != NULL, -1);

  gint64 n = (gint64)plot->n_points;
  if (n == 0)
    return -1;
  if (row < 0)
    return (int)plot->points[step < 0 ? n - 1 : 0].row;
  gint64 place = (gint64)place_among_points (plot, (guint32)row);
  gboolean here = place < n && plot->points[place].row == (guint32)row;
  /* From between two, a step forward is to the one after. */
  place += step - (here || step < 0 ? 0 : 1);
  return (int)plot->points[CLAMP (place, 0, n - 1)].row;
}

char *
trammel_error_plot_to_words (const TrammelErrorPlot *plot)
{
  g_return_val_if_fail (plot != NULL, NULL);

  if (plot->n_points == 0)
    return g_strdup_printf (_ ("No reading along %s."), plot->letters);
  TrammelRange before = plot->up[FALSE], after = plot->up[TRUE];
  g_autofree char *slope = trammel_display_interval (plot->value, plot->value_half);
  g_autofree char *spread = trammel_display_significant (before.high - before.low, 2);
  g_autofree char *left = trammel_display_significant (after.high - after.low, 2);
  /* translators: "Errors of 12 readings along X: slope −0.42 ± 0.03 %; they spread over 0.5 mm before correction and
   * over 0.1 mm after; 1 suspect." */
  return g_strdup_printf (
      ngettext ("Errors of %zu reading along %s: %s%s; they spread over %s %s before correction and "
                "over %s %s after; suspects: %zu.",
                "Errors of %zu readings along %s: %s%s; they spread over %s %s before correction "
                "and over %s %s after; suspects: %zu.",
                plot->n_points),
      plot->n_points, plot->letters, slope, plot->value_unit, spread, plot->unit, left, plot->unit, plot->n_suspects);
}
