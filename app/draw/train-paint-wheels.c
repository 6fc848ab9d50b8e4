/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-paint.h"

#include <math.h>

#define LEAST_TOOTH_PIXELS 0.9 /* of the module; smaller teeth are a band */
#define SMALL_MODULE_PIXELS 3.5
#define HOLES 5
#define SMALL_HOLE_PIXELS 5.0
#define PULLEY_TOOTH_HEIGHT 0.37 /* of the pitch */

typedef struct
{
  double x, y, rotation;
} Place;

static Place
place_of (const TrammelPainter *painter, const TrammelShape *shape)
{
  Place place = { .rotation = trammel_shape_rotation (shape, painter->turns) };
  trammel_shape_center (shape, painter->turns, &place.x, &place.y);
  return place;
}

/* Of a small tooth's flank only every so many points are drawn: nowhere that takes more than a quarter of a pixel. */
static gsize
points_per_step (const TrammelPainter *painter, const TrammelShape *shape, gsize half)
{
  double pixels = trammel_painter_pixels (painter, shape->module);
  if (shape->teeth < 3 || pixels > 4 * SMALL_MODULE_PIXELS)
    return 1;
  return pixels > 2 * SMALL_MODULE_PIXELS ? 2 : pixels > SMALL_MODULE_PIXELS ? 3 : MAX (half / 2, 1);
}

/* @i counts from the root of one flank to the root of the other, @half points each; the ends are always needed. */
static gboolean
is_needed (gsize i, gsize half, gsize step)
{
  gsize from_root = i < half ? i : 2 * half - 1 - i;
  return from_root % step == 0 || from_root == half - 1;
}

/* The outline of teeth, moved outwards by so many pixels. */
static void
trace_teeth (const TrammelPainter *painter, const TrammelShape *shape, Place place, double pixels)
{
  gsize per_tooth = shape->n_outline / shape->teeth;
  gsize step = points_per_step (painter, shape, per_tooth / 2);
  double c = shape->module * cos (place.rotation), s = shape->module * sin (place.rotation);
  double out = pixels / trammel_painter_pixels (painter, shape->module);
  for (gsize i = 0; i < shape->n_outline; i++)
    {
      if (step > 1 && !is_needed (i % per_tooth, per_tooth / 2, step))
        continue;
      double x = shape->outline[i].x + out * shape->normals[i].x, y = shape->outline[i].y + out * shape->normals[i].y;
      cairo_line_to (painter->cr, place.x + c * x - s * y, place.y + s * x + c * y);
    }
  cairo_close_path (painter->cr);
}

static gboolean
teeth_are_visible (const TrammelPainter *painter, const TrammelShape *shape)
{
  return shape->outline && trammel_painter_pixels (painter, shape->module) >= LEAST_TOOTH_PIXELS;
}

static void
trace_gear (const TrammelPainter *painter, const TrammelShape *shape, Place place, double out)
{
  if (teeth_are_visible (painter, shape))
    trace_teeth (painter, shape, place, out);
  else
    trammel_path_circle (painter->cr, place.x, place.y, MAX (shape->tip + out / painter->scale, 0));
}

static void
trace_ring_hole (const TrammelPainter *painter, const TrammelShape *shape, Place place, double out)
{
  if (teeth_are_visible (painter, shape))
    trace_teeth (painter, shape, place, out);
  else
    trammel_path_circle (painter->cr, place.x, place.y, MAX (shape->radius - shape->module + out / painter->scale, 0));
}

/* The outline of a bevel gear is that of a spur gear whose teeth are lower by the slope of its cone. */
static void
trace_bevel (const TrammelPainter *painter, const TrammelShape *shape, Place place, double part)
{
  double slope = (shape->tip - shape->radius) / shape->module;
  if (!teeth_are_visible (painter, shape))
    {
      trammel_path_circle (painter->cr, place.x, place.y, part * shape->tip);
      return;
    }
  double pitch = shape->teeth / 2.0, c = cos (place.rotation), s = sin (place.rotation);
  for (gsize i = 0; i < shape->n_outline; i++)
    {
      TrammelPoint p = shape->outline[i];
      double radius = hypot (p.x, p.y), wanted = pitch + (radius - pitch) * slope;
      double k = part * shape->module * wanted / radius;
      cairo_line_to (painter->cr, place.x + k * (c * p.x - s * p.y), place.y + k * (s * p.x + c * p.y));
    }
  cairo_close_path (painter->cr);
}

