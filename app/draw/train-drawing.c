/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-drawing.h"

#include <glib-object.h>
#include <math.h>

#include "draw/train-paint.h"

#define SIDE_MARGIN 16.0
#define TOP_MARGIN 26.0     /* room for the arrow over a carriage */
#define TROUBLE_MARGIN 60.0 /* and for a message above it */
#define BOTTOM_MARGIN 32.0  /* room for the scale bar */
#define DIMENSION_MARGIN 30.0
#define SMALL_MARGIN 2.0
#define SLACK_PIXELS 4.0
#define OUT_OF_SIGHT_PIXELS 30.0 /* what is drawn beside a shape reaches no farther */
#define MARK_PIXELS 2.2

struct _TrammelTrainDrawing
{
  TrammelLayout *layout;
  GHashTable *texts; /* of PangoLayout, by font and text */
};

TrammelTrainDrawing *
trammel_train_drawing_new (const TrammelTrain *train, double travel, const TrammelUnit *unit)
{
  g_return_val_if_fail (train != NULL, NULL);

  TrammelTrainDrawing *drawing = g_new0 (TrammelTrainDrawing, 1);
  drawing->layout = trammel_layout_new (train, travel > 0 && isfinite (travel) ? travel : NAN,
                                        unit ? unit : trammel_unit_base (TRAMMEL_DIMENSION_LENGTH));
  drawing->texts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  return drawing;
}

void
trammel_train_drawing_free (TrammelTrainDrawing *drawing)
{
  if (!drawing)
    return;
  trammel_layout_free (drawing->layout);
  g_hash_table_unref (drawing->texts);
  g_free (drawing);
}

void
trammel_train_drawing_extent (const TrammelTrainDrawing *drawing, double *x, double *y, double *width, double *height)
{
  g_return_if_fail (drawing != NULL);

  TrammelBox box = drawing->layout->box;
  if (x)
    *x = box.x0;
  if (y)
    *y = box.y0;
  if (width)
    *width = box.x1 - box.x0;
  if (height)
    *height = box.y1 - box.y0;
}

/* The whole box, as large as it fits, in the middle; then zoomed and moved. */
static TrammelView
view_of (const TrammelTrainDrawing *drawing, const TrammelTrainPicture *picture)
{
  TrammelBox box = drawing->layout->box;
  double more = picture->dimensions ? DIMENSION_MARGIN : 0;
  double side = SIDE_MARGIN + more, bottom = BOTTOM_MARGIN + more;
  double top = (drawing->layout->trouble ? TROUBLE_MARGIN : TOP_MARGIN) + more;
  if (picture->small)
    side = top = bottom = SMALL_MARGIN;
  double wide = MAX (picture->width - 2 * side, 8), high = MAX (picture->height - top - bottom, 8);
  double zoom = picture->zoom > 0 ? picture->zoom : 1;
  TrammelView view = { .width = picture->width, .height = picture->height };

  view.scale = zoom * MIN (wide / (box.x1 - box.x0), high / (box.y1 - box.y0));
  view.origin_x = picture->width / 2 - view.scale * ((box.x0 + box.x1) / 2 + picture->pan_x);
  view.origin_y = top + high / 2 - view.scale * ((box.y0 + box.y1) / 2 + picture->pan_y);
  return view;
}

/* The middle of the picture stays within the box of the parts. */
static void
keep_in_sight (const TrammelTrainDrawing *drawing, TrammelTrainPicture *picture)
{
  TrammelBox box = drawing->layout->box;
  double x = (box.x1 - box.x0) / 2, y = (box.y1 - box.y0) / 2;
  picture->pan_x = CLAMP (picture->pan_x, -x, x);
  picture->pan_y = CLAMP (picture->pan_y, -y, y);
}

