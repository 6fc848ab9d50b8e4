/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/error-plot-private.h"

#define MOST_NAMED_SUSPECTS 12

TrammelLabel
trammel_error_label (const TrammelErrorPainting *painting, double scale, double xalign, double yalign)
{
  return (TrammelLabel){ .font = painting->look->font, .scale = scale, .xalign = xalign, .yalign = yalign };
}

static double
mark_radius (const TrammelErrorPlot *plot)
{
  return plot->n_points <= TRAMMEL_ERROR_PLOT_FEW ? 4.5 : 2.6;
}

static double
line_at (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel, double x, double half)
{
  double slope = panel->after ? 0 : painting->plot->slope;
  return trammel_error_panel_y (panel, slope * x + half * fabs (x));
}

static void
paint_band (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  cairo_t *cr = painting->cr;
  double low = panel->across.low, high = panel->across.high, half = painting->plot->slope_half;
  double left = panel->x, right = panel->x + panel->width, middle = trammel_error_panel_x (panel, 0);

  if (!isfinite (half) || !isfinite (painting->plot->slope))
    return;
  cairo_move_to (cr, left, line_at (painting, panel, low, half));
  cairo_line_to (cr, middle, line_at (painting, panel, 0, 0));
  cairo_line_to (cr, right, line_at (painting, panel, high, half));
  cairo_line_to (cr, right, line_at (painting, panel, high, -half));
  cairo_line_to (cr, middle, line_at (painting, panel, 0, 0));
  cairo_line_to (cr, left, line_at (painting, panel, low, -half));
  cairo_close_path (cr);
  trammel_color_set (cr, painting->color, painting->palette->dark ? 0.28 : 0.17);
  cairo_fill (cr);
}

static void
paint_line (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel, TrammelColor color, double width)
{
  cairo_t *cr = painting->cr;

  if (!isfinite (painting->plot->slope))
    return;
  cairo_move_to (cr, panel->x, line_at (painting, panel, panel->across.low, 0));
  cairo_line_to (cr, panel->x + panel->width, line_at (painting, panel, panel->across.high, 0));
  trammel_color_set (cr, color, 1);
  cairo_set_line_width (cr, width);
  cairo_stroke (cr);
}

static void
paint_fit (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  paint_line (painting, panel, painting->color, 2);
}

static void
paint_fit_over_density (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  paint_line (painting, panel, painting->palette->ground, 4);
  paint_line (painting, panel, painting->palette->ink, 1.6);
}

typedef struct
{
  double x, y;
  gboolean outside; /* above or below what the panel shows; y is at the edge */
} Place;

static Place
place_of (const TrammelErrorPlot *plot, const TrammelErrorPanel *panel, gsize i)
{
  double inset = mark_radius (plot) + 14, value = trammel_error_plot_value (plot, &plot->points[i], panel->after);
  double y = trammel_error_panel_y (panel, value);
  Place place = { trammel_error_panel_x (panel, plot->points[i].x) + (plot->shifts ? plot->shifts[i] : 0), y, FALSE };

  if (y < panel->y || y > panel->y + panel->height)
    {
      place.outside = TRUE;
      place.y = y < panel->y ? panel->y + inset : panel->y + panel->height - inset;
    }
  return place;
}

static void
paint_bar_with_caps (cairo_t *cr, Place place, double half)
{
  cairo_move_to (cr, place.x, place.y - half);
  cairo_line_to (cr, place.x, place.y + half);
  for (int side = -1; side <= 1; side += 2)
    {
      cairo_move_to (cr, place.x - 3, place.y + side * half);
      cairo_line_to (cr, place.x + 3, place.y + side * half);
    }
  cairo_stroke (cr);
}

/* On whole pixels, since there are many and that is ten times as fast. */
static void
paint_plain_bar (cairo_t *cr, Place place, double half)
{
  cairo_rectangle (cr, round (place.x), round (place.y - half), 1, round (2 * half));
  cairo_fill (cr);
}

