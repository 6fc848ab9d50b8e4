/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/drift-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/drift-sentences.h"
#include "draw/label.h"
#include "draw/plot-key.h"
#include "draw/time-ticks.h"

#define MARGIN 8
#define MARK 4
#define OUTSIDE_MARK 6
#define BEYOND 0.25      /* of the time there was, how far the trend is drawn on */
#define FAR 1.0          /* of it, that the next check may be away to be in the picture */
#define MOST_OF_BAND 0.6 /* of the height of all else, that the band may add on each side */
#define BAND_POINTS 60
#define PIXELS_PER_TIME 92
#define DATE_LENGTH 10

/* One painting. */
typedef struct
{
  const TrammelDriftChart *chart;
  const TrammelDriftSeries *series;
  cairo_t *cr;
  const TrammelPalette *palette;
  TrammelPlotField field;
  TrammelColor color;
  double factor;
} Painting;

static const TrammelDriftSeries *
series_of (const TrammelDriftChart *chart)
{
  return &chart->drift->series[chart->quantity];
}

static const TrammelDriftCheck *
check_at (const TrammelDriftSeries *series, guint i)
{
  return &g_array_index (series->checks, TrammelDriftCheck, i);
}

static double
half_width (const TrammelDriftCheck *check)
{
  return check->u > 0 ? TRAMMEL_DISPLAY_95 * check->u : 0;
}

/* The key */

