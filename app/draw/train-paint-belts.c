/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-paint.h"

#include <math.h>

#define TOOTH_HEIGHT 0.37 /* of the pitch; the back is as thick */
#define LEAST_PITCH_PIXELS 2.5
#define MARK_PIXELS 14.0

/* Once around at @out beyond the pitch line, clockwise on the first wheel, from where it leaves that. */
static void
trace_round (const TrammelPainter *painter, const TrammelShape *loop, double out)
{
  cairo_t *cr = painter->cr;
  double toward = atan2 (loop->y2 - loop->y, loop->x2 - loop->x), leaves = trammel_loop_normal (loop);
  double enters = 2 * toward - leaves, a = loop->radius + out, b = loop->radius2 + out;

  cairo_new_sub_path (cr);
  cairo_move_to (cr, loop->x + a * cos (leaves), loop->y + a * sin (leaves));
  if (loop->crossed)
    cairo_arc_negative (cr, loop->x2, loop->y2, b, leaves + G_PI, enters - G_PI);
  else
    cairo_arc (cr, loop->x2, loop->y2, b, leaves, enters);
  cairo_arc (cr, loop->x, loop->y, a, enters, leaves + 2 * G_PI);
  cairo_close_path (cr);
}

typedef struct
{
  double left, right; /* centers of the moving pulleys */
  double y, radius;
} Moving;

static Moving
moving_pulleys (const TrammelPainter *painter, const TrammelShape *loop)
{
  double middle = loop->middle + trammel_shape_slide (loop, painter->turns), half = loop->length / 2 - 1.15 * loop->tip;
  return (Moving){ middle - half, middle + half, loop->y - loop->radius - loop->tip, loop->tip };
}

/* From the anchor at the right, over the carriage's pulleys and the fixed ones, to the anchor at the left. The belt
 * does not move along this path: the path moves. */
static void
trace_fall (const TrammelPainter *painter, const TrammelShape *loop, double out)
{
  cairo_t *cr = painter->cr;
  Moving moving = moving_pulleys (painter, loop);
  double a = loop->radius + out, m = moving.radius - out;

  cairo_new_sub_path (cr);
  cairo_move_to (cr, loop->x2 + loop->radius, moving.y - m);
  cairo_arc_negative (cr, moving.right, moving.y, m, 3 * G_PI / 2, G_PI / 2);
  cairo_arc (cr, loop->x2, loop->y, a, -G_PI / 2, G_PI / 2);
  cairo_arc (cr, loop->x, loop->y, a, G_PI / 2, 3 * G_PI / 2);
  cairo_arc_negative (cr, moving.left, moving.y, m, G_PI / 2, -G_PI / 2);
  cairo_line_to (cr, loop->x - loop->radius, moving.y - m);
}

/* Length of that path up to the top of the driving pulley. */
static double
fall_length_to_driver (const TrammelPainter *painter, const TrammelShape *loop)
{
  Moving moving = moving_pulleys (painter, loop);
  double distance = loop->x2 - loop->x;
  return (loop->x2 + loop->radius - moving.right) + G_PI * moving.radius + (loop->x2 - moving.right)
         + 2 * G_PI * loop->radius + distance;
}

static void
trace_belt (const TrammelPainter *painter, const TrammelShape *loop, double out)
{
  if (loop->kind == TRAMMEL_SHAPE_FALL_BELT)
    trace_fall (painter, loop, out);
  else
    trace_round (painter, loop, out);
}

void
trammel_trace_loop (const TrammelPainter *painter, const TrammelShape *shape)
{
  trace_belt (painter, shape, shape->crossed ? 0 : TOOTH_HEIGHT * shape->module / 2);
}

static TrammelColor
rubber (const TrammelPainter *painter)
{
  return trammel_color_mix (painter->palette->ink, painter->palette->ground, 0.28);
}

/* How far along the path the first tooth of the belt lies: where the driver has a groove. */
static double
first_tooth (const TrammelPainter *painter, const TrammelShape *loop)
{
  double rotation = trammel_shape_rotation (loop, painter->turns);
  double at = loop->kind == TRAMMEL_SHAPE_FALL_BELT ? -G_PI / 2 : trammel_loop_normal (loop);
  double along = loop->kind == TRAMMEL_SHAPE_FALL_BELT ? fall_length_to_driver (painter, loop) : 0;
  double place = (at - rotation) * loop->teeth / (2 * G_PI);
  return along + (0.5 - place) * loop->module;
}

