/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/table.h"

G_BEGIN_DECLS

/* A user's own rows of the tables, kept per user in `own-rows.csv` (see user-file.h): a line each of table, name, value
 * and source, comma-separated. What a line of the file cannot be read as is told with its place, and kept for writing
 * back. A plain object of one owner; not for sharing between threads. */
typedef struct _TrammelOwnRows TrammelOwnRows;

TrammelOwnRows *trammel_own_rows_new (void);
void trammel_own_rows_free (TrammelOwnRows *rows);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelOwnRows, trammel_own_rows_free)

/* (transfer full): the rows in @text, UTF-8; bad lines become troubles. */
TrammelOwnRows *trammel_own_rows_read (const char *text);
/* (transfer full): the text that trammel_own_rows_read() reads: comments, blank and bad lines are as they were. */
char *trammel_own_rows_write (const TrammelOwnRows *rows);

/* (transfer full): the path of the user's file. */
char *trammel_own_rows_path (void);
/* (transfer full) (nullable): the user's; none where nothing was saved. Errors as trammel_user_file_load(). */
TrammelOwnRows *trammel_own_rows_load (GError **error);
/* Errors as trammel_user_file_save(). */
gboolean trammel_own_rows_save (const TrammelOwnRows *rows, GError **error);

gsize trammel_own_rows_count (const TrammelOwnRows *rows);
/* The row @i, below the count; @table (nullable) gets what it belongs to. Borrowed until the next edit. */
const TrammelTableRow *trammel_own_rows_get (const TrammelOwnRows *rows, gsize i, const TrammelTable **table);

/* Lines that could not be read: "line 3: found “bolts”; a table such as thread-pitch is wanted". NULL-terminated;
 * borrowed. */
const char *const *trammel_own_rows_troubles (const TrammelOwnRows *rows);

/**
 * trammel_own_rows_add:
 * @name: what to call it; one line, not blank
 * @value: as trammel_table_check() takes it, with @assumed
 * @source: (nullable): where it is from; one line
 *
 * A row of the same table and name is replaced. Errors: TRAMMEL_ERROR_PARSE, or as trammel_table_check().
 */
gboolean trammel_own_rows_add (TrammelOwnRows *rows, const TrammelTable *table, const char *name, const char *value,
                               const char *source, const TrammelUnit *assumed, GError **error);

/* Takes the row @i out. */
void trammel_own_rows_remove (TrammelOwnRows *rows, gsize i);

G_END_DECLS
