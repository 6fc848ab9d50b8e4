/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/exact.h"

G_BEGIN_DECLS

/* Inside of core/base: the number at the start of a text, with whatever follows left to the caller. */

typedef enum
{
  TRAMMEL_SCAN_DONE,
  TRAMMEL_SCAN_NO_NUMBER,  /* the text does not start with a number */
  TRAMMEL_SCAN_TWO_SIGNS,  /* 1.2.3, 1,5.2: more than one decimal sign */
  TRAMMEL_SCAN_UNCLEAR_PI, /* 1250/3π: is π above or below the line? */
  TRAMMEL_SCAN_OVERFLOW,   /* a number, but not one of 64 bits */
  TRAMMEL_SCAN_ZERO_DENOMINATOR,
} TrammelScan;

/* Reads the longest number, in the forms of trammel_exact_parse(), at the start of @text after white space. @end is set
 * behind it (also for OVERFLOW, where the number ends is known) and @out to its value; @plain (nullable) tells whether
 * it is a mere decimal, without fraction or π. */
TrammelScan trammel_exact_scan (const char *text, const char **end, TrammelExact *out, gboolean *plain);

/* Sets @error for a scan of @text that was not DONE; @wanted is what would be right, translated. */
void trammel_exact_scan_error (TrammelScan scan, const char *text, const char *wanted, GError **error);

/* Behind white space, no-break spaces too. */
const char *trammel_exact_skip_space (const char *text);

G_END_DECLS
