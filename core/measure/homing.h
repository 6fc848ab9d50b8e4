/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Repeated homing: the place where the switch fired, read again and again by something that knows better. Lengths in
 * mm. Normal theory throughout: what scatters is taken to be normally distributed. */

#define TRAMMEL_HOMING_COVERAGE 0.99   /* share of all homes in the tolerance interval */
#define TRAMMEL_HOMING_CONFIDENCE 0.95 /* of that, and of the prediction interval */
#define TRAMMEL_HOMING_SIGNIFICANCE 0.05

/* Straight line through the readings in the order of their runs: least squares, and Student's t-test of its slope being
 * zero. NaN for fewer than 3 readings. Source: N. R. Draper, H. Smith, Applied Regression Analysis, 3rd ed., 1.4-1.5.
 */
typedef struct
{
  double slope;   /* mm per run */
  double u;       /* its standard error */
  double p_value; /* two-sided */
} TrammelHomingDrift;

typedef struct
{
  gsize n;
  double mean, s; /* s: sample standard deviation (n − 1) */
  double low, high, range;
  TrammelHomingDrift drift;
  /* Holds the next home with 95 %: mean ± t_{0.975, n−1} s √(1 + 1/n). Source: G. J. Hahn, W. Q. Meeker, Statistical
   * Intervals (1991), 4.7. */
  double prediction_low, prediction_high;
  /* Holds 99 % of all homes with 95 % confidence; the exact factor, and Howe's approximation of it (tolerance.h) */
  double factor, factor_howe;
  double tolerance_low, tolerance_high;
} TrammelHoming;

/**
 * trammel_homing_analyse:
 * @values: @n readings, finite
 * @runs: (nullable): the number of each one's run; NULL: 1, 2, 3, …
 *
 * Errors: TRAMMEL_ERROR_DATA for fewer than 2 readings, or one that is not finite.
 */
gboolean trammel_homing_analyse (const double *values, const double *runs, gsize n, TrammelHoming *out, GError **error);

typedef struct
{
  gsize index;     /* of @values */
  double g;        /* |value − mean|/s of the values that were still there */
  double critical; /* that it exceeds */
} TrammelHomingOutlier;

/**
 * trammel_homing_outliers:
 *
 * Grubbs's two-sided test at 0.05: the value farthest from the mean is an outlier where g = |x − mean|/s exceeds
 * (n − 1)/√n · √(t²/(n − 2 + t²)), t the upper 0.05/(2n) point of Student's t with n − 2 degrees of freedom. It is then
 * set aside and the rest tested, until none is found or 3 are left. (Two outliers close together can hide each other
 * from this test.)
 *
 * Returns: (transfer full): GArray of TrammelHomingOutlier in the order in which they were found.
 * Source: F. E. Grubbs, Technometrics 11 (1969) 1; NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.17.1.
 */
GArray *trammel_homing_outliers (const double *values, gsize n);

/* What g must exceed among n values, n ≥ 3; NaN for less. */
double trammel_homing_grubbs_critical (gsize n, double significance);

/* Two ways of approaching the switch. */
typedef struct
{
  double ratio; /* s_a²/s_b²; NaN where s_b is 0 */
  /* Two-sided p-value of equal variances; 1 where both are 0. Source: NIST/SEMATECH e-Handbook, 1.3.5.9 */
  double f_p;
  double difference, u; /* mean of a less mean of b */
  double freedom;       /* Welch-Satterthwaite; n_a + n_b − 2 where neither scatters */
  double t, t_p; /* of equal means. Source: B. L. Welch, Biometrika 34 (1947) 28; NIST/SEMATECH e-Handbook, 1.3.5.3 */
} TrammelHomingComparison;

/* Homes that all read alike show the step of the instrument, not the scatter of the switch: where one of the two does,
 * the F test cannot be made and f_p is NaN; where both do, at different places, t and t_p are NaN. */
TrammelHomingComparison trammel_homing_compare (const TrammelHoming *a, const TrammelHoming *b);

/* What the switch cannot better: the controller looks at it every @delay seconds while it comes at @speed (mm/s), so
 * that the place is found up to speed·delay late. */
typedef struct
{
  double range; /* speed · delay */
  double s;     /* of a uniform distribution of that width: range/√12. Source: JCGM 100:2008 (GUM), 4.3.7 */
} TrammelHomingFloor;

TrammelHomingFloor trammel_homing_floor (double speed, double delay);

/* From the switch to the origin of the bed: where a gauge laid on the bed was just touched, in coordinates that begin
 * at the switch, less the gauge's thickness. */
typedef struct
{
  double value, u;
  double freedom;   /* effective, of u; HUGE_VAL where nothing but the gauge is uncertain */
  double low, high; /* 95 % interval, by Student's t with it */
} TrammelHomingOffset;

/**
 * trammel_homing_offset:
 * @touches: @n ≥ 1 of them, each after a home of its own
 * @homing: that of the switch
 *
 * u combines the scatter s of one touch, over √n, with the gauge's @u_gauge. Every touch has the scatter of its home in
 * it, so it cannot scatter less than homing does: where the touches look as if they did (few of them, all alike, or
 * only one), the two variances are pooled, weighted with their degrees of freedom, which is the estimate of greatest
 * likelihood under that order. The gauge's u counts with infinite degrees of freedom. Sources: JCGM 100:2008 (GUM),
 * 5.1.2 and G.4.1; R. E. Barlow, D. J. Bartholomew, J. M. Bremner, H. D. Brunk, Statistical Inference under Order
 * Restrictions (Wiley, 1972), pooling of adjacent violators (from memory).
 */
TrammelHomingOffset trammel_homing_offset (const double *touches, gsize n, const TrammelHoming *homing, double gauge,
                                           double u_gauge);

/* (transfer full): what the scatter means for a first layer of @layer mm, in words. */
char *trammel_homing_meaning (const TrammelHoming *homing, double layer);

G_END_DECLS
