/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/homing-rows.h"

G_BEGIN_DECLS

/**
 * trammel_homing_csv_read:
 * @text: @length bytes, not trusted
 * @name: of the file, for messages
 *
 * Repeated homing from a file: CSV with a header line that names a column `measured` and may name `run`, `set`,
 * `approach`, `unit`, `kind` and `along` (other columns of the readings' CSV are passed over), or a plain list of
 * numbers, one or many to a line. Where some rows are of kind home the others are passed over; only then does `along`
 * tell the axis.
 *
 * Returns: (transfer full) (nullable): the rows; lines without a measured value are left out. Errors:
 * TRAMMEL_ERROR_FORMAT, _PARSE, _RANGE, "NAME: line 3, column measured: found …".
 */
TrammelHomingRows *trammel_homing_csv_read (const char *text, gsize length, const char *name, GError **error);
/* The same from the file @path, at most 1 GiB, or a pipe. */
TrammelHomingRows *trammel_homing_csv_load (const char *path, GError **error);

G_END_DECLS
