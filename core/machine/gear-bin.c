/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/gear-bin.h"

#include "machine/user-file.h"

#define FILE_NAME "gear-bin.txt"

char *
trammel_gear_bin_load (GError **error)
{
  char *text = trammel_user_file_load (FILE_NAME, error);

  return text ? g_strstrip (text) : NULL;
}

gboolean
trammel_gear_bin_save (const char *text, GError **error)
{
  g_autofree char *line = NULL;

  g_return_val_if_fail (text != NULL, FALSE);

  line = g_strconcat (text, "\n", NULL);
  return trammel_user_file_save (FILE_NAME, line, error);
}
