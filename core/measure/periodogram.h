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
 * there are fewer than 8 targets. p_value = 1 − (1 − e^−z)^M with z the peak over the variance and M the number of
 * targets (independent frequencies): Scargle, equations 14 and 18. More than 1,024 targets are averaged in as many
 * places.
 */
gboolean trammel_periodogram_search (const TrammelPositions *positions, TrammelPeriodFound *out);

G_END_DECLS
