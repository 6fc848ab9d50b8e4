/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/efficiency.h"

G_BEGIN_DECLS

/* What turns rotation into travel: a record of one of these kinds.
 *
 *   screw      pitch (or 20 tpi), starts, hand (right, left), turning (screw, nut), count (screws side by side)
 *   rack       teeth (of the pinion), and module or pitch (circular)
 *   worm-rack  starts, and module or pitch (axial)
 *   belt       teeth, pitch, fall (1, or 2 where the belt runs over a moving pulley)
 *   roller     diameter (effective)
 *   table      none: the rotary table itself
 *
 * Any may carry lash (length at the carriage or angle at the shaft), efficiency (0…1), inertia; those with a wheel,
 * face and density; a screw, major, root, thread, friction, collar_friction, collar_diameter, length, fixity, modulus,
 * yield, density (see screw.h).
 */

const TrammelRecordKind *const *trammel_output_kinds (gsize *n);
const TrammelRecordKind *trammel_output_kind (const char *type);

/* TRUE for an output whose travel is an angle (table). */
gboolean trammel_output_is_rotary (const TrammelRecord *output);

/**
 * trammel_output_travel_per_turn:
 *
 * Travel per turn of the shaft that enters the output, exact and signed (a left-hand screw is negative): mm, or for a
 * table 360 (degrees). screw: pitch·starts; rack: teeth·module·π or teeth·pitch; worm-rack: starts·module·π or
 * starts·pitch; belt: teeth·pitch/fall; roller: π·diameter.
 *
 * Errors: module and pitch both or neither set (TRAMMEL_ERROR_IMPOSSIBLE), overflow.
 */
gboolean trammel_output_travel_per_turn (const TrammelRecord *output, TrammelExact *out, GError **error);

/**
 * trammel_output_efficiency:
 *
 * As given, both ways; of a screw and of a worm on a rack, which slide, the way back follows: of a screw whose diameter
 * is known from the friction of its thread (drive/screw.h; the one given, else the one that goes with the efficiency),
 * less what the efficiency says is lost beside the thread; else by trammel_efficiency_of_slide(). Not given: of a screw
 * from its thread, friction and collar (NaN when its diameter is not known); of a worm on a rack
 * trammel_worm_efficiency() of a usual worm; else the usual one: rack 95 %, belt 95 %, roller 95 %, table 98 % (common
 * practice, no source).
 */
TrammelEfficiency trammel_output_efficiency (const TrammelRecord *output);

/* How far (mm; degrees of a table) the carriage can be moved in the lash of the output itself. NaN when lash is not
 * set, or is a length at a table. */
double trammel_output_lash (const TrammelRecord *output);

/* Diameter and length (mm) of the solid bar that turns with the shaft, for an estimate of inertia: the pinion, the
 * pulley, the roller by its face; a screw that turns by its mean diameter and free length. FALSE when it cannot be
 * told. */
gboolean trammel_output_bar (const TrammelRecord *output, double *diameter, double *length);
/* Key of the field that has to be entered next for that estimate, or for the inertia itself. Static. */
const char *trammel_output_bar_wants (const TrammelRecord *output);
/* How many of what turns there are side by side: lead screws; else 1. */
double trammel_output_count (const TrammelRecord *output);

/* What turns with the shaft, for people, translated: "screw" or "nut", "pinion", "worm", "pulley", "roller", "table".
 * Static. */
const char *trammel_output_turning_part (const TrammelRecord *output);

/* Travel per tooth: the pitch of a rack or of a belt (over its falls); NaN where there are no teeth. */
double trammel_output_travel_per_tooth (const TrammelRecord *output);

G_END_DECLS
