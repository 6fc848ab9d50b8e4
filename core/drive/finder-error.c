/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-private.h"

#include <math.h>

#define PI_LONG 3.141592653589793238462643383279502884L

typedef __int128 Wide;
typedef unsigned __int128 UnsignedWide;

/* ratio − target, over a denominator that is left out: num·den' − den·num'. Products of teeth stay below 2^54, so that
 * this stays below 2^118. */
static Wide
difference (guint64 num, guint64 den, TrammelExact target)
{
  return (Wide)num * target.den - (Wide)den * target.num;
}

double
trammel_finder_error_of (guint64 num, guint64 den, TrammelExact target)
{
  if (target.pi == 0)
    return (double)((long double)difference (num, den, target) / ((long double)den * (long double)target.num));

  const long double rational = (long double)target.num / (long double)target.den;
  const long double wanted = target.pi > 0 ? rational * PI_LONG : rational / PI_LONG;
  return (double)((long double)num / (long double)den / wanted - 1);
}

/* @a·@b, in two parts: times 2^64, and rest. */
static void
multiply (UnsignedWide a, guint64 b, UnsignedWide *high, guint64 *low)
{
  const UnsignedWide below = (UnsignedWide)(guint64)a * b;
  *high = (a >> 64) * b + (below >> 64);
  *low = (guint64)below;
}

static int
compare_exactly (TrammelExact a, TrammelExact b, TrammelExact target)
{
  const Wide of_a = difference ((guint64)a.num, (guint64)a.den, target);
  const Wide of_b = difference ((guint64)b.num, (guint64)b.den, target);
  UnsignedWide high_a, high_b;
  guint64 low_a, low_b;

  multiply ((UnsignedWide)(of_a < 0 ? -of_a : of_a), (guint64)b.den, &high_a, &low_a);
  multiply ((UnsignedWide)(of_b < 0 ? -of_b : of_b), (guint64)a.den, &high_b, &low_b);
  if (high_a != high_b)
    return high_a < high_b ? -1 : 1;
  return (low_a > low_b) - (low_a < low_b);
}

int
trammel_finder_compare_errors (TrammelExact a, TrammelExact b, TrammelExact target)
{
  if (trammel_exact_equal (a, b))
    return 0;
  if (target.pi == 0)
    return compare_exactly (a, b, target);

  const double of_a = fabs (trammel_finder_error_of ((guint64)a.num, (guint64)a.den, target));
  const double of_b = fabs (trammel_finder_error_of ((guint64)b.num, (guint64)b.den, target));
  return (of_a > of_b) - (of_a < of_b);
}

gboolean
trammel_finder_error (const TrammelFinderTrain *train, TrammelExact target, TrammelExact *out)
{
  g_return_val_if_fail (train != NULL && out != NULL, FALSE);

  TrammelExact part;
  return target.pi == 0 && trammel_exact_divide (train->ratio, target, &part, NULL)
         && trammel_exact_add (part, trammel_exact_integer (-1), out, NULL);
}
