/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A file may be this long: 1 GiB. */
#define TRAMMEL_FILE_MOST_BYTES ((gsize)1 << 30)

/* (transfer full) (nullable): all of the regular file @path, at most TRAMMEL_FILE_MOST_BYTES. Errors:
 * TRAMMEL_ERROR_STORE, _TOO_LARGE, "PATH: …". */
GBytes *trammel_file_read (const char *path, GError **error);

/* The same, mapped instead of copied; pipes are read to their end. */
GBytes *trammel_file_map (const char *path, GError **error);

G_END_DECLS
