/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/homing.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_cdf.h>
#include <math.h>

#include "base/error.h"
#include "measure/tolerance.h"

#define FEWEST_LEFT 3
/* Beyond this many degrees of freedom Student's t is the normal distribution. */
#define MANY 1e7

/* --- mean and scatter --- */

/* Of differences from the first value, so that a large offset costs no digits. */
static double
mean_of (const double *values, gsize n)
{
  double sum = 0, rest = 0;

  for (gsize i = 0; i < n; i++)
    sum += values[i] - values[0];
  sum /= (double)n;
  for (gsize i = 0; i < n; i++)
    rest += (values[i] - values[0]) - sum;
  return values[0] + (sum + rest / (double)n);
}

/* Two passes, with the correction for the rounding of the mean. Source: T. F. Chan, G. H. Golub, R. J. LeVeque, The
 * American Statistician 37 (1983) 242. */
static double
scatter_of (const double *values, gsize n, double mean)
{
  double squares = 0, sum = 0;

  for (gsize i = 0; i < n; i++)
    {
      double d = values[i] - mean;

      squares += d * d;
      sum += d;
    }
  return sqrt (MAX (squares - sum * sum / (double)n, 0) / (double)(n - 1));
}

static double
two_sided_p (double t, double freedom)
{
  return isnan (t) ? NAN : 2 * gsl_cdf_tdist_Q (fabs (t), freedom);
}

/* An estimate over its standard error. Where nothing scatters, all is certain: 0 is 0 and anything else is not. */
static double
ratio_to_u (double estimate, double u)
{
  return u > 0 ? estimate / u : estimate == 0 ? 0 : copysign (HUGE_VAL, estimate);
}

/* --- drift --- */

static TrammelHomingDrift
drift_of (const double *values, const double *runs, gsize n)
{
  TrammelHomingDrift drift = { NAN, NAN, NAN };
  g_autofree double *numbers = NULL;
  double mean, middle, sxx = 0, sxy = 0, rest = 0;

  if (n < 3)
    return drift;
  numbers = g_new (double, n);
  for (gsize i = 0; i < n; i++)
    numbers[i] = runs ? runs[i] : (double)(i + 1);
  mean = mean_of (values, n);
  middle = mean_of (numbers, n);
  for (gsize i = 0; i < n; i++)
    {
      sxx += (numbers[i] - middle) * (numbers[i] - middle);
      sxy += (numbers[i] - middle) * (values[i] - mean);
    }
  if (sxx == 0) /* all of one run */
    return drift;
  drift.slope = sxy / sxx;
  for (gsize i = 0; i < n; i++)
    {
      double d = values[i] - mean - drift.slope * (numbers[i] - middle);

      rest += d * d;
    }
  drift.u = sqrt (rest / (double)(n - 2) / sxx);
  drift.p_value = two_sided_p (ratio_to_u (drift.slope, drift.u), (double)n - 2);
  return drift;
}

/* --- the whole --- */

static gboolean
check_values (const double *values, const double *runs, gsize n, GError **error)
{
  if (n < 2)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                   g_dngettext (GETTEXT_PACKAGE, "found %u reading; at least 2 are wanted",
                                "found %u readings; at least 2 are wanted", n),
                   (guint)n);
      return FALSE;
    }
  for (gsize i = 0; i < n; i++)
    if (!isfinite (values[i]) || (runs && !isfinite (runs[i])))
      {
        g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("reading %u is not a finite number"), (guint)i + 1);
        return FALSE;
      }
  return TRUE;
}

gboolean
trammel_homing_analyse (const double *values, const double *runs, gsize n, TrammelHoming *out, GError **error)
{
  TrammelHoming homing = { .n = n };
  double reach;

  g_return_val_if_fail (values != NULL || n == 0, FALSE);
  g_return_val_if_fail (out != NULL, FALSE);

  if (!check_values (values, runs, n, error))
    return FALSE;
  homing.mean = mean_of (values, n);
  homing.s = scatter_of (values, n, homing.mean);
  homing.low = homing.high = values[0];
  for (gsize i = 1; i < n; i++)
    {
      homing.low = MIN (homing.low, values[i]);
      homing.high = MAX (homing.high, values[i]);
    }
  homing.range = homing.high - homing.low;
  homing.drift = drift_of (values, runs, n);
  reach = gsl_cdf_tdist_Qinv ((1 - TRAMMEL_HOMING_CONFIDENCE) / 2, (double)n - 1) * homing.s * sqrt (1 + 1 / (double)n);
  homing.prediction_low = homing.mean - reach;
  homing.prediction_high = homing.mean + reach;
  homing.factor = trammel_tolerance_factor (n, TRAMMEL_HOMING_COVERAGE, TRAMMEL_HOMING_CONFIDENCE);
  homing.factor_howe = trammel_tolerance_factor_howe (n, TRAMMEL_HOMING_COVERAGE, TRAMMEL_HOMING_CONFIDENCE);
  homing.tolerance_low = homing.mean - homing.factor * homing.s;
  homing.tolerance_high = homing.mean + homing.factor * homing.s;
  *out = homing;
  return TRUE;
}

/* --- outliers --- */

double
trammel_homing_grubbs_critical (gsize n, double significance)
{
  double count = (double)n, t;

  if (n < FEWEST_LEFT)
    return NAN;
  t = gsl_cdf_tdist_Qinv (significance / (2 * count), count - 2);
  return (count - 1) / sqrt (count) * sqrt (t * t / (count - 2 + t * t));
}

