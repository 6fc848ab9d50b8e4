/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/exact.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>

typedef __int128 Wide;
typedef unsigned __int128 UnsignedWide;

#define PI_LONG 3.141592653589793238462643383279502884L

static guint64
magnitude (gint64 value)
{
  return value < 0 ? -(guint64)value : (guint64)value;
}

static guint64
greatest_divisor (guint64 a, guint64 b)
{
  while (b != 0)
    {
      const guint64 rest = a % b;
      a = b;
      b = rest;
    }
  return a;
}

static UnsignedWide
greatest_divisor_wide (UnsignedWide a, UnsignedWide b)
{
  while (b != 0)
    {
      const UnsignedWide rest = a % b;
      a = b;
      b = rest;
    }
  return a;
}

static gboolean
fail_overflow (GError **error)
{
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_OVERFLOW,
                       _ ("the exact result has more digits than fit; simpler numbers are wanted"));
  return FALSE;
}

static gboolean
fail_power (GError **error)
{
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_OVERFLOW,
                       _ ("the result has π more than once, or only in one term; numbers with π in one place are "
                          "wanted"));
  return FALSE;
}

static gboolean
fail_zero (GError **error)
{
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("division by zero"));
  return FALSE;
}

/* @num and @den (> 0) have no common divisor. */
static gboolean
store (gboolean negative, guint64 num, guint64 den, int pi, TrammelExact *out, GError **error)
{
  if (num == 0)
    {
      *out = TRAMMEL_EXACT_ZERO;
      return TRUE;
    }
  if (num > G_MAXINT64 || den > G_MAXINT64)
    return fail_overflow (error);
  if (pi < -1 || pi > 1)
    return fail_power (error);

  *out = (TrammelExact){ negative ? -(gint64)num : (gint64)num, (gint64)den, pi };
  return TRUE;
}

gboolean
trammel_exact_make (gint64 num, gint64 den, int pi, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);

  if (den == 0)
    return fail_zero (error);

  const guint64 n = magnitude (num), d = magnitude (den);
  const guint64 common = greatest_divisor (n, d);
  return store ((num < 0) != (den < 0), n / common, d / common, pi, out, error);
}

TrammelExact
trammel_exact_integer (gint64 num)
{
  g_return_val_if_fail (num != G_MININT64, TRAMMEL_EXACT_ZERO);

  return (TrammelExact){ num, 1, 0 };
}

gboolean
trammel_exact_multiply (TrammelExact a, TrammelExact b, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);
  g_return_val_if_fail (a.den > 0 && b.den > 0, FALSE);

  /* Crosswise first: what is left has no common divisor, so a result that can be held never fails. */
  const guint64 first = greatest_divisor (magnitude (a.num), (guint64)b.den);
  const guint64 second = greatest_divisor (magnitude (b.num), (guint64)a.den);
  guint64 num, den;
  if (__builtin_mul_overflow (magnitude (a.num) / first, magnitude (b.num) / second, &num)
      || __builtin_mul_overflow ((guint64)a.den / second, (guint64)b.den / first, &den))
    return fail_overflow (error);

  return store ((a.num < 0) != (b.num < 0), num, den, a.pi + b.pi, out, error);
}

gboolean
trammel_exact_divide (TrammelExact a, TrammelExact b, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);

  if (b.num == 0)
    return fail_zero (error);

  const TrammelExact inverse = { b.num < 0 ? -b.den : b.den, (gint64)magnitude (b.num), -b.pi };
  return trammel_exact_multiply (a, inverse, out, error);
}

gboolean
trammel_exact_add (TrammelExact a, TrammelExact b, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (out != NULL, FALSE);
  g_return_val_if_fail (a.den > 0 && b.den > 0, FALSE);

  if (a.num != 0 && b.num != 0 && a.pi != b.pi)
    return fail_power (error);

  /* Two products of 126 bits: the sum fits 127. */
  const Wide sum = (Wide)a.num * b.den + (Wide)b.num * a.den;
  const UnsignedWide num = sum < 0 ? -(UnsignedWide)sum : (UnsignedWide)sum;
  const UnsignedWide den = (UnsignedWide)a.den * (UnsignedWide)b.den;
  const UnsignedWide common = greatest_divisor_wide (num, den);
  if (num / common > G_MAXINT64 || den / common > G_MAXINT64)
    return fail_overflow (error);

  return store (sum < 0, (guint64)(num / common), (guint64)(den / common), a.num != 0 ? a.pi : b.pi, out, error);
}

TrammelExact
trammel_exact_negate (TrammelExact a)
{
  return (TrammelExact){ -a.num, a.den, a.pi };
}

TrammelExact
trammel_exact_absolute (TrammelExact a)
{
  return a.num < 0 ? trammel_exact_negate (a) : a;
}

int
trammel_exact_sign (TrammelExact a)
{
  return (a.num > 0) - (a.num < 0);
}

gboolean
trammel_exact_equal (TrammelExact a, TrammelExact b)
{
  return a.num == b.num && a.den == b.den && a.pi == b.pi;
}

static int
leading_zeros (guint64 value)
{
  return __builtin_clzll (value);
}

/* The quotient to at least 64 bits with what is beyond them folded into the last, so that the one rounding to 53 bits
 * is the right one. */
static double
rounded_quotient (guint64 num, guint64 den)
{
  const int shift = 64 + leading_zeros (num);
  const UnsignedWide wide = (UnsignedWide)num << shift;
  UnsignedWide quotient = wide / den;
  if (wide % den != 0)
    quotient |= 1;
  return ldexp ((double)quotient, -shift);
}

double
trammel_exact_to_double (TrammelExact a)
{
  g_return_val_if_fail (a.den > 0, NAN);

  if (a.num == 0)
    return 0.0;
  if (a.pi == 0)
    return copysign (rounded_quotient (magnitude (a.num), (guint64)a.den), (double)a.num);

  const long double ratio = (long double)a.num / (long double)a.den;
  return (double)(a.pi > 0 ? ratio * PI_LONG : ratio / PI_LONG);
}
