/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/**
 * trammel_readings_csv_read:
 * @name: of the file, for messages
 * @machine: (nullable): what was measured: then a reading along an axis that it does not have is refused, and so is an
 *   angle along an axis that does not turn, a length along one that does
 *
 * Readings from CSV text: a header line naming columns in any order, from kind, along, nominal, measured, u, unit,
 * instrument, approach, run, set, note; comma, semicolon or tab (that of the header line); decimal comma where the
 * separator is not a comma; quoted fields (RFC 4180); blank lines and lines starting with # skipped; CR LF and a UTF-8
 * byte-order mark are fine. `measured` may be blank (a plan), and so may the `nominal` of a home or a reversal, whose
 * file needs no such column.
 * A bad line is refused: "NAME: line 7, column measured: …" and nothing is returned.
 *
 * Returns: (transfer full) (nullable): TRAMMEL_ERROR_FORMAT, _PARSE, _RANGE, _TOO_LARGE (over TRAMMEL_MAX_READINGS).
 */
TrammelReadings *trammel_readings_csv_read (const char *data, gsize length, const char *name,
                                            const TrammelMachine *machine, GError **error);

/* As trammel_readings_csv_read() of a file on disk, mapped. "PATH: …". */
TrammelReadings *trammel_readings_csv_load (const char *path, const TrammelMachine *machine, GError **error);

/* (transfer full): CSV that trammel_readings_csv_read() reads: comma, decimal point, only the columns that are used. */
char *trammel_readings_csv_write (const TrammelReadings *readings);

G_END_DECLS
