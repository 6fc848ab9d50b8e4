/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"
#include "draw/train-layout.h"

G_BEGIN_DECLS

/* Inside of the drawing of a train: how its parts are painted. The context is scaled to mm; line widths and what is
 * told in pixels go through `scale`. */
typedef struct
{
  cairo_t *cr;
  const TrammelPalette *palette;
  TrammelColor accent;
  char letter;
  double scale; /* pixels per mm */
  double turns; /* of the motor */
  int front;    /* plane of the nearest wheel */
} TrammelPainter;

/* Tones: what is farther is nearer to the ground. */
TrammelColor trammel_painter_face (const TrammelPainter *painter, const TrammelShape *shape);
TrammelColor trammel_painter_edge (const TrammelPainter *painter, const TrammelShape *shape);
/* The face in shadow: recesses, flanks, holes. */
TrammelColor trammel_painter_shade (const TrammelPainter *painter, const TrammelShape *shape, double depth);
TrammelColor trammel_color_mix (TrammelColor from, TrammelColor to, double part);
/* Fills the path and keeps it; strokes the path with a line of so many pixels and drops it. */
void trammel_painter_fill (const TrammelPainter *painter, TrammelColor color);
void trammel_painter_stroke (const TrammelPainter *painter, TrammelColor color, double pixels);
void trammel_painter_fill_and_stroke (const TrammelPainter *painter, const TrammelShape *shape);
/* A disc with an edge a pixel wide, as two fills: several times faster than a fill and a stroke. The path is empty
 * afterwards. */
void trammel_painter_disc (const TrammelPainter *painter, double x, double y, double radius, TrammelColor face,
                           TrammelColor edge);
/* Fills the path with hatching, as what is held is drawn, and keeps it. */
void trammel_painter_hatch (const TrammelPainter *painter, const TrammelShape *shape);
double trammel_painter_pixels (const TrammelPainter *painter, double length);

void trammel_path_circle (cairo_t *cr, double x, double y, double radius);
void trammel_path_box (cairo_t *cr, double x0, double y0, double x1, double y1, double corner);

/* The outline of a shape as a path; for painting it and for marking it. */
void trammel_trace_wheel (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_trace_loop (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_trace_body (const TrammelPainter *painter, const TrammelShape *shape);

void trammel_paint_wheel (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_bevel_side (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_carrier (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_belt (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_chain (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_shaft (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_thread (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_rack (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_motor_face (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_motor_side (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_bearing (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_link (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_nut (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_carriage (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_gearbox (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_coupling (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_strip (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_table (const TrammelPainter *painter, const TrammelShape *shape);
void trammel_paint_center_line (const TrammelPainter *painter, const TrammelShape *shape);

/* Texts, arrows and the scale bar, in pixels: (x, y) mm is at (x·scale + origin_x, …). */
typedef struct
{
  double origin_x, origin_y, scale;
  double width, height;
} TrammelView;

void trammel_paint_notes (const TrammelPainter *painter, const TrammelLayout *layout, const TrammelView *view,
                          gboolean dimensions, GHashTable *texts);

G_END_DECLS
