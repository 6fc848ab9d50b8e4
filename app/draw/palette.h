/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>
#include <glib.h>

G_BEGIN_DECLS

typedef struct
{
  double r, g, b;
} TrammelColor;

/* The colors of a drawing, for light or dark surroundings. Axis colors by the Okabe–Ito palette (M. Okabe & K. Ito,
 * Color Universal Design, 2008): X blue #0072B2, Y vermilion #D55E00, Z green #009E73, feed purple #CC79A7. */
typedef struct
{
  gboolean dark;
  TrammelColor ground; /* behind everything */
  TrammelColor ink;    /* text and main lines */
  TrammelColor faint;  /* grid, pitch circles, dimension lines */
  TrammelColor metal;  /* faces of parts */
  TrammelColor metal_edge;
  TrammelColor mark;    /* selection, attention: Okabe–Ito orange #E69F00 */
  TrammelColor trouble; /* suspects, errors */
} TrammelPalette;

const TrammelPalette *trammel_palette (gboolean dark);
/* The color of an axis: X, Y, Z as above, E and other feed letters purple; others from the rest of the palette; on dark
 * ground lightened until its contrast is at least 4.5:1. */
TrammelColor trammel_palette_axis (const TrammelPalette *palette, char letter);
void trammel_color_set (cairo_t *cr, TrammelColor color, double alpha);

G_END_DECLS
