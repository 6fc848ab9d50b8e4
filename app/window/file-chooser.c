/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/file-chooser.h"

#include <glib/gi18n.h>

typedef struct
{
  TrammelFileChosen chosen;
  gpointer user_data;
} Choice;

static void
add_filter (GtkFileChooser *chooser, const char *name, const char *const *suffixes)
{
  g_autoptr (GtkFileFilter) filter = gtk_file_filter_new ();
  gtk_file_filter_set_name (filter, name);
  for (; *suffixes; suffixes++)
    if (**suffixes)
      gtk_file_filter_add_suffix (filter, *suffixes);
    else
      gtk_file_filter_add_pattern (filter, "*");
  gtk_file_chooser_add_filter (chooser, filter);
}

static void
add_filters (GtkFileChooser *chooser, TrammelFiles files)
{
  if (files == TRAMMEL_FILES_MACHINE)
    add_filter (chooser, _ ("Machines"), (const char *[]){ "trammel", NULL });
  if (files == TRAMMEL_FILES_READINGS)
    add_filter (chooser, _ ("Readings (CSV)"), (const char *[]){ "csv", "tsv", "txt", NULL });
  if (files != TRAMMEL_FILES_ANY)
    add_filter (chooser, _ ("All files"), (const char *[]){ "", NULL });
}

/* The window holds the chooser, so that both end together. */
static void
answered (GtkNativeDialog *native, int response, Choice *choice)
{
  g_autoptr (GFile) file
      = response == GTK_RESPONSE_ACCEPT ? gtk_file_chooser_get_file (GTK_FILE_CHOOSER (native)) : NULL;
  GtkWindow *parent = gtk_native_dialog_get_transient_for (native);
  Choice copy = *choice;
  gtk_native_dialog_hide (native);
  g_object_set_data (G_OBJECT (parent), "file-chooser", NULL);
  copy.chosen (file, copy.user_data);
}

static void
show (GtkFileChooserNative *native, GtkWindow *parent, TrammelFiles files, GFile *beside, TrammelFileChosen chosen,
      gpointer user_data)
{
  g_autoptr (GFile) folder = beside ? g_file_get_parent (beside) : NULL;
  Choice *choice = g_new (Choice, 1);
  *choice = (Choice){ chosen, user_data };

  add_filters (GTK_FILE_CHOOSER (native), files);
  if (folder)
    gtk_file_chooser_set_current_folder (GTK_FILE_CHOOSER (native), folder, NULL);
  gtk_native_dialog_set_modal (GTK_NATIVE_DIALOG (native), TRUE);
  g_signal_connect_data (native, "response", G_CALLBACK (answered), choice, (GClosureNotify)(void (*) (void))g_free, 0);
  g_object_set_data_full (G_OBJECT (parent), "file-chooser", native, g_object_unref);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (native));
}

void
trammel_file_chooser_open (GtkWindow *parent, const char *title, TrammelFiles files, GFile *beside,
                           TrammelFileChosen chosen, gpointer user_data)
{
  GtkFileChooserNative *native
      = gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_OPEN, _ ("_Open"), _ ("_Cancel"));
  show (native, parent, files, beside, chosen, user_data);
}

void
trammel_file_chooser_save (GtkWindow *parent, const char *title, TrammelFiles files, const char *name, GFile *beside,
                           TrammelFileChosen chosen, gpointer user_data)
{
  GtkFileChooserNative *native
      = gtk_file_chooser_native_new (title, parent, GTK_FILE_CHOOSER_ACTION_SAVE, _ ("_Save"), _ ("_Cancel"));
  gtk_file_chooser_set_current_name (GTK_FILE_CHOOSER (native), name);
  show (native, parent, files, beside, chosen, user_data);
}
