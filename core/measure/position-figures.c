/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/position-figures-private.h"

#include <math.h>

/* A range that grows; NaN (not known) makes it not known. */
typedef struct
{
  double low, high;
} Range;

#define EMPTY_RANGE                                                                                                    \
  {                                                                                                                    \
    INFINITY, -INFINITY                                                                                                \
  }

static void
stretch (Range *range, double low, double high)
{
  range->low = isnan (low) || low < range->low ? low : range->low;
  range->high = isnan (high) || high > range->high ? high : range->high;
}

static double
width (Range range)
{
  return range.high == -INFINITY ? NAN : range.high - range.low;
}

/* The greatest of what there is; NaN where one of it is not known, or there is none. */
typedef struct
{
  double value;
  gboolean any;
} Greatest;

static void
raise_to (Greatest *greatest, double value)
{
  if (!greatest->any || isnan (value) || value > greatest->value)
    greatest->value = greatest->any && isnan (greatest->value) ? NAN : value;
  greatest->any = TRUE;
}

static double
greatest_value (Greatest greatest)
{
  return greatest.any ? greatest.value : NAN;
}

static void
fill_target (TrammelPositionTarget *target)
{
  const TrammelPositionSide *up = &target->up, *down = &target->down;

  if (up->n == 0 || down->n == 0)
    {
      target->mean = up->n > 0 ? up->mean : down->mean;
      target->reversal = NAN;
      target->repeatability = NAN;
      return;
    }
  target->mean = (up->mean + down->mean) / 2;
  target->reversal = up->mean - down->mean;
  if (isnan (up->s) || isnan (down->s))
    target->repeatability = NAN;
  else
    target->repeatability = fmax (2 * up->s + 2 * down->s + fabs (target->reversal), fmax (4 * up->s, 4 * down->s));
}

/* What one direction gives. */
typedef struct
{
  Range accuracy, systematic;
  Greatest repeatability;
} Direction;

static void
add_side (Direction *direction, const TrammelPositionSide *side)
{
  if (side->n == 0)
    return;
  stretch (&direction->accuracy, side->mean - 2 * side->s, side->mean + 2 * side->s);
  stretch (&direction->systematic, side->mean, side->mean);
  raise_to (&direction->repeatability, 4 * side->s);
}

static double
width_of_both (Range up, Range down)
{
  stretch (&up, down.low, down.high);
  return width (up);
}

TrammelPositionFigures
trammel_position_figures (GArray *targets, gboolean one_direction)
{
  Direction up = { EMPTY_RANGE, EMPTY_RANGE, { 0 } }, down = { EMPTY_RANGE, EMPTY_RANGE, { 0 } };
  Range mean = EMPTY_RANGE;
  Greatest repeatability = { 0 }, reversal = { 0 };
  double sum = 0;
  guint n_both = 0;

  for (guint i = 0; i < targets->len; i++)
    {
      TrammelPositionTarget *target = &g_array_index (targets, TrammelPositionTarget, i);
      fill_target (target);
      add_side (&up, &target->up);
      add_side (&down, &target->down);
      if (target->up.n == 0 || target->down.n == 0)
        continue;
      stretch (&mean, target->mean, target->mean);
      raise_to (&repeatability, target->repeatability);
      raise_to (&reversal, fabs (target->reversal));
      sum += target->reversal;
      n_both++;
    }
  return (TrammelPositionFigures){
    .a = one_direction ? NAN : width_of_both (up.accuracy, down.accuracy),
    .a_up = width (up.accuracy),
    .a_down = width (down.accuracy),
    .r = greatest_value (repeatability),
    .r_up = greatest_value (up.repeatability),
    .r_down = greatest_value (down.repeatability),
    .e = one_direction ? NAN : width_of_both (up.systematic, down.systematic),
    .e_up = width (up.systematic),
    .e_down = width (down.systematic),
    .m = width (mean),
    .b = greatest_value (reversal),
    .b_mean = n_both > 0 ? sum / n_both : NAN,
  };
}
