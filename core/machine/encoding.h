/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * trammel_encoding_check:
 * @data: (inout): bytes, not trusted; moved behind a UTF-8 byte-order mark
 * @length: (inout): how many
 *
 * TRUE when they are UTF-8 text without NUL characters. Errors: TRAMMEL_ERROR_FORMAT: "line 1, column 5: …", or that
 * it is UTF-16 or UTF-32 where UTF-8 is wanted.
 */
gboolean trammel_encoding_check (const char **data, gsize *length, GError **error);

/* Line and column (in characters) of @position within @start…, both from 1. */
void trammel_encoding_locate (const char *start, const char *position, gsize *line, gsize *column);

G_END_DECLS
