/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "base/quantity.h"
#include "draw/palette.h"
#include "measure/positions.h"

G_BEGIN_DECLS

/**
 * TrammelPositionPlot:
 *
 * A position test as a picture: over the target, the mean deviation from each side with a band of ± 2 s, as ISO 230-2
 * draws it; before and after the scale error and lash are taken out. Moving up: a full line with upright triangles;
 * moving down: a dashed line with triangles on their points.
 */
typedef struct
{
  char axis;                         /* its color */
  const TrammelUnit *unit;           /* of lengths; NULL along a rotary axis: degrees */
  const TrammelPositions *positions; /* borrowed */
  const char *font;                  /* (nullable): as Pango reads it */
} TrammelPositionPlot;

/* Paints before and after side by side where @width allows, else one above the other; the ground is left as it is.
 * Legible from 300 × 260 pixels. */
void trammel_position_plot_paint (const TrammelPositionPlot *plot, cairo_t *cr, double width, double height,
                                  const TrammelPalette *palette);

/* The picture in words, translated. (transfer full) */
char *trammel_position_plot_to_words (const TrammelPositionPlot *plot);

G_END_DECLS
