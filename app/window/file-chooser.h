/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

typedef enum
{
  TRAMMEL_FILES_ANY,
  TRAMMEL_FILES_MACHINE,
  TRAMMEL_FILES_READINGS,
} TrammelFiles;

/* @file: borrowed; NULL when the person changed their mind. Not called any more once @parent is gone. */
typedef void (*TrammelFileChosen) (GFile *file, gpointer user_data);

/* The system's own choosers. @beside (nullable): a file in the folder to start in. */
void trammel_file_chooser_open (GtkWindow *parent, const char *title, TrammelFiles files, GFile *beside,
                                TrammelFileChosen chosen, gpointer user_data);
/* @name: suggested. */
void trammel_file_chooser_save (GtkWindow *parent, const char *title, TrammelFiles files, const char *name,
                                GFile *beside, TrammelFileChosen chosen, gpointer user_data);

G_END_DECLS
