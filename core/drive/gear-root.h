/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear.h"

G_BEGIN_DECLS

/* What the rack's rounded corner leaves of an external gear below its involute: the fillet, and the undercut where
 * there are few teeth. The corner's round touches the gear where its normal passes through the pitch point (law of
 * gearing); with the normal at the slant θ from the line of centers, the corner's center a depth D = (1.25 − 0.38 − x)m
 * below the pitch line and u = D·tan θ beside the pitch point, the point lies D/cos θ + 0.38 m from the pitch point.
 * Source: Colbourne, The Geometry of Involute Gears (Springer, 1987), fillet shape of a gear cut by a rack cutter (from
 * memory; follows from the law of gearing). Lengths in mm, angles in rad; @gear is external and passes
 * trammel_gear_check(). */

/* Where the flank ends and the fillet or undercut begins: the lowest circle on which the mate can touch an involute.
 * d_F of ISO 21771:2007 (form diameter). Of a ring, which no rack cuts, the root circle. */
double trammel_gear_form_diameter (TrammelGear gear);

/* Half the angle of the space between two teeth, at the root, on the circle of @diameter between root and form circle.
 */
double trammel_gear_root_half_space (TrammelGear gear, double diameter);

G_END_DECLS
