/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/feature.h"
#include "machine/machine.h"

G_BEGIN_DECLS

/* The ladder of lines, which tells the play of X and of Y: for each of them two facing combs of short lines across it.
 * Every line of the near comb is approached moving up the axis, every line of the far one moving down, by a stroke
 * longer than the play, slowly and along that axis alone. So the two lines of a pair, sent to the same place, land as
 * far apart as the axis has play, the far one farther up the axis (a reading of kind `reversal`). One layer, on the
 * bed.
 *
 * With a vernier v above 0 the lines of the near comb stand v farther apart than those of the far comb, and the pairs
 * are numbered from one that is sent to the same place, the longest. In pair k the near line is sent k·v farther up:
 * the pair in which the lines meet tells a play of k·v, to v/√12 (a rectangular distribution of width v; JCGM 100:2008,
 * 4.3.7). Two pairs stand before pair 0, so that meeting there can be told from beyond the end. The error of the axis's
 * scale over k·v is left out: it is some parts per thousand of the play.
 *
 * Seen from above: the combs of X lie along the lower edge, right of the corner, those of Y along the left edge, above
 * it; the near comb is the one at the edge. Lines are drawn from outside towards the middle of the ladder and end a
 * line's width short of it. Every fifth is a quarter longer, pair 0 (with a vernier) half as long again. How a line is
 * laid down: gcode/tool.h. */

typedef struct
{
  char letter;           /* X or Y: the axis whose play it helps to tell; the line runs across it */
  gboolean up;           /* approached moving up the axis: the near comb */
  int pair;              /* its number */
  TrammelPoint from;     /* mm from the near left corner of what the piece takes up */
  TrammelPoint to;       /* drawn from there to here */
  TrammelPoint approach; /* where the tool comes from, along the axis */
} TrammelLadderLine;

typedef struct _TrammelLadder TrammelLadder;

/**
 * trammel_ladder_new:
 * @machine: whose axes X and Y it is of and whose `piece` record gives its parameters
 *
 * Returns: (transfer full) (nullable): the laid-out piece. Errors name the numbers: TRAMMEL_ERROR_TOO_LARGE "the piece
 * needs 120.5 mm in X (10 mm origin + 110.5 mm) and the axis travels 100 mm"; TRAMMEL_ERROR_IMPOSSIBLE for parameters
 * that do not go together (lines that run together, a vernier of more than half a space, …), with the record's key
 * first ("spacing: …").
 */
TrammelLadder *trammel_ladder_new (const TrammelMachine *machine, GError **error);
void trammel_ladder_free (TrammelLadder *ladder);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelLadder, trammel_ladder_free)

/* In the order in which they are drawn: comb by comb. Borrowed. */
const TrammelLadderLine *trammel_ladder_lines (const TrammelLadder *ladder, gsize *n);
double trammel_ladder_size (const TrammelLadder *ladder);       /* side of the square that it takes up, mm */
double trammel_ladder_line_width (const TrammelLadder *ladder); /* mm */
double trammel_ladder_vernier (const TrammelLadder *ladder);    /* mm; 0: none */

/* Of TrammelFeature; borrowed. With a vernier one reading along each axis; else the first, a middle and the last pair
 * of each. `from` is the inner end of the near line, `to` that of the far one. */
const GArray *trammel_ladder_features (const TrammelLadder *ladder);

/* (transfer full): see gcode/program.h. */
char *trammel_ladder_program (const TrammelLadder *ladder);

/* Length of line, mm; time at the commanded speeds, s; filament, mm (0 without feed). */
void trammel_ladder_effort (const TrammelLadder *ladder, double *line_length, double *seconds, double *filament);

G_END_DECLS
