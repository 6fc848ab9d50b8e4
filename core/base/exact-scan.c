/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/exact-scan-private.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <string.h>

/* Exponents beyond this overflow whatever the digits are (unless there are as many zeros, which nobody writes). */
#define EXPONENT_LIMIT 100000

static gboolean
skip_word (const char **p, const char *word)
{
  const gsize length = strlen (word);
  if (strncmp (*p, word, length) != 0)
    return FALSE;
  *p += length;
  return TRUE;
}

const char *
trammel_exact_skip_space (const char *text)
{
  for (;;)
    {
      if (g_ascii_isspace (*text))
        text++;
      else if (!skip_word (&text, "\u00a0") && !skip_word (&text, "\u202f") && !skip_word (&text, "\u2009"))
        return text;
    }
}

static gboolean
skip_times (const char **p)
{
  return skip_word (p, "*") || skip_word (p, "·") || skip_word (p, "×");
}

static gboolean
skip_slash (const char **p)
{
  return skip_word (p, "/") || skip_word (p, "⁄");
}

static gboolean
skip_sign (const char **p)
{
  if (skip_word (p, "-") || skip_word (p, "−"))
    return TRUE;
  skip_word (p, "+");
  return FALSE;
}

static gboolean
skip_pi (const char **p)
{
  if (skip_word (p, "π"))
    return TRUE;
  if (g_ascii_strncasecmp (*p, "pi", 2) != 0 || g_ascii_isalnum ((*p)[2]))
    return FALSE;
  *p += 2;
  return TRUE;
}

/* A factor π, with or without space or sign of multiplication before it. */
static gboolean
skip_factor_pi (const char **p)
{
  const char *q = trammel_exact_skip_space (*p);
  if (skip_times (&q))
    q = trammel_exact_skip_space (q);
  if (!skip_pi (&q))
    return FALSE;
  *p = q;
  return TRUE;
}

typedef unsigned __int128 Mantissa;

/* Digits as they come in: mantissa · 10^scale. Zeros wait until a digit follows them, so that trailing ones cost
 * nothing. The mantissa may be longer than the number: 932876335632057.46875 is 2^-5 times one of 63 bits. */
typedef struct
{
  Mantissa mantissa;
  gint64 waiting_zeros;
  gint64 scale;
  gboolean too_long;
} Digits;

static void
take_digit (Digits *digits, int digit)
{
  if (digit == 0)
    {
      digits->waiting_zeros++;
      return;
    }
  for (gint64 i = 0; i <= digits->waiting_zeros && digits->mantissa != 0 && !digits->too_long; i++)
    digits->too_long = __builtin_mul_overflow (digits->mantissa, (guint64)10, &digits->mantissa);
  digits->too_long = digits->too_long || __builtin_add_overflow (digits->mantissa, (guint64)digit, &digits->mantissa);
  digits->waiting_zeros = 0;
}

static gsize
take_digits (Digits *digits, const char **p)
{
  const char *start = *p;
  for (; g_ascii_isdigit (**p); (*p)++)
    take_digit (digits, **p - '0');
  return (gsize)(*p - start);
}

static gint64
scan_exponent (const char **p)
{
  const char *q = *p;
  if (*q != 'e' && *q != 'E')
    return 0;
  q++;
  const gboolean negative = skip_sign (&q);
  if (!g_ascii_isdigit (*q))
    return 0;

  gint64 exponent = 0;
  for (; g_ascii_isdigit (*q); q++)
    exponent = MIN (exponent * 10 + (*q - '0'), EXPONENT_LIMIT);
  *p = q;
  return negative ? -exponent : exponent;
}

static gboolean
scaled_up (Mantissa mantissa, gint64 scale, TrammelExact *out)
{
  for (; scale > 0; scale--)
    if (__builtin_mul_overflow (mantissa, (guint64)10, &mantissa))
      return FALSE;
  return mantissa <= G_MAXINT64 && trammel_exact_make ((gint64)mantissa, 1, 0, out, NULL);
}

static gboolean
times_power (guint64 *value, guint64 base, gint64 power)
{
  for (; power > 0; power--)
    if (__builtin_mul_overflow (*value, base, value))
      return FALSE;
  return TRUE;
}

static gboolean
scaled_down (Mantissa mantissa, gint64 places, TrammelExact *out)
{
  gint64 twos = places, fives = places;
  for (; twos > 0 && mantissa % 2 == 0; twos--)
    mantissa /= 2;
  for (; fives > 0 && mantissa % 5 == 0; fives--)
    mantissa /= 5;

  guint64 den = 1;
  if (!times_power (&den, 2, twos) || !times_power (&den, 5, fives))
    return FALSE;
  if (mantissa > G_MAXINT64 || den > G_MAXINT64)
    return FALSE;
  *out = (TrammelExact){ (gint64)mantissa, (gint64)den, 0 };
  return TRUE;
}

