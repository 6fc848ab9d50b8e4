/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-paint.h"

#include <math.h>

static TrammelColor
body_color (const TrammelPainter *painter)
{
  return trammel_color_mix (painter->palette->metal, painter->palette->ground, 0.45);
}

static TrammelColor
body_edge (const TrammelPainter *painter)
{
  return trammel_color_mix (painter->palette->metal_edge, painter->palette->ground, 0.25);
}

/* The end of a shaft, with a key that shows how far it has turned. */
static void
paint_keyed_shaft (const TrammelPainter *painter, const TrammelShape *shape, TrammelColor edge)
{
  cairo_t *cr = painter->cr;
  double r = shape->shaft;

  cairo_save (cr);
  cairo_translate (cr, shape->x, shape->y);
  cairo_rotate (cr, trammel_shape_rotation (shape, painter->turns));
  trammel_path_circle (cr, 0, 0, r);
  trammel_painter_fill (painter, trammel_color_mix (edge, painter->palette->ground, 0.35));
  trammel_painter_stroke (painter, edge, 1);
  cairo_rectangle (cr, 0.45 * r, -0.28 * r, 0.85 * r, 0.56 * r);
  trammel_color_set (cr, edge, 1);
  cairo_fill (cr);
  cairo_restore (cr);
}

void
trammel_paint_motor_face (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, hole = 0.74 * r;
  TrammelColor face = body_color (painter), edge = body_edge (painter);

  trammel_path_box (cr, shape->x - r, shape->y - r, shape->x + r, shape->y + r, 0.16 * r);
  trammel_painter_fill (painter, face);
  trammel_painter_stroke (painter, edge, 1.2);
  trammel_path_circle (cr, shape->x, shape->y, 0.52 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.08));
  trammel_painter_stroke (painter, edge, 1);
  if (trammel_painter_pixels (painter, r) < 8)
    return;
  paint_keyed_shaft (painter, shape, edge);
  for (int i = 0; i < 4; i++)
    trammel_path_circle (cr, shape->x + (i & 1 ? hole : -hole), shape->y + (i & 2 ? hole : -hole), 0.07 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.5));
  cairo_new_path (cr);
}

/* A body between two end caps, with the boss that the shaft comes out of. */
void
trammel_paint_motor_side (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, x0 = shape->x, x1 = shape->x + shape->length, boss = 0.05 * shape->length;
  double cap = 0.2 * shape->length;
  TrammelColor face = body_color (painter), edge = body_edge (painter);

  cairo_rectangle (cr, x1 - boss, shape->y - 0.5 * r, boss, r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.2));
  trammel_painter_stroke (painter, edge, 1);
  trammel_path_box (cr, x0, shape->y - r, x1 - boss, shape->y + r, 0.1 * r);
  trammel_painter_fill (painter, face);
  trammel_painter_stroke (painter, edge, 1.2);
  cairo_rectangle (cr, x0 + cap, shape->y - 0.96 * r, shape->length - boss - 2 * cap, 1.92 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.28));
  trammel_painter_stroke (painter, edge, 0.8);
}

void
trammel_paint_bearing (const TrammelPainter *painter, const TrammelShape *shape)
{
  trammel_path_box (painter->cr, shape->x, shape->y - shape->radius, shape->x + shape->length, shape->y + shape->radius,
                    0.15 * shape->length);
  trammel_painter_fill (painter, body_color (painter));
  trammel_painter_stroke (painter, body_edge (painter), 1);
}

void
trammel_paint_link (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double x0 = shape->x, x1 = shape->x + shape->length, r = shape->radius, inset = 0.2 * shape->length;

  for (int i = -1; i <= 1; i += 2)
    {
      double y = shape->y + i * (shape->tip - r);
      trammel_path_box (cr, x0, y - r, x1, y + r, 0.2 * r);
    }
  trammel_painter_fill_and_stroke (painter, shape);
  cairo_rectangle (cr, x0 + inset, shape->y - shape->tip, shape->length - 2 * inset, 2 * shape->tip);
  trammel_painter_fill (painter, trammel_color_mix (painter->palette->ink, painter->palette->ground, 0.28));
  cairo_new_path (cr);
}

/* Six flats on the side of a nut, of which three are seen. */
static void
paint_flats (const TrammelPainter *painter, const TrammelShape *shape, double x0, double x1)
{
  double rotation = trammel_shape_rotation (shape, painter->turns);
  for (int i = 0; i < 6; i++)
    {
      double angle = rotation + G_PI * i / 3, y = shape->y - shape->radius * sin (angle);
      if (cos (angle) <= 0)
        continue;
      cairo_move_to (painter->cr, x0, y);
      cairo_line_to (painter->cr, x1, y);
    }
  trammel_painter_stroke (painter, trammel_painter_edge (painter, shape), 0.8);
}

void
trammel_paint_nut (const TrammelPainter *painter, const TrammelShape *shape)
{
  double x = shape->x + trammel_shape_slide (shape, painter->turns), half = shape->length / 2;
  TrammelColor face = painter->palette->metal, edge = painter->palette->metal_edge;

  trammel_path_box (painter->cr, x - half, shape->y - shape->radius, x + half, shape->y + shape->radius,
                    0.08 * shape->length);
  trammel_painter_fill (painter, trammel_color_mix (face, painter->accent, 0.18));
  trammel_painter_stroke (painter, edge, 1);
  if (shape->turns != 0)
    paint_flats (painter, shape, x - half, x + half);
}