static void
key_check (cairo_t *cr, double x, double y, gconstpointer data)
{
  const Painting *painting = data;

  trammel_color_set (cr, painting->color, 1);
  cairo_set_line_width (cr, 1.2);
  cairo_move_to (cr, x, y - 7);
  cairo_line_to (cr, x, y + 7);
  cairo_stroke (cr);
  cairo_arc (cr, x, y, MARK, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
add_diamond (cairo_t *cr, double x, double y)
{
  cairo_move_to (cr, x, y - OUTSIDE_MARK);
  cairo_line_to (cr, x + OUTSIDE_MARK, y);
  cairo_line_to (cr, x, y + OUTSIDE_MARK);
  cairo_line_to (cr, x - OUTSIDE_MARK, y);
  cairo_close_path (cr);
}

static void
key_outside (cairo_t *cr, double x, double y, gconstpointer data)
{
  const Painting *painting = data;

  add_diamond (cr, x, y);
  trammel_color_set (cr, painting->palette->ground, 1);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, painting->palette->trouble, 1);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
}

static void
key_line (cairo_t *cr, double x, double y)
{
  cairo_move_to (cr, x - TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y);
  cairo_line_to (cr, x + TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y);
  cairo_stroke (cr);
}

static void
key_jump (cairo_t *cr, double x, double y, gconstpointer data)
{
  const Painting *painting = data;

  trammel_color_set (cr, painting->palette->trouble, 1);
  cairo_set_line_width (cr, 3);
  key_line (cr, x, y);
}

static void
use_limits_line (cairo_t *cr, const TrammelPalette *palette, gboolean dashed)
{
  const double dashes[] = { 6, 4 };

  trammel_color_set (cr, palette->ink, 0.6);
  cairo_set_line_width (cr, 1);
  cairo_set_dash (cr, dashes, dashed ? 2 : 0, 0);
}

static void
key_limits (cairo_t *cr, double x, double y, gconstpointer data)
{
  const Painting *painting = data;

  use_limits_line (cr, painting->palette, FALSE);
  key_line (cr, x, y);
  use_limits_line (cr, painting->palette, TRUE);
  key_line (cr, x, y - 5);
  key_line (cr, x, y + 5);
  use_limits_line (cr, painting->palette, FALSE);
}

static void
key_trend (cairo_t *cr, double x, double y, gconstpointer data)
{
  const Painting *painting = data;

  trammel_color_set (cr, painting->palette->mark, 0.25);
  cairo_rectangle (cr, x - TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y - 6, TRAMMEL_PLOT_KEY_SYMBOL, 12);
  cairo_fill (cr);
  trammel_color_set (cr, painting->palette->mark, 1);
  cairo_set_line_width (cr, 1.6);
  key_line (cr, x, y);
}

static gsize
key_items (const TrammelDriftSeries *series, TrammelPlotKeyItem items[5])
{
  gboolean outside = FALSE, jump = FALSE;
  gsize n = 0;

  for (guint i = 0; i < series->checks->len; i++)
    {
      outside = outside || check_at (series, i)->is_outside;
      jump = jump || check_at (series, i)->is_jump;
    }
  /* xgettext:no-c-format */
  items[n++] = (TrammelPlotKeyItem){ _ ("check, with its 95 % interval"), key_check };
  if (outside)
    items[n++] = (TrammelPlotKeyItem){ _ ("outside the limits"), key_outside };
  if (jump)
    items[n++] = (TrammelPlotKeyItem){ _ ("a jump"), key_jump };
  if (series->has_chart)
    items[n++] = (TrammelPlotKeyItem){ _ ("mean and control limits"), key_limits };
  if (series->has_trend)
    items[n++] = (TrammelPlotKeyItem){ _ ("trend, with its 95 % band"), key_trend };
  return n;
}

/* Ranges */

static void
find_days (const TrammelDriftSeries *series, TrammelPlotField *field)
{
  const double first = check_at (series, 0)->day, last = check_at (series, series->checks->len - 1)->day;
  const double span = last - first;

  if (!(span > 0))
    {
      field->low_x = first - 1;
      field->high_x = last + 1;
      return;
    }
  field->low_x = first - 0.04 * span;
  field->high_x = last + (series->has_trend ? BEYOND : 0.04) * span;
  if (!series->is_due_at_once && series->due <= last + FAR * span)
    field->high_x = fmax (field->high_x, series->due + 0.04 * span);
}

static void
stretch (double value, double *low, double *high)
{
  *low = fmin (*low, value);
  *high = fmax (*high, value);
}

/* The band of a trend that is hardly known is not to press all else together. */
static void
stretch_by_band (const TrammelDriftSeries *series, const TrammelPlotField *field, double *low, double *high)
{
  const double most = MOST_OF_BAND * (*high - *low), lowest = *low - most, highest = *high + most;

  for (int i = 0; i <= 1; i++)
    {
      double value, half;
      if (!trammel_drift_series_trend_at (series, i == 0 ? field->low_x : field->high_x, &value, &half))
        return;
      stretch (fmax (value - half, lowest), low, high);
      stretch (fmin (value + half, highest), low, high);
    }
}

static void
find_values (const TrammelDriftChart *chart, double factor, TrammelPlotField *field)
{
  const TrammelDriftSeries *series = series_of (chart);
  double low = check_at (series, 0)->value, high = low;

  for (guint i = 0; i < series->checks->len; i++)
    {
      const TrammelDriftCheck *check = check_at (series, i);
      stretch (check->value - half_width (check), &low, &high);
      stretch (check->value + half_width (check), &low, &high);
    }
  if (series->has_chart)
    {
      stretch (series->chart.low, &low, &high);
      stretch (series->chart.high, &low, &high);
    }
  if (high > low)
    stretch_by_band (series, field, &low, &high);
  const double margin = high > low ? 0.06 * (high - low) : fmax (fabs (high) * 1e-3, 1e-6);
  field->low_y = (low - margin) * factor;
  field->high_y = (high + margin) * factor;
}

TrammelPlotField
trammel_drift_chart_field (const TrammelDriftChart *chart, cairo_t *cr, double width, double height)
{
  TrammelPlotField field = { 0, 0, 1, 1, 0, 1, 0, 1 };

  g_return_val_if_fail (chart != NULL && cr != NULL && series_of (chart)->checks->len > 0, field);

  TrammelPlotKeyItem items[5];
  const TrammelLabel label = { .font = chart->font };
  const double line = trammel_label_line (cr, &label);
  const gsize n = key_items (series_of (chart), items);
  field.top = 1.5 * line;
  field.bottom = height - 1.7 * line - trammel_plot_key_height (cr, items, n, width - 2 * MARGIN, chart->font);
  field.right = width - MARGIN;
  find_days (series_of (chart), &field);
  find_values (chart, trammel_sentences_drift_factor (chart->machine, chart->drift->letter, chart->quantity), &field);
  field.left = trammel_plot_field_numbers_width (&field, cr, chart->font) + 6 + MARGIN;
  return field;
}

/* Painting */

static double
x_of (const Painting *painting, double day)
{
  return trammel_plot_field_x (&painting->field, day);
}

static double
y_of (const Painting *painting, double value)
{
  return trammel_plot_field_y (&painting->field, value * painting->factor);
}

static void
paint_times (const Painting *painting)
{
  const TrammelPlotField *field = &painting->field;
  g_autoptr (GArray) ticks
      = trammel_time_ticks (field->low_x, field->high_x, (int)((field->right - field->left) / PIXELS_PER_TIME));

  for (guint i = 0; i < ticks->len; i++)
    {
      const TrammelTimeTick *tick = &g_array_index (ticks, TrammelTimeTick, i);
      trammel_plot_field_paint_foot_mark (field, painting->cr, painting->palette, painting->chart->font, tick->day,
                                          tick->text);
    }
}

static void
paint_trend (const Painting *painting)
{
  cairo_t *cr = painting->cr;
  const double step = (painting->field.high_x - painting->field.low_x) / BAND_POINTS;
  double value, half;

  if (!painting->series->has_trend)
    return;
  cairo_new_path (cr);
  for (int i = 0; i <= BAND_POINTS; i++)
    {
      const double day = painting->field.low_x + i * step;
      trammel_drift_series_trend_at (painting->series, day, &value, &half);
      cairo_line_to (cr, x_of (painting, day), y_of (painting, value + half));
    }
  for (int i = BAND_POINTS; i >= 0; i--)
    {
      const double day = painting->field.low_x + i * step;
      trammel_drift_series_trend_at (painting->series, day, &value, &half);
      cairo_line_to (cr, x_of (painting, day), y_of (painting, value - half));
    }
  cairo_close_path (cr);
  trammel_color_set (cr, painting->palette->mark, 0.25);
  cairo_fill (cr);
  trammel_color_set (cr, painting->palette->mark, 1);
  cairo_set_line_width (cr, 1.6);
  for (int i = 0; i <= 1; i++)
    {
      const double day = i == 0 ? painting->field.low_x : painting->field.high_x;
      trammel_drift_series_trend_at (painting->series, day, &value, &half);
      cairo_line_to (cr, x_of (painting, day), y_of (painting, value));
    }
  cairo_stroke (cr);
}

static void
paint_limits (const Painting *painting)
{
  const TrammelControlChart *chart = &painting->series->chart;

  if (!painting->series->has_chart)
    return;
  use_limits_line (painting->cr, painting->palette, FALSE);
  trammel_plot_field_line (&painting->field, painting->cr, chart->center * painting->factor);
  use_limits_line (painting->cr, painting->palette, TRUE);
  trammel_plot_field_line (&painting->field, painting->cr, chart->low * painting->factor);
  trammel_plot_field_line (&painting->field, painting->cr, chart->high * painting->factor);
  use_limits_line (painting->cr, painting->palette, FALSE);
}

static void
paint_joints (const Painting *painting)
{
  cairo_t *cr = painting->cr;

  for (guint i = 1; i < painting->series->checks->len; i++)
    {
      const TrammelDriftCheck *before = check_at (painting->series, i - 1), *check = check_at (painting->series, i);
      trammel_color_set (cr, check->is_jump ? painting->palette->trouble : painting->color, check->is_jump ? 1 : 0.55);
      cairo_set_line_width (cr, check->is_jump ? 3 : 1);
      cairo_move_to (cr, x_of (painting, before->day), y_of (painting, before->value));
      cairo_line_to (cr, x_of (painting, check->day), y_of (painting, check->value));
      cairo_stroke (cr);
    }
}

static void
paint_check (const Painting *painting, const TrammelDriftCheck *check)
{
  cairo_t *cr = painting->cr;
  const double x = x_of (painting, check->day), y = y_of (painting, check->value);

  trammel_color_set (cr, painting->color, 1);
  cairo_set_line_width (cr, 1.2);
  cairo_move_to (cr, x, y_of (painting, check->value - half_width (check)));
  cairo_line_to (cr, x, y_of (painting, check->value + half_width (check)));
  cairo_stroke (cr);
  if (check->is_outside)
    {
      key_outside (cr, x, y, painting);
      return;
    }
  cairo_arc (cr, x, y, MARK, 0, 2 * G_PI);
  cairo_fill (cr);
}

static void
paint_due (const Painting *painting)
{
  const TrammelDriftSeries *series = painting->series;
  const TrammelPlotField *field = &painting->field;
  const TrammelLabel label = { .font = painting->chart->font, .xalign = 1, .halo = &painting->palette->ground };
  const double dashes[] = { 2, 3 };

  if (series->is_due_at_once || !(series->due <= field->high_x))
    return;
  const double x = floor (x_of (painting, series->due)) + 0.5;
  trammel_color_set (painting->cr, painting->palette->ink, 0.8);
  cairo_set_line_width (painting->cr, 1.5);
  cairo_set_dash (painting->cr, dashes, 2, 0);
  cairo_move_to (painting->cr, x, field->top);
  cairo_line_to (painting->cr, x, field->bottom);
  cairo_stroke (painting->cr);
  cairo_set_dash (painting->cr, NULL, 0, 0);
  trammel_label_paint (painting->cr, &label, _ ("next check due"), x - 4, field->top + 2);
}

static void
paint_field (const Painting *painting)
{
  const TrammelPlotField *field = &painting->field;

  cairo_save (painting->cr);
  cairo_rectangle (painting->cr, field->left, field->top, fmax (field->right - field->left, 0),
                   fmax (field->bottom - field->top, 0));
  cairo_clip (painting->cr);
  paint_trend (painting);
  paint_limits (painting);
  paint_joints (painting);
  for (guint i = 0; i < painting->series->checks->len; i++)
    paint_check (painting, check_at (painting->series, i));
  paint_due (painting);
  cairo_restore (painting->cr);
}

static char *
title_of (const TrammelDriftChart *chart)
{
  g_autofree char *unit = trammel_sentences_drift_unit (chart->machine, chart->drift->letter, chart->quantity);

  /* translators: what is followed over time, of which axis, in what unit: "Lash of X, mm" */
  return g_strdup_printf (_ ("%s of %c, %s"), trammel_sentences_drift_quantity (chart->quantity), chart->drift->letter,
                          unit);
}

void
trammel_drift_chart_paint (const TrammelDriftChart *chart, cairo_t *cr, double width, double height,
                           const TrammelPalette *palette)
{
  g_return_if_fail (chart != NULL && cr != NULL && palette != NULL && series_of (chart)->checks->len > 0);

  const Painting painting = {
    .chart = chart,
    .series = series_of (chart),
    .cr = cr,
    .palette = palette,
    .field = trammel_drift_chart_field (chart, cr, width, height),
    .color = trammel_palette_axis (palette, chart->drift->letter),
    .factor = trammel_sentences_drift_factor (chart->machine, chart->drift->letter, chart->quantity),
  };
  const TrammelLabel bold = { .font = chart->font, .bold = TRUE };
  const double line = trammel_label_line (cr, &bold);
  g_autofree char *title = title_of (chart);
  TrammelPlotKeyItem items[5];
  const gsize n = key_items (painting.series, items);

  trammel_color_set (cr, palette->ink, 1);
  trammel_label_paint (cr, &bold, title, MARGIN, 0);
  trammel_plot_field_paint_levels (&painting.field, cr, palette, chart->font);
  paint_times (&painting);
  paint_field (&painting);
  trammel_plot_key_paint (cr, items, n, MARGIN, painting.field.bottom + 1.7 * line, width - 2 * MARGIN, palette,
                          chart->font, &painting);
}

char *
trammel_drift_chart_to_words (const TrammelDriftChart *chart)
{
  g_return_val_if_fail (chart != NULL && series_of (chart)->checks->len > 0, NULL);

  const TrammelDriftSeries *series = series_of (chart);
  const guint n = series->checks->len;
  g_autofree char *title = title_of (chart);
  g_autofree char *first = trammel_drift_day_to_text (check_at (series, 0)->day);
  g_autofree char *last = trammel_drift_day_to_text (check_at (series, n - 1)->day);
  guint outside = 0;

  for (guint i = 0; i < n; i++)
    outside += check_at (series, i)->is_outside;
  g_autofree char *times = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "%s: %u check from %.*s to %.*s.", "%s: %u checks from %.*s to %.*s.", n), title, n,
      DATE_LENGTH, first, DATE_LENGTH, last);
  if (outside == 0)
    return g_steal_pointer (&times);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s %u of them is outside the control limits.",
                                       "%s %u of them are outside the control limits.", outside),
                          times, outside);
}
