/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A user's own rows of the tables: the list of them, and a line to add one. */
#define TRAMMEL_TYPE_TABLES_WINDOW (trammel_tables_window_get_type ())
G_DECLARE_FINAL_TYPE (TrammelTablesWindow, trammel_tables_window, TRAMMEL, TABLES_WINDOW, GtkWindow)

/* Shows the window over @parent; the one that is there already comes to the front. @key and @value (both nullable): of
 * a table and a value to add to it, for which a name is still wanted. */
void trammel_tables_window_show (GtkWindow *parent, const char *key, const char *value);

G_END_DECLS
