/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-shape.h"

#include <math.h>

/* Whole turns are dropped first, so that the angle stays good after a million turns. */
static double
angle_after (double turns_per_motor_turn, double motor_turns)
{
  return 2 * G_PI * fmod (turns_per_motor_turn * motor_turns, 1);
}

double
trammel_shape_rotation (const TrammelShape *shape, double turns)
{
  return shape->rest + angle_after (shape->turns, turns);
}

double
trammel_shape_slide (const TrammelShape *shape, double turns)
{
  double slide = shape->slide * turns;
  if (!(shape->window > 0))
    return 0;
  return slide - shape->window * floor (slide / shape->window + 0.5);
}

void
trammel_shape_center (const TrammelShape *shape, double turns, double *x, double *y)
{
  double angle = shape->orbit_rest + angle_after (shape->orbit_turns, turns);
  *x = shape->x + shape->orbit * cos (angle) + trammel_shape_slide (shape, turns);
  *y = shape->y + shape->orbit * sin (angle);
}

TrammelPoint *
trammel_shape_rack_teeth (const TrammelShape *shape, double turns, gsize *n)
{
  double pitch = shape->module, module = pitch / G_PI, side = shape->below ? -1 : 1;
  double x = shape->x + trammel_shape_slide (shape, turns), left = x - shape->length / 2 + pitch / 2;
  double tooth = x + shape->rest - pitch * floor ((x + shape->rest - left) / pitch);
  gsize teeth = (gsize)MAX (ceil ((x + shape->length / 2 - pitch / 2 - tooth) / pitch), 0);
  TrammelPoint form[TRAMMEL_RACK_POINTS], *points = g_new (TrammelPoint, teeth * TRAMMEL_RACK_POINTS);

  trammel_involute_rack (shape->form.pressure_angle, shape->form.play, form);
  for (gsize i = 0; i < teeth * TRAMMEL_RACK_POINTS; i++)
    {
      TrammelPoint p = form[i % TRAMMEL_RACK_POINTS];
      points[i] = (TrammelPoint){ tooth + pitch * (double)(i / TRAMMEL_RACK_POINTS) + module * p.x,
                                  shape->y + side * module * p.y };
    }
  *n = teeth * TRAMMEL_RACK_POINTS;
  return points;
}

TrammelThread
trammel_shape_thread (const TrammelShape *shape, double turns)
{
  double height = shape->tip - shape->radius, pitch = shape->module, slope = tan (TRAMMEL_GEAR_USUAL_ANGLE);
  TrammelThread thread = { .x = shape->x, .y = shape->y, .pitch = pitch, .tip = shape->tip };
  thread.lead = (shape->left ? -1 : 1) * pitch * shape->teeth;
  thread.root = MAX (shape->radius - TRAMMEL_GEAR_DEDENDUM * height, 0.3 * shape->radius);
  thread.half_tip = MAX (pitch / 4 - height * slope, 0.1 * pitch);
  thread.half_root = MIN (pitch / 4 + TRAMMEL_GEAR_DEDENDUM * height * slope, 0.42 * pitch);

  double middle = shape->x + shape->length / 2, start = shape->x - fabs (thread.lead) / 2 - pitch;
  double place = middle + thread.lead * trammel_shape_rotation (shape, turns) / (2 * G_PI);
  if (!shape->below)
    place += thread.lead / 2;
  thread.first = place - pitch * floor ((place - start) / pitch);
  return thread;
}

gboolean
trammel_shape_is_round (const TrammelShape *shape)
{
  switch (shape->kind)
    {
    case TRAMMEL_SHAPE_GEAR:
    case TRAMMEL_SHAPE_RING:
    case TRAMMEL_SHAPE_BEVEL_FACE:
    case TRAMMEL_SHAPE_CARRIER:
    case TRAMMEL_SHAPE_PULLEY:
    case TRAMMEL_SHAPE_SPROCKET:
    case TRAMMEL_SHAPE_ROLLER:
    case TRAMMEL_SHAPE_TABLE:
      return TRUE;
    default:
      return FALSE;
    }
}

