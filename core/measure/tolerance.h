/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Two-sided tolerance intervals of a normal distribution with unknown mean and standard deviation: mean ± k·s of n
 * values holds at least the share @coverage of all values to come, with the @confidence that this is true. n ≥ 2,
 * coverage from 0.5 and confidence from 0, both below 1; NaN for anything else. */

/**
 * trammel_tolerance_factor:
 *
 * The exact k: the one for which
 *   √(n/2π) ∫ exp (−n z²/2) P (χ²_{n−1} ≥ (n−1) r²(z)/k²) dz = confidence,  Φ(z+r) − Φ(z−r) = coverage,
 * integrated by Gauss-Legendre quadrature and solved to a relative 1e-10.
 *
 * Source: ISO 16269-6:2014, Determination of statistical tolerance intervals, two-sided, unknown mean and variance;
 * A. Wald, J. Wolfowitz, Annals of Mathematical Statistics 17 (1946) 208; R. E. Odeh, D. B. Owen, Tables for Normal
 * Tolerance Limits, Sampling Plans, and Screening (1980).
 */
double trammel_tolerance_factor (gsize n, double coverage, double confidence);

/* Howe's approximation of it, k = z_{(1+coverage)/2} √(ν (1 + 1/n) / χ²_{1−confidence, ν}) with ν = n − 1 and the lower
 * quantile of χ²; some percent off for n below 5. Source: W. G. Howe, J. Am. Stat. Assoc. 64 (1969) 610; NIST/SEMATECH
 * e-Handbook of Statistical Methods, 7.2.6.3. */
double trammel_tolerance_factor_howe (gsize n, double coverage, double confidence);

G_END_DECLS
