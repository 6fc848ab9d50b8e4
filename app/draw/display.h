/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"

G_BEGIN_DECLS

/* Numbers for people: the decimal sign follows the locale (LC_NUMERIC), the minus sign is U+2212. Never for files.
 * Every function returns (transfer full). "—" for NaN. */

/* Half of a 95 % interval of a normal distribution, in units of the standard uncertainty: intervals shown to people are
 * 95 %. */
#define TRAMMEL_DISPLAY_95 1.959963984540054

char *trammel_display_number (double value, int decimals);
/* @digits significant digits, trailing zeros dropped, no exponent between 1e-5 and 1e9. */
char *trammel_display_significant (double value, int digits);
/* A length of the core (mm) in @unit (mm or in), with its symbol: "99.71 mm", "3.926 in". */
char *trammel_display_length (double mm, const TrammelUnit *unit, int decimals);
/* Travel of an axis, fine enough to tell play: a length (mm) in @unit, or with @unit NULL an angle (degrees): "0.042
 * mm", "0.0130°". */
char *trammel_display_travel (double travel, const TrammelUnit *unit);
/* Value and its 95 % half-width rounded to two significant digits of it: "80.337 ± 0.025". */
char *trammel_display_interval (double value, double half_width);
/* Just the value, rounded where an uncertainty of @u leaves meaning (u to two significant digits). */
char *trammel_display_rounded (double value, double u);
/* Number text as files hold it, "0.5 mm", with the sign of the locale. */
char *trammel_display_text (const char *text);
/* The same words with a capital letter, as a sentence of their own. */
char *trammel_display_with_capital (const char *words);
/* A probability, two digits; "below 0.0001" where it is, since nobody's readings bear out the digits of less. */
char *trammel_display_p_value (double p);
/* "." or the locale's. */
const char *trammel_display_decimal_sign (void);

G_END_DECLS