void
trammel_train_drawing_zoom (const TrammelTrainDrawing *drawing, TrammelTrainPicture *picture, double factor, double x,
                            double y)
{
  g_return_if_fail (drawing != NULL && picture != NULL && factor > 0);

  double zoom = CLAMP ((picture->zoom > 0 ? picture->zoom : 1) * factor, TRAMMEL_LEAST_ZOOM, TRAMMEL_MOST_ZOOM);
  TrammelView before = view_of (drawing, picture);
  picture->zoom = zoom;
  TrammelView after = view_of (drawing, picture);
  picture->pan_x += (x - before.origin_x) / before.scale - (x - after.origin_x) / after.scale;
  picture->pan_y += (y - before.origin_y) / before.scale - (y - after.origin_y) / after.scale;
  keep_in_sight (drawing, picture);
}

void
trammel_train_drawing_move (const TrammelTrainDrawing *drawing, TrammelTrainPicture *picture, double dx, double dy)
{
  g_return_if_fail (drawing != NULL && picture != NULL);

  TrammelView view = view_of (drawing, picture);
  picture->pan_x -= dx / view.scale;
  picture->pan_y -= dy / view.scale;
  keep_in_sight (drawing, picture);
}

typedef struct
{
  void (*paint) (const TrammelPainter *painter, const TrammelShape *shape);
  void (*trace) (const TrammelPainter *painter, const TrammelShape *shape);
} ShapePainting;

static const ShapePainting paintings[TRAMMEL_N_SHAPES] = {
  [TRAMMEL_SHAPE_MOTOR_FACE] = { trammel_paint_motor_face, trammel_trace_body },
  [TRAMMEL_SHAPE_MOTOR_SIDE] = { trammel_paint_motor_side, trammel_trace_body },
  [TRAMMEL_SHAPE_GEAR] = { trammel_paint_wheel, trammel_trace_wheel },
  [TRAMMEL_SHAPE_RING] = { trammel_paint_wheel, trammel_trace_wheel },
  [TRAMMEL_SHAPE_BEVEL_FACE] = { trammel_paint_wheel, trammel_trace_wheel },
  [TRAMMEL_SHAPE_BEVEL_SIDE] = { trammel_paint_bevel_side, trammel_trace_body },
  [TRAMMEL_SHAPE_CARRIER] = { trammel_paint_carrier, NULL },
  [TRAMMEL_SHAPE_PULLEY] = { trammel_paint_wheel, trammel_trace_wheel },
  [TRAMMEL_SHAPE_SPROCKET] = { trammel_paint_wheel, trammel_trace_wheel },
  [TRAMMEL_SHAPE_BELT] = { trammel_paint_belt, trammel_trace_loop },
  [TRAMMEL_SHAPE_CHAIN] = { trammel_paint_chain, trammel_trace_loop },
  [TRAMMEL_SHAPE_FALL_BELT] = { trammel_paint_belt, trammel_trace_loop },
  [TRAMMEL_SHAPE_SHAFT] = { trammel_paint_shaft, NULL },
  [TRAMMEL_SHAPE_THREAD] = { trammel_paint_thread, trammel_trace_body },
  [TRAMMEL_SHAPE_BEARING] = { trammel_paint_bearing, NULL },
  [TRAMMEL_SHAPE_LINK] = { trammel_paint_link, trammel_trace_body },
  [TRAMMEL_SHAPE_NUT] = { trammel_paint_nut, trammel_trace_body },
  [TRAMMEL_SHAPE_RACK] = { trammel_paint_rack, trammel_trace_body },
  [TRAMMEL_SHAPE_GEARBOX] = { trammel_paint_gearbox, trammel_trace_body },
  [TRAMMEL_SHAPE_COUPLING] = { trammel_paint_coupling, trammel_trace_body },
  [TRAMMEL_SHAPE_ROLLER] = { trammel_paint_wheel, trammel_trace_wheel },
  [TRAMMEL_SHAPE_STRIP] = { trammel_paint_strip, trammel_trace_body },
  [TRAMMEL_SHAPE_TABLE] = { trammel_paint_table, trammel_trace_wheel },
  [TRAMMEL_SHAPE_CARRIAGE] = { trammel_paint_carriage, trammel_trace_body },
  [TRAMMEL_SHAPE_CENTER_LINE] = { trammel_paint_center_line, NULL },
};

