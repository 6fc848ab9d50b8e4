/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"
#include "measure/control-chart.h"

G_BEGIN_DECLS

/* Scale drift that is borne when nothing else is wanted: 0.1 %. Common practice, no source. */
#define TRAMMEL_DRIFT_TOLERANCE 0.001
/* A correction of more than this between two checks is another train, not drift; the series begins anew there. */
#define TRAMMEL_DRIFT_BREAK 0.05
/* Further ahead nothing is foretold. Days: ten years. */
#define TRAMMEL_DRIFT_HORIZON 3652.5

/* One check of an axis: a log entry that corrected it. */
typedef struct
{
  gsize entry;  /* of the machine's log */
  double day;   /* since 1970-01-01, UTC */
  double value; /* corrected counts per unit */
  double u;
  double moving_range; /* against the check before; NaN for the first */
  gboolean is_outside, is_jump;
} TrammelDriftCheck;

/**
 * TrammelDrift:
 *
 * The corrected values of one axis over time. Trend: straight line through them by least squares weighted with 1/u²,
 * in relative terms (of the last value) per day; intervals use the normal distribution, unless χ² (p < 0.05) says that
 * the checks scatter more than their u, which multiplies u by the Birge ratio and uses Student's t. Where a check has
 * no u, all weigh the same and the scatter is estimated (3 checks at least). Sources: N. R. Draper & H. Smith, Applied
 * Regression Analysis, 3rd ed. (Wiley, 1998), chapters 1 and 9; R. T. Birge, Phys. Rev. 40 (1932) 207.
 *
 * Next check: the first day from the last check on when the 95 % interval of the line leaves the tolerance about the
 * value in force then (that of the last check).
 */
typedef struct
{
  char letter;
  GArray *checks;     /* of TrammelDriftCheck, in the order of time */
  gsize n_set_aside;  /* earlier ones, before a break */
  gboolean has_chart; /* at least 2 checks */
  TrammelControlChart chart;
  gboolean has_trend; /* at least 2 checks on different days */
  double slope, slope_u, slope_low, slope_high;
  double birge;            /* on u of the slope; 1: none */
  gboolean is_significant; /* the interval excludes 0 */
  double tolerance;
  double due;              /* day; NaN: there is no trend, or not within TRAMMEL_DRIFT_HORIZON */
  gboolean is_due_at_once; /* the last check does not tell the scale within the tolerance */
} TrammelDrift;

/* @tolerance: relative, above 0. (transfer full) (nullable): TRAMMEL_ERROR_DATA when there is no such axis. */
TrammelDrift *trammel_drift_new (const TrammelMachine *machine, char letter, double tolerance, GError **error);
void trammel_drift_free (TrammelDrift *drift);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelDrift, trammel_drift_free)

/* (transfer full): ISO 8601, UTC, of a day as above. NULL for NaN. */
char *trammel_drift_day_to_text (double day);

G_END_DECLS
