/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* The parameters of a test piece, kept in the machine file under `piece`: a record of kind
 *
 *   square   size (outer side, 20…1000 mm, initial 100), wall (initial 4 mm), step (how much shorter the step on each
 * side is, initial 20 mm), height (upper height, initial 3 mm), step_height (lower height, initial 1.6 mm), bead_width
 * (initial 0.5 mm), layer_height (0.2 mm), speed (30 mm/s), travel_speed (80 mm/s), lift (clearance when moving without
 * feed, 1 mm), origin_x, origin_y (near corner, 10 mm), feed (choice: filament, none), filament_diameter (1.75 mm),
 * feed_letter (text, "E"), feed_on, feed_off, lift_lines, lower_lines, start_lines, end_lines (text: the machine's own
 * lines, verbatim)
 */
const TrammelRecordKind *trammel_piece_kind (const char *type); /* NULL when there is none of that name */
const TrammelRecordKind *const *trammel_piece_kinds (gsize *n);

G_END_DECLS
