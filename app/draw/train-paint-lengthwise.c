/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-paint.h"

#include <math.h>

#define LEAST_PITCH_PIXELS 2.0
#define MOST_THREADS 800
#define MOST_RACK_TEETH 800

/* Where a mark on the side of a lengthwise shaft is, −1 (top) … 1; FALSE when it is on the far side. */
static gboolean
mark_on_side (const TrammelPainter *painter, const TrammelShape *shape, double *across)
{
  double rotation = trammel_shape_rotation (shape, painter->turns);
  *across = -sin (rotation);
  return cos (rotation) > 0;
}

void
trammel_paint_shaft (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double r = shape->radius, across;
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);

  cairo_rectangle (cr, shape->x, shape->y - r, shape->length, 2 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.2));
  cairo_new_path (cr);
  cairo_rectangle (cr, shape->x, shape->y - 0.55 * r, shape->length, 0.5 * r);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.06));
  cairo_new_path (cr);
  cairo_rectangle (cr, shape->x, shape->y - r, shape->length, 2 * r);
  trammel_painter_stroke (painter, edge, 1);
  if (trammel_painter_pixels (painter, r) < 2 || !mark_on_side (painter, shape, &across))
    return;
  double inset = 0.15 * shape->length;
  cairo_move_to (cr, shape->x + inset, shape->y + 0.82 * r * across);
  cairo_line_to (cr, shape->x + shape->length - inset, shape->y + 0.82 * r * across);
  trammel_painter_stroke (painter, edge, 1.2);
}

#define MOST_HELIX_STEPS 20

typedef struct
{
  cairo_t *cr;
  TrammelThread thread;
  int steps; /* of half a turn: enough that it looks smooth */
  double sines[MOST_HELIX_STEPS + 1];
} Helix;

static Helix
helix_of (const TrammelPainter *painter, const TrammelShape *shape)
{
  Helix helix = { .cr = painter->cr, .thread = trammel_shape_thread (shape, painter->turns) };
  helix.steps = (int)CLAMP (trammel_painter_pixels (painter, shape->tip) / 2.5, 4, MOST_HELIX_STEPS);
  for (int i = 0; i <= helix.steps; i++)
    helix.sines[i] = -cos (G_PI * i / helix.steps);
  return helix;
}

/* The visible half of a helix, a sine line, from @x at the lower edge to the upper one, or back from there. */
static void
trace_helix (const Helix *helix, double x, double radius, gboolean up)
{
  const TrammelThread *thread = &helix->thread;
  for (int i = 0; i <= helix->steps; i++)
    {
      int step = up ? i : helix->steps - i;
      cairo_line_to (helix->cr, x - thread->lead / 2 * step / helix->steps, thread->y - radius * helix->sines[step]);
    }
}

/* One thread from the lower edge to the upper one, thinner all round by @less. */
static void
trace_thread_turn (const Helix *helix, double x, double less)
{
  const TrammelThread *thread = &helix->thread;
  cairo_t *cr = helix->cr;
  double top = x - thread->lead / 2, half_root = thread->half_root - less, half_tip = thread->half_tip - less;
  double tip = thread->tip - less;
  cairo_new_sub_path (cr);
  trace_helix (helix, x + half_root, thread->root, TRUE);
  cairo_line_to (cr, top + half_tip, thread->y - tip);
  cairo_line_to (cr, top - half_tip, thread->y - tip);
  trace_helix (helix, x - half_root, thread->root, FALSE);
  cairo_line_to (cr, x - half_tip, thread->y + tip);
  cairo_line_to (cr, x + half_tip, thread->y + tip);
  cairo_close_path (cr);
}

static void
trace_crest (const Helix *helix, double x, double less)
{
  const TrammelThread *thread = &helix->thread;
  double tip = thread->tip - less, half = MAX (thread->half_tip - less, 0.25 * thread->half_tip);
  cairo_new_sub_path (helix->cr);
  trace_helix (helix, x + half, tip, TRUE);
  trace_helix (helix, x - half, tip, FALSE);
  cairo_close_path (helix->cr);
}

