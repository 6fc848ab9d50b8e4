/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/row-reason.h"

#include <glib/gi18n.h>
#include <stdio.h>
#include <string.h>

char *
trammel_row_reason (const char *message, int *row)
{
  g_return_val_if_fail (message != NULL, NULL);

  const char *reason = strstr (message, ": ");
  int found = -1;
  const gboolean is_of_row = reason && sscanf (message, "readings[%d]", &found) == 1;

  if (row)
    *row = is_of_row ? found : -1;
  return is_of_row ? g_strdup_printf (_ ("Row %d: %s"), found + 1, reason + 2) : g_strdup (message);
}
