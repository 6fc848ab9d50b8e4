/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/error-plot-private.h"
#include "draw/ticks.h"

static char *
before_title (const TrammelErrorPlot *plot)
{
  g_autofree char *value = trammel_display_interval (plot->value, plot->value_half);

  if (plot->letters[1])
    /* translators: title of a plot, "Before correction: X and Y stand 0.20 ± 0.03° off square" */
    return g_strdup_printf (_ ("Before correction: skew %s%s"), value, plot->value_unit);
  return g_strdup_printf (_ ("Before correction: %s%s"), value, plot->value_unit);
}

static char *
panel_title (const TrammelErrorPlot *plot, const TrammelErrorPanel *panel)
{
  if (!panel->after)
    return before_title (plot);
  if (panel->enlarged <= 1)
    return g_strdup (_ ("After correction"));
  g_autofree char *times = trammel_display_significant (panel->enlarged, 6);
  return g_strdup_printf (_ ("After correction (shown %s× larger)"), times);
}

static char *
across_title (const TrammelErrorPlot *plot)
{
  if (plot->letters[1])
    return g_strdup_printf (_ ("◂ %c−%c   length across both axes, %s   %c+%c ▸"), plot->letters[0], plot->letters[1],
                            plot->unit, plot->letters[0], plot->letters[1]);
  if (plot->lengths && plot->places)
    return g_strdup_printf (_ ("commanded length or place on %s, %s"), plot->letters, plot->unit);
  if (plot->places)
    return g_strdup_printf (_ ("commanded place on %s, %s"), plot->letters, plot->unit);
  return g_strdup_printf (_ ("commanded length along %s, %s"), plot->letters, plot->unit);
}

static void
horizontal_line (cairo_t *cr, const TrammelErrorPanel *panel, double value)
{
  double y = round (trammel_error_panel_y (panel, value)) + 0.5;

  cairo_move_to (cr, panel->x, y);
  cairo_line_to (cr, panel->x + panel->width, y);
  cairo_stroke (cr);
}

static void
paint_up_ticks (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  cairo_t *cr = painting->cr;
  TrammelTicks ticks = trammel_error_up_ticks (painting, panel->up, panel->height);
  TrammelLabel label = trammel_error_label (painting, 0.92, 1, 0.5);

  cairo_set_line_width (cr, 1);
  for (int i = 0; i < ticks.n; i++)
    {
      double value = trammel_ticks_at (ticks, i);
      g_autofree char *number = trammel_display_number (value, ticks.decimals);
      trammel_color_set (cr, painting->palette->faint, 0.3);
      horizontal_line (cr, panel, value);
      trammel_color_set (cr, painting->palette->ink, 0.85);
      trammel_label_paint (cr, &label, number, panel->x - 8, trammel_error_panel_y (panel, value));
    }
}

static void
paint_across_ticks (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  cairo_t *cr = painting->cr;
  TrammelTicks ticks
      = trammel_ticks_make (panel->across.low, panel->across.high, MAX (2, (int)(panel->width / (4 * painting->line))));
  TrammelLabel label = trammel_error_label (painting, 0.92, 0.5, 0);
  double bottom = panel->y + panel->height;

  cairo_set_line_width (cr, 1);
  for (int i = 0; i < ticks.n; i++)
    {
      double value = trammel_ticks_at (ticks, i), x = round (trammel_error_panel_x (panel, value)) + 0.5;
      g_autofree char *number = trammel_display_number (value, ticks.decimals);
      trammel_color_set (cr, painting->palette->faint, 0.3);
      cairo_move_to (cr, x, panel->y);
      cairo_line_to (cr, x, bottom);
      cairo_stroke (cr);
      trammel_color_set (cr, painting->palette->ink, 0.85);
      trammel_label_paint (cr, &label, number, x, bottom + 3);
    }
}

static void
paint_titles (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  cairo_t *cr = painting->cr;
  g_autofree char *title = panel_title (painting->plot, panel), *across = across_title (painting->plot);
  g_autofree char *up = g_strdup_printf (_ ("error, %s"), painting->plot->unit);
  TrammelLabel bold = trammel_error_label (painting, 1, 0, 1), plain = trammel_error_label (painting, 0.92, 1, 1);
  TrammelLabel below = trammel_error_label (painting, 0.92, 0.5, 0);
  double title_width, up_width, unit_width;

  bold.bold = TRUE;
  trammel_label_size (cr, &bold, title, &title_width, NULL);
  trammel_label_size (cr, &plain, up, &up_width, NULL);
  trammel_label_size (cr, &plain, painting->plot->unit, &unit_width, NULL);
  trammel_color_set (cr, painting->palette->ink, 1);
  trammel_label_paint (cr, &bold, title, panel->x, panel->y - 4);
  trammel_color_set (cr, painting->palette->ink, 0.75);
  double room = panel->width - title_width - 12;
  if (up_width <= room)
    trammel_label_paint (cr, &plain, up, panel->x + panel->width, panel->y - 4);
  else if (unit_width <= room)
    trammel_label_paint (cr, &plain, painting->plot->unit, panel->x + panel->width, panel->y - 4);
  trammel_label_paint (cr, &below, across, panel->x + panel->width / 2,
                       panel->y + panel->height + 1.2 * painting->line);
}

void
trammel_error_axes (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  cairo_t *cr = painting->cr;

  paint_up_ticks (painting, panel);
  paint_across_ticks (painting, panel);
  trammel_color_set (cr, painting->palette->ink, 0.55);
  cairo_set_line_width (cr, 1);
  horizontal_line (cr, panel, 0);
  paint_titles (painting, panel);
}
