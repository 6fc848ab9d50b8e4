/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Outlines of involute gears, module 1 (lengths in modules), pressure angle 20°, addendum 1, dedendum 1.25 (the basic
 * rack of ISO 53). Angles in rad; all formulas hold in either handedness of the plane.
 *
 * Flanks: J. E. Shigley / R. Budynas, Mechanical Engineering Design, chapter 13 (involute properties). What the basic
 * rack cuts away below the involute (root fillet; undercut of fewer than 17 teeth) is drawn as what the rack's
 * rounded corner leaves, so that two outlines never overlap at the standard center distance. */

#define TRAMMEL_INVOLUTE_PRESSURE_ANGLE (G_PI / 9)
#define TRAMMEL_INVOLUTE_ADDENDUM 1.0
#define TRAMMEL_INVOLUTE_DEDENDUM 1.25
/* By how much a pair has play at the pitch circle, in modules, so that drawn flanks do not touch. */
#define TRAMMEL_INVOLUTE_BACKLASH 0.02

typedef struct
{
  double x, y;
} TrammelPoint;

/* inv α = tan α − α. */
double trammel_involute_function (double angle);

/* Half the angle that a tooth of an external gear of @teeth spans at @radius (modules, not below the base circle). */
double trammel_involute_half_tooth (int teeth, double radius);

/**
 * trammel_involute_external:
 * @teeth: 1 or more; with fewer than 3 the root would pass the center, and the teeth are only indicated
 * @n: (out): number of points
 *
 * Returns: (transfer full) (free with g_free): the closed outline around the origin, by growing angle, a tooth centered
 * on angle 0.
 */
TrammelPoint *trammel_involute_external (int teeth, gsize *n);

/**
 * trammel_involute_internal:
 * @teeth: of the ring, 3 or more
 * @mate: teeth of the gear that turns inside (its tips and the ring's are kept clear of each other), 0: any
 *
 * Returns: (transfer full) (free with g_free): the closed outline of the hole, a tooth space centered on angle 0.
 */
TrammelPoint *trammel_involute_internal (int teeth, int mate, gsize *n);

/* Where the outline of a ring is at its deepest, in modules from its center. */
double trammel_involute_ring_root (int teeth);

/**
 * trammel_involute_mesh:
 * @direction: of the line from the center of the gear with @teeth_a to that with @teeth_b
 * @rotation_a: how far gear a is turned (one of its teeth is centered on this angle)
 *
 * Returns: a rotation of gear b that puts a tooth of the one in a space of the other on the line of centers.
 */
double trammel_involute_mesh (int teeth_a, double rotation_a, int teeth_b, double direction);

/* The same for a ring b; @direction is that from the ring's center to the center of gear a. */
double trammel_involute_mesh_ring (int teeth_a, double rotation_a, int ring_b, double direction);

G_END_DECLS