static TrammelScan
digits_value (const Digits *digits, TrammelExact *out)
{
  *out = TRAMMEL_EXACT_ZERO;
  if (digits->too_long)
    return TRAMMEL_SCAN_OVERFLOW;
  if (digits->mantissa == 0)
    return TRAMMEL_SCAN_DONE;

  const gint64 scale = digits->scale + digits->waiting_zeros;
  const gboolean fits
      = scale >= 0 ? scaled_up (digits->mantissa, scale, out) : scaled_down (digits->mantissa, -scale, out);
  return fits ? TRAMMEL_SCAN_DONE : TRAMMEL_SCAN_OVERFLOW;
}

/* An unsigned decimal. @whole: digits only. */
static TrammelScan
scan_decimal (const char **p, TrammelExact *out, gboolean *whole)
{
  Digits digits = { 0 };
  const char *q = *p;
  gsize before = take_digits (&digits, &q), after = 0;

  const gboolean has_sign = *q == '.' || (*q == ',' && g_ascii_isdigit (q[1]));
  if (has_sign)
    {
      q++;
      after = take_digits (&digits, &q);
      digits.scale = -(gint64)after;
    }
  if (before + after == 0)
    return TRAMMEL_SCAN_NO_NUMBER;
  if ((has_sign && *q == '.') || ((*q == '.' || *q == ',') && g_ascii_isdigit (q[1])))
    return TRAMMEL_SCAN_TWO_SIGNS;

  const char *mark = q;
  digits.scale += scan_exponent (&q);
  *whole = !has_sign && q == mark;
  *p = q;
  return digits_value (&digits, out);
}

/* ` 2/11` behind a whole number: adds it. NO_NUMBER, and nothing read, when there is no such thing. */
static TrammelScan
scan_mixed_part (const char **p, TrammelExact *value)
{
  const char *q = trammel_exact_skip_space (*p);
  TrammelExact num, den, part;
  gboolean whole;
  if (q == *p)
    return TRAMMEL_SCAN_NO_NUMBER;

  const TrammelScan above = scan_decimal (&q, &num, &whole);
  if (above == TRAMMEL_SCAN_NO_NUMBER || above == TRAMMEL_SCAN_TWO_SIGNS || !whole)
    return TRAMMEL_SCAN_NO_NUMBER;
  q = trammel_exact_skip_space (q);
  if (!skip_slash (&q))
    return TRAMMEL_SCAN_NO_NUMBER;
  q = trammel_exact_skip_space (q);
  const TrammelScan below = scan_decimal (&q, &den, &whole);
  if (below == TRAMMEL_SCAN_NO_NUMBER || below == TRAMMEL_SCAN_TWO_SIGNS || !whole)
    return TRAMMEL_SCAN_NO_NUMBER;

  *p = q;
  if (above != TRAMMEL_SCAN_DONE || below != TRAMMEL_SCAN_DONE)
    return TRAMMEL_SCAN_OVERFLOW;
  if (den.num == 0)
    return TRAMMEL_SCAN_ZERO_DENOMINATOR;
  if (!trammel_exact_divide (num, den, &part, NULL) || !trammel_exact_add (*value, part, value, NULL))
    return TRAMMEL_SCAN_OVERFLOW;
  return TRAMMEL_SCAN_DONE;
}

/* `(3π)`, `(3)`, `(π)`, behind the slash. */
static TrammelScan
scan_bracket (const char **p, TrammelExact *den)
{
  const char *q = *p;
  gboolean whole;
  if (!skip_word (&q, "("))
    return TRAMMEL_SCAN_NO_NUMBER;

  q = trammel_exact_skip_space (q);
  *den = TRAMMEL_EXACT_ONE;
  const TrammelScan scan = scan_decimal (&q, den, &whole);
  if (scan == TRAMMEL_SCAN_TWO_SIGNS)
    return scan;
  const gboolean pi = scan == TRAMMEL_SCAN_NO_NUMBER ? skip_pi (&q) : skip_factor_pi (&q);
  if (scan == TRAMMEL_SCAN_NO_NUMBER && !pi)
    return TRAMMEL_SCAN_NO_NUMBER;
  q = trammel_exact_skip_space (q);
  if (!skip_word (&q, ")"))
    return TRAMMEL_SCAN_NO_NUMBER;

  *p = q;
  if (scan == TRAMMEL_SCAN_OVERFLOW)
    return scan;
  if (pi && den->num != 0)
    den->pi = 1;
  return TRAMMEL_SCAN_DONE;
}

