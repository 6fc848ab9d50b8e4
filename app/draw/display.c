/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/display.h"

#include <glib/gi18n-lib.h>
#include <langinfo.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define MINUS "\xe2\x88\x92"
#define NOT_KNOWN "\xe2\x80\x94"
#define INFINITE "\xe2\x88\x9e"
#define MOST_DECIMALS 15
#define MOST_DIGITS 15
#define SMALLEST_PLAIN 1e-5
#define GREATEST_PLAIN 1e9
#define LEAST_P 1e-4

const char *
trammel_display_decimal_sign (void)
{
  const char *sign = nl_langinfo (RADIXCHAR);
  return sign && *sign ? sign : ".";
}

static char *
not_finite (double value)
{
  if (isnan (value))
    return g_strdup (NOT_KNOWN);
  return g_strdup (value > 0 ? INFINITE : MINUS INFINITE);
}

/* "-0.00" shows a sign where there is nothing to have one. */
static gboolean
is_zero_text (const char *number)
{
  return strpbrk (number, "123456789") == NULL;
}

/* @number: of the C library, in the locale, maybe with a hyphen for a minus. */
static char *
with_typographic_minus (const char *number)
{
  if (*number != '-')
    return g_strdup (number);
  return is_zero_text (number) ? g_strdup (number + 1) : g_strconcat (MINUS, number + 1, NULL);
}

char *
trammel_display_number (double value, int decimals)
{
  if (!isfinite (value))
    return not_finite (value);
  g_autofree char *number = g_strdup_printf ("%.*f", CLAMP (decimals, 0, MOST_DECIMALS), value);
  return with_typographic_minus (number);
}

static void
drop_trailing_zeros (char *number)
{
  const char *sign = trammel_display_decimal_sign ();
  char *point = strstr (number, sign);

  if (!point)
    return;
  char *end = number + strlen (number);
  while (end > point + strlen (sign) && end[-1] == '0')
    end--;
  *(end == point + strlen (sign) ? point : end) = '\0';
}

static void
append_superscript (GString *text, int number)
{
  static const char *const digits[] = { "⁰", "¹", "²", "³", "⁴", "⁵", "⁶", "⁷", "⁸", "⁹" };
  g_autofree char *plain = g_strdup_printf ("%d", number);

  for (const char *c = plain; *c; c++)
    g_string_append (text, *c == '-' ? "⁻" : digits[*c - '0']);
}

/* "1.2×10⁻⁷" */
static char *
with_power_of_ten (double value, int digits)
{
  g_autofree char *number = g_strdup_printf ("%.*e", digits - 1, value);
  char *exponent = strchr (number, 'e');
  int power = atoi (exponent + 1);

  *exponent = '\0';
  drop_trailing_zeros (number);
  g_autofree char *mantissa = with_typographic_minus (number);
  GString *text = g_string_new (mantissa);
  g_string_append (text, "×10");
  append_superscript (text, power);
  return g_string_free (text, FALSE);
}

/* Power of ten of the first digit once @value is rounded to @digits of them: 9.96 to two is 10, so 1. */
static int
power_of_first_digit (double value, int digits)
{
  char number[32];

  g_snprintf (number, sizeof number, "%.*e", digits - 1, fabs (value));
  return atoi (strchr (number, 'e') + 1);
}

char *
trammel_display_significant (double value, int digits)
{
  if (!isfinite (value))
    return not_finite (value);
  if (value == 0)
    return g_strdup ("0");
  digits = CLAMP (digits, 1, MOST_DIGITS);
  if (fabs (value) < SMALLEST_PLAIN || fabs (value) >= GREATEST_PLAIN)
    return with_power_of_ten (value, digits);

  int power = power_of_first_digit (value, digits);
  double step = pow (10, power - digits + 1);
  if (step > 1)
    value = round (value / step) * step;
  g_autofree char *number = g_strdup_printf ("%.*f", MAX (digits - 1 - power, 0), value);
  drop_trailing_zeros (number);
  return with_typographic_minus (number);
}

char *
trammel_display_p_value (double p)
{
  if (!(p < LEAST_P))
    return trammel_display_significant (p, 2);
  g_autofree char *least = trammel_display_number (LEAST_P, 4);
  return g_strdup_printf (_ ("below %s"), least);
}

char *
trammel_display_length (double mm, const TrammelUnit *unit, int decimals)
{
  g_return_val_if_fail (unit != NULL, NULL);

  g_autofree char *number = trammel_display_number (mm / trammel_unit_factor (unit), decimals);
  return g_strdup_printf ("%s %s", number, trammel_unit_symbol (unit));
}

/* @value rounded to the place of the second digit of @u. */
static char *
rounded_to_two_digits_of (double value, double u)
{
  int decimals = 1 - power_of_first_digit (u, 2);

  if (decimals >= 0)
    return trammel_display_number (value, decimals);
  double step = pow (10, -decimals);
  return trammel_display_number (round (value / step) * step, 0);
}

char *
trammel_display_rounded (double value, double u)
{
  if (!isfinite (value) || !isfinite (u) || u == 0)
    return trammel_display_significant (value, 8);
  return rounded_to_two_digits_of (value, u);
}

char *
trammel_display_travel (double travel, const TrammelUnit *unit)
{
  if (unit != NULL)
    return trammel_display_length (travel, unit, trammel_unit_factor (unit) == 1 ? 3 : 4);
  g_autofree char *degrees = trammel_display_number (travel, 4);
  return g_strconcat (degrees, "°", NULL);
}

char *
trammel_display_interval (double value, double half_width)
{
  g_autofree char *middle = trammel_display_rounded (value, half_width);
  g_autofree char *half = isfinite (half_width) && half_width != 0 ? rounded_to_two_digits_of (half_width, half_width)
                                                                   : trammel_display_number (half_width, 0);
  return g_strdup_printf ("%s ± %s", middle, half);
}

char *
trammel_display_with_capital (const char *words)
{
  g_return_val_if_fail (words != NULL, NULL);

  const char *rest = *words ? g_utf8_next_char (words) : words;
  g_autofree char *capital = g_utf8_strup (words, rest - words);

  return g_strconcat (capital, rest, NULL);
}

char *
trammel_display_text (const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);

  char *shown = g_strdup (text);
  return g_strcmp0 (trammel_display_decimal_sign (), ",") == 0 ? g_strdelimit (shown, ".", ',') : shown;
}
