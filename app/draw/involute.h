/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear.h"

G_BEGIN_DECLS

/* Outlines of involute gears in modules (module 1), cut by the basic rack of ISO 53 A: addendum 1, dedendum 1.25, and a
 * rounded corner. Angles in rad; all formulas hold in either handedness of the plane.
 *
 * Flanks: ISO 21771 (tooth thickness at any diameter, profile shift); J. E. Shigley / R. Budynas, Mechanical
 * Engineering Design, chapter 13 (involute properties). Below the involute a tooth is what the rack's rounded corner
 * leaves, the envelope of that corner while the rack's datum line, shifted, rolls on the pitch circle: the root fillet,
 * and the undercut of small gears. So two outlines never overlap where the gears can run. */

/* By how much a pair without play of its own is given some at the pitch circle, so that drawn flanks do not touch. */
#define TRAMMEL_INVOLUTE_BACKLASH 0.02

typedef struct
{
  double x, y;
} TrammelPoint;

/* What shapes the teeth of a gear or ring. */
typedef struct
{
  int teeth;
  double pressure_angle; /* of the basic rack */
  double shift;          /* of the basic rack, outwards, in modules (of a ring too) */
  double shorter;        /* by how much the tips end earlier than at addendum 1, in modules */
  double play;           /* by how much a tooth is thinner at the pitch circle, in modules */
} TrammelToothForm;

/* 20°, unshifted, thinner by half of TRAMMEL_INVOLUTE_BACKLASH. */
TrammelToothForm trammel_tooth_form (int teeth);

/* Half the angle that a tooth of an external gear (a space of a ring) spans at @radius (modules, not below the base
 * circle), without regard to play. ISO 21771, clause on the tooth thickness. */
double trammel_involute_half_tooth (const TrammelToothForm *form, double radius);

/* Where the tips end, in modules from the center; of an external gear no farther than where they are pointed. */
double trammel_involute_tip (const TrammelToothForm *form);

/**
 * trammel_involute_external:
 * @form: with fewer than 3 teeth the root would pass the center, and the teeth are only indicated
 * @n: (out): number of points, the same for every tooth, from root to root
 *
 * Returns: (transfer full) (free with g_free): the closed outline around the origin, by growing angle, a tooth centered
 * on angle 0. Chords stay within 0.003 modules of the curve.
 */
TrammelPoint *trammel_involute_external (const TrammelToothForm *form, gsize *n);

/**
 * trammel_involute_internal:
 * @ring: 3 teeth or more
 * @mate: (nullable): the gear that turns inside; the tips of the ring are kept clear of its fillets, and its tips of
 * the ring's flanks
 * @distance: of the centers, in modules
 *
 * Returns: (transfer full) (free with g_free): the closed outline of the hole, a tooth space centered on angle 0.
 */
TrammelPoint *trammel_involute_internal (const TrammelToothForm *ring, const TrammelToothForm *mate, double distance,
                                         gsize *n);

/* Where the outline of a ring is at its deepest, in modules from its center. */
double trammel_involute_ring_root (const TrammelToothForm *ring);

/* One tooth of a basic rack that runs with gears, in modules: from root to root along x, tooth centered on 0, pitch
 * line at y = 0, tip at y = 1; thinner by @play. */
#define TRAMMEL_RACK_POINTS 4
void trammel_involute_rack (double pressure_angle, double play, TrammelPoint points[TRAMMEL_RACK_POINTS]);

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
