/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/tolerance.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_integration.h>
#include <gsl/gsl_randist.h>
#include <math.h>

#define N_NODES 96
#define WIDEST 9.0 /* standard deviations of the mean, beyond which nothing is left to integrate */
#define MOST_STEPS 200
#define PRECISION 1e-11

/* r² at the nodes, and the weights there, of one n and coverage. */
typedef struct
{
  double freedom;
  double square[N_NODES];
  double weight[N_NODES];
} Nodes;

static gboolean
makes_sense (gsize n, double coverage, double confidence)
{
  return n >= 2 && coverage >= 0.5 && coverage < 1 && confidence > 0 && confidence < 1;
}

/* r with Φ(z+r) − Φ(z−r) = coverage: by Newton's method from below, where the share covered is concave. */
static double
half_width_at (double z, double coverage)
{
  double r = MAX (fabs (z), 1e-3) + gsl_cdf_ugaussian_Qinv (1 - coverage);

  for (int i = 0; i < MOST_STEPS; i++)
    {
      /* The two tails, so that a coverage near 1 loses no digits */
      double outside = gsl_cdf_ugaussian_Q (z + r) + gsl_cdf_ugaussian_P (z - r);
      double slope = gsl_ran_ugaussian_pdf (z + r) + gsl_ran_ugaussian_pdf (z - r);
      double step = (1 - coverage - outside) / slope;

      r -= step;
      if (fabs (step) < PRECISION * r)
        break;
    }
  return r;
}

static gboolean
make_nodes (gsize n, double coverage, Nodes *nodes)
{
  gsl_integration_glfixed_table *table = gsl_integration_glfixed_table_alloc (N_NODES);
  const double end = WIDEST / sqrt ((double)n);

  if (!table)
    return FALSE;
  nodes->freedom = (double)n - 1;
  for (gsize i = 0; i < N_NODES; i++)
    {
      double z, weight, r;

      gsl_integration_glfixed_point (0, end, i, &z, &weight, table);
      r = half_width_at (z, coverage);
      nodes->square[i] = r * r;
      nodes->weight[i] = 2 * weight * sqrt ((double)n) * gsl_ran_ugaussian_pdf (z * sqrt ((double)n));
    }
  gsl_integration_glfixed_table_free (table);
  return TRUE;
}

static double
confidence_of (const Nodes *nodes, double k)
{
  double sum = 0;

  for (gsize i = 0; i < N_NODES; i++)
    sum += nodes->weight[i] * gsl_cdf_chisq_Q (nodes->freedom * nodes->square[i] / (k * k), nodes->freedom);
  return sum;
}

/* Howe's value is within a few percent, so that little is left to search. */
double
trammel_tolerance_factor (gsize n, double coverage, double confidence)
{
  Nodes nodes;
  double low, high;

  if (!makes_sense (n, coverage, confidence) || !make_nodes (n, coverage, &nodes))
    return NAN;
  low = high = trammel_tolerance_factor_howe (n, coverage, confidence);
  while (low > 1e-12 && confidence_of (&nodes, low) > confidence)
    low *= 0.9;
  while (high < 1e12 && confidence_of (&nodes, high) < confidence)
    high *= 1.1;
  for (int i = 0; i < MOST_STEPS && high - low > PRECISION * high; i++)
    {
      double middle = (low + high) / 2;

      if (confidence_of (&nodes, middle) < confidence)
        low = middle;
      else
        high = middle;
    }
  return (low + high) / 2;
}

double
trammel_tolerance_factor_howe (gsize n, double coverage, double confidence)
{
  double freedom = (double)n - 1;

  if (!makes_sense (n, coverage, confidence))
    return NAN;
  return gsl_cdf_ugaussian_Qinv ((1 - coverage) / 2)
         * sqrt (freedom * (1 + 1 / (double)n) / gsl_cdf_chisq_Pinv (1 - confidence, freedom));
}
