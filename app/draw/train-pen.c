/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-layout.h"

#include <math.h>

#define LEAST_SIZE 1e-6
#define LARGEST_SIZE 1e5
#define GAP 0.16 /* between parts that stand beside each other, in motor sides */
#define SHAFT 0.06
#define ORDINARY_MODULE 1.0
#define ORDINARY_BELT_PITCH 2.0
#define ORDINARY_TEETH 12

TrammelShape *
trammel_pen_add (TrammelPen *pen, TrammelShapeKind kind)
{
  TrammelShape shape = {
    .kind = kind,
    .part = pen->part,
    .plane = pen->plane,
    .x = pen->x,
    .y = pen->y,
    .turns = pen->turns,
    .shaft = trammel_pen_shaft_radius (pen),
    .id = (int)pen->shapes->len + 1,
    .assumed = pen->assumed,
  };
  g_array_append_val (pen->shapes, shape);
  return &g_array_index (pen->shapes, TrammelShape, pen->shapes->len - 1);
}

double
trammel_pen_shaft_radius (const TrammelPen *pen)
{
  return SHAFT * pen->body;
}

double
trammel_pen_clear_x (const TrammelPen *pen, double up, double down)
{
  double x = pen->x;
  for (guint i = 0; i < pen->shapes->len; i++)
    {
      const TrammelShape *shape = &g_array_index (pen->shapes, TrammelShape, i);
      if (shape->kind == TRAMMEL_SHAPE_CENTER_LINE)
        continue;
      TrammelBox box = trammel_shape_bounds (shape);
      if (box.y1 > pen->y - up && box.y0 < pen->y + down)
        x = MAX (x, box.x1);
    }
  return x + GAP * pen->body;
}

static void
join_views (TrammelPen *pen, double x)
{
  TrammelShape *line = trammel_pen_add (pen, TRAMMEL_SHAPE_CENTER_LINE);
  line->length = x - line->x;
}

void
trammel_pen_see_end (TrammelPen *pen, double reach, double left, gboolean alone)
{
  gboolean taken = pen->crowded || (alone && pen->reach > 0);
  if (!pen->lengthwise && !taken)
    return;

  double x = trammel_pen_clear_x (pen, reach, reach) + left;
  join_views (pen, x);
  pen->x = x;
  pen->reach = 0;
  pen->plane++;
  pen->crowded = pen->lengthwise = FALSE;
}

static void
add_shaft (TrammelPen *pen, double from, double to)
{
  TrammelShape *shaft = trammel_pen_add (pen, TRAMMEL_SHAPE_SHAFT);
  shaft->x = from;
  shaft->length = to - from;
  shaft->radius = shaft->tip = trammel_pen_shaft_radius (pen);
}

/* One shaft to the left edge of what comes, where there is one already. */
static void
lengthen_shaft (TrammelPen *pen, double to)
{
  for (guint i = pen->shapes->len; i > 0; i--)
    {
      TrammelShape *shape = &g_array_index (pen->shapes, TrammelShape, i - 1);
      if (shape->kind != TRAMMEL_SHAPE_SHAFT || shape->y != pen->y
          || fabs (shape->x + shape->length - pen->x) > 1e-9 * pen->body)
        continue;
      shape->length = to - shape->x;
      return;
    }
  add_shaft (pen, pen->x, to);
}

void
trammel_pen_see_length (TrammelPen *pen, double up, double down, double back)
{
  double least = 2 * GAP * pen->body;
  if (pen->lengthwise)
    {
      double x = MAX (pen->x + least, trammel_pen_clear_x (pen, up, down) + back);
      lengthen_shaft (pen, x);
      pen->x = x;
      return;
    }
  double start = trammel_pen_clear_x (pen, MIN (up, 0.1 * pen->body), MIN (down, 0.1 * pen->body));
  double x = MAX (start + least, trammel_pen_clear_x (pen, up, down) + back);
  join_views (pen, start);
  pen->plane++;
  add_shaft (pen, start, x);
  pen->x = x;
  pen->lengthwise = TRUE;
  pen->crowded = FALSE;
  pen->reach = 0;
}

void
trammel_pen_step_to (TrammelPen *pen, double x, double y, double reach)
{
  pen->x = x;
  pen->y = y;
  pen->reach = reach;
}

/* Legs of `run` steps, up and down in turn, the first one half as long, so that the whole stays about one line. */
double
trammel_pen_next_angle (TrammelPen *pen)
{
  int leg = (pen->step + pen->run / 2) / pen->run;
  pen->step++;
  return leg % 2 ? pen->slope : -pen->slope;
}

void
trammel_pen_choose_plane (TrammelPen *pen, double radius)
{
  if (pen->reach > 0)
    pen->plane += radius <= pen->reach ? 1 : -1;
  pen->reach = MAX (pen->reach, radius);
}

static double
size_or (TrammelPen *pen, const TrammelRecord *record, const char *key, double *last, double otherwise)
{
  double size = trammel_record_value (record, key);
  pen->assumed = !(size > 0);
  if (!(size > 0))
    size = isnan (*last) ? otherwise : *last;
  else
    *last = size;
  return CLAMP (size, LEAST_SIZE, LARGEST_SIZE);
}

double
trammel_pen_module (TrammelPen *pen, const TrammelRecord *record)
{
  return size_or (pen, record, "module", &pen->module, ORDINARY_MODULE);
}

double
trammel_pen_belt_pitch (TrammelPen *pen, const TrammelRecord *record)
{
  return size_or (pen, record, "pitch", &pen->belt_pitch, ORDINARY_BELT_PITCH);
}

int
trammel_teeth (const TrammelRecord *record, const char *key)
{
  gint64 teeth = trammel_record_integer (record, key);
  return teeth > 0 ? (int)teeth : ORDINARY_TEETH;
}

TrammelShape *
trammel_pen_add_gear (TrammelPen *pen, int teeth, double module)
{
  TrammelShape *gear = trammel_pen_add (pen, TRAMMEL_SHAPE_GEAR);
  gear->teeth = teeth;
  gear->form = trammel_tooth_form (teeth);
  gear->module = module;
  gear->radius = teeth * module / 2;
  gear->tip = gear->radius + TRAMMEL_GEAR_ADDENDUM * module;
  gear->label = g_strdup_printf ("%d", teeth);
  return gear;
}

TrammelShape *
trammel_pen_add_pulley (TrammelPen *pen, int teeth, double pitch)
{
  TrammelShape *pulley = trammel_pen_add (pen, TRAMMEL_SHAPE_PULLEY);
  pulley->teeth = teeth;
  pulley->module = pitch;
  pulley->radius = teeth * pitch / (2 * G_PI);
  pulley->tip = pulley->radius + 0.55 * pitch;
  pulley->label = g_strdup_printf ("%d", teeth);
  return pulley;
}

double
trammel_loop_normal (const TrammelShape *loop)
{
  double dx = loop->x2 - loop->x, dy = loop->y2 - loop->y;
  double difference = loop->crossed ? loop->radius + loop->radius2 : loop->radius - loop->radius2;
  return atan2 (dy, dx) - acos (CLAMP (difference / hypot (dx, dy), -1, 1));
}

double
trammel_loop_straight (const TrammelShape *loop)
{
  double distance = hypot (loop->x2 - loop->x, loop->y2 - loop->y);
  double difference = loop->crossed ? loop->radius + loop->radius2 : loop->radius - loop->radius2;
  return sqrt (MAX (distance * distance - difference * difference, 0));
}
