/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear-pair.h"

G_BEGIN_DECLS

/* Inside of core/drive: what else may be in the way of a pair that has backlash and contact; see gear-pair.h. */

/**
 * trammel_gear_tips_foul_roots:
 *
 * A corner of a tip cuts more than 0.005 modules into what the rack left of the mate's root, with flanks in contact.
 * The corner's way: it turns about its own center while the mate turns z/z′ times that about its own. The root of a
 * ring, whose cutter is not known, is taken to be free.
 */
gboolean trammel_gear_tips_foul_roots (const TrammelGearPair *pair, double distance, double backlash);

/**
 * trammel_gear_tips_meet:
 * @pair: with a ring
 *
 * Where the tip circles cross, the corner of the pinion's tip has overtaken that of the ring's, with which it was in
 * contact: (z₁/z₂)(θ₁ + inv α_a₁ − inv α_w) + inv α_w − inv α_a₂ < θ₂, with θ₁ and θ₂ the angles at the pinion's and
 * the ring's center between the line of centers and the crossing. Colbourne, The Geometry of Involute Gears (Springer,
 * 1987), tip interference of internal gear pairs (from memory; follows from the involute).
 */
gboolean trammel_gear_tips_meet (const TrammelGearPair *pair, double distance, double working_angle);

G_END_DECLS