/* Straight-sided grooves in a disc that ends a little under the pitch line. */
static void
trace_pulley (const TrammelPainter *painter, const TrammelShape *shape, Place place)
{
  double pitch = shape->module, outside = shape->radius - 0.05 * pitch;
  double bottom = MAX (shape->radius - PULLEY_TOOTH_HEIGHT * pitch - 0.05 * pitch, 0.3 * shape->radius);
  if (shape->teeth < 3 || trammel_painter_pixels (painter, pitch) < 3 * LEAST_TOOTH_PIXELS)
    {
      trammel_path_circle (painter->cr, place.x, place.y, outside);
      return;
    }
  static const double across[] = { -0.28, -0.2, 0.2, 0.28 };
  double step = 2 * G_PI / shape->teeth;
  cairo_new_sub_path (painter->cr);
  for (int i = 0; i < shape->teeth; i++)
    for (int k = 0; k < 4; k++)
      {
        double angle = place.rotation + (i + across[k]) * step, radius = k == 1 || k == 2 ? outside : bottom;
        cairo_line_to (painter->cr, place.x + radius * cos (angle), place.y + radius * sin (angle));
      }
  cairo_close_path (painter->cr);
}

/* Round seats for the rollers, half a pitch from the teeth. */
static void
trace_sprocket (const TrammelPainter *painter, const TrammelShape *shape, Place place)
{
  double pitch = shape->module, seat = 0.3 * pitch, step = 2 * G_PI / shape->teeth;
  double tip = shape->radius + 0.3 * pitch;
  if (shape->teeth < 4 || trammel_painter_pixels (painter, pitch) < 3 * LEAST_TOOTH_PIXELS)
    {
      trammel_path_circle (painter->cr, place.x, place.y, shape->radius);
      return;
    }
  cairo_new_sub_path (painter->cr);
  for (int i = 0; i < shape->teeth; i++)
    {
      double tooth = place.rotation + i * step, gap = tooth + step / 2;
      cairo_line_to (painter->cr, place.x + tip * cos (tooth - 0.09 * step), place.y + tip * sin (tooth - 0.09 * step));
      cairo_line_to (painter->cr, place.x + tip * cos (tooth + 0.09 * step), place.y + tip * sin (tooth + 0.09 * step));
      cairo_arc_negative (painter->cr, place.x + shape->radius * cos (gap), place.y + shape->radius * sin (gap), seat,
                          gap - G_PI / 2, gap + G_PI / 2);
    }
  cairo_close_path (painter->cr);
}

void
trammel_trace_wheel (const TrammelPainter *painter, const TrammelShape *shape)
{
  Place place = place_of (painter, shape);
  switch (shape->kind)
    {
    case TRAMMEL_SHAPE_GEAR:
      trace_gear (painter, shape, place, 0);
      break;
    case TRAMMEL_SHAPE_BEVEL_FACE:
      trace_bevel (painter, shape, place, 1);
      break;
    case TRAMMEL_SHAPE_PULLEY:
      trace_pulley (painter, shape, place);
      break;
    case TRAMMEL_SHAPE_SPROCKET:
      trace_sprocket (painter, shape, place);
      break;
    case TRAMMEL_SHAPE_RING:
      trammel_path_circle (painter->cr, place.x, place.y, shape->tip);
      break;
    default:
      trammel_path_circle (painter->cr, place.x, place.y, shape->radius);
      break;
    }
}