static void
paint_intervals (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  const TrammelErrorPlot *plot = painting->plot;
  gboolean few = plot->n_points <= TRAMMEL_ERROR_PLOT_FEW;

  trammel_color_set (painting->cr, painting->color, few ? 0.75 : 0.25);
  cairo_set_line_width (painting->cr, 1.2);
  for (gsize i = 0; i < plot->n_points; i++)
    {
      Place place = place_of (plot, panel, i);
      double half = plot->points[i].half * panel->height / (panel->up.high - panel->up.low);
      if (place.outside || half < mark_radius (plot))
        continue;
      if (few)
        paint_bar_with_caps (painting->cr, place, half);
      else
        paint_plain_bar (painting->cr, place, half);
    }
}

static void
paint_few_marks (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  const TrammelErrorPlot *plot = painting->plot;

  for (gsize i = 0; i < plot->n_points; i++)
    {
      Place place = place_of (plot, panel, i);
      trammel_error_mark (painting->cr, plot->points[i].kind, place.x, place.y, mark_radius (plot), &painting->color,
                          &painting->palette->ground);
    }
}

/* The same mark over and over: drawn once, stamped many times, which takes a tenth of the time. */
static void
stamp_marks (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel, TrammelReadingKind kind)
{
  const TrammelErrorPlot *plot = painting->plot;
  cairo_t *cr = painting->cr;
  double half = ceil (mark_radius (plot) * 1.3) + 1;
  cairo_surface_t *stamp = cairo_surface_create_similar (cairo_get_target (cr), CAIRO_CONTENT_COLOR_ALPHA,
                                                         (int)(2 * half), (int)(2 * half));
  cairo_t *stamp_cr = cairo_create (stamp);

  trammel_error_mark (stamp_cr, kind, half, half, mark_radius (plot), &painting->color, &painting->palette->ground);
  cairo_destroy (stamp_cr);
  for (gsize i = 0; i < plot->n_points; i++)
    {
      if (plot->points[i].kind != kind)
        continue;
      Place place = place_of (plot, panel, i);
      cairo_set_source_surface (cr, stamp, round (place.x - half), round (place.y - half));
      cairo_paint (cr);
    }
  cairo_surface_destroy (stamp);
}

static void
paint_marks (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  const TrammelErrorPlot *plot = painting->plot;

  paint_intervals (painting, panel);
  paint_fit (painting, panel);
  if (plot->n_points <= TRAMMEL_ERROR_PLOT_FEW)
    {
      paint_few_marks (painting, panel);
      return;
    }
  for (guint kind = 0; kind < TRAMMEL_N_READING_KINDS; kind++)
    if (plot->kinds & 1u << kind)
      stamp_marks (painting, panel, kind);
}

