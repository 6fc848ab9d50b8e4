/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/trial-histogram.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/label.h"
#include "draw/trial-sentences.h"

#define PERCENT 100.0
#define MARGIN 8
#define HEADROOM 1.06
#define CURVE_POINTS 240
#define CAP 5
#define BAR_ALPHA 0.45

static double
total_of (const TrammelMonteCarloAxis *axis)
{
  double total = 0;

  for (int i = 0; i < TRAMMEL_MONTE_CARLO_BINS; i++)
    total += axis->counts[i];
  return total;
}

/* Trials per percent. */
static double
density_of_bin (const TrammelMonteCarloAxis *axis, int i, double total)
{
  return axis->counts[i] / total / (axis->bin_width * PERCENT);
}

static double
density_of_fit (const TrammelMonteCarloAxis *axis, double percent)
{
  return trammel_monte_carlo_linear_density (axis, percent / PERCENT) / PERCENT;
}

static gboolean
is_scattered (const TrammelMonteCarloAxis *axis)
{
  return axis->bin_width > 0 && isfinite (axis->bin_width) && total_of (axis) > 0;
}

/* The names of the two intervals stand at the left of them. */
static char *
name_of_fit (const TrammelMonteCarloAxis *axis)
{
  if (isinf (axis->freedom))
    return g_strdup (_ ("the fit, normal"));
  /* translators: Student's t distribution with so many degrees of freedom */
  return g_strdup_printf (_ ("the fit, t with %d"), (int)lround (axis->freedom));
}

static double
width_of_names (const TrammelTrialHistogram *histogram, cairo_t *cr)
{
  const TrammelLabel label = { .font = histogram->font };
  g_autofree char *fit = name_of_fit (histogram->axis);
  double of_fit, of_trials;

  trammel_label_size (cr, &label, fit, &of_fit, NULL);
  trammel_label_size (cr, &label, _ ("trials"), &of_trials, NULL);
  return fmax (of_fit, of_trials);
}

TrammelPlotField
trammel_trial_histogram_field (const TrammelTrialHistogram *histogram, cairo_t *cr, double width, double height)
{
  TrammelPlotField field = { 0, 0, 1, 1, 0, 1, 0, 1 };

  g_return_val_if_fail (histogram != NULL && histogram->axis != NULL && cr != NULL, field);

  const TrammelMonteCarloAxis *axis = histogram->axis;
  const TrammelLabel label = { .font = histogram->font };
  const double line = trammel_label_line (cr, &label), total = total_of (axis);
  field.left = MARGIN + width_of_names (histogram, cr) + MARGIN;
  field.right = width - MARGIN;
  field.top = 4.4 * line;
  field.bottom = height - 2.7 * line;
  if (!is_scattered (axis))
    return field;
  field.low_x = PERCENT * fmin (axis->bin_low, axis->linear_low);
  field.high_x = PERCENT * fmax (axis->bin_low + TRAMMEL_MONTE_CARLO_BINS * axis->bin_width, axis->linear_high);
  field.high_y = density_of_fit (axis, PERCENT * axis->linear_value);
  for (int i = 0; i < TRAMMEL_MONTE_CARLO_BINS; i++)
    field.high_y = fmax (field.high_y, density_of_bin (axis, i, total));
  field.high_y *= HEADROOM;
  return field;
}

static void
paint_bars (const TrammelMonteCarloAxis *axis, cairo_t *cr, const TrammelPlotField *field, TrammelColor color)
{
  const double total = total_of (axis);

  trammel_color_set (cr, color, BAR_ALPHA);
  for (int i = 0; i < TRAMMEL_MONTE_CARLO_BINS; i++)
    {
      const double left = trammel_plot_field_x (field, PERCENT * (axis->bin_low + i * axis->bin_width));
      const double right = trammel_plot_field_x (field, PERCENT * (axis->bin_low + (i + 1) * axis->bin_width));
      const double top = trammel_plot_field_y (field, density_of_bin (axis, i, total));
      cairo_rectangle (cr, left, top, fmax (right - left - 1, 0.5), field->bottom - top);
    }
  cairo_fill (cr);
}

static void
dash (cairo_t *cr, gboolean dashed)
{
  const double dashes[] = { 5, 3 };
  cairo_set_dash (cr, dashes, dashed ? 2 : 0, 0);
}

static void
paint_curve (const TrammelMonteCarloAxis *axis, cairo_t *cr, const TrammelPlotField *field,
             const TrammelPalette *palette)
{
  trammel_color_set (cr, palette->ink, 0.9);
  cairo_set_line_width (cr, 1.6);
  dash (cr, TRUE);
  cairo_new_path (cr);
  for (int i = 0; i <= CURVE_POINTS; i++)
    {
      const double percent = field->low_x + (field->high_x - field->low_x) * i / CURVE_POINTS;
      cairo_line_to (cr, trammel_plot_field_x (field, percent),
                     trammel_plot_field_y (field, density_of_fit (axis, percent)));
    }
  cairo_stroke (cr);
  dash (cr, FALSE);
}