/* Shaft with a key, in a hub. */
static void
paint_hub (const TrammelPainter *painter, const TrammelShape *shape, Place place, double room)
{
  cairo_t *cr = painter->cr;
  TrammelColor edge = trammel_painter_edge (painter, shape);
  double bore = MIN (shape->shaft, 0.45 * room), hub = MIN (1.9 * bore, 0.8 * room);

  if (shape->hubless)
    return;
  if (trammel_painter_pixels (painter, bore) < 1.2)
    {
      trammel_path_circle (cr, place.x, place.y, MIN (1.5 / painter->scale, room));
      trammel_color_set (cr, edge, 1);
      cairo_fill (cr);
      return;
    }
  trammel_painter_disc (painter, place.x, place.y, hub, trammel_painter_face (painter, shape), edge);
  trammel_painter_disc (painter, place.x, place.y, bore, trammel_color_mix (edge, painter->palette->ground, 0.35),
                        edge);
  cairo_save (cr);
  cairo_translate (cr, place.x, place.y);
  cairo_rotate (cr, place.rotation);
  cairo_rectangle (cr, 0.55 * bore, -0.28 * bore, 0.85 * bore, 0.56 * bore);
  trammel_color_set (cr, edge, 1);
  cairo_fill (cr);
  cairo_restore (cr);
}

static void
trace_holes (cairo_t *cr, Place place, double middle, double radius)
{
  for (int i = 0; i < HOLES; i++)
    {
      double angle = place.rotation + 2 * G_PI * (i + 0.5) / HOLES;
      trammel_path_circle (cr, place.x + middle * cos (angle), place.y + middle * sin (angle), radius);
    }
}

/* A web thinner than the rim, with holes that show how far it has turned. */
static void
paint_web (const TrammelPainter *painter, const TrammelShape *shape, Place place, double rim)
{
  cairo_t *cr = painter->cr;
  TrammelColor edge = trammel_painter_edge (painter, shape), face = trammel_painter_face (painter, shape);
  double hub = MIN (1.9 * shape->shaft, 0.4 * rim), middle = (hub + rim) / 2, hole = 0.27 * (rim - hub);

  if (trammel_painter_pixels (painter, rim) < 16 || rim < 3.4 * shape->shaft)
    return;
  trammel_painter_disc (painter, place.x, place.y, rim, trammel_painter_shade (painter, shape, 0.12),
                        trammel_color_mix (edge, face, 0.45));
  if (trammel_painter_pixels (painter, hole) > SMALL_HOLE_PIXELS)
    {
      trace_holes (cr, place, middle, hole + 0.5 / painter->scale);
      trammel_painter_fill (painter, trammel_color_mix (edge, face, 0.3));
      cairo_new_path (cr);
      hole -= 0.5 / painter->scale;
    }
  trace_holes (cr, place, middle, hole);
  trammel_painter_fill (painter, trammel_painter_shade (painter, shape, 0.32));
  cairo_new_path (cr);
}

static void
paint_pitch_circle (const TrammelPainter *painter, const TrammelShape *shape, Place place)
{
  cairo_t *cr = painter->cr;
  double dash[] = { 7 / painter->scale, 4 / painter->scale };

  if (trammel_painter_pixels (painter, shape->module) < 2)
    return;
  cairo_save (cr);
  cairo_set_dash (cr, dash, 2, 0);
  trammel_path_circle (cr, place.x, place.y, shape->radius);
  trammel_painter_stroke (painter, trammel_color_mix (painter->palette->faint, painter->palette->ink, 0.25), 0.8);
  cairo_restore (cr);
}

