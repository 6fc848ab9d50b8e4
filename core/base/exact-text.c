/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/exact-scan-private.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#define MOST_DECIMALS 6

gboolean
trammel_exact_parse (const char *text, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (text != NULL, FALSE);
  g_return_val_if_fail (out != NULL, FALSE);

  const char *end;
  TrammelExact value;
  TrammelScan scan = trammel_exact_scan (text, &end, &value, NULL);
  if ((scan == TRAMMEL_SCAN_DONE || scan == TRAMMEL_SCAN_OVERFLOW) && *trammel_exact_skip_space (end) != '\0')
    scan = TRAMMEL_SCAN_NO_NUMBER;
  if (scan != TRAMMEL_SCAN_DONE)
    {
      trammel_exact_scan_error (scan, text, _ ("a number such as 80, 1.25, 57/11 or 5 2/11"), error);
      return FALSE;
    }

  *out = value;
  return TRUE;
}

/* How many decimals write a number with denominator @den, or −1 when not even MOST_DECIMALS do. */
static int
decimals_needed (gint64 den)
{
  gint64 power = 1;
  for (int n = 0; n <= MOST_DECIMALS; n++, power *= 10)
    if (power % den == 0)
      return n;
  return -1;
}

static gboolean
is_short_decimal (TrammelExact a)
{
  return a.pi == 0 && decimals_needed (a.den) >= 0;
}

static char *
decimal_text (TrammelExact a, const char *decimal_sign)
{
  const int places = decimals_needed (a.den);
  const gint64 size = a.num < 0 ? -a.num : a.num;
  const char *minus = a.num < 0 ? "-" : "";
  if (places == 0)
    return g_strdup_printf ("%s%" G_GINT64_FORMAT, minus, size);

  gint64 power = 1;
  for (int i = 0; i < places; i++)
    power *= 10;
  return g_strdup_printf ("%s%" G_GINT64_FORMAT "%s%0*" G_GINT64_FORMAT, minus, size / a.den, decimal_sign, places,
                          size % a.den * (power / a.den));
}

static char *
numerator_times_pi (gint64 num)
{
  if (num == 1)
    return g_strdup ("π");
  if (num == -1)
    return g_strdup ("-π");
  return g_strdup_printf ("%" G_GINT64_FORMAT "π", num);
}

static char *
text_above_pi (TrammelExact a)
{
  g_autofree char *above = numerator_times_pi (a.num);
  if (a.den == 1)
    return g_steal_pointer (&above);
  return g_strdup_printf ("%s/%" G_GINT64_FORMAT, above, a.den);
}

static char *
text_below_pi (TrammelExact a)
{
  if (a.den == 1)
    return g_strdup_printf ("%" G_GINT64_FORMAT "/π", a.num);
  return g_strdup_printf ("%" G_GINT64_FORMAT "/(%" G_GINT64_FORMAT "π)", a.num, a.den);
}

char *
trammel_exact_to_text (TrammelExact a)
{
  g_return_val_if_fail (a.den > 0, NULL);

  if (a.pi > 0)
    return text_above_pi (a);
  if (a.pi < 0)
    return text_below_pi (a);
  return is_short_decimal (a) ? decimal_text (a, ".") : trammel_exact_to_fraction (a);
}

char *
trammel_exact_to_fraction (TrammelExact a)
{
  if (a.den == 1)
    return g_strdup_printf ("%" G_GINT64_FORMAT, a.num);
  return g_strdup_printf ("%" G_GINT64_FORMAT "/%" G_GINT64_FORMAT, a.num, a.den);
}

char *
trammel_exact_to_display (TrammelExact a, const char *decimal_sign)
{
  g_return_val_if_fail (a.den > 0, NULL);
  g_return_val_if_fail (decimal_sign != NULL, NULL);

  if (is_short_decimal (a))
    return decimal_text (a, decimal_sign);

  char digits[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *text = trammel_exact_to_text (a);
  g_ascii_formatd (digits, sizeof digits, "%.6g", trammel_exact_to_double (a));
  const char *point = strchr (digits, '.');
  if (point == NULL)
    return g_strdup_printf ("%s = %s", text, digits);
  return g_strdup_printf ("%s = %.*s%s%s", text, (int)(point - digits), digits, decimal_sign, point + 1);
}
