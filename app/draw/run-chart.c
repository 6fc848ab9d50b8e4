/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/run-chart.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/homing-sentences.h"
#include "draw/label.h"
#include "draw/plot-key.h"
#include "draw/ticks.h"

#define MARGIN 8
#define MARK 4
#define OUTLIER_MARK 6.5
#define MANY 400 /* from here on marks are small */
#define MANY_MARK 1.6
#define N_SHAPES 4
#define MOST_ITEMS (N_SHAPES + 5)
/* Intervals may reach beyond the homes by so many times the width of these, or they would press them together. */
#define MOST_BEYOND 2
#define PIXELS_PER_RUN 46

typedef struct
{
  const TrammelRunChart *chart;
  cairo_t *cr;
  const TrammelPalette *palette;
  TrammelPlotField field;
  TrammelColor color;
} Painting;

static double
factor_of (const TrammelRunChart *chart)
{
  return chart->unit ? trammel_unit_factor (chart->unit) : 1;
}

static double
run_of (const TrammelHomingSet *set, gsize i)
{
  return set->runs ? set->runs[i] : (double)i + 1;
}

static gboolean
is_analysed (const TrammelRunChart *chart)
{
  return chart->set->trouble == NULL;
}

static gboolean
drifts (const TrammelRunChart *chart)
{
  return is_analysed (chart) && chart->set->homing.drift.p_value < TRAMMEL_HOMING_SIGNIFICANCE;
}

static gboolean
is_outlier (const TrammelHomingSet *set, gsize i)
{
  for (guint k = 0; set->outliers && k < set->outliers->len; k++)
    if (g_array_index (set->outliers, TrammelHomingOutlier, k).index == i)
      return TRUE;
  return FALSE;
}

static gboolean
has_outliers (const TrammelHomingSet *set)
{
  return set->outliers && set->outliers->len > 0;
}

static gboolean
is_all (const TrammelRunChart *chart)
{
  return chart->set == &chart->report->all && chart->report->n_groups > 0;
}

static guint8
shape_of_group (gsize group)
{
  return (guint8)(group % N_SHAPES);
}

/* (transfer full): of each home, by its group. Homes of a group are in the order of all of them. */
static guint8 *
shapes_of (const TrammelRunChart *chart)
{
  const TrammelHomingReport *report = chart->report;
  guint8 *shapes = g_new0 (guint8, chart->set->n);

  for (gsize g = 0; g < report->n_groups; g++)
    {
      const TrammelHomingSet *group = &report->groups[g];
      for (gsize i = 0, k = 0; i < chart->set->n && k < group->n; i++)
        if (chart->set->indices[i] == group->indices[k])
          {
            shapes[i] = shape_of_group (g);
            k++;
          }
    }
  return shapes;
}

/* Marks */

static void
add_shape (cairo_t *cr, gsize shape, double x, double y, double size)
{
  if (shape / 2 % 2 == 0)
    cairo_arc (cr, x, y, size, 0, 2 * G_PI);
  else
    cairo_rectangle (cr, x - size * 0.9, y - size * 0.9, 1.8 * size, 1.8 * size);
}

/* Full, hollow, and the same as squares. */
static void
paint_mark (const Painting *painting, gsize shape, double x, double y, double size)
{
  cairo_t *cr = painting->cr;

  cairo_new_path (cr);
  add_shape (cr, shape, x, y, size);
  trammel_color_set (cr, shape % 2 == 0 ? painting->color : painting->palette->ground, 1);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, painting->color, 1);
  cairo_set_line_width (cr, 1.6);
  cairo_stroke (cr);
}

static void
paint_outlier (const Painting *painting, double x, double y)
{
  cairo_t *cr = painting->cr;

  cairo_move_to (cr, x, y - OUTLIER_MARK);
  cairo_line_to (cr, x + OUTLIER_MARK, y);
  cairo_line_to (cr, x, y + OUTLIER_MARK);
  cairo_line_to (cr, x - OUTLIER_MARK, y);
  cairo_close_path (cr);
  trammel_color_set (cr, painting->palette->ground, 1);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, painting->palette->trouble, 1);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
}

static void
use_line (const Painting *painting, const char *style)
{
  const double dashes[] = { 6, 4 }, dots[] = { 2, 3 };

  trammel_color_set (painting->cr, painting->palette->ink, 0.75);
  cairo_set_line_width (painting->cr, *style == '.' ? 1.8 : 1.2);
  cairo_set_dash (painting->cr, *style == '.' ? dots : dashes, *style == '_' ? 0 : 2, 0);
}

/* The key */

static void
key_group (cairo_t *cr, double x, double y, const Painting *painting, gsize shape)
{
  paint_mark (painting, shape, x, y, MARK);
}

static void
key_group_0 (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_group (cr, x, y, data, 0);
}

static void
key_group_1 (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_group (cr, x, y, data, 1);
}

static void
key_group_2 (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_group (cr, x, y, data, 2);
}

static void
key_group_3 (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_group (cr, x, y, data, 3);
}

static void
key_outlier (cairo_t *cr, double x, double y, gconstpointer data)
{
  paint_outlier (data, x, y);
}