/* Edges are what the next fill leaves of the one before; see paint_gear(). */
static void
paint_threads (const TrammelPainter *painter, const TrammelShape *shape, const Helix *helix, double end)
{
  const TrammelThread *thread = &helix->thread;
  double first = thread->first;
  cairo_t *cr = painter->cr;
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);
  double pixels = trammel_painter_pixels (painter, thread->pitch), line = MIN (0.9, 0.08 * pixels) / painter->scale;

  for (double x = first; x < end; x += thread->pitch)
    trace_thread_turn (helix, x, 0);
  trammel_painter_fill (painter, pixels > 8 ? edge : trammel_color_mix (edge, face, 0.35));
  cairo_new_path (cr);
  if (pixels > 8)
    {
      for (double x = first; x < end; x += thread->pitch)
        trace_thread_turn (helix, x, line);
      trammel_painter_fill (painter, trammel_painter_shade (painter, shape, 0.25));
      cairo_new_path (cr);
    }
  for (double x = first; x < end; x += thread->pitch)
    trace_crest (helix, x, line);
  trammel_painter_fill (painter, face);
  cairo_new_path (cr);
}

void
trammel_paint_thread (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  Helix helix = helix_of (painter, shape);
  TrammelThread thread = helix.thread;
  TrammelColor edge = trammel_painter_edge (painter, shape);
  double end = shape->x + shape->length + fabs (thread.lead) / 2 + thread.pitch;
  gboolean visible = trammel_painter_pixels (painter, thread.pitch) >= LEAST_PITCH_PIXELS
                     && (end - thread.first) / thread.pitch < MOST_THREADS;

  cairo_save (cr);
  cairo_rectangle (cr, shape->x, shape->y - (visible ? thread.root : shape->tip), shape->length,
                   2 * (visible ? thread.root : shape->tip));
  trammel_painter_fill (painter, trammel_painter_shade (painter, shape, 0.45));
  trammel_painter_stroke (painter, edge, 1);
  cairo_rectangle (cr, shape->x, shape->y - 2 * shape->tip, shape->length, 4 * shape->tip);
  cairo_clip (cr);
  if (visible)
    paint_threads (painter, shape, &helix, end);
  cairo_restore (cr);
}

static void
trace_rack (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double x = shape->x + trammel_shape_slide (shape, painter->turns), side = shape->below ? 1 : -1;
  double left = x - shape->length / 2, right = x + shape->length / 2, back = shape->y + side * shape->tip;
  double root = shape->y + side * TRAMMEL_GEAR_DEDENDUM * shape->module / G_PI;
  gboolean visible = trammel_painter_pixels (painter, shape->module) >= LEAST_PITCH_PIXELS
                     && shape->length / shape->module < MOST_RACK_TEETH;
  gsize n = 0;
  g_autofree TrammelPoint *teeth = visible ? trammel_shape_rack_teeth (shape, painter->turns, &n) : NULL;

  cairo_move_to (cr, right, root);
  cairo_line_to (cr, right, back);
  cairo_line_to (cr, left, back);
  cairo_line_to (cr, left, root);
  for (gsize i = 0; i < n; i++)
    cairo_line_to (cr, teeth[i].x, teeth[i].y);
  cairo_close_path (cr);
}

void
trammel_paint_rack (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double dash[] = { 4 / painter->scale, 3 / painter->scale };
  double x = shape->x + trammel_shape_slide (shape, painter->turns);

  trace_rack (painter, shape);
  trammel_painter_fill_and_stroke (painter, shape);
  if (trammel_painter_pixels (painter, shape->module) < 6)
    return;
  cairo_save (cr);
  cairo_set_dash (cr, dash, 2, 0);
  cairo_move_to (cr, x - shape->length / 2, shape->y);
  cairo_line_to (cr, x + shape->length / 2, shape->y);
  trammel_painter_stroke (painter, painter->palette->faint, 0.8);
  cairo_restore (cr);
}

