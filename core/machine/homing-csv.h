/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Readings of repeated homing, from a file: CSV with a header line that names a column `measured` and may name `run`,
 * `set`, `approach` and `unit` (other columns of the readings' CSV are passed over), or a plain list of numbers, one or
 * many to a line. */

typedef struct
{
  double measured;   /* mm */
  double run;        /* NaN: not said */
  const char *group; /* set and approach, "fast -"; "" when neither is said. Equal texts are the same pointer */
  gsize set_length;  /* bytes of @group that are the set */
} TrammelHomingRow;

typedef struct _TrammelHomingRows TrammelHomingRows;

/**
 * trammel_homing_rows_read:
 * @text: @length bytes, not trusted
 * @name: of the file, for messages
 *
 * Returns: (transfer full) (nullable): the rows; lines without a measured value are left out. Errors:
 * TRAMMEL_ERROR_FORMAT, _PARSE, _RANGE, "NAME: line 3, column measured: found …".
 */
TrammelHomingRows *trammel_homing_rows_read (const char *text, gsize length, const char *name, GError **error);
/* The same from the file @path, at most 1 GiB, or a pipe. */
TrammelHomingRows *trammel_homing_rows_load (const char *path, GError **error);
void trammel_homing_rows_free (TrammelHomingRows *rows);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelHomingRows, trammel_homing_rows_free)

/* In the order of the file; borrowed. */
const TrammelHomingRow *trammel_homing_rows_get (const TrammelHomingRows *rows, gsize *n);
/* Each group once, in the order of the file. NULL-terminated; borrowed. */
const char *const *trammel_homing_rows_groups (const TrammelHomingRows *rows);

/* (transfer full): the measured values of @group (or of a whole set, "fast"), NULL for all; @n gets how many. @runs
 * (nullable) gets their runs, (transfer full), or NULL when not every one of them says its run. */
double *trammel_homing_rows_values (const TrammelHomingRows *rows, const char *group, gsize *n, double **runs);

G_END_DECLS
