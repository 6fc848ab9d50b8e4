/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TrammelExact:
 * @num: numerator, carries the sign
 * @den: denominator, always > 0
 * @pi: power of π, −1, 0 or 1
 *
 * The exact number num/den · π^pi, always reduced; zero is 0/1 · π^0. A plain value: pass and return it by value.
 */
typedef struct
{
  gint64 num;
  gint64 den;
  int pi;
} TrammelExact;

#define TRAMMEL_EXACT_ZERO ((TrammelExact){ 0, 1, 0 })
#define TRAMMEL_EXACT_ONE ((TrammelExact){ 1, 1, 0 })

/* All functions that can fail return FALSE with @error set (TRAMMEL_ERROR_OVERFLOW when a result does not fit, and
 * for a power of π outside −1…1; TRAMMEL_ERROR_RANGE for a zero denominator) and leave @out untouched. They never wrap
 * and never fall back to floating point. @out may alias an argument. */

/* num/den · π^pi, reduced; den may be negative. */
gboolean trammel_exact_make (gint64 num, gint64 den, int pi, TrammelExact *out, GError **error);

/* num/1. */
TrammelExact trammel_exact_integer (gint64 num);

gboolean trammel_exact_multiply (TrammelExact a, TrammelExact b, TrammelExact *out, GError **error);
gboolean trammel_exact_divide (TrammelExact a, TrammelExact b, TrammelExact *out, GError **error);

/* Sum of two numbers of the same power of π (zero has any). */
gboolean trammel_exact_add (TrammelExact a, TrammelExact b, TrammelExact *out, GError **error);

/* −a and |a|; G_MININT64 never occurs in a reduced value (trammel_exact_make refuses it). */
TrammelExact trammel_exact_negate (TrammelExact a);
TrammelExact trammel_exact_absolute (TrammelExact a);

/* −1, 0 or 1. */
int trammel_exact_sign (TrammelExact a);
gboolean trammel_exact_equal (TrammelExact a, TrammelExact b);

/* The nearest double (correct to 1 ulp; to 2 with π). */
double trammel_exact_to_double (TrammelExact a);

/**
 * trammel_exact_parse:
 * @text: UTF-8; leading and trailing white space is ignored
 *
 * Reads an integer (`80`), a decimal with point or comma (`1.25`, `12,5`, `1.5e-3`: exactly 5/4, 25/2, 3/2000), a
 * fraction (`57/11`, `1.5/2`), or a mixed number (`5 2/11`), each with an optional sign and an optional factor π
 * (`3 pi`, `3π`, `1/pi`). A number with both point and comma is refused (which is the decimal sign?).
 *
 * Errors: TRAMMEL_ERROR_PARSE, TRAMMEL_ERROR_OVERFLOW (more digits than 64 bits hold), TRAMMEL_ERROR_RANGE (den 0).
 */
gboolean trammel_exact_parse (const char *text, TrammelExact *out, GError **error);

/**
 * trammel_exact_to_text:
 *
 * Returns: (transfer full): the number in the form trammel_exact_parse() reads, C locale. An integer or a short
 * decimal (denominator 2^a·5^b, at most 6 decimals) as `80`, `1.25`; else a fraction `3200/9`; with π `1250/(3π)`,
 * `2π`, `5π/4`. (The parser reads these forms too.)
 */
char *trammel_exact_to_text (TrammelExact a);

/* As trammel_exact_to_text(), but always a fraction or integer, no decimals: `5/4`, `3200/9`, `80`; π left out (the
 * `exact` of the command's JSON, which gives the power of π beside it). */
char *trammel_exact_to_fraction (TrammelExact a);

/* For people: the text, and when it is not a plain decimal its value to 6 digits: `80`, `3200/9 = 355.556`,
 * `1250/(3π) = 132.629`. @decimal_sign is "." or the locale's. */
char *trammel_exact_to_display (TrammelExact a, const char *decimal_sign);

G_END_DECLS
