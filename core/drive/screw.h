/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* Half angle of a thread's flanks: rad from the plane across the screw. square 0; trapezoidal 15° (ISO 2901); Acme
 * 14.5° (ASME B1.5); metric 30° (ISO 68-1). 0 for a name that is none of them. */
double trammel_thread_half_angle (const char *thread);

/* Diameters that follow from the major diameter and the pitch, mm; NaN where an argument is.
 *
 *             mean                root
 *   square      major − p/2         major − p
 *   trapezoidal major − p/2         major − p − 2·a_c, a_c = 0.15 (p < 2), 0.25 (p ≤ 5), 0.5 (p ≤ 12), 1
 *   acme        major − p/2         major − p − 0.508 (p ≥ 2.54), else − p − 0.254
 *   metric      major − 0.649519·p  major − 1.226869·p
 *
 * Square: Budynas & Nisbett, Shigley's Mechanical Engineering Design, section 8-1. Trapezoidal: ISO 2904, clearances
 * of ISO 2901. Acme: ASME B1.5, 0.010 in of clearance for 10 threads per inch and coarser, 0.005 in for finer. Metric:
 * ISO 724; the root is that of the bolt's design profile. (Standards from memory.) */
double trammel_thread_mean_diameter (const char *thread, double major, double pitch);
double trammel_thread_root_diameter (const char *thread, double major, double pitch);

/**
 * TrammelScrew:
 * @mean: mean thread diameter d_m, mm
 * @lead: l, mm per turn, > 0
 * @half_angle: α, rad
 * @friction: f of the thread
 * @collar_friction: f_c
 * @collar_diameter: d_c, mm; 0 with a thrust bearing
 *
 * What turning a screw under a load depends on.
 */
typedef struct
{
  double mean;
  double lead;
  double half_angle;
  double friction;
  double collar_friction;
  double collar_diameter;
} TrammelScrew;

/* Torques per newton of load, N·m/N, from Budynas & Nisbett, section 8-1, power screws, with sec α of equation 8-5 at
 * both flanks:
 *
 *   raising   d_m/2 · (l + π f d_m sec α)/(π d_m − f l sec α) + f_c d_c/2     (8-1, 8-5, 8-6)
 *   lowering  d_m/2 · (π f d_m sec α − l)/(π d_m + f l sec α) + f_c d_c/2     (8-2, 8-6)
 *
 * Lowering is negative where the load drives the screw. Raising is infinite where the thread jams (π d_m ≤ f l sec α).
 */
double trammel_screw_raising (const TrammelScrew *screw);
double trammel_screw_lowering (const TrammelScrew *screw);

/* Share of the work that gets through when raising, e = l/(2π T_R/F) (8-4), collar included. */
double trammel_screw_efficiency (const TrammelScrew *screw);

/* Thread alone: π f d_m sec α ≥ l (8-3, with sec α). The collar holds in addition; with it the load stays where
 * trammel_screw_lowering() is not negative. */
gboolean trammel_screw_is_self_locking (const TrammelScrew *screw);

/* How a screw is held; keys as in the file. */
typedef enum
{
  TRAMMEL_FIXITY_FIXED_FREE,
  TRAMMEL_FIXITY_SUPPORTED_SUPPORTED,
  TRAMMEL_FIXITY_FIXED_SUPPORTED,
  TRAMMEL_FIXITY_FIXED_FIXED,
} TrammelFixity;

/* FALSE for NULL or a key that is none: @out is then supported–supported. */
gboolean trammel_fixity_from_key (const char *key, TrammelFixity *out);

/* Coefficient of friction of a thread that nothing is known of: 0.15, steel on bronze or plastic, little oil (in the
 * middle of Budynas & Nisbett, table 8-5; common practice). */
#define TRAMMEL_SCREW_USUAL_FRICTION 0.15

/**
 * trammel_screw_from_output:
 * @output: of kind screw
 *
 * The screw that a part describes: thread trapezoidal and friction 0.15 where they are not given (common practice), no
 * collar where its diameter is not given; collar friction as the thread's.
 *
 * Returns: FALSE when pitch or major diameter is missing.
 */
gboolean trammel_screw_from_output (const TrammelRecord *output, TrammelScrew *out);

/* mm: given, or from major diameter, pitch and thread; NaN. */
double trammel_screw_root_of_output (const TrammelRecord *output);

G_END_DECLS
