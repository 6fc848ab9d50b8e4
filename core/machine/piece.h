/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* The parameters of a test piece, kept in the machine file under `piece`: a record of kind
 *
 *   square   size (outer side, 20…1000 mm, initial 100), wall (initial 4 mm), step (how much shorter the step on each
 * side is, initial 20 mm), height (upper height, initial 3 mm), step_height (lower height, initial 1.6 mm)
 *
 *   ladder   lines (of each comb, 3…200, initial 21), spacing (from line to line, initial 2 mm), length (of a line,
 * initial 8 mm), approach (stroke by which a line is approached, initial 5 mm), vernier (how much farther apart the
 * facing lines stand, initial 0.05 mm; 0: as far)
 *
 * and of each: bead_width (initial 0.5 mm), layer_height (0.2 mm), speed (30 mm/s), travel_speed (80 mm/s), lift
 * (clearance when moving without feed, 1 mm), origin_x, origin_y (near corner, 10 mm), feed (choice: filament, none),
 * filament_diameter (1.75 mm), feed_letter (text, "E"), feed_on, feed_off, lift_lines, lower_lines, start_lines,
 * end_lines (text: the machine's own lines, verbatim)
 */
const TrammelRecordKind *trammel_piece_kind (const char *type); /* NULL when there is none of that name */
const TrammelRecordKind *const *trammel_piece_kinds (gsize *n);

/* @piece as one of another kind: what both have in common stays, what only the old kind knows is kept with it as a
 * file's unknown members are, and comes back when the kind does; all else has its initial value. (transfer full) */
TrammelRecord *trammel_piece_of_kind (const TrammelRecord *piece, const TrammelRecordKind *kind);

G_END_DECLS
