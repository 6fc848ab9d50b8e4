/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/adjustment.h"

G_BEGIN_DECLS

/* What one more reading would tell. */
typedef struct
{
  TrammelReading reading; /* kind, along, nominal, instrument, perhaps u; not measured yet */
  double u;               /* standard uncertainty of the reading, as reckoned with */
  char letter;            /* of the axis that it tells about */
  double u_now;           /* standard uncertainty of that axis's scale error; NaN: nothing is known */
  double u_after;         /* with the reading made */
} TrammelNext;

/* A GArray of TrammelNext that clears its readings. (transfer full) */
GArray *trammel_next_array_new (void);

/* The axis of the fit whose scale error has the largest u; '\0' when there is none. */
char trammel_next_worst_axis (const TrammelAdjustment *adjustment);

/**
 * trammel_next_candidates:
 * @input: what @adjustment was made from
 * @travels: one per letter of @input->axes: how far the axis moves, mm or degrees; NaN: as far as 100
 *
 * Readings that could be made: every axis told to move a round length; outside, inside and center sizes along X and Y
 * and across the square of the shorter one; heights along Z, up to 50 mm; each in a few round lengths and the longest
 * that the travel allows. Each is to be made with the instrument of the last reading of the same kind and direction
 * that took part in the fit, else with the finest of the same kind, else with the finest of prints or of motion, and
 * has that one's own u, if it had one.
 *
 * Returns: (transfer full): of TrammelReading, not measured.
 */
GArray *trammel_next_candidates (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                                 const double *travels);

/**
 * trammel_next_after:
 * @candidate: kind, along and nominal filled in; its u as in a fit
 * @u: (out) (optional): the u of the candidate
 *
 * The standard uncertainty of the scale error of axis @letter when @candidate is read as well, all else staying as it
 * is: the candidate is one more row under the triangle R of the fit. With y = R⁻ᵀ a, a the whitened row, and z = R⁻ᵀ e,
 * e the scale's unit vector, u² = |z − (z·ŷ) ŷ|² + (z·ŷ)²/(1 + |y|²), ŷ = y/|y|: the orthogonal update of the factor
 * (Å. Björck, Numerical Methods for Least Squares Problems, SIAM 1996, section 3.2, from memory) without cancellation
 * and without a new fit. An unknown that only the candidate touches is marginalized: its stated uncertainty adds to
 * that of the reading. Factors on all u (Birge, or σ where it is estimated) stay as they are.
 *
 * Returns: NaN when the scale stays unknown; that of the fit when the candidate tells nothing.
 */
double trammel_next_after (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                           const TrammelReading *candidate, char letter, double *u);

/**
 * trammel_next_rank:
 * @letter: of the axis; '\0': of the axis whose scale is known worst
 * @most: how many to return
 *
 * The best candidate of each kind and direction, in the order of the u that they would leave; those that would leave
 * more than 98 % of it are not worth the work and left out.
 *
 * Returns: (transfer full): of TrammelNext; freed with g_array_unref().
 */
GArray *trammel_next_rank (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                           const double *travels, char letter, guint most);

G_END_DECLS
