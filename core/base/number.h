/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Number text for files: always the C locale, never the user's. */

/* (transfer full): the shortest decimal that reads back as exactly @value: `99.71`, `0.1`, `1e-07`. @value is
 * finite. */
char *trammel_number_to_text (double value);

/* The whole of @text (length @length, −1 for NUL-terminated; white space around it allowed) as a finite decimal with
 * `.`, or with `,` when @decimal_comma. No hex, no inf, no nan. FALSE and nothing set when it is not one. Fast: no
 * allocation; correctly rounded. */
gboolean trammel_number_from_text (const char *text, gssize length, gboolean decimal_comma, double *out);

G_END_DECLS
