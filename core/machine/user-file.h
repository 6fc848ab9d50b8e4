/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* What is kept per user and belongs to no machine: own rows of tables, the gears at hand. Small text files in
 * $XDG_DATA_HOME/trammel (see the XDG Base Directory Specification). */

/* A file kept per user may be this long: 1 MiB. */
#define TRAMMEL_USER_FILE_MOST_BYTES ((gsize)1 << 20)

/* (transfer full): the path of the file @name, whether it is there or not. */
char *trammel_user_file_path (const char *name);

/* (transfer full) (nullable): the UTF-8 text of the file @name, without a byte-order mark; "" where there is no such
 * file. Errors, all "PATH: …": TRAMMEL_ERROR_STORE, _FORMAT (not UTF-8), _TOO_LARGE. */
char *trammel_user_file_load (const char *name, GError **error);

/* Saves @text as trammel_store_write_text() does, in a folder made for the user alone where there was none. Errors:
 * TRAMMEL_ERROR_STORE, _TOO_LARGE (it could not be loaded again), "PATH: …"; the old file is whole then. */
gboolean trammel_user_file_save (const char *name, const char *text, GError **error);

G_END_DECLS
