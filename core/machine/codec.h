/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* Between the value and the text of a machine file (UTF-8 JSON, format "trammel-machine" version 1). No disk work. */

/**
 * trammel_codec_read:
 * @data: @length bytes, not trusted; a UTF-8 byte-order mark is skipped
 *
 * Returns: (transfer full) (nullable): the machine. Every bound is checked. Errors (TRAMMEL_ERROR_FORMAT, _VERSION,
 * _RANGE, _PARSE, _TOO_LARGE): message "axes[0].stages[1].driver: found 0; a number of teeth from 1 to 10000 is wanted"
 * with the JSON path first, or "line 3, column 7: …" when it is not JSON. Nesting deeper than 64 is refused before it
 * is parsed.
 */
TrammelMachine *trammel_codec_read (const char *data, gsize length, GError **error);

/* (transfer full): the text, pretty-printed (2 spaces), stable key order, ends with a newline. */
char *trammel_codec_write (const TrammelMachine *machine, gsize *length);

G_END_DECLS
