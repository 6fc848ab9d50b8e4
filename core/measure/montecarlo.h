/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/adjustment.h"

G_BEGIN_DECLS

/* The propagation of distributions through an adjustment: the same exact model, solved anew for many draws of its
 * inputs. Source: JCGM 101:2008, Evaluation of measurement data: Supplement 1 to the GUM. */

#define TRAMMEL_MONTE_CARLO_TRIALS 1000000
#define TRAMMEL_MONTE_CARLO_MOST_TRIALS 10000000
#define TRAMMEL_MONTE_CARLO_FEWEST_TRIALS 1000
#define TRAMMEL_MONTE_CARLO_BINS 60

typedef struct
{
  gsize trials;              /* within the bounds above */
  guint64 seed;              /* the same seed gives the same numbers, on any number of cores */
  guint n_threads;           /* 0: as many as there are cores */
  GCancellable *cancellable; /* (nullable) */
  /* (nullable): called now and then, from any of the threads, with the trials that are done. */
  void (*progress) (gsize done, gpointer data);
  gpointer data;
} TrammelMonteCarloOptions;

/* The scale error of one axis. */
typedef struct
{
  char letter;
  double mean, u;                                         /* of the trials */
  double low, high;                                       /* 95 %, probabilistically symmetric: clause 7.7 */
  double low_u, high_u;                                   /* standard uncertainty of these ends as so few trials tell */
  double linear_value, linear_u, linear_low, linear_high; /* of the adjustment, by the law of propagation */
  double freedom;                                         /* of Student's t behind it; infinite: the normal */
  /* Clause 8: half a unit in the second significant digit of linear_u; both ends of the two intervals must lie within
   * it for the linear one to be validated. */
  double tolerance, d_low, d_high;
  gboolean validated;
  /* The histogram, twice as wide as the interval and about its middle; width 0 where all trials are the same. */
  double bin_low, bin_width;
  guint counts[TRAMMEL_MONTE_CARLO_BINS]; /* what lies outside counts in the first and last */
} TrammelMonteCarloAxis;

/**
 * trammel_monte_carlo:
 * @input: what @adjustment was made from
 *
 * Draws every measured value and every stated value that took part from a normal distribution about itself with its
 * standard uncertainty, and solves the nonlinear model for each draw (the triangle of the fit stays the step's metric;
 * steps are taken until they are below a millionth of each u). Where the adjustment found the size of the errors from
 * the readings (estimated, or a Birge ratio), that size is drawn as well (not that of stated values whose u stays as
 * stated), so that results follow Student's t as clause
 * 6.4.9 asks. Trials are made in blocks with a random stream each (GSL's mt19937, ziggurat).
 *
 * Returns: (transfer full) (nullable): GArray of TrammelMonteCarloAxis, as the axes of the fit. Errors:
 * TRAMMEL_ERROR_DATA for a robust adjustment (its weights hang on the values), G_IO_ERROR_CANCELLED.
 */
GArray *trammel_monte_carlo (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                             const TrammelMonteCarloOptions *options, GError **error);

/* The density at @scale_error that the linear result claims: normal or Student's t about linear_value with the scale
 * linear_u. 0 everywhere where linear_u is 0. */
double trammel_monte_carlo_linear_density (const TrammelMonteCarloAxis *axis, double scale_error);

/* TRUE when the interval is not validated, but the ends that differ by more than the tolerance do so by no more than
 * three times their own uncertainty above it: so few trials cannot tell. */
gboolean trammel_monte_carlo_is_open (const TrammelMonteCarloAxis *axis);

G_END_DECLS
