/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib-object.h>
#include "machine/own-rows.h"

G_BEGIN_DECLS

/* The user's own rows of the tables, as all windows share them: read when first asked for, saved with every change. */
#define TRAMMEL_TYPE_OWN_TABLES (trammel_own_tables_get_type ())
G_DECLARE_FINAL_TYPE (TrammelOwnTables, trammel_own_tables, TRAMMEL, OWN_TABLES, GObject)

/* Signal:
 *   changed (tables) */

/* The one of the program. Borrowed. */
TrammelOwnTables *trammel_own_tables_get_default (void);

/* Never NULL; without rows where the file cannot be read. Borrowed until the next change. */
const TrammelOwnRows *trammel_own_tables_rows (TrammelOwnTables *tables);

/* (nullable): why the file could not be read; then nothing can be added either, so that it stays as it is. */
const char *trammel_own_tables_trouble (TrammelOwnTables *tables);

/* As trammel_own_rows_add() and _remove(), and saves. Errors: those, and of saving; nothing has changed then. */
gboolean trammel_own_tables_add (TrammelOwnTables *tables, const TrammelTable *table, const char *name,
                                 const char *value, const char *source, const TrammelUnit *assumed, GError **error);
gboolean trammel_own_tables_remove (TrammelOwnTables *tables, gsize i, GError **error);

G_END_DECLS