static void
paint_end (cairo_t *cr, const TrammelPlotField *field, double x, double y, TrammelColor color, gboolean dashed)
{
  trammel_color_set (cr, color, 1);
  dash (cr, FALSE);
  cairo_move_to (cr, x, y - CAP);
  cairo_line_to (cr, x, y + CAP);
  cairo_stroke (cr);
  trammel_color_set (cr, color, 0.6);
  dash (cr, dashed);
  cairo_move_to (cr, x, y + CAP);
  cairo_line_to (cr, x, field->bottom);
  cairo_stroke (cr);
}

static void
paint_interval (const TrammelTrialHistogram *histogram, cairo_t *cr, const TrammelPlotField *field, double y,
                const char *name, double low, double high, TrammelColor color, const TrammelPalette *palette,
                gboolean dashed)
{
  const TrammelLabel label = { .font = histogram->font, .xalign = 1, .yalign = 0.5 };
  const double left = floor (trammel_plot_field_x (field, PERCENT * low)) + 0.5;
  const double right = floor (trammel_plot_field_x (field, PERCENT * high)) + 0.5;

  cairo_set_line_width (cr, 1);
  paint_end (cr, field, left, y, color, dashed);
  paint_end (cr, field, right, y, color, dashed);
  trammel_color_set (cr, color, 1);
  cairo_set_line_width (cr, 2);
  dash (cr, dashed);
  cairo_move_to (cr, left, y);
  cairo_line_to (cr, right, y);
  cairo_stroke (cr);
  dash (cr, FALSE);
  trammel_color_set (cr, palette->ink, 0.85);
  trammel_label_paint (cr, &label, name, field->left - MARGIN, y);
}

static void
paint_nothing (const TrammelTrialHistogram *histogram, cairo_t *cr, double width, double height,
               const TrammelPalette *palette)
{
  const TrammelLabel label = { .font = histogram->font, .xalign = 0.5, .yalign = 0.5 };

  trammel_color_set (cr, palette->ink, 0.75);
  trammel_label_paint (cr, &label, _ ("All trials came out the same."), width / 2, height / 2);
}

void
trammel_trial_histogram_paint (const TrammelTrialHistogram *histogram, cairo_t *cr, double width, double height,
                               const TrammelPalette *palette)
{
  g_return_if_fail (histogram != NULL && histogram->axis != NULL && cr != NULL && palette != NULL);

  const TrammelMonteCarloAxis *axis = histogram->axis;
  const TrammelPlotField field = trammel_trial_histogram_field (histogram, cr, width, height);
  const TrammelColor color = trammel_palette_axis (palette, axis->letter);
  const TrammelLabel title = { .font = histogram->font, .bold = TRUE };
  const double line = trammel_label_line (cr, &title);
  g_autofree char *fit = name_of_fit (axis);
  g_autofree char *caption = g_strdup_printf (_ ("scale error of %c, %%"), axis->letter);

  if (!is_scattered (axis))
    {
      paint_nothing (histogram, cr, width, height, palette);
      return;
    }
  trammel_color_set (cr, palette->ink, 1);
  /* xgettext:no-c-format */
  trammel_label_paint (cr, &title, _ ("95 % intervals, and how often each value came out"), MARGIN, 0);
  paint_bars (axis, cr, &field, color);
  paint_curve (axis, cr, &field, palette);
  paint_interval (histogram, cr, &field, 2.2 * line, _ ("trials"), axis->low, axis->high, color, palette, FALSE);
  paint_interval (histogram, cr, &field, 3.5 * line, fit, axis->linear_low, axis->linear_high, palette->ink, palette,
                  TRUE);
  trammel_color_set (cr, palette->ink, 0.55);
  cairo_set_line_width (cr, 1);
  trammel_plot_field_line (&field, cr, 0);
  trammel_plot_field_paint_foot (&field, cr, palette, histogram->font, caption);
}

char *
trammel_trial_histogram_to_words (const TrammelTrialHistogram *histogram)
{
  g_return_val_if_fail (histogram != NULL && histogram->axis != NULL, NULL);

  g_autofree char *sentence = trammel_sentences_trials (histogram->axis);
  g_autofree char *fit = name_of_fit (histogram->axis);
  /* translators: what the picture shows, then the curve drawn over it, then what it says */
  return g_strdup_printf (_ ("Histogram of the scale error of %c, with the curve of %s. %s"), histogram->axis->letter,
                          fit, sentence);
}