/* A cone between its large end at @length from the apex and its small end; teeth as lines toward the apex. */
static void
trace_cone (const TrammelPainter *painter, const TrammelShape *shape, double tall)
{
  double small = 1 - shape->face, sign = shape->length < 0 ? -1 : 1;
  double large_x = shape->x + shape->length, small_x = shape->x + small * shape->length;
  double back = sign * 0.12 * shape->radius;

  cairo_move_to (painter->cr, small_x, shape->y - small * tall);
  cairo_line_to (painter->cr, large_x, shape->y - tall);
  cairo_line_to (painter->cr, large_x + back, shape->y - 0.7 * tall);
  cairo_line_to (painter->cr, large_x + back, shape->y + 0.7 * tall);
  cairo_line_to (painter->cr, large_x, shape->y + tall);
  cairo_line_to (painter->cr, small_x, shape->y + small * tall);
  cairo_close_path (painter->cr);
}

void
trammel_paint_bevel_side (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  TrammelColor face = trammel_painter_face (painter, shape), edge = trammel_painter_edge (painter, shape);
  double rotation = trammel_shape_rotation (shape, painter->turns), small = 1 - shape->face;

  trace_cone (painter, shape, shape->tip);
  trammel_painter_fill_and_stroke (painter, shape);
  double sign = shape->length < 0 ? -1 : 1, back = sign * 0.12 * shape->radius;
  cairo_move_to (cr, shape->x + shape->length, shape->y - shape->tip);
  cairo_line_to (cr, shape->x + shape->length, shape->y + shape->tip);
  cairo_line_to (cr, shape->x + shape->length + back, shape->y + 0.7 * shape->tip);
  cairo_line_to (cr, shape->x + shape->length + back, shape->y - 0.7 * shape->tip);
  cairo_close_path (cr);
  trammel_painter_fill (painter, trammel_color_mix (face, edge, 0.2));
  trammel_painter_stroke (painter, edge, 1);
  if (trammel_painter_pixels (painter, shape->module) < 1 || shape->teeth > 2000)
    return;
  for (int i = 0; i < 2 * shape->teeth; i++)
    {
      double angle = rotation + G_PI * i / shape->teeth, across = -sin (angle);
      if (cos (angle) <= 0)
        continue;
      cairo_move_to (cr, shape->x + small * shape->length, shape->y + small * shape->tip * across);
      cairo_line_to (cr, shape->x + shape->length, shape->y + shape->tip * across);
    }
  trammel_painter_stroke (painter, trammel_color_mix (edge, face, 0.2), 0.8);
}

void
trammel_paint_center_line (const TrammelPainter *painter, const TrammelShape *shape)
{
  cairo_t *cr = painter->cr;
  double dash[] = { 9 / painter->scale, 3 / painter->scale, 2 / painter->scale, 3 / painter->scale };

  cairo_save (cr);
  cairo_set_dash (cr, dash, 4, 0);
  cairo_move_to (cr, shape->x, shape->y);
  cairo_line_to (cr, shape->x + shape->length, shape->y);
  trammel_painter_stroke (painter, trammel_color_mix (painter->palette->ink, painter->palette->ground, 0.35), 1);
  cairo_restore (cr);
}

/* What is seen lengthwise, and the bodies: as boxes. */
void
trammel_trace_body (const TrammelPainter *painter, const TrammelShape *shape)
{
  double slide = trammel_shape_slide (shape, painter->turns);
  TrammelShape at_place = *shape;

  if (shape->kind == TRAMMEL_SHAPE_RACK)
    {
      trace_rack (painter, shape);
      return;
    }
  if (shape->kind == TRAMMEL_SHAPE_BEVEL_SIDE)
    {
      trace_cone (painter, shape, shape->tip);
      return;
    }
  at_place.x += slide;
  at_place.window = 0;
  TrammelBox box = trammel_shape_bounds (&at_place);
  trammel_path_box (painter->cr, box.x0, box.y0, box.x1, box.y1, 0.06 * (box.y1 - box.y0));
}