static void
key_line (cairo_t *cr, double x, double y, gconstpointer data, const char *style)
{
  use_line (data, style);
  cairo_move_to (cr, x - TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y);
  cairo_line_to (cr, x + TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
}

static void
key_mean (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_line (cr, x, y, data, "_");
}

static void
key_next (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_line (cr, x, y, data, "-");
}

static void
key_drift (cairo_t *cr, double x, double y, gconstpointer data)
{
  key_line (cr, x, y, data, ".");
}

static void
key_all (cairo_t *cr, double x, double y, gconstpointer data)
{
  const Painting *painting = data;

  trammel_color_set (cr, painting->color, 0.16);
  cairo_rectangle (cr, x - TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y - 6, TRAMMEL_PLOT_KEY_SYMBOL, 12);
  cairo_fill (cr);
}

static gsize
key_items (const TrammelRunChart *chart, TrammelPlotKeyItem items[MOST_ITEMS])
{
  static void (*const groups[N_SHAPES]) (cairo_t *, double, double, gconstpointer)
      = { key_group_0, key_group_1, key_group_2, key_group_3 };
  const TrammelHomingReport *report = chart->report;
  gsize n = 0;

  if (is_all (chart))
    for (gsize g = 0; g < MIN (report->n_groups, N_SHAPES); g++)
      items[n++] = (TrammelPlotKeyItem){ trammel_sentences_homing_group (&report->groups[g]), groups[g] };
  else
    {
      const gsize group = report->n_groups > 0 ? (gsize)(chart->set - report->groups) : 0;
      items[n++] = (TrammelPlotKeyItem){ _ ("home"), groups[shape_of_group (group)] };
    }
  if (has_outliers (chart->set))
    items[n++] = (TrammelPlotKeyItem){ _ ("outlier"), key_outlier };
  if (!is_analysed (chart))
    return n;
  items[n++] = (TrammelPlotKeyItem){ _ ("mean"), key_mean };
  items[n++] = (TrammelPlotKeyItem){ _ ("the next home, 95 %"), key_next };
  /* xgettext:no-c-format */
  items[n++] = (TrammelPlotKeyItem){ _ ("99 % of all homes"), key_all };
  if (drifts (chart))
    items[n++] = (TrammelPlotKeyItem){ _ ("drift"), key_drift };
  return n;
}

/* Ranges */

static void
find_places (const TrammelRunChart *chart, TrammelPlotField *field)
{
  const TrammelHomingSet *set = chart->set;
  const double factor = factor_of (chart);
  double low = set->values[0], high = low;

  for (gsize i = 0; i < set->n; i++)
    {
      low = fmin (low, set->values[i]);
      high = fmax (high, set->values[i]);
    }
  if (is_analysed (chart))
    {
      const double most = MOST_BEYOND * (high - low);
      const double lowest = low - most, highest = high + most;
      low = fmin (low, fmax (set->homing.tolerance_low, lowest));
      high = fmax (high, fmin (set->homing.tolerance_high, highest));
    }
  const double margin = high > low ? 0.06 * (high - low) : fmax (fabs (high) * 1e-3, 1e-3);
  field->low_y = (low - margin) / factor;
  field->high_y = (high + margin) / factor;
}

static void
find_runs (const TrammelHomingSet *set, TrammelPlotField *field)
{
  field->low_x = field->high_x = run_of (set, 0);
  for (gsize i = 1; i < set->n; i++)
    {
      field->low_x = fmin (field->low_x, run_of (set, i));
      field->high_x = fmax (field->high_x, run_of (set, i));
    }
  const double margin = fmax (0.5, 0.02 * (field->high_x - field->low_x));
  field->low_x -= margin;
  field->high_x += margin;
}

TrammelPlotField
trammel_run_chart_field (const TrammelRunChart *chart, cairo_t *cr, double width, double height)
{
  TrammelPlotField field = { 0, 0, 1, 1, 0, 1, 0, 1 };

  g_return_val_if_fail (chart != NULL && chart->report != NULL && chart->set != NULL && chart->set->n > 0, field);
  g_return_val_if_fail (cr != NULL, field);

  TrammelPlotKeyItem items[MOST_ITEMS];
  const TrammelLabel label = { .font = chart->font };
  const double line = trammel_label_line (cr, &label);
  const gsize n = key_items (chart, items);
  field.top = 1.5 * line;
  field.bottom = height - 1.7 * line - trammel_plot_key_height (cr, items, n, width - 2 * MARGIN, chart->font);
  field.right = width - MARGIN;
  find_places (chart, &field);
  find_runs (chart->set, &field);
  field.left = trammel_plot_field_numbers_width (&field, cr, chart->font) + 6 + MARGIN;
  return field;
}

/* Painting */

static void
paint_runs (const Painting *painting)
{
  const TrammelPlotField *field = &painting->field;
  const TrammelTicks ticks
      = trammel_ticks_make (field->low_x, field->high_x, (int)fmax (2, (field->right - field->left) / PIXELS_PER_RUN));
  /* There is no half home */
  const double step = fmax (ticks.step, 1), first = ceil (field->low_x / step) * step;

  for (double run = first; run <= field->high_x; run += step)
    {
      g_autofree char *text = trammel_display_number (run, 0);
      trammel_plot_field_paint_foot_mark (field, painting->cr, painting->palette, painting->chart->font, run, text);
    }
}

static double
y_of (const Painting *painting, double place)
{
  return trammel_plot_field_y (&painting->field, place / factor_of (painting->chart));
}

static void
paint_level (const Painting *painting, double place, const char *style)
{
  use_line (painting, style);
  trammel_plot_field_line (&painting->field, painting->cr, place / factor_of (painting->chart));
  cairo_set_dash (painting->cr, NULL, 0, 0);
}

static void
paint_intervals (const Painting *painting)
{
  const TrammelHoming *homing = &painting->chart->set->homing;
  const TrammelPlotField *field = &painting->field;
  const double top = y_of (painting, homing->tolerance_high), bottom = y_of (painting, homing->tolerance_low);

  trammel_color_set (painting->cr, painting->color, 0.16);
  cairo_rectangle (painting->cr, field->left, top, field->right - field->left, bottom - top);
  cairo_fill (painting->cr);
  paint_level (painting, homing->mean, "_");
  paint_level (painting, homing->prediction_low, "-");
  paint_level (painting, homing->prediction_high, "-");
}

/* Through the mean of runs and places. */
static void
paint_drift (const Painting *painting)
{
  const TrammelHomingSet *set = painting->chart->set;
  const TrammelPlotField *field = &painting->field;
  double middle = 0;

  for (gsize i = 0; i < set->n; i++)
    middle += run_of (set, i) / (double)set->n;
  use_line (painting, ".");
  for (int i = 0; i <= 1; i++)
    {
      const double run = i == 0 ? field->low_x : field->high_x;
      cairo_line_to (painting->cr, trammel_plot_field_x (field, run),
                     y_of (painting, set->homing.mean + set->homing.drift.slope * (run - middle)));
    }
  cairo_stroke (painting->cr);
  cairo_set_dash (painting->cr, NULL, 0, 0);
}

static void
paint_homes (const Painting *painting)
{
  const TrammelHomingSet *set = painting->chart->set;
  const double size = set->n < MANY ? MARK : MANY_MARK;
  g_autofree guint8 *shapes = shapes_of (painting->chart);

  for (gsize i = 0; i < set->n; i++)
    {
      const double x = trammel_plot_field_x (&painting->field, run_of (set, i)), y = y_of (painting, set->values[i]);
      if (is_outlier (set, i))
        paint_outlier (painting, x, y);
      else
        paint_mark (painting, shapes[i], x, y, size);
    }
}

static void
paint_field (const Painting *painting)
{
  const TrammelPlotField *field = &painting->field;

  cairo_save (painting->cr);
  cairo_rectangle (painting->cr, field->left, field->top, fmax (field->right - field->left, 0),
                   fmax (field->bottom - field->top, 0));
  cairo_clip (painting->cr);
  if (is_analysed (painting->chart))
    paint_intervals (painting);
  if (drifts (painting->chart))
    paint_drift (painting);
  paint_homes (painting);
  cairo_restore (painting->cr);
}

void
trammel_run_chart_paint (const TrammelRunChart *chart, cairo_t *cr, double width, double height,
                         const TrammelPalette *palette)
{
  g_return_if_fail (chart != NULL && chart->report != NULL && chart->set != NULL && chart->set->n > 0);
  g_return_if_fail (cr != NULL && palette != NULL);

  const Painting painting = { .chart = chart,
                              .cr = cr,
                              .palette = palette,
                              .field = trammel_run_chart_field (chart, cr, width, height),
                              .color = trammel_palette_axis (palette, chart->axis) };
  const TrammelLabel bold = { .font = chart->font, .bold = TRUE };
  const double line = trammel_label_line (cr, &bold);
  /* translators: the unit of the numbers below */
  g_autofree char *title
      = g_strdup_printf (_ ("Where the switch fired, %s"), chart->unit ? trammel_unit_symbol (chart->unit) : "°");
  TrammelPlotKeyItem items[MOST_ITEMS];
  const gsize n = key_items (chart, items);

  trammel_color_set (cr, palette->ink, 1);
  trammel_label_paint (cr, &bold, title, MARGIN, 0);
  trammel_plot_field_paint_levels (&painting.field, cr, palette, chart->font);
  paint_runs (&painting);
  paint_field (&painting);
  trammel_plot_key_paint (cr, items, n, MARGIN, painting.field.bottom + 1.7 * line, width - 2 * MARGIN, palette,
                          chart->font, &painting);
}

char *
trammel_run_chart_to_words (const TrammelRunChart *chart)
{
  g_return_val_if_fail (chart != NULL && chart->set != NULL, NULL);

  g_autoptr (GPtrArray) sentences = trammel_sentences_homing_set (chart->set, chart->unit);
  g_ptr_array_add (sentences, NULL);
  g_autofree char *told = g_strjoinv (" ", (char **)sentences->pdata);
  return g_strdup_printf (_ ("%s, in the order in which they came. %s"), trammel_sentences_homing_group (chart->set),
                          told);
}