static void
stroke_dashed (const TrammelPainter *painter, TrammelColor color, double width, double on, double off, double center)
{
  double dash[] = { on, off }, period = on + off;
  double offset = fmod (on / 2 - center, period);

  cairo_save (painter->cr);
  cairo_set_dash (painter->cr, dash, 2, offset < 0 ? offset + period : offset);
  trammel_color_set (painter->cr, color, 1);
  cairo_set_line_width (painter->cr, width);
  cairo_stroke (painter->cr);
  cairo_restore (painter->cr);
}

/* Lighter marks that show a smooth belt moving, a whole number of them. */
static void
paint_smooth (const TrammelPainter *painter, const TrammelShape *loop)
{
  double width = MAX (0.5 * loop->module, 2.5 / painter->scale);
  double length = 2 * trammel_loop_straight (loop) + 2 * G_PI * (loop->radius + loop->radius2);
  double period = length / MAX (1, round (trammel_painter_pixels (painter, length) / MARK_PIXELS));
  double moved = trammel_shape_rotation (loop, painter->turns) * loop->radius;

  trace_belt (painter, loop, 0);
  trammel_color_set (painter->cr, rubber (painter), 1);
  cairo_set_line_width (painter->cr, width);
  cairo_stroke (painter->cr);
  trace_belt (painter, loop, 0);
  stroke_dashed (painter, trammel_color_mix (rubber (painter), painter->palette->ground, 0.5), 0.4 * width,
                 0.3 * period, 0.7 * period, moved);
}

static void
paint_fall_parts (const TrammelPainter *painter, const TrammelShape *loop)
{
  cairo_t *cr = painter->cr;
  Moving moving = moving_pulleys (painter, loop);
  double half = 1.1 * MAX (loop->module, 3 / painter->scale), top = moving.y - moving.radius;

  for (int i = 0; i < 2; i++)
    {
      trammel_path_circle (cr, i ? moving.left : moving.right, moving.y, moving.radius);
      trammel_painter_fill_and_stroke (painter, loop);
      double x = i ? loop->x - loop->radius : loop->x2 + loop->radius;
      trammel_path_box (cr, x - half, top - half, x + half, top + half, half / 3);
      trammel_painter_fill_and_stroke (painter, loop);
    }
}

void
trammel_paint_belt (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double pitch = shape->module, height = TOOTH_HEIGHT * pitch;
  gboolean toothed = !shape->crossed && trammel_painter_pixels (painter, pitch) > LEAST_PITCH_PIXELS;

  if (shape->kind == TRAMMEL_SHAPE_FALL_BELT)
    paint_fall_parts (painter, shape);
  if (shape->crossed || !toothed)
    {
      paint_smooth (painter, shape);
      return;
    }
  trace_belt (painter, shape, 0);
  stroke_dashed (painter, rubber (painter), 2 * height, 0.46 * pitch, 0.54 * pitch, first_tooth (painter, shape));
  trace_belt (painter, shape, height / 2);
  trammel_color_set (cr, rubber (painter), 1);
  cairo_set_line_width (cr, height);
  cairo_stroke (cr);
}

/* Outer and inner plates in turn, and a roller at each pitch. */
void
trammel_paint_chain (const TrammelPainter *painter, const TrammelShape *shape)
{
  double pitch = shape->module, at = first_tooth (painter, shape);
  TrammelColor plate = trammel_color_mix (painter->palette->metal_edge, painter->palette->ground, 0.15);

  if (trammel_painter_pixels (painter, pitch) < LEAST_PITCH_PIXELS)
    {
      paint_smooth (painter, shape);
      return;
    }
  cairo_save (painter->cr);
  trace_belt (painter, shape, 0);
  trammel_color_set (painter->cr, plate, 1);
  cairo_set_line_width (painter->cr, 0.3 * pitch);
  cairo_stroke (painter->cr);
  cairo_set_line_cap (painter->cr, CAIRO_LINE_CAP_ROUND);
  trace_belt (painter, shape, 0);
  stroke_dashed (painter, plate, 0.52 * pitch, pitch, pitch, at + pitch / 2);
  trace_belt (painter, shape, 0);
  stroke_dashed (painter, trammel_color_mix (plate, painter->palette->ground, 0.75), 0.24 * pitch, 0.001 * pitch,
                 0.999 * pitch, at);
  cairo_restore (painter->cr);
}