void
trammel_paint_carriage (const TrammelPainter *painter, const TrammelShape *shape)
{
  double x = shape->x + trammel_shape_slide (shape, painter->turns), half = shape->length / 2;

  trammel_path_box (painter->cr, x - half, shape->y - shape->radius, x + half, shape->y + shape->radius,
                    0.25 * MIN (shape->radius, half));
  trammel_painter_fill (painter, painter->accent);
  trammel_painter_stroke (painter, trammel_color_mix (painter->accent, painter->palette->ink, 0.35), 1);
}

/* A flange where the motor side comes in, ribs, and a stout output. */
void
trammel_paint_gearbox (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, x0 = shape->x, x1 = shape->x + shape->length, flange = 0.12 * shape->length;
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);

  cairo_rectangle (cr, x1 - flange, shape->y - 0.45 * r, flange, 0.9 * r);
  trammel_painter_fill_and_stroke (painter, shape);
  trammel_path_box (cr, x0, shape->y - r, x1 - flange, shape->y + r, 0.12 * r);
  trammel_painter_fill_and_stroke (painter, shape);
  cairo_rectangle (cr, x0, shape->y - r, flange, 2 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.18));
  trammel_painter_stroke (painter, edge, 1);
  for (int i = -1; i <= 1; i += 2)
    {
      cairo_move_to (cr, x0 + flange, shape->y + 0.62 * i * r);
      cairo_line_to (cr, x1 - flange, shape->y + 0.62 * i * r);
    }
  trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.5), 1);
}

/* Two hubs and the star between their claws. */
void
trammel_paint_coupling (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, star = 0.2 * shape->length, hub = (shape->length - star) / 2;
  double middle = shape->x + shape->length / 2, rotation = trammel_shape_rotation (shape, painter->turns);
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);

  for (int i = 0; i < 2; i++)
    {
      double x = i ? shape->x + hub + star : shape->x;
      trammel_path_box (cr, x, shape->y - r, x + hub, shape->y + r, 0.15 * r);
      trammel_painter_fill_and_stroke (painter, shape);
    }
  cairo_rectangle (cr, middle - star / 2, shape->y - 0.96 * r, star, 1.92 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, painter->palette->ink, 0.55));
  trammel_painter_stroke (painter, edge, 1);
  for (int i = 0; i < 6; i++)
    {
      double angle = rotation + G_PI * i / 3, y = shape->y - 0.94 * r * sin (angle),
             x = middle + (i % 2 ? -1 : 1) * star;
      if (cos (angle) <= 0.1)
        continue;
      trammel_path_box (cr, MIN (middle, x), y - 0.16 * r * cos (angle), MAX (middle, x), y + 0.16 * r * cos (angle),
                        0);
    }
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.25));
  trammel_painter_stroke (painter, edge, 0.8);
}

void
trammel_paint_strip (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, period = 24 / painter->scale;
  double moved = fmod (fmod (shape->slide * painter->turns, period) + period, period);

  cairo_rectangle (cr, shape->x, shape->y - r, shape->length, 2 * r);
  trammel_painter_fill (painter, painter->accent);
  trammel_painter_stroke (painter, trammel_color_mix (painter->accent, painter->palette->ink, 0.35), 1);
  for (double x = shape->x + moved; x < shape->x + shape->length - 4 / painter->scale; x += period)
    cairo_rectangle (cr, x, shape->y - 0.5 * r, 4 / painter->scale, r);
  trammel_painter_fill (painter, trammel_color_mix (painter->accent, painter->palette->ground, 0.6));
  cairo_new_path (cr);
}

/* A round plate with a scale every 5°, longer marks every 30°, and the pointer that stands still. */
void
trammel_paint_table (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, rotation = trammel_shape_rotation (shape, painter->turns);
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);
  gboolean fine = trammel_painter_pixels (painter, r) > 30;

  trammel_path_circle (cr, shape->x, shape->y, r);
  trammel_painter_fill_and_stroke (painter, shape);
  for (int degrees = 0; degrees < 360; degrees += fine ? 5 : 30)
    {
      double angle = rotation + degrees * G_PI / 180, inner = degrees % 30 == 0 ? 0.82 * r : 0.9 * r;
      cairo_move_to (cr, shape->x + inner * cos (angle), shape->y + inner * sin (angle));
      cairo_line_to (cr, shape->x + 0.96 * r * cos (angle), shape->y + 0.96 * r * sin (angle));
    }
  trammel_painter_stroke (painter, edge, 1);
  trammel_path_circle (cr, shape->x, shape->y, 0.72 * r);
  trammel_painter_fill (painter, trammel_painter_shade (painter, shape, 0.12));
  trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.5), 0.8);

  /* The plate's zero, and the pointer. */
  cairo_move_to (cr, shape->x + 0.2 * r * cos (rotation - G_PI / 2), shape->y + 0.2 * r * sin (rotation - G_PI / 2));
  cairo_line_to (cr, shape->x + 0.8 * r * cos (rotation - G_PI / 2), shape->y + 0.8 * r * sin (rotation - G_PI / 2));
  trammel_painter_stroke (painter, painter->accent, 2);
  cairo_move_to (cr, shape->x, shape->y - 0.99 * r);
  cairo_line_to (cr, shape->x - 0.07 * r, shape->y - 1.16 * r);
  cairo_line_to (cr, shape->x + 0.07 * r, shape->y - 1.16 * r);
  cairo_close_path (cr);
  trammel_painter_fill (painter, painter->accent);
  cairo_new_path (cr);
  trammel_path_circle (cr, shape->x, shape->y, MIN (shape->shaft, 0.15 * r));
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.5));
  trammel_painter_stroke (painter, edge, 1);
}
