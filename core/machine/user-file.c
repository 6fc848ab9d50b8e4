/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/user-file.h"

#include <errno.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <string.h>

#include "base/error.h"
#include "machine/encoding.h"
#include "machine/file-reader.h"
#include "machine/store.h"

#define FOLDER_MODE 0700

char *
trammel_user_file_path (const char *name)
{
  g_return_val_if_fail (name != NULL, NULL);

  return g_build_filename (g_get_user_data_dir (), "trammel", name, NULL);
}

static gboolean
refuse_length (const char *path, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE, _ ("%s: found more than 1 MiB; a shorter text is wanted"),
               shown);
  return FALSE;
}

static char *
read_text (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = trammel_file_read (path, error);
  g_autofree char *shown = g_filename_display_name (path);
  const char *data;
  gsize length;

  if (!bytes)
    return NULL;
  data = g_bytes_get_data (bytes, &length);
  if (length > TRAMMEL_USER_FILE_MOST_BYTES)
    {
      refuse_length (path, error);
      return NULL;
    }
  if (!data)
    return g_strdup ("");
  if (trammel_encoding_check (&data, &length, error))
    return g_strndup (data, length);
  g_prefix_error (error, "%s: ", shown);
  return NULL;
}

char *
trammel_user_file_load (const char *name, GError **error)
{
  g_autofree char *path = NULL;
  GStatBuf status;

  g_return_val_if_fail (name != NULL, NULL);

  path = trammel_user_file_path (name);
  if (g_stat (path, &status) != 0 && errno == ENOENT)
    return g_strdup ("");
  return read_text (path, error);
}

gboolean
trammel_user_file_save (const char *name, const char *text, GError **error)
{
  g_autofree char *path = NULL;
  g_autofree char *folder = NULL;

  g_return_val_if_fail (name != NULL && text != NULL, FALSE);

  path = trammel_user_file_path (name);
  folder = g_path_get_dirname (path);
  if (strlen (text) > TRAMMEL_USER_FILE_MOST_BYTES)
    return refuse_length (path, error);
  g_mkdir_with_parents (folder, FOLDER_MODE); /* where it fails, saving tells why */
  return trammel_store_write_text (path, text, strlen (text), error);
}
