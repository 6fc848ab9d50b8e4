/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/plot-field.h"

#include <math.h>

#include "draw/display.h"
#include "draw/label.h"
#include "draw/ticks.h"

#define PIXELS_PER_LEVEL 34
#define PIXELS_PER_MARK 62
#define OVERHANG 6 /* of a foot mark's text beyond the field */
#define TICK 4

double
trammel_plot_field_x (const TrammelPlotField *field, double value)
{
  return field->left + (value - field->low_x) / (field->high_x - field->low_x) * (field->right - field->left);
}

double
trammel_plot_field_y (const TrammelPlotField *field, double value)
{
  return field->bottom - (value - field->low_y) / (field->high_y - field->low_y) * (field->bottom - field->top);
}

void
trammel_plot_field_line (const TrammelPlotField *field, cairo_t *cr, double value)
{
  g_return_if_fail (field != NULL && cr != NULL);

  const double y = floor (trammel_plot_field_y (field, value)) + 0.5;
  cairo_move_to (cr, field->left, y);
  cairo_line_to (cr, field->right, y);
  cairo_stroke (cr);
}

static TrammelTicks
levels_of (const TrammelPlotField *field)
{
  return trammel_ticks_make (field->low_y, field->high_y,
                             (int)fmax (2, (field->bottom - field->top) / PIXELS_PER_LEVEL));
}

double
trammel_plot_field_numbers_width (const TrammelPlotField *field, cairo_t *cr, const char *font)
{
  g_return_val_if_fail (field != NULL && cr != NULL, 0);

  const TrammelTicks ticks = levels_of (field);
  const TrammelLabel label = { .font = font };
  double widest = 0;

  for (int i = 0; i < ticks.n; i++)
    {
      g_autofree char *text = trammel_display_number (trammel_ticks_at (ticks, i), ticks.decimals);
      double width;
      trammel_label_size (cr, &label, text, &width, NULL);
      widest = fmax (widest, width);
    }
  return widest;
}

void
trammel_plot_field_paint_levels (const TrammelPlotField *field, cairo_t *cr, const TrammelPalette *palette,
                                 const char *font)
{
  g_return_if_fail (field != NULL && cr != NULL && palette != NULL);

  const TrammelTicks ticks = levels_of (field);
  const TrammelLabel label = { .font = font, .xalign = 1, .yalign = 0.5 };

  cairo_set_line_width (cr, 1);
  for (int i = 0; i < ticks.n; i++)
    {
      const double value = trammel_ticks_at (ticks, i);
      g_autofree char *text = trammel_display_number (value, ticks.decimals);
      trammel_color_set (cr, palette->faint, value == 0 ? 1 : 0.35);
      trammel_plot_field_line (field, cr, value);
      trammel_color_set (cr, palette->ink, 0.85);
      trammel_label_paint (cr, &label, text, field->left - 6, trammel_plot_field_y (field, value));
    }
}

void
trammel_plot_field_paint_foot_mark (const TrammelPlotField *field, cairo_t *cr, const TrammelPalette *palette,
                                    const char *font, double value, const char *text)
{
  g_return_if_fail (field != NULL && cr != NULL && palette != NULL && text != NULL);

  const double x = trammel_plot_field_x (field, value);
  const TrammelLabel label = { .font = font, .xalign = 0.5 };
  double width;

  trammel_label_size (cr, &label, text, &width, NULL);
  trammel_color_set (cr, palette->faint, 0.8);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, floor (x) + 0.5, field->bottom);
  cairo_line_to (cr, floor (x) + 0.5, field->bottom + TICK);
  cairo_stroke (cr);
  trammel_color_set (cr, palette->ink, 0.85);
  trammel_label_paint (cr, &label, text, MIN (x, field->right + OVERHANG - width / 2), field->bottom + TICK + 1);
}

void
trammel_plot_field_paint_foot (const TrammelPlotField *field, cairo_t *cr, const TrammelPalette *palette,
                               const char *font, const char *caption)
{
  g_return_if_fail (field != NULL && cr != NULL && palette != NULL);

  const TrammelTicks ticks
      = trammel_ticks_make (field->low_x, field->high_x, (int)fmax (2, (field->right - field->left) / PIXELS_PER_MARK));
  const TrammelLabel label = { .font = font, .xalign = 1 };

  for (int i = 0; i < ticks.n; i++)
    {
      g_autofree char *text = trammel_display_number (trammel_ticks_at (ticks, i), ticks.decimals);
      trammel_plot_field_paint_foot_mark (field, cr, palette, font, trammel_ticks_at (ticks, i), text);
    }
  trammel_color_set (cr, palette->ink, 0.85);
  trammel_label_paint (cr, &label, caption, field->right, field->bottom + TICK + 1 + trammel_label_line (cr, &label));
}
