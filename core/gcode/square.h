/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/feature.h"
#include "machine/machine.h"

G_BEGIN_DECLS

/* The calibration square: an open frame with a shorter step on each side, so that the piece itself offers, in X and
 * in Y, outside sizes at two lengths, an inside size, and the two diagonals; and two heights.
 *
 * Seen from above: an outer square of side `size`. In the middle third of each side (size/3, to a whole mm) the face
 * lies step/2 further in, so that from step to step the outside measures size − step. The inner faces follow the outer
 * ones at a distance of `wall`; near the corners they are size − 2·wall apart. The frame is step_height high; its four
 * corners, each an L of the same wall, go on up to `height`. Where the feed is only on or off (`feed` none) the
 * outlines are drawn once on the bed, and there are no heights.
 *
 * Beads: the two at the faces are bead_width wide and their middles run half of that inside. Between them so many
 * are spread evenly over the wall that their distance comes closest to bead area / layer, the distance at which beads
 * with rounded sides fill a wall without gaps. A wall where that distance would be off by more than a tenth below, or
 * above the bead's width, is refused with the nearest that can be filled.
 *
 * Features and outlines start at the near left corner of the outer square, on nominal faces. How a bead is laid down:
 * gcode/tool.h. */

/* A closed outline of commanded faces between two heights, counter-clockwise outside, clockwise for a hole. */
typedef struct
{
  TrammelPoint *points;
  gsize n_points;
  gboolean hole;
  double z_low, z_high;
} TrammelOutline;

typedef struct _TrammelSquare TrammelSquare;

/**
 * trammel_square_new:
 * @machine: whose axes X, Y, Z bound the piece and whose `piece` record gives its parameters
 *
 * Returns: (transfer full) (nullable): the laid-out piece. Errors name the numbers: TRAMMEL_ERROR_TOO_LARGE "the piece
 * needs 120.5 mm in X (10 mm origin + 110.5 mm) and the axis travels 100 mm"; TRAMMEL_ERROR_IMPOSSIBLE for parameters
 * that do not go together (wall under two beads, step that leaves no length, height not above step_height, …), with
 * the record's key first ("wall: …").
 */
TrammelSquare *trammel_square_new (const TrammelMachine *machine, GError **error);
void trammel_square_free (TrammelSquare *square);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelSquare, trammel_square_free)

/* Of TrammelFeature; borrowed. */
const GArray *trammel_square_features (const TrammelSquare *square);
const TrammelOutline *trammel_square_outlines (const TrammelSquare *square, gsize *n);
/* (transfer full): see gcode/program.h. Tool paths run half a bead inside the faces. */
char *trammel_square_program (const TrammelSquare *square);

/* Length of bead, mm; time at the commanded speeds, s; filament, mm (0 without feed). */
void trammel_square_effort (const TrammelSquare *square, double *bead_length, double *seconds, double *filament);

G_END_DECLS
