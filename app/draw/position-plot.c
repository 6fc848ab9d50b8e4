/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/position-plot.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/label.h"
#include "draw/plot-field.h"

#define SIDE_BY_SIDE_FROM 620
#define GAP 14
#define MARK 4.5
#define BAND_ALPHA 0.16

/* One of the two panels: where it is, and what it shows. */
typedef struct
{
  const TrammelPositionPlot *plot;
  const TrammelPalette *palette;
  cairo_t *cr;
  const TrammelPositionTarget *targets;
  gsize n;
  const char *title;
  double x, y, width, height; /* of the whole panel */
  TrammelPlotField field;     /* deviation over target, in display units */
} Panel;

static double
factor (const TrammelPositionPlot *plot)
{
  return plot->unit ? trammel_unit_factor (plot->unit) : 1;
}

static double
half_band (const TrammelPositionSide *side)
{
  return isnan (side->s) ? 0 : 2 * side->s;
}

static void
stretch_by_side (const TrammelPositionSide *side, double *low, double *high)
{
  if (side->n == 0)
    return;
  *low = fmin (*low, side->mean - half_band (side));
  *high = fmax (*high, side->mean + half_band (side));
}

/* Both panels have the same range of deviations, so that what correction gains is seen. */
static void
find_ranges (Panel *panel, const TrammelPositionTarget *before, const TrammelPositionTarget *after)
{
  const double unit = factor (panel->plot);
  double low = 0, high = 0;

  for (gsize i = 0; i < panel->n; i++)
    {
      stretch_by_side (&after[i].up, &low, &high);
      stretch_by_side (&after[i].down, &low, &high);
      stretch_by_side (&before[i].up, &low, &high);
      stretch_by_side (&before[i].down, &low, &high);
    }
  const double margin = high > low ? 0.06 * (high - low) : 0.01;
  panel->field.low_y = (low - margin) / unit;
  panel->field.high_y = (high + margin) / unit;
  panel->field.low_x = panel->targets[0].target / unit;
  panel->field.high_x = panel->targets[panel->n - 1].target / unit;
  if (!(panel->field.high_x > panel->field.low_x))
    {
      panel->field.low_x -= 1;
      panel->field.high_x += 1;
    }
}

static double
x_of (const Panel *panel, double target)
{
  return trammel_plot_field_x (&panel->field, target / factor (panel->plot));
}

static double
y_of (const Panel *panel, double deviation)
{
  return trammel_plot_field_y (&panel->field, deviation / factor (panel->plot));
}

static const TrammelPositionSide *
side_of (const TrammelPositionTarget *target, gboolean up)
{
  return up ? &target->up : &target->down;
}

/* The band of ± 2 s from one side: there along its top, back along its bottom. */
static void
paint_band (const Panel *panel, gboolean up, TrammelColor color)
{
  gboolean any = FALSE;

  for (gsize i = 0; i < panel->n; i++)
    {
      const TrammelPositionSide *side = side_of (&panel->targets[i], up);
      if (side->n == 0)
        continue;
      cairo_line_to (panel->cr, x_of (panel, panel->targets[i].target), y_of (panel, side->mean + half_band (side)));
      any = TRUE;
    }
  for (gsize i = panel->n; i-- > 0;)
    {
      const TrammelPositionSide *side = side_of (&panel->targets[i], up);
      if (side->n > 0)
        cairo_line_to (panel->cr, x_of (panel, panel->targets[i].target), y_of (panel, side->mean - half_band (side)));
    }
  if (!any)
    return;
  cairo_close_path (panel->cr);
  trammel_color_set (panel->cr, color, BAND_ALPHA);
  cairo_fill (panel->cr);
}

static void
add_triangle (cairo_t *cr, double x, double y, gboolean up)
{
  const double tip = up ? -MARK : MARK;

  cairo_move_to (cr, x, y + tip);
  cairo_line_to (cr, x - MARK * 0.9, y - tip * 0.8);
  cairo_line_to (cr, x + MARK * 0.9, y - tip * 0.8);
  cairo_close_path (cr);
}

static void
paint_means (const Panel *panel, gboolean up, TrammelColor color)
{
  const double dashes[] = { 6, 4 };

  trammel_color_set (panel->cr, color, 1);
  cairo_set_line_width (panel->cr, 1.5);
  cairo_set_dash (panel->cr, dashes, up ? 0 : 2, 0);
  for (gsize i = 0; i < panel->n; i++)
    {
      const TrammelPositionSide *side = side_of (&panel->targets[i], up);
      if (side->n > 0)
        cairo_line_to (panel->cr, x_of (panel, panel->targets[i].target), y_of (panel, side->mean));
    }
  cairo_stroke (panel->cr);
  cairo_set_dash (panel->cr, NULL, 0, 0);

  /* Marks only where they would not run into each other */
  if ((panel->field.right - panel->field.left) / (double)panel->n < 2 * MARK)
    return;
  for (gsize i = 0; i < panel->n; i++)
    {
      const TrammelPositionSide *side = side_of (&panel->targets[i], up);
      if (side->n > 0)
        add_triangle (panel->cr, x_of (panel, panel->targets[i].target), y_of (panel, side->mean), up);
    }
  if (up)
    {
      cairo_fill (panel->cr);
      return;
    }
  trammel_color_set (panel->cr, panel->palette->ground, 1);
  cairo_fill_preserve (panel->cr);
  trammel_color_set (panel->cr, color, 1);
  cairo_stroke (panel->cr);
}

static void
paint_side (const Panel *panel, gboolean up)
{
  const TrammelColor color = trammel_palette_axis (panel->palette, panel->plot->axis);

  cairo_new_path (panel->cr);
  paint_band (panel, up, color);
  paint_means (panel, up, color);
}

