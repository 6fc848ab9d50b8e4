/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-paint.h"

#include <math.h>

#define TONE_PER_PLANE 0.13
#define PALEST_TONE 0.6
#define HATCH_PIXELS 5.0
#define MOST_HATCHES 400

TrammelColor
trammel_color_mix (TrammelColor from, TrammelColor to, double part)
{
  return (TrammelColor){ from.r + (to.r - from.r) * part, from.g + (to.g - from.g) * part,
                         from.b + (to.b - from.b) * part };
}

static double
distance_tone (const TrammelPainter *painter, const TrammelShape *shape)
{
  return CLAMP (TONE_PER_PLANE * (painter->front - shape->plane), 0, PALEST_TONE);
}

TrammelColor
trammel_painter_face (const TrammelPainter *painter, const TrammelShape *shape)
{
  return trammel_color_mix (painter->palette->metal, painter->palette->ground, distance_tone (painter, shape));
}

TrammelColor
trammel_painter_edge (const TrammelPainter *painter, const TrammelShape *shape)
{
  return trammel_color_mix (painter->palette->metal_edge, painter->palette->ground,
                            0.6 * distance_tone (painter, shape));
}

TrammelColor
trammel_painter_shade (const TrammelPainter *painter, const TrammelShape *shape, double depth)
{
  const TrammelPalette *palette = painter->palette;
  TrammelColor dark = palette->dark ? palette->ground : palette->metal_edge;
  return trammel_color_mix (trammel_painter_face (painter, shape), dark, palette->dark ? 1.3 * depth : depth);
}

double
trammel_painter_pixels (const TrammelPainter *painter, double length)
{
  return length * painter->scale;
}

void
trammel_painter_fill (const TrammelPainter *painter, TrammelColor color)
{
  trammel_color_set (painter->cr, color, 1);
  cairo_fill_preserve (painter->cr);
}

void
trammel_painter_stroke (const TrammelPainter *painter, TrammelColor color, double pixels)
{
  trammel_color_set (painter->cr, color, 1);
  cairo_set_line_width (painter->cr, pixels / painter->scale);
  cairo_stroke (painter->cr);
}

void
trammel_painter_fill_and_stroke (const TrammelPainter *painter, const TrammelShape *shape)
{
  trammel_painter_fill (painter, trammel_painter_face (painter, shape));
  trammel_painter_stroke (painter, trammel_painter_edge (painter, shape), 1);
}

void
trammel_painter_disc (const TrammelPainter *painter, double x, double y, double radius, TrammelColor face,
                      TrammelColor edge)
{
  const double half = 0.5 / painter->scale;

  cairo_new_path (painter->cr);
  trammel_path_circle (painter->cr, x, y, radius + half);
  trammel_painter_fill (painter, edge);
  cairo_new_path (painter->cr);
  trammel_path_circle (painter->cr, x, y, MAX (radius - half, 0));
  trammel_painter_fill (painter, face);
  cairo_new_path (painter->cr);
}

void
trammel_painter_hatch (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double x0, y0, x1, y1, step = HATCH_PIXELS / painter->scale;

  cairo_path_t *path = cairo_copy_path (cr);
  cairo_save (cr);
  cairo_clip_extents (cr, &x0, &y0, &x1, &y1);
  cairo_clip (cr);
  TrammelBox box = trammel_shape_bounds (shape);
  double height = box.y1 - box.y0;
  step = MAX (step, (box.x1 - box.x0 + height) / MOST_HATCHES);
  for (double x = box.x0; x < box.x1 + height; x += step)
    {
      cairo_move_to (cr, x, box.y0);
      cairo_line_to (cr, x - height, box.y1);
    }
  trammel_painter_stroke (painter, trammel_painter_edge (painter, shape), 0.8);
  cairo_restore (cr);
  cairo_append_path (cr, path);
  cairo_path_destroy (path);
}

void
trammel_path_circle (cairo_t *cr, double x, double y, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, radius, 0, 2 * G_PI);
  cairo_close_path (cr);
}

void
trammel_path_box (cairo_t *cr, double x0, double y0, double x1, double y1, double corner)
{
  double r = MIN (corner, MIN (x1 - x0, y1 - y0) / 2);
  cairo_new_sub_path (cr);
  cairo_arc (cr, x1 - r, y0 + r, r, -G_PI / 2, 0);
  cairo_arc (cr, x1 - r, y1 - r, r, 0, G_PI / 2);
  cairo_arc (cr, x0 + r, y1 - r, r, G_PI / 2, G_PI);
  cairo_arc (cr, x0 + r, y0 + r, r, G_PI, 3 * G_PI / 2);
  cairo_close_path (cr);
}