static gboolean
is_loop (const TrammelShape *shape)
{
  return shape->kind == TRAMMEL_SHAPE_BELT || shape->kind == TRAMMEL_SHAPE_CHAIN
         || shape->kind == TRAMMEL_SHAPE_FALL_BELT;
}

static TrammelBox
around (double x, double y, double half_width, double half_height)
{
  return (TrammelBox){ x - half_width, y - half_height, x + half_width, y + half_height };
}

static TrammelBox
loop_bounds (const TrammelShape *shape)
{
  double thick = shape->module;
  if (shape->kind == TRAMMEL_SHAPE_FALL_BELT)
    thick += 2 * shape->tip; /* the upper run */
  TrammelBox a = around (shape->x, shape->y, shape->radius + thick, shape->radius + thick);
  TrammelBox b = around (shape->x2, shape->y2, shape->radius2 + thick, shape->radius2 + thick);
  return (TrammelBox){ MIN (a.x0, b.x0), MIN (a.y0, b.y0), MAX (a.x1, b.x1), MAX (a.y1, b.y1) };
}

TrammelBox
trammel_shape_bounds (const TrammelShape *shape)
{
  double reach = shape->window / 2;

  if (trammel_shape_is_round (shape))
    return around (shape->x, shape->y, shape->tip + shape->orbit + reach, shape->tip + shape->orbit);
  if (is_loop (shape))
    return loop_bounds (shape);
  switch (shape->kind)
    {
    case TRAMMEL_SHAPE_MOTOR_FACE:
      return around (shape->x, shape->y, shape->radius, shape->radius);
    case TRAMMEL_SHAPE_CARRIAGE:
    case TRAMMEL_SHAPE_NUT:
    case TRAMMEL_SHAPE_RACK:
      return around (shape->x, shape->y, shape->length / 2 + reach, shape->tip);
    case TRAMMEL_SHAPE_BEVEL_SIDE:
      return (TrammelBox){ shape->x + MIN (shape->length, 0), shape->y - shape->tip, shape->x + MAX (shape->length, 0),
                           shape->y + shape->tip };
    default:
      return (TrammelBox){ shape->x, shape->y - shape->tip, shape->x + shape->length, shape->y + shape->tip };
    }
}

static double
distance_to_segment (double x, double y, double ax, double ay, double bx, double by)
{
  double dx = bx - ax, dy = by - ay, square = dx * dx + dy * dy;
  double along = square > 0 ? CLAMP (((x - ax) * dx + (y - ay) * dy) / square, 0, 1) : 0;
  return hypot (x - ax - along * dx, y - ay - along * dy);
}

/* Near the line of centers of a loop, no farther from it than its pulleys reach. */
static gboolean
loop_contains (const TrammelShape *shape, double x, double y, double slack)
{
  double radius = MAX (shape->radius, shape->radius2) + shape->module + slack;
  return distance_to_segment (x, y, shape->x, shape->y, shape->x2, shape->y2) <= radius;
}

gboolean
trammel_shape_contains (const TrammelShape *shape, gboolean anywhere, double x, double y, double slack)
{
  double center_x, center_y;

  if (shape->kind == TRAMMEL_SHAPE_CENTER_LINE)
    return FALSE;
  if (is_loop (shape))
    return loop_contains (shape, x, y, slack);
  trammel_shape_center (shape, 0, &center_x, &center_y);
  if (trammel_shape_is_round (shape))
    return hypot (x - center_x, y - center_y) <= shape->tip + slack;

  TrammelShape at_place = *shape;
  if (!anywhere)
    at_place.window = 0;
  TrammelBox box = trammel_shape_bounds (&at_place);
  return x >= box.x0 - slack && x <= box.x1 + slack && y >= box.y0 - slack && y <= box.y1 + slack;
}
