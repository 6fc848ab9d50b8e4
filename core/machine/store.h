/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include "machine/machine.h"

G_BEGIN_DECLS

/* The disk work. */

/* Reads @path (at most 1 GiB; not a folder, …). Errors: TRAMMEL_ERROR_STORE "PATH: …", or the codec's, prefixed "PATH:
 * ". */
TrammelMachine *trammel_store_load (const char *path, GError **error);

/**
 * trammel_store_save:
 *
 * Writes a temporary file beside @path, fsyncs it, keeps the file that was there as `PATH~` (hard link or copy,
 * replaced atomically), renames over @path and fsyncs the folder. A symbolic link is followed; permissions of the old
 * file are kept. On failure the old file is whole, the temporary one is gone and the message says why
 * (TRAMMEL_ERROR_STORE). At no moment is there no whole file at @path.
 */
gboolean trammel_store_save (const TrammelMachine *machine, const char *path, GError **error);

/* The same atomic writing for any text (an exported header, a G-code program), without keeping a previous version. */
gboolean trammel_store_write_text (const char *path, const char *text, gsize length, GError **error);

G_END_DECLS
