/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/montecarlo.h"

G_BEGIN_DECLS

/* "X: trials give −0.451 to −0.389 %, the fit −0.450 to −0.390 %: the interval is validated." And what to go by where
 * they do not. (transfer full) */
char *trammel_sentences_trials (const TrammelMonteCarloAxis *axis);

/* What that rests on: how far the ends of the two intervals are apart, what the standard allows, and what follows.
 * (transfer full) */
char *trammel_sentences_trials_criterion (const TrammelMonteCarloAxis *axis);

G_END_DECLS
