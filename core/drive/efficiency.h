/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* What gets through a part, each way. A torque T that the motor's side gives comes out as forward·T over the ratio; a
 * load that drives from the other side with T comes out as backward·T. backward ≤ 0: the load cannot drive it, it
 * locks. NaN: not known. */
typedef struct
{
  double forward;
  double backward;
  gboolean given; /* by the user, not the usual one or an estimate */
} TrammelEfficiency;

/* A worm that nothing is known of: pitch diameter of 10 modules, coefficient of friction 0.1, greased (common practice,
 * no source). */
#define TRAMMEL_WORM_USUAL_THICKNESS 10.
#define TRAMMEL_WORM_USUAL_FRICTION 0.1

/**
 * trammel_worm_efficiency:
 * @slope: tan λ of the worm's thread at its pitch diameter: starts·module/diameter
 * @friction: coefficient f
 *
 * With normal pressure angle φ = 20°: forward (cos φ − f tan λ)/(cos φ + f cot λ) (Budynas & Nisbett, equation 13-46);
 * backward the same with the friction turned round, (cos φ − f cot λ)/(cos φ + f tan λ). (The pressure angle is taken
 * as that in the normal plane.)
 */
TrammelEfficiency trammel_worm_efficiency (double slope, double friction);

/* Where one surface slides on a slope (screw, worm) and @forward is given: backward = 2 − 1/forward, which holds where
 * the friction does the same work both ways. Common practice; exact for small angles. */
TrammelEfficiency trammel_efficiency_of_slide (double forward);

G_END_DECLS
