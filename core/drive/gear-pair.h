/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear.h"

G_BEGIN_DECLS

/* Two spur gears in mesh: center distance, working pressure angle, backlash, contact ratio, and what is in the way.
 * Lengths in mm, angles in rad.
 *
 * Sources: ISO 21771:2007, clause 5 (cylindrical gear pairs: center distance, working pressure angle, contact ratio,
 * interference) and clause 7 (backlash); Budynas & Nisbett, Shigley's Mechanical Engineering Design, chapter 13
 * (contact ratio, interference); Colbourne, The Geometry of Involute Gears (Springer, 1987), internal gears. Clauses
 * and chapters from memory; each formula follows from the involute.
 *
 * Below z₁, z₂ are the teeth and x₁, x₂ the shifts, with z₂ negative for a ring as in ISO 21771, r the radii
 * (b: base, a: tip), α the pressure angle of the basic rack and α_w the working pressure angle. */

/* A plain value: both gears of the same module and pressure angle; @b may be a ring, @a is external. */
typedef struct
{
  TrammelGear a, b;
} TrammelGearPair;

/* Errors: those of trammel_gear_check() for either gear, prefixed "gear 1: ", "gear 2: "; TRAMMEL_ERROR_IMPOSSIBLE for
 * gears of different module or angle, and for a ring that is not larger than its pinion. */
gboolean trammel_gear_pair_check (const TrammelGearPair *pair, GError **error);

/* |z₁ + z₂|·m/2: the sum (for a ring the difference) of the reference radii. */
double trammel_gear_pair_reference_distance (const TrammelGearPair *pair);

/**
 * trammel_gear_pair_distance:
 *
 * The center distance without backlash, a = |z₁ + z₂|·m/2 · cos α/cos α_w where
 * inv α_w = inv α + 2(x₁ + x₂)·tan α/(z₁ + z₂) (ISO 21771:2007, clause 5, center distance; solved by
 * trammel_gear_involute_inverse()).
 *
 * Errors: as trammel_gear_pair_check(); TRAMMEL_ERROR_IMPOSSIBLE when the shifts leave the teeth so thin (or, in a
 * ring, so thick) that there is no such distance.
 */
gboolean trammel_gear_pair_distance (const TrammelGearPair *pair, double *out, GError **error);

/* What becomes of a pair at a center distance. */
typedef enum
{
  TRAMMEL_MESH_RUNS,
  TRAMMEL_MESH_BINDS,     /* less than no backlash: the centers are too near (in a ring: too far apart) */
  TRAMMEL_MESH_APART,     /* the teeth do not reach each other */
  TRAMMEL_MESH_SHORT,     /* a contact ratio below 1: a tooth lets go before the next takes over */
  TRAMMEL_MESH_BOTTOMS,   /* a tip reaches the mate's root circle */
  TRAMMEL_MESH_TIPS_MEET, /* in a ring: tips run into each other beside the mesh (trochoid interference) */
} TrammelMeshState;

typedef struct
{
  double distance;
  TrammelMeshState state;
  double working_angle;      /* cos α_w = |r_b₁ ± r_b₂|/a; NaN nearer than the base circles allow */
  double backlash;           /* circumferential, at the working pitch circles: j_wt; negative: binds; NaN */
  double normal_backlash;    /* j_bn = j_wt·cos α_w, what a feeler gauge between the flanks finds; NaN */
  double contact_ratio;      /* of whole involutes from tip circle to tip circle; 0 when apart; NaN */
  double true_contact_ratio; /* the same, less what is undercut or fillet; NaN unless it runs */
  gboolean fouls; /* it runs, but only if the root fillets are slimmer, or tips shorter, than the rack makes them */
  double tip_clearance[2]; /* from the tip of a to the root of b, and from the tip of b to the root of a */
} TrammelMesh;

/**
 * trammel_gear_pair_at:
 * @pair: passes trammel_gear_pair_check()
 * @distance: of the centers, above 0
 *
 * How the pair runs there. With p_w = 2π·r_w₁/z₁ the pitch on the working pitch circle,
 * j_wt = p_w/π·((z₁ + z₂)(inv α_w − inv α) − 2(x₁ + x₂)·tan α), which is p_w less both tooth thicknesses there;
 * ε = (√(r_a₁² − r_b₁²) ± √(r_a₂² − r_b₂²) ∓ a·sin α_w)/(π·m·cos α), upper signs external, lower ones internal (ring
 * tips inside the base circle count from there). A backlash of less than 1e-9 modules counts as none, and none is
 * enough. Whether tips foul roots or each other is looked at only where the pair would run otherwise: tips against
 * roots by following a tip's corner through the fillet that the rack left (which is the gear maker's choice, hence a
 * caution), tips against tips in a ring by the angles at which the tip circles cross (Colbourne, tip interference).
 */
TrammelMesh trammel_gear_pair_at (const TrammelGearPair *pair, double distance);

/* One sentence for people, translated: "runs", "binds: the centers are too near". Static. */
const char *trammel_mesh_to_words (const TrammelMesh *mesh, gboolean internal);

G_END_DECLS
