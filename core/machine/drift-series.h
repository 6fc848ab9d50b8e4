/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/control-chart.h"

G_BEGIN_DECLS

/* Further ahead nothing is foretold. Days: ten years. */
#define TRAMMEL_DRIFT_HORIZON 3652.5

/* One value of a quantity, found in one check of an axis. */
typedef struct
{
  gsize entry;  /* of the machine's log */
  double day;   /* since 1970-01-01, UTC */
  double value; /* counts per unit; mm, or degrees along a rotary axis */
  double u;
  double u_in_trend;   /* that it counts with in the trend */
  double freedom;      /* degrees of freedom, where the value is a scatter; else NaN */
  double moving_range; /* against the check before; NaN for the first */
  gboolean is_outside, is_jump;
} TrammelDriftCheck;

/* y = level + slope (day − center), y being value/last − 1 or the value. */
typedef struct
{
  double center, level, slope;
  double level_u, slope_u;
  double factor; /* half-width of a 95 % interval in units of u */
} TrammelDriftLine;

/**
 * TrammelDriftSeries:
 *
 * A quantity over time. Trend: straight line through it by least squares weighted with 1/u², in relative terms (of the
 * last value) or as it is, per day; intervals use the normal distribution, unless χ² (p < 0.05) says that the checks
 * scatter more than their u, which multiplies u by the Birge ratio and uses Student's t. Where a check has no u, all
 * weigh the same and the scatter is estimated (3 checks at least). Sources: N. R. Draper & H. Smith, Applied Regression
 * Analysis, 3rd ed. (Wiley, 1998), chapters 1 and 9; R. T. Birge, Phys. Rev. 40 (1932) 207.
 *
 * Next check: the first day from the last check on when the 95 % interval of the line leaves the tolerance: in relative
 * terms that about the last value, else that about 0.
 */
typedef struct
{
  GArray *checks;    /* of TrammelDriftCheck, in the order of time */
  gsize n_set_aside; /* earlier ones, from before the series begins */
  gboolean is_relative;
  gboolean has_chart; /* at least 2 checks */
  TrammelControlChart chart;
  gboolean has_trend; /* at least 2 checks on different days */
  TrammelDriftLine line;
  double slope, slope_u, slope_low, slope_high;
  double birge;            /* on u of the slope; 1: none */
  gboolean is_significant; /* the interval excludes 0 */
  double tolerance;        /* NaN: none is wanted */
  double due;              /* day; NaN: there is no trend or no tolerance, or not within TRAMMEL_DRIFT_HORIZON */
  gboolean is_due_at_once; /* the last check does not tell the value within the tolerance */
} TrammelDriftSeries;

void trammel_drift_series_init (TrammelDriftSeries *series, double tolerance);
void trammel_drift_series_clear (TrammelDriftSeries *series);
/* Chart, trend and next check of the checks that are in it; @relative: of values that are not 0. */
void trammel_drift_series_work_out (TrammelDriftSeries *series, gboolean relative);

/* The value that the trend has at @day, and the half-width of its 95 % interval, in the unit of the values. FALSE:
 * there is no trend. */
gboolean trammel_drift_series_trend_at (const TrammelDriftSeries *series, double day, double *value,
                                        double *half_width);

G_END_DECLS