/* Teeth too small or too many to be outlined: a band between root and tip, with ticks where they can be told apart. */
static void
paint_band (const TrammelPainter *painter, const TrammelShape *shape, Place place, double inner, double outer)
{
  cairo_t *cr = painter->cr;
  TrammelColor edge = trammel_painter_edge (painter, shape), face = trammel_painter_face (painter, shape);
  double pitch = G_PI * shape->module, dash[] = { pitch / 2, pitch / 2 };

  trammel_path_circle (cr, place.x, place.y, (inner + outer) / 2);
  cairo_save (cr);
  trammel_color_set (cr, trammel_color_mix (face, edge, 0.35), 1);
  if (trammel_painter_pixels (painter, pitch) > 3)
    cairo_set_dash (cr, dash, 2, -place.rotation * shape->radius);
  cairo_set_line_width (cr, outer - inner);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
paint_gear (const TrammelPainter *painter, const TrammelShape *shape)
{
  Place place = place_of (painter, shape);
  double root = MAX (shape->radius - TRAMMEL_GEAR_DEDENDUM * shape->module, 0.4 * shape->radius);

  /* Two fills, the edge's line being what the upper one leaves: several times faster than a stroke. */
  trace_gear (painter, shape, place, 0.5);
  trammel_painter_fill (painter, trammel_painter_edge (painter, shape));
  cairo_new_path (painter->cr);
  trace_gear (painter, shape, place, -0.5);
  trammel_painter_fill (painter, trammel_painter_face (painter, shape));
  if (shape->held)
    trammel_painter_hatch (painter, shape);
  cairo_new_path (painter->cr);
  if (!teeth_are_visible (painter, shape))
    paint_band (painter, shape, place, root, shape->tip);
  if (!shape->held)
    paint_web (painter, shape, place, root - MAX (1.2 * shape->module, 0.09 * root));
  paint_pitch_circle (painter, shape, place);
  paint_hub (painter, shape, place, root);
}

static void
paint_ring (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  Place place = place_of (painter, shape);
  TrammelColor edge = trammel_painter_edge (painter, shape), face = trammel_painter_face (painter, shape);

  trammel_path_circle (cr, place.x, place.y, shape->tip);
  trammel_painter_fill (painter, face);
  if (shape->held)
    trammel_painter_hatch (painter, shape);
  trammel_painter_stroke (painter, edge, 1);
  trace_ring_hole (painter, shape, place, 0.5);
  trammel_painter_fill (painter, edge);
  cairo_new_path (cr);
  trace_ring_hole (painter, shape, place, -0.5);
  trammel_painter_fill (painter, trammel_color_mix (face, painter->palette->ground, 0.55));
  cairo_new_path (cr);
  if (!teeth_are_visible (painter, shape))
    paint_band (painter, shape, place, shape->radius - shape->module, shape->radius + shape->module);
  if (!shape->held)
    {
      double width = 0.3 * (shape->tip - trammel_involute_ring_root (&shape->form) * shape->module);
      double middle = shape->tip - 1.7 * width;
      for (int i = 0; i < HOLES + 1; i++)
        {
          double angle = place.rotation + 2 * G_PI * i / (HOLES + 1);
          trammel_path_circle (cr, place.x + middle * cos (angle), place.y + middle * sin (angle), width);
        }
      trammel_painter_fill (painter, trammel_painter_shade (painter, shape, 0.4));
      cairo_new_path (cr);
    }
  paint_pitch_circle (painter, shape, place);
  if (!shape->bare)
    paint_hub (painter, shape, place, shape->radius / 2);
}

static void
paint_bevel_face (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  Place place = place_of (painter, shape);
  TrammelColor edge = trammel_painter_edge (painter, shape), face = trammel_painter_face (painter, shape);
  double inner = 1 - shape->face, root = inner * (shape->radius - 1.25 * (shape->tip - shape->radius));

  trace_bevel (painter, shape, place, 1);
  trammel_painter_fill_and_stroke (painter, shape);
  if (teeth_are_visible (painter, shape))
    {
      for (int i = 0; i < 2 * shape->teeth; i++)
        {
          double angle = place.rotation + G_PI * (i + 0.5) / shape->teeth, outer = shape->radius;
          cairo_move_to (cr, place.x + inner * outer * cos (angle), place.y + inner * outer * sin (angle));
          cairo_line_to (cr, place.x + outer * cos (angle), place.y + outer * sin (angle));
        }
      trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.35), 0.8);
    }
  trace_bevel (painter, shape, place, inner);
  trammel_painter_fill (painter, trammel_painter_shade (painter, shape, 0.18));
  trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.2), 1);
  paint_pitch_circle (painter, shape, place);
  paint_hub (painter, shape, place, MAX (root, 0.3 * shape->radius));
}

