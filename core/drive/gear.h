/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Geometry of one involute spur gear, as cut by the basic rack of ISO 53:1998, profile A: addendum 1 m, dedendum
 * 1.25 m, root fillet 0.38 m (smaller where a wide pressure angle leaves no room for it), with any pressure angle from
 * 10° to 35°. Lengths in mm, angles in rad.
 *
 * Sources: ISO 21771:2007, clause 4 (the single cylindrical gear; here the helix angle is 0 and tips are not
 * shortened: k = 0), with its sign of the profile shift: a positive shift always makes teeth thicker, so that it moves
 * the circles of an external gear outward and those of a ring inward. Budynas & Nisbett, Shigley's Mechanical
 * Engineering Design, chapter 13 (involute properties, interference). Clauses and chapters from memory. */

#define TRAMMEL_GEAR_ADDENDUM 1.0           /* modules */
#define TRAMMEL_GEAR_DEDENDUM 1.25          /* modules */
#define TRAMMEL_GEAR_FILLET 0.38            /* modules, radius of the rack's corner */
#define TRAMMEL_GEAR_USUAL_ANGLE (G_PI / 9) /* 20°, where none is said */
#define TRAMMEL_GEAR_FEWEST_TEETH 3
#define TRAMMEL_GEAR_MOST_TEETH 10000
#define TRAMMEL_GEAR_LEAST_ANGLE 10 /* degrees */
#define TRAMMEL_GEAR_MOST_ANGLE 35
#define TRAMMEL_GEAR_MOST_SHIFT 2 /* modules, either way */
#define TRAMMEL_GEAR_MOST_MODULE 1000

/* A plain value. */
typedef struct
{
  int teeth;
  double module;     /* mm */
  double angle;      /* pressure angle of the basic rack, rad */
  double shift;      /* profile shift x, in modules */
  gboolean internal; /* a ring, with its teeth inside */
} TrammelGear;

/**
 * trammel_gear_check:
 *
 * The functions below want a gear that passes: 3…10000 teeth, module above 0 up to 1000 mm, pressure angle 10°…35°,
 * shift −2…2, all circles above 0, and a tooth that is not pointed below its reference circle.
 *
 * Errors: TRAMMEL_ERROR_RANGE (a value outside its bounds), _IMPOSSIBLE (values that leave no tooth or no body).
 */
gboolean trammel_gear_check (TrammelGear gear, GError **error);

/* inv α = tan α − α (ISO 21771:2007, clause 4; the involute function of every gear handbook). 0 ≤ α < π/2. */
double trammel_gear_involute (double angle);
/* The angle whose involute function is @value ≥ 0, to 1e-14 of itself: Newton's method, d(inv α)/dα = tan²α, from an
 * upper bound (the lesser of ∛(3·value) and atan (value + π/2)); inv is convex, so that it only falls towards the
 * answer. NaN for a negative or infinite @value. */
double trammel_gear_involute_inverse (double value);

/* d = z·m. */
double trammel_gear_reference_diameter (TrammelGear gear);
/* d_b = d·cos α. */
double trammel_gear_base_diameter (TrammelGear gear);
/* d_a = d + 2(1 + x)m; of a ring d − 2(1 + x)m. */
double trammel_gear_tip_diameter (TrammelGear gear);
/* d_f = d − 2(1.25 − x)m; of a ring d + 2(1.25 − x)m. */
double trammel_gear_root_diameter (TrammelGear gear);

/* Arc thickness of a tooth on the circle of @diameter, not below the base circle (0 beyond where the tooth is pointed):
 * s = d_y·((π/2 + 2x·tan α)/z ± (inv α − inv α_y)), + external, − ring; cos α_y = d_b/d_y. */
double trammel_gear_thickness (TrammelGear gear, double diameter);

/* Where both flanks of an external gear's tooth meet: inv α_y = inv α + (π/2 + 2x·tan α)/z. NaN for a ring. */
double trammel_gear_pointed_diameter (TrammelGear gear);
/* The tooth comes to a point below its tip circle; never for a ring. */
gboolean trammel_gear_is_pointed (TrammelGear gear);

/* Fewest teeth that a rack cuts without undercut worth the name: the least whole number not more than a tenth below the
 * limit, because the trade's 17 for 20° stands for 17.097, an undercut of 0.006 m that no gear shows. */
int trammel_gear_fewest_teeth (double angle, double shift);
/* The limit itself: z = 2(1 − x)/sin²α, where the rack's tip line passes the end of the line of action. Shigley,
 * chapter 13, interference with a rack; Colbourne, The Geometry of Involute Gears (Springer, 1987), chapter on
 * undercutting. */
double trammel_gear_undercut_limit (double angle, double shift);
/* The least shift with which @teeth are not undercut: 1 − z·sin²α/2 (negative: there is room to spare). */
double trammel_gear_undercut_shift (int teeth, double angle);
/* Fewer teeth than that: the rack cuts away involute above the base circle. Never for a ring, which no rack cuts. */
gboolean trammel_gear_is_undercut (TrammelGear gear);

G_END_DECLS
