/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/positions.h"

G_BEGIN_DECLS

/**
 * trammel_lomb_scargle:
 * @x, @y: @n places and values; @y is taken as it is, so subtract its mean before
 * @frequency: @n_frequencies angular frequencies (rad per unit of x), > 0
 * @power: (out): as many
 *
 * The periodogram of unevenly spaced data: ½[(Σ y cos ω(x−τ))²/Σ cos² ω(x−τ) + the same with sin], tan 2ωτ = Σ sin 2ωx
 * / Σ cos 2ωx. Source: J. D. Scargle, Astrophys. J. 263 (1982) 835, equation 10.
 */
void trammel_lomb_scargle (const double *x, const double *y, gsize n, const double *frequency, gsize n_frequencies,
                           double *power);

/* The strongest period of all. */
typedef struct
{
  double period;
  double amplitude;
  double p_value; /* chance of a peak as high anywhere in the range from scatter alone */
} TrammelPeriodFound;

/**
 * trammel_periodogram_search:
 *
 * The strongest period between twice the mean spacing of the targets and half their range, in the mean deviations at
 * the targets less the line, on a grid of frequencies finer than a fifth of what the range can resolve. FALSE when
 * there are fewer than 8 targets. More than 1,024 targets are averaged in as many places.
 *
 * p_value = 1 − (1 − (1 − s)^{(N−4)/2})^M: the peak explains the share s = 2P/Σy² of the sum of squares of N values
 * from which a line was taken; of one frequency that share is Beta distributed with 1 and (N − 4)/2, as R² of two
 * regressors is, and M = N frequencies count as independent (Scargle, equation 14; his exponential law for one of them,
 * equation 18, needs a σ that is known, and with few targets never finds anything). Sources: A. Schwarzenberg-Czerny,
 * Mon. Not. R. Astron. Soc. 301 (1998) 831, for the Beta distribution (from memory); that M = N keeps what it claims,
 * for even and uneven targets, was tried by simulation.
 */
gboolean trammel_periodogram_search (const TrammelPositions *positions, TrammelPeriodFound *out);

G_END_DECLS
