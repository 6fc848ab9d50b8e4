/* SPDX-License-Identifier: GPL-3.0-or-later */
/* A window to drag a file from, as a file manager's would be: drag-source FILE. It fills itself with the thing to drag
 * and ends when the drag has ended, with status 0 where the file was taken. */
#include <gtk/gtk.h>

static int status = 1;

static GdkContentProvider *
file_of (GtkDragSource *source, double x, double y, GFile *file)
{
  GSList files = { file, NULL };
  g_auto (GValue) value = G_VALUE_INIT;

  g_value_init (&value, GDK_TYPE_FILE_LIST);
  g_value_set_boxed (&value, &files);
  return gdk_content_provider_new_for_value (&value);
}

static void
ended (GtkDragSource *source, GdkDrag *drag, gboolean delete_data, GApplication *application)
{
  status = 0;
  g_application_quit (application);
}

static gboolean
cancelled (GtkDragSource *source, GdkDrag *drag, GdkDragCancelReason reason, GApplication *application)
{
  g_application_quit (application);
  return FALSE;
}

static void
show_source (GtkApplication *application, GFile *file)
{
  GtkWidget *window = gtk_application_window_new (application);
  GtkDragSource *source = gtk_drag_source_new ();

  gtk_window_set_title (GTK_WINDOW (window), "drag source");
  gtk_window_set_decorated (GTK_WINDOW (window), FALSE);
  gtk_window_set_default_size (GTK_WINDOW (window), 200, 100);
  gtk_window_set_child (GTK_WINDOW (window), gtk_label_new ("Drag me"));
  gtk_drag_source_set_actions (source, GDK_ACTION_COPY);
  g_signal_connect (source, "prepare", G_CALLBACK (file_of), file);
  g_signal_connect (source, "drag-end", G_CALLBACK (ended), application);
  g_signal_connect (source, "drag-cancel", G_CALLBACK (cancelled), application);
  gtk_widget_add_controller (window, GTK_EVENT_CONTROLLER (source));
  gtk_window_present (GTK_WINDOW (window));
}

int
main (int argc, char **argv)
{
  if (argc != 2)
    return 2;
  g_autoptr (GFile) file = g_file_new_for_commandline_arg (argv[1]);
  g_autoptr (GtkApplication) application = gtk_application_new (NULL, G_APPLICATION_NON_UNIQUE);
  g_signal_connect (application, "activate", G_CALLBACK (show_source), file);
  g_application_run (G_APPLICATION (application), 1, argv);
  return status;
}