static void
paint_panel (Panel *panel)
{
  const TrammelLabel label = { .font = panel->plot->font };
  const TrammelLabel title = { .font = panel->plot->font, .bold = TRUE };
  const double line = trammel_label_line (panel->cr, &label);
  const char *unit = panel->plot->unit ? trammel_unit_symbol (panel->plot->unit) : "°";
  g_autofree char *target = g_strdup_printf (_ ("target, %s"), unit);
  g_autofree char *deviation = g_strdup_printf (_ ("%s: deviation, %s"), panel->title, unit);

  panel->field.left = panel->x + 4.6 * line;
  panel->field.right = panel->x + panel->width - 8;
  panel->field.top = panel->y + 1.5 * line;
  panel->field.bottom = panel->y + panel->height - 2.7 * line;
  trammel_color_set (panel->cr, panel->palette->ink, 1);
  trammel_label_paint (panel->cr, &title, deviation, panel->x + 2, panel->y);
  trammel_plot_field_paint_levels (&panel->field, panel->cr, panel->palette, panel->plot->font);
  trammel_plot_field_paint_foot (&panel->field, panel->cr, panel->palette, panel->plot->font, target);
  paint_side (panel, FALSE);
  paint_side (panel, TRUE);
}

static double
paint_key_of (const TrammelPositionPlot *plot, cairo_t *cr, const TrammelPalette *palette, double x, double y,
              gboolean up)
{
  const TrammelLabel label = { .font = plot->font, .yalign = 0.5 };
  const TrammelColor color = trammel_palette_axis (palette, plot->axis);
  const double dashes[] = { 6, 4 };
  const char *text = up ? _ ("moving up") : _ ("moving down");
  double width;

  trammel_color_set (cr, color, 1);
  cairo_set_line_width (cr, 1.5);
  cairo_set_dash (cr, dashes, up ? 0 : 2, 0);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + 30, y);
  cairo_stroke (cr);
  cairo_set_dash (cr, NULL, 0, 0);
  add_triangle (cr, x + 15, y, up);
  if (!up)
    {
      trammel_color_set (cr, palette->ground, 1);
      cairo_fill_preserve (cr);
      trammel_color_set (cr, color, 1);
      cairo_stroke (cr);
    }
  else
    cairo_fill (cr);
  trammel_color_set (cr, palette->ink, 0.85);
  trammel_label_paint (cr, &label, text, x + 37, y);
  trammel_label_size (cr, &label, text, &width, NULL);
  return x + 37 + width + 22;
}

static void
paint_key (const TrammelPositionPlot *plot, cairo_t *cr, const TrammelPalette *palette, double y)
{
  const TrammelLabel label = { .font = plot->font, .yalign = 0.5 };
  double x = paint_key_of (plot, cr, palette, 8, y, TRUE);

  if (!trammel_positions_is_one_direction (plot->positions))
    x = paint_key_of (plot, cr, palette, x, y, FALSE);
  trammel_color_set (cr, trammel_palette_axis (palette, plot->axis), BAND_ALPHA * 1.6);
  cairo_rectangle (cr, x, y - 6, 26, 12);
  cairo_fill (cr);
  trammel_color_set (cr, palette->ink, 0.85);
  trammel_label_paint (cr, &label, _ ("± 2 s"), x + 33, y);
}

void
trammel_position_plot_paint (const TrammelPositionPlot *plot, cairo_t *cr, double width, double height,
                             const TrammelPalette *palette)
{
  g_return_if_fail (plot != NULL && plot->positions != NULL && cr != NULL && palette != NULL);

  const TrammelLabel label = { .font = plot->font };
  const double key = 1.6 * trammel_label_line (cr, &label);
  const gboolean beside = width >= SIDE_BY_SIDE_FROM;
  gsize n;
  const TrammelPositionTarget *before = trammel_positions_targets (plot->positions, &n);
  const TrammelPositionTarget *after = trammel_positions_targets_after (plot->positions, NULL);
  const double panel_width = beside ? (width - GAP) / 2 : width;
  const double panel_height = beside ? height - key : (height - key) / 2;
  Panel panel = { plot, palette, cr, before, n, _ ("Measured"), 0, 0, panel_width, panel_height };

  if (n == 0)
    return;
  find_ranges (&panel, before, after);
  paint_panel (&panel);
  panel.targets = after;
  panel.title = _ ("Corrected");
  panel.x = beside ? panel_width + GAP : 0;
  panel.y = beside ? 0 : panel_height;
  paint_panel (&panel);
  paint_key (plot, cr, palette, height - key / 2);
}

char *
trammel_position_plot_to_words (const TrammelPositionPlot *plot)
{
  g_return_val_if_fail (plot != NULL && plot->positions != NULL, NULL);

  gsize n;
  trammel_positions_targets (plot->positions, &n);
  const TrammelPositionFigures before = trammel_positions_before (plot->positions);
  const TrammelPositionFigures after = trammel_positions_after (plot->positions);
  const gboolean one = trammel_positions_is_one_direction (plot->positions);
  const double e_before = one ? fmax (before.e_up, before.e_down) : before.e;
  const double e_after = one ? fmax (after.e_up, after.e_down) : after.e;
  g_autofree char *first = trammel_display_travel (e_before, plot->unit);
  g_autofree char *second = trammel_display_travel (e_after, plot->unit);
  return g_strdup_printf (
      _ ("Mean deviations of axis %c at %u targets lie within %s as measured, and within %s once scale "
         "error and lash are taken out."),
      plot->axis, (guint)n, first, second);
}
