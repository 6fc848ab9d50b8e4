/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/montecarlo.h"

G_BEGIN_DECLS

/* Inside of core/measure: what @n trials say of one axis, beside the linear result, whose interval is by Student's t
 * with @freedom (infinite: the normal). @trials is put in another order. */
TrammelMonteCarloAxis trammel_trial_figures (const TrammelAxisScale *linear, double freedom, double *trials, gsize n);

/* JCGM 101:2008, 7.9.2: u = c·10^l with c of two digits; the tolerance is half of 10^l. */
double trammel_trial_tolerance (double u);

G_END_DECLS
