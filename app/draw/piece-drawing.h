/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"
#include "gcode/test-piece.h"

G_BEGIN_DECLS

/* What is measured, and where: the test piece from above with its dimensions, its heights from the side; for readings
 * that are not of the piece a sketch of the axis or of a part. */
typedef struct
{
  const TrammelFeature
      *feature; /* (nullable): of the piece, whose dimension is drawn in full, with marks where the jaws go */
  const TrammelReading *reading; /* (nullable): drawn as a sketch when there is no @feature */
  const TrammelUnit *unit;       /* of the dimensions: mm or in; NULL: degrees */
  gboolean all_dimensions;       /* the other ones too, faint */
  const char *font;              /* (nullable): as Pango reads it, "Cantarell 14px" */
} TrammelPieceLook;

/**
 * trammel_piece_paint:
 * @width, @height: of the picture, in units of @cr (pixels)
 * @piece: (nullable): without it, and without a reading, nothing is painted
 *
 * Does not paint the ground (the palette's ground is assumed).
 */
void trammel_piece_paint (cairo_t *cr, double width, double height, const TrammelTestPiece *piece,
                          const TrammelPalette *palette, const TrammelPieceLook *look);

/* The feature of @piece whose dimension is near (@x, @y) of a picture of that size; NULL: none. */
const TrammelFeature *trammel_piece_feature_at (const TrammelTestPiece *piece, double width, double height, double x,
                                                double y);

/* The reading in words, translated: "Outside along X, 100 mm". @unit as above. (transfer full) */
char *trammel_piece_reading_to_words (const TrammelReading *reading, const TrammelUnit *unit);

G_END_DECLS
