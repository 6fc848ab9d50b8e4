/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/trial-figures-private.h"

#include <gsl/gsl_randist.h>
#include <math.h>

#define COVERAGE 0.95
/* So many u off, an end is off for sure: of two ends of a few axes, one in a hundred is 3 u off by chance. */
#define BY_CHANCE 3

/* Puts the @k-th smallest in its place, all smaller ones before it (C. A. R. Hoare, Comm. ACM 4 (1961) 321). */
static double
select_kth (double *values, gsize n, gsize k)
{
  gsize low = 0, high = n - 1;

  while (low < high)
    {
      const double pivot = values[low + (high - low) / 2];
      gsize i = low, j = high;
      for (;;)
        {
          while (values[i] < pivot)
            i++;
          while (values[j] > pivot)
            j--;
          if (i >= j)
            break;
          const double kept = values[i];
          values[i++] = values[j];
          values[j--] = kept;
        }
      /* j may have come to stand before or on i: what is up to j is not above the pivot, what is from j + 1 not below
       */
      if (k <= j)
        high = j;
      else
        low = j + 1;
    }
  return values[k];
}

static void
find_moments (TrammelMonteCarloAxis *axis, const double *trials, gsize n)
{
  double sum = 0, square = 0;

  /* About the linear value, so that no digits are lost */
  for (gsize i = 0; i < n; i++)
    sum += trials[i] - axis->linear_value;
  const double off = sum / (double)n;
  for (gsize i = 0; i < n; i++)
    {
      const double from_mean = trials[i] - axis->linear_value - off;
      square += from_mean * from_mean;
    }
  axis->mean = axis->linear_value + off;
  axis->u = sqrt (square / (double)(n - 1));
}

static void
count_bins (TrammelMonteCarloAxis *axis, const double *trials, gsize n)
{
  /* By the interval, not by u, which a few far trials decide where the tails are long */
  axis->bin_low = (axis->low + axis->high) / 2 - (axis->high - axis->low);
  axis->bin_width = 2 * (axis->high - axis->low) / TRAMMEL_MONTE_CARLO_BINS;
  for (gsize i = 0; i < n; i++)
    {
      const double place = axis->bin_width > 0 ? floor ((trials[i] - axis->bin_low) / axis->bin_width) : 0;
      axis->counts[(int)CLAMP (place, 0, TRAMMEL_MONTE_CARLO_BINS - 1)]++;
    }
}

/* How many of n values lie below the true quantile p is binomial, with a standard deviation of √(np(1 − p)): the values
 * twice so many ranks to either side are four standard uncertainties apart. Source: H. A. David & H. N. Nagaraja, Order
 * Statistics, 3rd ed. (Wiley, 2003), 7.1 (from memory). */
static double
uncertainty_of_kth (double *trials, gsize n, gsize k)
{
  const double part = ((double)k + 0.5) / (double)n;
  const gsize ranks = (gsize)ceil (2 * sqrt ((double)n * part * (1 - part)));
  const double below = select_kth (trials, n, k - MIN (ranks, k)),
               above = select_kth (trials, n, MIN (k + ranks, n - 1));

  return (above - below) / 4;
}

/* JCGM 101:2008, 7.7.2: with M trials and q = pM rounded, from the r-th to the (r+q)-th, r = (M − q)/2, or where
 * that is no whole number the whole part of (M − q + 1)/2. */
static void
find_interval (TrammelMonteCarloAxis *axis, double *trials, gsize n)
{
  const gsize q = (gsize)floor (COVERAGE * (double)n + 0.5);
  const gsize r = MAX ((n - q + 1) / 2, 1);

  axis->low = select_kth (trials, n, r - 1);
  axis->high = select_kth (trials, n, MIN (r + q, n) - 1);
  axis->low_u = uncertainty_of_kth (trials, n, r - 1);
  axis->high_u = uncertainty_of_kth (trials, n, MIN (r + q, n) - 1);
}

double
trammel_trial_tolerance (double u)
{
  if (!(u > 0) || !isfinite (u))
    return 0;
  int l = (int)floor (log10 (u)) - 1;
  /* Rounded to two digits it may have become 100 of the lesser unit */
  if (rint (u / pow (10, l)) >= 100)
    l++;
  return pow (10, l) / 2;
}

TrammelMonteCarloAxis
trammel_trial_figures (const TrammelAxisScale *linear, double freedom, double *trials, gsize n)
{
  TrammelMonteCarloAxis axis = { .letter = linear->letter,
                                 .linear_value = linear->scale_error,
                                 .linear_u = linear->u,
                                 .linear_low = linear->low,
                                 .linear_high = linear->high,
                                 .freedom = freedom };

  find_moments (&axis, trials, n);
  find_interval (&axis, trials, n);
  count_bins (&axis, trials, n);
  axis.tolerance = trammel_trial_tolerance (axis.linear_u);
  axis.d_low = fabs (axis.linear_low - axis.low);
  axis.d_high = fabs (axis.linear_high - axis.high);
  axis.validated = axis.d_low <= axis.tolerance && axis.d_high <= axis.tolerance;
  return axis;
}

double
trammel_monte_carlo_linear_density (const TrammelMonteCarloAxis *axis, double scale_error)
{
  g_return_val_if_fail (axis != NULL, NAN);

  if (!(axis->linear_u > 0))
    return 0;
  const double away = (scale_error - axis->linear_value) / axis->linear_u;
  return (isinf (axis->freedom) ? gsl_ran_ugaussian_pdf (away) : gsl_ran_tdist_pdf (away, axis->freedom))
         / axis->linear_u;
}

gboolean
trammel_monte_carlo_is_open (const TrammelMonteCarloAxis *axis)
{
  g_return_val_if_fail (axis != NULL, FALSE);

  return !axis->validated && axis->d_low - BY_CHANCE * axis->low_u <= axis->tolerance
         && axis->d_high - BY_CHANCE * axis->high_u <= axis->tolerance;
}