/* A suspect that is farther out than the panel reaches: an arrow that points to where it is. */
static void
paint_arrow_to_outside (cairo_t *cr, Place place, gboolean up)
{
  double tip = up ? place.y - 16 : place.y + 16, back = up ? 5 : -5;

  cairo_move_to (cr, place.x, tip);
  cairo_rel_line_to (cr, -4, back);
  cairo_rel_line_to (cr, 8, 0);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
name_suspect (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel, gsize i, Place place)
{
  const TrammelErrorPlot *plot = painting->plot;
  gboolean left = place.x > panel->x + 0.6 * panel->width;
  TrammelLabel label = trammel_error_label (painting, 0.92, left ? 1 : 0, 0.5);
  g_autofree char *text = NULL;

  label.halo = &painting->palette->ground;
  if (place.outside)
    {
      double value = trammel_error_plot_value (plot, &plot->points[i], panel->after);
      g_autofree char *error = trammel_display_significant (value, 3);
      text = g_strdup_printf (_ ("reading %u: %s %s"), plot->points[i].row + 1, error, plot->unit);
    }
  else
    text = g_strdup_printf (_ ("reading %u"), plot->points[i].row + 1);
  trammel_label_paint (painting->cr, &label, text, place.x + (left ? -12 : 12), place.y);
}

static void
paint_suspects (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  const TrammelErrorPlot *plot = painting->plot;
  cairo_t *cr = painting->cr;
  int named = 0;

  for (gsize i = 0; i < plot->n_points; i++)
    {
      if (!plot->points[i].suspect)
        continue;
      Place place = place_of (plot, panel, i);
      trammel_color_set (cr, painting->palette->trouble, 1);
      cairo_set_line_width (cr, 2);
      cairo_new_sub_path (cr);
      cairo_arc (cr, place.x, place.y, mark_radius (plot) + 4, 0, 2 * G_PI);
      cairo_stroke (cr);
      if (place.outside)
        paint_arrow_to_outside (cr, place, place.y < panel->y + panel->height / 2);
      if (named++ < MOST_NAMED_SUSPECTS)
        name_suspect (painting, panel, i, place);
    }
}

static void
paint_selected (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  static const double dashes[] = { 3, 3 };
  const TrammelErrorPlot *plot = painting->plot;
  cairo_t *cr = painting->cr;

  for (gsize i = 0; i < plot->n_points; i++)
    {
      if ((int)plot->points[i].row != painting->look->selected_row)
        continue;
      Place place = place_of (plot, panel, i);
      trammel_color_set (cr, painting->palette->ink, 0.8);
      cairo_set_line_width (cr, 1);
      cairo_set_dash (cr, dashes, 2, 0);
      cairo_move_to (cr, panel->x, place.y);
      cairo_line_to (cr, place.x, place.y);
      cairo_line_to (cr, place.x, panel->y + panel->height);
      cairo_stroke (cr);
      cairo_set_dash (cr, NULL, 0, 0);
      trammel_color_set (cr, painting->palette->mark, 1);
      cairo_arc (cr, place.x, place.y, mark_radius (plot) + 4.5, 0, 2 * G_PI);
      cairo_fill (cr);
      trammel_error_mark (cr, plot->points[i].kind, place.x, place.y, mark_radius (plot) + 0.5, &painting->color,
                          &painting->palette->ground);
      return;
    }
}

static void
paint_panel (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel)
{
  cairo_t *cr = painting->cr;

  trammel_error_axes (painting, panel);
  cairo_save (cr);
  cairo_rectangle (cr, panel->x, panel->y, panel->width, panel->height);
  cairo_clip (cr);
  paint_band (painting, panel);
  if (trammel_error_plot_is_many (painting->plot))
    {
      trammel_error_density (painting->plot, cr, panel, painting->color);
      paint_fit_over_density (painting, panel);
    }
  else
    paint_marks (painting, panel);
  cairo_restore (cr);
  paint_selected (painting, panel);
  paint_suspects (painting, panel);
}

static void
paint_nothing_here (const TrammelErrorPainting *painting, double width, double height)
{
  TrammelLabel label = trammel_error_label (painting, 1, 0.5, 0.5);
  g_autofree char *text = NULL;

  if (painting->plot->letters[1])
    text = g_strdup_printf (_ ("No length across %c and %c has been measured."), painting->plot->letters[0],
                            painting->plot->letters[1]);
  else
    text = g_strdup_printf (_ ("Nothing has been measured along %s alone."), painting->plot->letters);
  trammel_color_set (painting->cr, painting->palette->ink, 0.8);
  trammel_label_paint (painting->cr, &label, text, width / 2, height / 2);
}

void
trammel_error_plot_paint (TrammelErrorPlot *plot, cairo_t *cr, double width, double height,
                          const TrammelPalette *palette, const TrammelErrorPlotLook *look)
{
  g_return_if_fail (plot != NULL && cr != NULL && palette != NULL && look != NULL);

  TrammelErrorPainting painting = { plot, cr, palette, look, palette->ink, 0, 0 };
  TrammelLabel label = trammel_error_label (&painting, 1, 0, 0);

  if (plot->letters[1] == '\0')
    painting.color = trammel_palette_axis (palette, plot->letters[0]);
  painting.line = trammel_label_line (cr, &label);
  plot->n_panels = 0;
  if (plot->n_points == 0)
    {
      paint_nothing_here (&painting, width, height);
      return;
    }
  double room = width - 2 * TRAMMEL_ERROR_PLOT_EDGE;
  double legend = trammel_error_legend (plot, cr, 0, 0, room, NULL, painting.color, look->font);
  trammel_error_lay_out (&painting, width, height - legend - 2);
  for (guint i = 0; i < plot->n_panels; i++)
    paint_panel (&painting, &plot->panels[i]);
  trammel_error_legend (plot, cr, TRAMMEL_ERROR_PLOT_EDGE, height - legend, room, palette, painting.color, look->font);
}
