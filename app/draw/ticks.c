/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/ticks.h"

#include <math.h>

/* A place that falls outside the range by less than this part of a step still counts. */
#define TOLERANCE 1e-9

double
trammel_ticks_round_down (double value)
{
  double power = pow (10, floor (log10 (value) + TOLERANCE));
  double digit = value / power * (1 + TOLERANCE);

  return power * (digit >= 5 ? 5 : digit >= 2 ? 2 : 1);
}

static double
next_step (double step)
{
  double power = pow (10, floor (log10 (step) + TOLERANCE));
  int digit = (int)lround (step / power);

  return power * (digit == 1 ? 2 : digit == 2 ? 5 : 10);
}

static int
places_in (double low, double high, double step)
{
  return (int)(floor (high / step + TOLERANCE) - ceil (low / step - TOLERANCE)) + 1;
}

TrammelTicks
trammel_ticks_make (double low, double high, int most)
{
  TrammelTicks ticks = { low, 1, 0, 0 };

  g_return_val_if_fail (isfinite (low) && isfinite (high) && low < high, ticks);

  most = MAX (most, 2);
  double step = trammel_ticks_round_down ((high - low) / (most + 1));
  while (places_in (low, high, step) > most)
    step = next_step (step);
  ticks.first = ceil (low / step - TOLERANCE) * step;
  ticks.step = step;
  ticks.n = MAX (places_in (low, high, step), 0);
  ticks.decimals = MAX (0, (int)-floor (log10 (step) + TOLERANCE));
  return ticks;
}

double
trammel_ticks_at (TrammelTicks ticks, int i)
{
  return round (ticks.first / ticks.step + i) * ticks.step;
}
