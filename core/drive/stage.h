/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/efficiency.h"

G_BEGIN_DECLS

/* A stage of a train: one ratio. A record of one of these kinds (teeth 1…10000 each):
 *
 *   spur       driver, driven, idlers (list, may be empty), module, angle, shift_driver, shift_driven, center (a list:
 *              one for each mesh, from the driver on)
 *   internal   driver, driven (either may be the ring: `ring` = driven (default) or driver), module, angle,
 *              shift_driver, shift_driven, center
 *   bevel      driver, driven, reverse, module
 *   worm       starts, wheel, hand (right, left), reverse, module
 *   belt       driver, driven, pitch, crossed
 *   chain      driver, driven, pitch, crossed
 *   planetary  sun, ring, held, in, out (each one of sun, ring, carrier), module
 *   gearbox    ratio (exact, turns in per turn out), reverse
 *   coupling
 *
 * Any may carry lash (length at its pitch circle or angle at its output shaft), efficiency (0…1), note; and what its
 * parts weigh: face, density, driver_inertia, driven_inertia. belt and chain: center, belt_teeth or links.
 * worm: diameter, friction.
 * module and pitch serve drawing, center distance and play; the ratio comes from the teeth alone. What angle, shifts
 * and center of a pair of gears mean is in stage-gears.h. */

const TrammelRecordKind *const *trammel_stage_kinds (gsize *n);
const TrammelRecordKind *trammel_stage_kind (const char *type);

/**
 * trammel_stage_ratio:
 *
 * Turns of the output shaft per turn of the input shaft, exact and signed (negative: it turns the other way).
 * Planetary: Willis equation, (n_sun − n_carrier)/(n_ring − n_carrier) = −ring/sun
 * (Budynas & Nisbett, Shigley's Mechanical Engineering Design, chapter 13, planetary gear trains).
 *
 * Errors: TRAMMEL_ERROR_IMPOSSIBLE (held = in, in = out, ring not larger than sun, …), _RANGE, _OVERFLOW.
 */
gboolean trammel_stage_ratio (const TrammelRecord *stage, TrammelExact *out, GError **error);

/**
 * trammel_stage_efficiency:
 *
 * As given (both ways, but for a worm, whose way back follows from it), else worm: trammel_worm_efficiency() with the
 * friction and the diameter of the worm or what is usual; else the usual one of the kind, for each mesh: spur 97 %,
 * internal 98 %, bevel 96 %, belt 96 %, chain 96 %, planetary 95 %, gearbox 80 %, coupling 99 % (common practice, no
 * source).
 */
TrammelEfficiency trammel_stage_efficiency (const TrammelRecord *stage);

/**
 * trammel_stage_lash_angle:
 *
 * Angle (rad) that the output shaft can turn in the lash of @stage: as given, or length/(half the pitch diameter of
 * what is driven). NaN when lash is not set, or when a length is given where there is no pitch circle or it is not
 * known. Planetary: a length is taken at the pitch circles of sun and ring; by the Willis equation the carrier then
 * turns lash/(module·(sun + ring)/2).
 */
double trammel_stage_lash_angle (const TrammelRecord *stage);

/* Diameters (mm) of the disc that the driver or the driven is about, for an estimate of its inertia; @inner is 0 for a
 * full one. FALSE when it cannot be told. */
gboolean trammel_stage_disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner);

/* Teeth that pass when the input shaft turns once: of the driver, of a worm its starts; NaN where there are none. */
double trammel_stage_teeth_in (const TrammelRecord *stage);

/* How many meshes turn the sign: 1 + idlers for spur; for drawing. */
gsize trammel_stage_meshes (const TrammelRecord *stage);

G_END_DECLS
