/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"

G_BEGIN_DECLS

/* One line of text in a drawing. A plain value; fields left 0 are ordinary: upright text to the right of and below the
 * point. */
typedef struct
{
  const char *font; /* (nullable): as Pango reads it, "Cantarell 14px"; NULL: "Sans 12px" */
  double scale;     /* of the font's size; 0: 1 */
  gboolean bold;
  double xalign, yalign;    /* the place in the text's box that lies at the point: 0, 0 upper left, 1, 1 lower right */
  double angle;             /* rad, clockwise, about the point */
  const TrammelColor *halo; /* (nullable): painted around the letters, so that lines behind do not disturb */
} TrammelLabel;

/* Paints @text with the source of @cr at (@x, @y), in units of @cr. */
void trammel_label_paint (cairo_t *cr, const TrammelLabel *label, const char *text, double x, double y);
/* Width and height of the text's box; either may be NULL. */
void trammel_label_size (cairo_t *cr, const TrammelLabel *label, const char *text, double *width, double *height);
/* Height of a line, in units of @cr. */
double trammel_label_line (cairo_t *cr, const TrammelLabel *label);

G_END_DECLS
