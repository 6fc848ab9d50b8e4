/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/number.h"

#include <float.h>
#include <math.h>
#include <string.h>

/* A double that lies between two neighbors is settled by at most 767 digits; one more stands for all that follow. */
#define DECISIVE_DIGITS 770
#define EXPONENT_LIMIT 1000000
/* Every power of ten up to here is a double without error. */
#define EXACT_POWER 22

char *
trammel_number_to_text (double value)
{
  g_return_val_if_fail (isfinite (value), NULL);

  /* 15 digits always survive the way through a normal double, so fewer need not be tried. */
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  for (int digits = fabs (value) < DBL_MIN ? 1 : 15; digits <= 17; digits++)
    {
      const char format[] = { '%', '.', (char)('0' + digits / 10), (char)('0' + digits % 10), 'g', '\0' };
      g_ascii_formatd (text, sizeof text, format, value);
      if (g_ascii_strtod (text, NULL) == value)
        break;
    }
  return g_strdup (text);
}

/* A decimal taken apart: its significant digits, the first ones also as a number, times 10^scale. */
typedef struct
{
  gboolean negative;
  guint64 mantissa; /* valid for up to 19 significant digits */
  int n_significant;
  gint64 scale;
  const char *first; /* first significant digit, in the text */
  const char *last;  /* behind the last digit of the mantissa part */
} Decimal;

static const char *
read_sign (const char *p, const char *end, gboolean *negative)
{
  *negative = FALSE;
  if (p < end && (*p == '-' || *p == '+'))
    {
      *negative = *p == '-';
      return p + 1;
    }
  if (end - p >= 3 && memcmp (p, "−", 3) == 0)
    {
      *negative = TRUE;
      return p + 3;
    }
  return p;
}

static const char *
read_digits (const char *p, const char *end, Decimal *decimal)
{
  for (; p < end && g_ascii_isdigit (*p); p++)
    {
      if (decimal->first == NULL && *p == '0')
        continue;
      if (decimal->first == NULL)
        decimal->first = p;
      if (decimal->n_significant < 19)
        decimal->mantissa = decimal->mantissa * 10 + (guint64)(*p - '0');
      if (decimal->n_significant < G_MAXINT)
        decimal->n_significant++;
    }
  return p;
}

static const char *
read_exponent (const char *p, const char *end, Decimal *decimal)
{
  if (p == end || (*p != 'e' && *p != 'E'))
    return p;

  gboolean negative;
  const char *digits = read_sign (p + 1, end, &negative);
  gint64 exponent = 0;
  for (p = digits; p < end && g_ascii_isdigit (*p); p++)
    exponent = MIN (exponent * 10 + (*p - '0'), EXPONENT_LIMIT);
  if (p == digits)
    return NULL;
  decimal->scale += negative ? -exponent : exponent;
  return p;
}

/* Takes @p to @end apart; FALSE when that is not one decimal. */
static gboolean
take_apart (const char *p, const char *end, char decimal_sign, Decimal *decimal)
{
  p = read_sign (p, end, &decimal->negative);
  const char *start = p;
  p = read_digits (p, end, decimal);
  gsize n_digits = (gsize)(p - start);
  if (p < end && *p == decimal_sign)
    {
      start = ++p;
      p = read_digits (p, end, decimal);
      n_digits += (gsize)(p - start);
      decimal->scale = -(gint64)(p - start);
    }
  decimal->last = p;
  if (n_digits == 0)
    return FALSE;
  return read_exponent (p, end, decimal) == end;
}

/* Digits and a scale that a double holds without error: then one operation, and so one rounding, gives the value. */
static gboolean
value_at_once (const Decimal *decimal, double *out)
{
  static const double powers[EXACT_POWER + 1]
      = { 1e0,  1e1,  1e2,  1e3,  1e4,  1e5,  1e6,  1e7,  1e8,  1e9,  1e10, 1e11,
          1e12, 1e13, 1e14, 1e15, 1e16, 1e17, 1e18, 1e19, 1e20, 1e21, 1e22 };

  if (FLT_EVAL_METHOD != 0 || decimal->n_significant > 19 || decimal->mantissa > (G_GUINT64_CONSTANT (1) << 53))
    return FALSE;
  if (decimal->scale < -EXACT_POWER || decimal->scale > EXACT_POWER)
    return FALSE;
  *out = decimal->scale < 0 ? (double)decimal->mantissa / powers[-decimal->scale]
                            : (double)decimal->mantissa * powers[decimal->scale];
  return TRUE;
}

static double
value_of_digits (const Decimal *decimal)
{
  char text[DECISIVE_DIGITS + 32];
  gsize n = 0;
  gint64 dropped = 0;
  gboolean dropped_any = FALSE;

  for (const char *p = decimal->first; p < decimal->last; p++)
    {
      if (!g_ascii_isdigit (*p))
        continue;
      if (n < DECISIVE_DIGITS)
        {
          text[n++] = *p;
          continue;
        }
      dropped++;
      dropped_any = dropped_any || *p != '0';
    }
  if (dropped_any)
    {
      text[n++] = '1';
      dropped--;
    }
  g_snprintf (text + n, sizeof text - n, "e%" G_GINT64_FORMAT, decimal->scale + dropped);
  return g_ascii_strtod (text, NULL);
}

gboolean
trammel_number_from_text (const char *text, gssize length, gboolean decimal_comma, double *out)
{
  g_return_val_if_fail (text != NULL, FALSE);
  g_return_val_if_fail (out != NULL, FALSE);

  const char *p = text, *end = text + (length < 0 ? strlen (text) : (gsize)length);
  while (p < end && g_ascii_isspace (*p))
    p++;
  while (end > p && g_ascii_isspace (end[-1]))
    end--;

  Decimal decimal = { 0 };
  double value = 0.0;
  if (!take_apart (p, end, decimal_comma ? ',' : '.', &decimal))
    return FALSE;
  if (decimal.first != NULL && !value_at_once (&decimal, &value))
    value = value_of_digits (&decimal);
  if (!isfinite (value))
    return FALSE;

  *out = decimal.negative ? -value : value;
  return TRUE;
}
