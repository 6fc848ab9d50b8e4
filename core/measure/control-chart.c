/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/control-chart.h"

#include <math.h>

gboolean
trammel_control_chart_make (const double *values, gsize n, TrammelControlChart *out)
{
  double sum = 0, ranges = 0;

  g_return_val_if_fail ((values != NULL || n == 0) && out != NULL, FALSE);

  if (n < 2)
    return FALSE;
  for (gsize i = 0; i < n; i++)
    {
      sum += values[i];
      ranges += i > 0 ? fabs (values[i] - values[i - 1]) : 0;
    }
  if (!isfinite (sum) || !isfinite (ranges))
    return FALSE;
  out->center = sum / (double)n;
  out->range = ranges / (double)(n - 1);
  out->low = out->center - 3 * out->range / TRAMMEL_CONTROL_D2;
  out->high = out->center + 3 * out->range / TRAMMEL_CONTROL_D2;
  out->range_high = TRAMMEL_CONTROL_D4 * out->range;
  return TRUE;
}

gboolean
trammel_control_chart_is_outside (const TrammelControlChart *chart, double value)
{
  g_return_val_if_fail (chart != NULL, FALSE);

  return value < chart->low || value > chart->high;
}

gboolean
trammel_control_chart_is_jump (const TrammelControlChart *chart, double before, double value)
{
  g_return_val_if_fail (chart != NULL, FALSE);

  return fabs (value - before) > chart->range_high;
}
