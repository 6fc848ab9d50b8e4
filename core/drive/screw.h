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
/* Share of the work of a load that drives the screw which comes out at its shaft: the lowering torque, turned round,
 * over the torque F·l/2π without friction. Not above 0 where the load cannot drive it. */
double trammel_screw_backward_efficiency (const TrammelScrew *screw);

/**
 * trammel_screw_friction_of_efficiency:
 * @screw: its friction is not read
 * @efficiency: e of the whole, collar included, 0…1, not 0
 *
 * The friction of the thread that goes with an efficiency. Equations 8-1 (with 8-5) and 8-4 solved for f: with the
 * slope t = l/(π d_m) of the thread and e_t its own efficiency, e_t = t(1 − t f sec α)/(t + f sec α), so
 *
 *   f = t(1 − e_t)/(e_t + t²) · cos α
 *
 * where 1/e_t = 1/e − π f_c d_c/l takes the collar out (8-6). 0 where the collar loses all that is lost, or more.
 */
double trammel_screw_friction_of_efficiency (const TrammelScrew *screw, double efficiency);

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

/* By fixity, NULL-terminated. */
extern const char *const trammel_fixity_keys[];
/* FALSE for NULL or a key that is none: @out is then supported–supported. */
gboolean trammel_fixity_from_key (const char *key, TrammelFixity *out);

/* Coefficient of friction of a thread that nothing is known of: 0.15, steel on bronze or plastic, little oil (in the
 * middle of Budynas & Nisbett, table 8-5; common practice). */
#define TRAMMEL_SCREW_USUAL_FRICTION 0.15

/* Whether the train turns the screw of @output (a screw), and not its nut. */
gboolean trammel_screw_turns (const TrammelRecord *output);

/* Whether the friction of @output (a screw) follows from its efficiency: this is given and friction is not. */
gboolean trammel_screw_is_told_by_efficiency (const TrammelRecord *output);

/**
 * trammel_screw_from_output:
 * @output: of kind screw
 *
 * The screw that a part describes: thread trapezoidal where it is not given, no collar where its diameter is not given.
 * Friction as given; else, where an efficiency is given (a ball screw), the one that goes with it, and then the collar
 * has none unless it is given; else 0.15 (common practice). Collar friction otherwise as the thread's.
 *
 * Returns: FALSE when pitch or major diameter is missing.
 */
gboolean trammel_screw_from_output (const TrammelRecord *output, TrammelScrew *out);

/* mm: given, or from major diameter, pitch and thread; NaN. */
double trammel_screw_root_of_output (const TrammelRecord *output);

G_END_DECLS
