/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/screw.h"

G_BEGIN_DECLS

/* How long and thin a screw may be: where it whirls when it turns, where it buckles when it is pushed. Both take it for
 * a plain round bar of its root diameter. */

/* Share of the whirling speed and of the buckling load that machines are run at: common practice, no source. */
#define TRAMMEL_SLENDER_MARGIN 0.8

/* Steel, where nothing else is given: modulus 207 GPa (Budynas & Nisbett, table A-5), density 7850 kg/m³ (typical),
 * yield strength of the mildest bar 210 MPa (common practice, no source). */
#define TRAMMEL_STEEL_MODULUS 207e3 /* N/mm² */
#define TRAMMEL_STEEL_DENSITY 7850. /* kg/m³ */
#define TRAMMEL_STEEL_YIELD 210.    /* N/mm² */

typedef struct
{
  double diameter; /* mm */
  double length;   /* mm, between its supports */
  TrammelFixity fixity;
  double modulus; /* N/mm² */
  double density; /* kg/m³ */
  double yield;   /* N/mm² */
} TrammelBar;

/**
 * trammel_bar_whirl:
 *
 * Lowest whirling speed, rad/s: ω = (λ/l)² √(EI/(ρA)), which for a round bar is (λ/l)² (d/4) √(E/ρ).
 * Supported–supported, λ = π: Budynas & Nisbett, equation 7-22. The other ends: the first root of the frequency
 * equation of the beam: fixed–free cosh λ cos λ = −1, 1.875104; fixed–supported tan λ = tanh λ, 3.926602; fixed–fixed
 * cosh λ cos λ = 1, 4.730041 (R. D. Blevins, Formulas for Natural Frequency and Mode Shape, table 8-1; from memory, the
 * roots follow from the equations).
 */
double trammel_bar_whirl (const TrammelBar *bar);

/* Length over radius of gyration, l/k with k = d/4. */
double trammel_bar_slenderness (const TrammelBar *bar);
/* Where a column stops being slender: (l/k)₁ = √(2π²CE/S_y) (Budynas & Nisbett, equation 4-45). */
double trammel_bar_slenderness_limit (const TrammelBar *bar);

/**
 * trammel_bar_buckling:
 *
 * Push at which it buckles, N. Slender, l/k > (l/k)₁: Euler, P = Cπ²EA/(l/k)² (Budynas & Nisbett, equation 4-44); else
 * J. B. Johnson, P = A [S_y − (S_y/2π · l/k)²/(CE)] (equation 4-48). C, theoretical: fixed–free 1/4,
 * supported–supported 1, fixed–supported 2, fixed–fixed 4 (table 4-2).
 */
double trammel_bar_buckling (const TrammelBar *bar);

/* The bar that @output (a screw) describes, steel where it does not say. FALSE when its root diameter or free length is
 * not known; the fixity is supported–supported where it is not given. */
gboolean trammel_bar_from_output (const TrammelRecord *output, TrammelBar *out);

G_END_DECLS
