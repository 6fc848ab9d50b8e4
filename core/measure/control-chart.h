/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Mean range of two values in units of their σ, and the upper limit of that range in units of its mean. Source: D. C.
 * Montgomery, Introduction to Statistical Quality Control, factors for control charts, n = 2 (from memory). */
#define TRAMMEL_CONTROL_D2 1.128
#define TRAMMEL_CONTROL_D4 3.267

/**
 * TrammelControlChart:
 *
 * Individuals chart: single values in the order of time, with limits from how much each differs from the one before.
 */
typedef struct
{
  double center;     /* mean */
  double range;      /* mean moving range: of |value − the one before| */
  double low, high;  /* center ± 3·range/d2 (2.66·range) */
  double range_high; /* D4·range */
} TrammelControlChart;

/* FALSE for fewer than 2 values, or one that is not finite. Source: Montgomery, as above, control charts for individual
 * measurements (from memory). */
gboolean trammel_control_chart_make (const double *values, gsize n, TrammelControlChart *out);

/* Beyond the limits; on a limit is inside. */
gboolean trammel_control_chart_is_outside (const TrammelControlChart *chart, double value);
gboolean trammel_control_chart_is_jump (const TrammelControlChart *chart, double before, double value);

G_END_DECLS
