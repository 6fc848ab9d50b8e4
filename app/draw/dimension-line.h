/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"

G_BEGIN_DECLS

/**
 * TrammelDimensionLine:
 *
 * A dimension in the manner of technical drawings (ISO 129-1): extension lines from the two points, a dimension line
 * with filled arrows, its text above the line and to be read from below or from the right. Where there is no room
 * between the points the arrows come from outside, and a text that is too long stands beside: of a level line beyond
 * its second point. All in units of the cairo_t, y down.
 */
typedef struct
{
  double x0, y0, x1, y1; /* the points */
  double offset;         /* of the dimension line: to the left when looking from the first point to the second */
  const char *text;      /* (nullable) */
  double text_at;        /* along the line, 0 to 1; 0: in the middle */
  TrammelColor color;
  double alpha;    /* 0: 1 */
  gboolean strong; /* the one that matters */
  const char *font;
  const TrammelColor *ground; /* behind the text */
} TrammelDimensionLine;

void trammel_dimension_line_paint (cairo_t *cr, const TrammelDimensionLine *line);

/* A filled arrow head with its tip at (@x, @y), that points at @angle (rad, clockwise from the right), @size long. */
void trammel_dimension_arrow (cairo_t *cr, double x, double y, double angle, double size);

/* Distance of (@x, @y) from the dimension line. */
double trammel_dimension_line_distance (const TrammelDimensionLine *line, double x, double y);

G_END_DECLS
