/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/piece-drawing.h"

G_BEGIN_DECLS

/* A reading that is not of the piece: the carriage on its rail, or a part with the faces that are measured. */
void trammel_piece_sketch (cairo_t *cr, double width, double height, const TrammelPalette *palette,
                           const TrammelPieceLook *look);

/* The number of a dimension, with its unit when @with_unit: at most 3 decimals (4 in inches), as few as needed. NULL
 * @unit: degrees. */
char *trammel_piece_length_text (double mm, const TrammelUnit *unit, gboolean with_unit);

/* Which way X and Y run, from (@x, @y). */
void trammel_piece_axes (cairo_t *cr, double x, double y, const TrammelPalette *palette, const char *font);

/* The pieces themselves, and what of them is near a place; as trammel_piece_paint() and trammel_piece_feature_at(). */
void trammel_square_drawing_paint (cairo_t *cr, double width, double height, const TrammelSquare *square,
                                   const TrammelPalette *palette, const TrammelPieceLook *look);
const TrammelFeature *trammel_square_drawing_feature_at (const TrammelSquare *square, double width, double height,
                                                         double x, double y);
void trammel_ladder_drawing_paint (cairo_t *cr, double width, double height, const TrammelLadder *ladder,
                                   const TrammelPalette *palette, const TrammelPieceLook *look);
const TrammelFeature *trammel_ladder_drawing_feature_at (const TrammelLadder *ladder, double width, double height,
                                                         double x, double y);

/* A mark that shows where a jaw or a tip touches: its tip at (@x, @y), it presses towards @angle. */
void trammel_piece_jaw (cairo_t *cr, double x, double y, double angle, const TrammelPalette *palette);

G_END_DECLS
