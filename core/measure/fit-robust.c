/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The bisquare of Beaton and Tukey by iteratively reweighted least squares. */
#include "measure/fit-private.h"

#include <gsl/gsl_statistics_double.h>
#include <math.h>

/* 95 % efficient for normal errors. */
#define TUNING 4.685
/* The median absolute deviation of a normal distribution in units of its standard deviation. */
#define NORMAL_MAD 0.6745
#define LEAST_WEIGHT 1e-6
#define MAX_ROUNDS 300
#define ROUND_TOLERANCE 1e-13

/* Weight ψ(z)/z, and the slope ψ′(z). */
static double
bisquare_weight (double z)
{
  double t = z / TUNING * (z / TUNING);

  return t < 1 ? (1 - t) * (1 - t) : 0;
}

static double
bisquare_slope (double z)
{
  double t = z / TUNING * (z / TUNING);

  return t < 1 ? (1 - t) * (1 - 5 * t) : 0;
}

/* The median absolute residual in units of u, as the standard deviation of a normal distribution. */
static double
scale_of_residuals (const TrammelFit *fit, double *scratch)
{
  gsize n = 0;

  for (gsize i = 0; i < fit->input->n_readings; i++)
    if (trammel_fit_row_takes_part (&fit->fitted[i]))
      scratch[n++] = fabs (fit->fitted[i].residual / fit->fitted[i].u);
  return gsl_stats_median (scratch, 1, n) / NORMAL_MAD;
}

static void
weigh (TrammelFit *fit, double least)
{
  for (gsize i = 0; i < fit->input->n_readings; i++)
    if (trammel_fit_row_takes_part (&fit->fitted[i]))
      {
        double standardized = fit->fitted[i].residual / (fit->fitted[i].u * fit->sigma);
        fit->fitted[i].weight = MAX (bisquare_weight (standardized), least);
      }
}

/* What is stated is believed with its u; in the stated way a scale beyond 1 is a factor on every u, theirs too. */
static double
sigma_against_stated (const TrammelFit *fit)
{
  return fit->input->scatter == TRAMMEL_SCATTER_ESTIMATED ? fit->sigma : 1;
}

static int
solve_triangle (TrammelFit *fit, TrammelTriangle *triangle, double *step)
{
  trammel_fit_fold_stated (fit, triangle, sigma_against_stated (fit));
  return trammel_triangle_solve (triangle, step, fit->covariance, fit->involved);
}

static gboolean
refuse_unless_solved (TrammelFit *fit, int n_null, GError **error)
{
  if (n_null == 0)
    return TRUE;
  trammel_fit_set_unseparable (fit, n_null, error);
  return FALSE;
}

/* One weighted step. When every reading of an unknown has lost its weight, those without any get a little back: the
 * unknown then has a value, and a great uncertainty. */
static gboolean
take_weighted_step (TrammelFit *fit, TrammelTriangle *triangle, double *step, double *least_weight, GError **error)
{
  weigh (fit, *least_weight);
  if (!trammel_fit_pass (fit, triangle, TRUE, error))
    return FALSE;
  int n_null = solve_triangle (fit, triangle, step);
  if (n_null > 0 && *least_weight == 0)
    {
      *least_weight = LEAST_WEIGHT;
      fit->rests_on_outliers = TRUE;
      return take_weighted_step (fit, triangle, step, least_weight, error);
    }
  return refuse_unless_solved (fit, n_null, error);
}

static gboolean
reweigh_until_settled (TrammelFit *fit, TrammelTriangle *triangle, double *step, double *scratch, GError **error)
{
  double reference = trammel_fit_measured_length (fit);
  double least_weight = 0;

  fit->converged = FALSE;
  for (int i = 0; i < MAX_ROUNDS && !fit->converged; i++)
    {
      double scale = scale_of_residuals (fit, scratch);
      if (fit->input->scatter == TRAMMEL_SCATTER_STATED)
        scale = MAX (scale, 1);
      /* More than half of the readings lie exactly on the fit: nothing to weigh by. */
      if (!(scale > 0))
        {
          fit->converged = TRUE;
          return TRUE;
        }
      fit->sigma = scale;
      if (!take_weighted_step (fit, triangle, step, &least_weight, error))
        return FALSE;
      trammel_fit_move (fit, step, 1);
      fit->converged = sqrt (trammel_triangle_step_square (triangle, step)) <= ROUND_TOLERANCE * reference;
      if (!trammel_fit_pass (fit, NULL, TRUE, error))
        return FALSE;
    }
  return TRUE;
}

/* Standard deviation that belongs to the plain covariance of a robust fit: P. J. Huber, Robust Statistics (Wiley,
 * 1981), section 7.6, equation 6.5 with the correction K. */
static double
huber_spread (const TrammelFit *fit)
{
  double n = (double)fit->n_used;
  double squares = 0, slopes = 0, slope_squares = 0;

  for (gsize i = 0; i < fit->input->n_readings; i++)
    {
      const TrammelFitted *fitted = &fit->fitted[i];
      if (!trammel_fit_row_takes_part (fitted))
        continue;
      double whitened = fitted->residual / fitted->u;
      double slope = bisquare_slope (whitened / fit->sigma);
      double kept = whitened * bisquare_weight (whitened / fit->sigma);
      squares += kept * kept;
      slopes += slope;
      slope_squares += slope * slope;
    }
  double mean = slopes / n;
  if (!(mean > 0) || n < 2)
    return fit->sigma;
  double variance = (slope_squares - n * mean * mean) / (n - 1);
  double correction = 1 + (n - fit->freedom) * variance / (n * mean * mean);
  return sqrt (squares / fit->freedom) * correction / mean;
}

static gboolean
find_spread (TrammelFit *fit, TrammelTriangle *triangle, double *step, GError **error)
{
  if (fit->input->scatter == TRAMMEL_SCATTER_STATED)
    {
      fit->spread = fit->sigma;
      return TRUE;
    }
  fit->spread = huber_spread (fit);
  return trammel_fit_pass (fit, triangle, FALSE, error)
         && refuse_unless_solved (fit, solve_triangle (fit, triangle, step), error)
         && trammel_fit_pass (fit, NULL, TRUE, error);
}

/* Takes @triangle over. Where there was nothing to weigh by it is still empty, and the plain fit's holds. */
static void
keep_factor (TrammelFit *fit, TrammelTriangle *triangle)
{
  gboolean solved = FALSE;

  for (guint k = 0; k < triangle->n; k++)
    solved = solved || triangle->rows[(gsize)k * (triangle->n + 1) + k] != 0;
  if (solved)
    {
      TrammelTriangle plain = fit->factor;
      fit->factor = *triangle;
      *triangle = plain;
    }
  trammel_triangle_clear (triangle);
}

gboolean
trammel_fit_solve_robust (TrammelFit *fit, GError **error)
{
  TrammelTriangle triangle;
  double *step = g_new0 (double, fit->n_columns);
  double *scratch = g_new (double, fit->n_used);

  trammel_triangle_init (&triangle, fit->n_columns);
  gboolean done
      = reweigh_until_settled (fit, &triangle, step, scratch, error) && find_spread (fit, &triangle, step, error);
  fit->stated_rss = trammel_fit_stated_square (fit);
  keep_factor (fit, &triangle);
  g_free (scratch);
  g_free (step);
  return done;
}