static const TrammelShape *
shape_at (const TrammelTrainDrawing *drawing, guint i)
{
  return &g_array_index (drawing->layout->shapes, TrammelShape, i);
}

static int
nearest_plane (const TrammelTrainDrawing *drawing)
{
  int nearest = -G_MAXINT / 2;
  for (guint i = 0; i < drawing->layout->shapes->len; i++)
    if (trammel_shape_is_round (shape_at (drawing, i)))
      nearest = MAX (nearest, shape_at (drawing, i)->plane);
  return nearest;
}

static void
mark_part (const TrammelTrainDrawing *drawing, const TrammelPainter *painter, int part)
{
  for (guint i = 0; i < drawing->layout->shapes->len; i++)
    {
      const TrammelShape *shape = shape_at (drawing, i);
      if (shape->part != part || !paintings[shape->kind].trace)
        continue;
      paintings[shape->kind].trace (painter, shape);
      trammel_painter_stroke (painter, painter->palette->mark, MARK_PIXELS);
    }
}

static gboolean
is_in_sight (const TrammelShape *shape, const TrammelView *view)
{
  TrammelBox box = trammel_shape_bounds (shape);
  double slack = OUT_OF_SIGHT_PIXELS;
  return view->origin_x + box.x0 * view->scale < view->width + slack && view->origin_x + box.x1 * view->scale > -slack
         && view->origin_y + box.y0 * view->scale < view->height + slack
         && view->origin_y + box.y1 * view->scale > -slack;
}

void
trammel_train_drawing_paint (TrammelTrainDrawing *drawing, cairo_t *cr, const TrammelTrainPicture *picture)
{
  g_return_if_fail (drawing != NULL && cr != NULL && picture != NULL && picture->palette != NULL);

  TrammelView view = view_of (drawing, picture);
  TrammelPainter painter = {
    .cr = cr,
    .palette = picture->palette,
    .accent = trammel_palette_axis (picture->palette, picture->axis_letter),
    .letter = picture->axis_letter,
    .scale = view.scale,
    .turns = isfinite (picture->motor_turns) ? picture->motor_turns : 0,
    .front = nearest_plane (drawing),
  };

  cairo_save (cr);
  cairo_new_path (cr);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_MITER); /* rounded joins take three times as long */
  cairo_set_miter_limit (cr, 3);
  cairo_set_tolerance (cr, 0.2); /* pixels, twice the usual: circles of half as many lines */
  cairo_translate (cr, view.origin_x, view.origin_y);
  cairo_scale (cr, view.scale, view.scale);
  for (guint i = 0; i < drawing->layout->shapes->len; i++)
    if (is_in_sight (shape_at (drawing, i), &view))
      paintings[shape_at (drawing, i)->kind].paint (&painter, shape_at (drawing, i));
  if (picture->selected_part >= 0)
    mark_part (drawing, &painter, picture->selected_part);
  cairo_restore (cr);
  if (picture->small)
    return;

  cairo_save (cr);
  trammel_paint_notes (&painter, drawing->layout, &view, picture->dimensions, drawing->texts);
  cairo_restore (cr);
}

static int
part_hit (const TrammelTrainDrawing *drawing, gboolean anywhere, double x, double y, double slack)
{
  for (guint i = drawing->layout->shapes->len; i > 0; i--)
    if (trammel_shape_contains (shape_at (drawing, i - 1), anywhere, x, y, slack))
      return shape_at (drawing, i - 1)->part;
  return -1;
}

int
trammel_train_drawing_part_at (const TrammelTrainDrawing *drawing, const TrammelTrainPicture *picture, double x,
                               double y)
{
  g_return_val_if_fail (drawing != NULL && picture != NULL, -1);

  TrammelView view = view_of (drawing, picture);
  double at_x = (x - view.origin_x) / view.scale, at_y = (y - view.origin_y) / view.scale;
  int part = part_hit (drawing, FALSE, at_x, at_y, 0);
  if (part < 0)
    part = part_hit (drawing, FALSE, at_x, at_y, SLACK_PIXELS / view.scale);
  return part >= 0 ? part : part_hit (drawing, TRUE, at_x, at_y, 0);
}