/* What follows the slash; @factor_pi: a factor π behind it all, as in `5/4 π`. */
static TrammelScan
scan_below (const char **p, gboolean *factor_pi, TrammelExact *den)
{
  gboolean whole;
  TrammelScan scan = scan_bracket (p, den);
  if (scan != TRAMMEL_SCAN_NO_NUMBER)
    return scan;
  if (skip_pi (p))
    {
      *den = (TrammelExact){ 1, 1, 1 };
      return TRAMMEL_SCAN_DONE;
    }

  const char *q = *p;
  scan = scan_decimal (&q, den, &whole);
  if (scan == TRAMMEL_SCAN_NO_NUMBER || scan == TRAMMEL_SCAN_TWO_SIGNS)
    return scan;
  *p = q;
  if (skip_pi (&q))
    return TRAMMEL_SCAN_UNCLEAR_PI;
  *factor_pi = skip_factor_pi (p);
  return scan;
}

static gboolean
times_pi (TrammelExact *value)
{
  return trammel_exact_multiply (*value, (TrammelExact){ 1, 1, 1 }, value, NULL);
}

/* `/11`, `/(3π)`, behind the first number: divides by it. NO_NUMBER, and nothing read, when there is no such thing. */
static TrammelScan
scan_fraction_part (const char **p, TrammelExact *value)
{
  const char *q = trammel_exact_skip_space (*p);
  TrammelExact den = TRAMMEL_EXACT_ONE;
  gboolean factor_pi = FALSE;
  if (!skip_slash (&q))
    return TRAMMEL_SCAN_NO_NUMBER;

  q = trammel_exact_skip_space (q);
  const TrammelScan scan = scan_below (&q, &factor_pi, &den);
  if (scan != TRAMMEL_SCAN_DONE && scan != TRAMMEL_SCAN_OVERFLOW)
    return scan;

  *p = q;
  if (scan == TRAMMEL_SCAN_OVERFLOW)
    return scan;
  if (den.num == 0)
    return TRAMMEL_SCAN_ZERO_DENOMINATOR;
  if (!trammel_exact_divide (*value, den, value, NULL) || (factor_pi && !times_pi (value)))
    return TRAMMEL_SCAN_OVERFLOW;
  return TRAMMEL_SCAN_DONE;
}

/* The unsigned number. An overflow of its first part is kept until it is known where the number ends. */
static TrammelScan
scan_unsigned (const char **p, TrammelExact *value, gboolean *plain)
{
  gboolean whole = FALSE;
  TrammelScan first = TRAMMEL_SCAN_DONE;
  *plain = FALSE;

  if (skip_pi (p))
    *value = (TrammelExact){ 1, 1, 1 };
  else
    {
      first = scan_decimal (p, value, &whole);
      if (first != TRAMMEL_SCAN_DONE && first != TRAMMEL_SCAN_OVERFLOW)
        return first;
      const TrammelScan mixed = whole ? scan_mixed_part (p, value) : TRAMMEL_SCAN_NO_NUMBER;
      const gboolean pi = skip_factor_pi (p);
      if (pi && !times_pi (value))
        first = TRAMMEL_SCAN_OVERFLOW;
      if (mixed != TRAMMEL_SCAN_NO_NUMBER)
        return mixed == TRAMMEL_SCAN_DONE ? first : mixed;
      *plain = !pi;
    }

  const TrammelScan fraction = scan_fraction_part (p, value);
  if (fraction == TRAMMEL_SCAN_NO_NUMBER)
    return first;
  *plain = FALSE;
  return fraction == TRAMMEL_SCAN_DONE ? first : fraction;
}

TrammelScan
trammel_exact_scan (const char *text, const char **end, TrammelExact *out, gboolean *plain)
{
  const char *p = trammel_exact_skip_space (text);
  TrammelExact value = TRAMMEL_EXACT_ZERO;
  gboolean is_plain;

  const gboolean negative = skip_sign (&p);
  const TrammelScan scan = scan_unsigned (&p, &value, &is_plain);
  *end = p;
  *out = negative ? trammel_exact_negate (value) : value;
  if (plain != NULL)
    *plain = is_plain;
  return scan;
}

void
trammel_exact_scan_error (TrammelScan scan, const char *text, const char *wanted, GError **error)
{
  g_autofree char *found = trammel_error_excerpt (text, -1);

  switch (scan)
    {
    case TRAMMEL_SCAN_OVERFLOW:
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_OVERFLOW,
                   _ ("found “%s”, which has more digits than fit; a number of at most 18 digits is wanted"), found);
      return;
    case TRAMMEL_SCAN_ZERO_DENOMINATOR:
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                   _ ("found “%s”, which divides by zero; another denominator is wanted"), found);
      return;
    case TRAMMEL_SCAN_TWO_SIGNS:
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
                   _ ("found “%s”; one decimal sign at most, and none between thousands, is wanted"), found);
      return;
    case TRAMMEL_SCAN_UNCLEAR_PI:
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
                   _ ("found “%s”, where π may be above or below the line; 2/(3π) or 2π/3 is wanted"), found);
      return;
    case TRAMMEL_SCAN_NO_NUMBER:
    case TRAMMEL_SCAN_DONE:
    default:
      break;
    }
  if (found[0] == '\0')
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found nothing; %s is wanted"), wanted);
  else
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found “%s”; %s is wanted"), found, wanted);
}