static void
paint_pulley (const TrammelPainter *painter, const TrammelShape *shape)
{
  Place place = place_of (painter, shape);
  double root = MAX (shape->radius - 0.6 * shape->module, 0.3 * shape->radius);
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);

  if (shape->kind == TRAMMEL_SHAPE_PULLEY)
    {
      trammel_path_circle (painter->cr, place.x, place.y, shape->tip);
      trammel_painter_fill (painter, trammel_color_mix (face, painter->palette->ground, 0.45));
      trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.5), 1);
    }
  trammel_trace_wheel (painter, shape);
  trammel_painter_fill_and_stroke (painter, shape);
  paint_web (painter, shape, place, root - 0.12 * root);
  paint_hub (painter, shape, place, root);
}

static void
paint_roller (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  Place place = place_of (painter, shape);
  TrammelColor edge = trammel_painter_edge (painter, shape), face = trammel_painter_face (painter, shape);
  int knurls = (int)CLAMP (trammel_painter_pixels (painter, 2 * G_PI * shape->radius) / 5, 8, 60);

  trammel_path_circle (cr, place.x, place.y, shape->radius);
  trammel_painter_fill_and_stroke (painter, shape);
  for (int i = 0; i < knurls; i++)
    {
      double angle = place.rotation + 2 * G_PI * i / knurls;
      cairo_move_to (cr, place.x + shape->radius * cos (angle), place.y + shape->radius * sin (angle));
      cairo_line_to (cr, place.x + 0.88 * shape->radius * cos (angle), place.y + 0.88 * shape->radius * sin (angle));
    }
  trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.25), 0.8);
  trammel_path_circle (cr, place.x, place.y, 0.86 * shape->radius);
  trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.5), 0.8);
  paint_hub (painter, shape, place, 0.7 * shape->radius);
}

void
trammel_paint_wheel (const TrammelPainter *painter, const TrammelShape *shape)
{
  switch (shape->kind)
    {
    case TRAMMEL_SHAPE_RING:
      paint_ring (painter, shape);
      break;
    case TRAMMEL_SHAPE_BEVEL_FACE:
      paint_bevel_face (painter, shape);
      break;
    case TRAMMEL_SHAPE_PULLEY:
    case TRAMMEL_SHAPE_SPROCKET:
      paint_pulley (painter, shape);
      break;
    case TRAMMEL_SHAPE_ROLLER:
      paint_roller (painter, shape);
      break;
    default:
      paint_gear (painter, shape);
      break;
    }
}

/* Arms from the middle to the pins of the planets. */
void
trammel_paint_carrier (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  Place place = place_of (painter, shape);
  TrammelColor edge = trammel_painter_edge (painter, shape), face = trammel_painter_face (painter, shape);
  double pin = MIN (1.2 * shape->shaft, 0.12 * shape->radius), half = 1.7 * pin;

  cairo_save (cr);
  cairo_set_line_cap (cr, CAIRO_LINE_CAP_ROUND);
  for (int pass = 0; pass < 2; pass++)
    {
      for (int i = 0; i < shape->arms; i++)
        {
          int step = (int)round ((double)shape->teeth * i / shape->arms);
          double angle = place.rotation + 2 * G_PI * step / shape->teeth;
          cairo_move_to (cr, place.x, place.y);
          cairo_line_to (cr, place.x + shape->radius * cos (angle), place.y + shape->radius * sin (angle));
        }
      trammel_color_set (cr, pass ? trammel_color_mix (face, edge, 0.14) : edge, 1);
      cairo_set_line_width (cr, 2 * half - (pass ? 2 / painter->scale : 0));
      cairo_stroke (cr);
    }
  cairo_restore (cr);
  for (int i = 0; i < shape->arms; i++)
    {
      int step = (int)round ((double)shape->teeth * i / shape->arms);
      double angle = place.rotation + 2 * G_PI * step / shape->teeth;
      trammel_path_circle (cr, place.x + shape->radius * cos (angle), place.y + shape->radius * sin (angle), pin);
    }
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.4));
  trammel_painter_stroke (painter, edge, 1);
  if (shape->held)
    {
      trammel_path_circle (cr, place.x, place.y, 1.6 * half);
      trammel_painter_fill (painter, face);
      trammel_painter_hatch (painter, shape);
      trammel_painter_stroke (painter, edge, 1);
    }
  paint_hub (painter, shape, place, half);
}