/* Index of the value farthest from @mean. */
static gsize
farthest_from (const double *values, gsize n, double mean)
{
  gsize farthest = 0;

  for (gsize i = 1; i < n; i++)
    if (fabs (values[i] - mean) > fabs (values[farthest] - mean))
      farthest = i;
  return farthest;
}

GArray *
trammel_homing_outliers (const double *values, gsize n)
{
  GArray *found = g_array_new (FALSE, FALSE, sizeof (TrammelHomingOutlier));
  g_autofree double *left = NULL;
  g_autofree gsize *indices = NULL;

  g_return_val_if_fail (values != NULL || n == 0, found);

  left = g_new (double, n);
  indices = g_new (gsize, n);
  for (gsize i = 0; i < n; i++)
    {
      left[i] = values[i];
      indices[i] = i;
    }
  while (n >= FEWEST_LEFT)
    {
      double mean = mean_of (left, n), s = scatter_of (left, n, mean);
      gsize i = farthest_from (left, n, mean);
      TrammelHomingOutlier outlier
          = { indices[i], fabs (left[i] - mean) / s, trammel_homing_grubbs_critical (n, TRAMMEL_HOMING_SIGNIFICANCE) };

      if (!(s > 0) || !(outlier.g > outlier.critical))
        break;
      g_array_append_val (found, outlier);
      n--;
      left[i] = left[n];
      indices[i] = indices[n];
    }
  return found;
}

/* --- two approaches --- */

static double
p_of_equal_variances (const TrammelHoming *a, const TrammelHoming *b)
{
  const double ratio = (a->s * a->s) / (b->s * b->s), na = (double)a->n, nb = (double)b->n;

  if (a->s == 0 && b->s == 0)
    return 1;
  if (a->s == 0 || b->s == 0)
    return NAN;
  return MIN (1, 2 * MIN (gsl_cdf_fdist_P (ratio, na - 1, nb - 1), gsl_cdf_fdist_Q (ratio, na - 1, nb - 1)));
}

TrammelHomingComparison
trammel_homing_compare (const TrammelHoming *a, const TrammelHoming *b)
{
  TrammelHomingComparison compared = { 0 };
  double na, nb, va, vb;

  g_return_val_if_fail (a != NULL && b != NULL, compared);

  na = (double)a->n;
  nb = (double)b->n;
  va = a->s * a->s / na;
  vb = b->s * b->s / nb;
  compared.ratio = b->s > 0 ? (a->s * a->s) / (b->s * b->s) : NAN;
  compared.f_p = p_of_equal_variances (a, b);
  compared.difference = a->mean - b->mean;
  compared.u = sqrt (va + vb);
  compared.freedom = compared.u > 0 ? (va + vb) * (va + vb) / (va * va / (na - 1) + vb * vb / (nb - 1)) : na + nb - 2;
  compared.t = compared.u > 0 ? compared.difference / compared.u : compared.difference == 0 ? 0 : NAN;
  compared.t_p = two_sided_p (compared.t, compared.freedom);
  return compared;
}

/* --- floor and offset --- */

TrammelHomingFloor
trammel_homing_floor (double speed, double delay)
{
  double range = fabs (speed) * fabs (delay);

  return (TrammelHomingFloor){ range, range / sqrt (12) };
}

/* s of one touch, and its degrees of freedom. */
static double
scatter_of_touch (const double *touches, gsize n, double mean, const TrammelHoming *homing, double *freedom)
{
  const double own = n > 1 ? scatter_of (touches, n, mean) : 0, own_freedom = (double)n - 1;
  const double home_freedom = (double)homing->n - 1;

  *freedom = own_freedom;
  if (n > 1 && own >= homing->s)
    return own;
  *freedom += home_freedom;
  return sqrt ((own_freedom * own * own + home_freedom * homing->s * homing->s) / *freedom);
}

static double
t_quantile (double tail, double freedom)
{
  return freedom < MANY ? gsl_cdf_tdist_Qinv (tail, freedom) : gsl_cdf_ugaussian_Qinv (tail);
}

TrammelHomingOffset
trammel_homing_offset (const double *touches, gsize n, const TrammelHoming *homing, double gauge, double u_gauge)
{
  TrammelHomingOffset offset = { NAN, NAN, NAN, NAN, NAN };
  double mean, u, freedom, reach;

  g_return_val_if_fail (touches != NULL && n > 0, offset);
  g_return_val_if_fail (homing != NULL && homing->n > 1, offset);

  mean = mean_of (touches, n);
  u = scatter_of_touch (touches, n, mean, homing, &freedom) / sqrt ((double)n);
  offset.value = mean - gauge;
  offset.u = hypot (u, u_gauge);
  offset.freedom = u > 0 ? freedom * pow (offset.u / u, 4) : HUGE_VAL;
  reach = t_quantile ((1 - TRAMMEL_HOMING_CONFIDENCE) / 2, offset.freedom) * offset.u;
  offset.low = offset.value - reach;
  offset.high = offset.value + reach;
  return offset;
}

/* A tenth and a quarter of a layer: common practice, no source. */
char *
trammel_homing_meaning (const TrammelHoming *homing, double layer)
{
  double share;

  g_return_val_if_fail (homing != NULL && layer > 0, NULL);

  share = (homing->tolerance_high - homing->tolerance_low) / 2 / layer;
  if (share < 0.1)
    return g_strdup (_ ("The first layer comes out the same every time."));
  if (share < 0.25)
    return g_strdup (_ ("The first layer will be squeezed a little more or less from one home to the next; it should "
                        "still stick."));
  return g_strdup (_ ("The first layer will not be the same twice: now and then it will not stick, or the tip will "
                      "scrape."));
}
