/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/readings-import.h"

#include <glib/gi18n.h>

#include "machine/readings-csv.h"
#include "window/file-chooser.h"

/* What the thread works on. */
typedef struct
{
  char *path;
  TrammelMachine *machine;
} Import;

static void
import_free (Import *import)
{
  g_free (import->path);
  trammel_machine_unref (import->machine);
  g_free (import);
}

static void
read_in_thread (GTask *task, gpointer window, gpointer data, GCancellable *cancellable)
{
  const Import *import = data;
  GError *error = NULL;
  TrammelReadings *readings = trammel_readings_csv_load (import->path, import->machine, &error);
  if (readings)
    g_task_return_pointer (task, readings, (GDestroyNotify)trammel_readings_unref);
  else
    g_task_return_error (task, error);
}

static void
add_readings (TrammelWindow *window, const TrammelReadings *added, const char *path)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (added, &n);
  TrammelSession *session = trammel_window_session (window);
  const TrammelMachine *machine = trammel_session_machine (session);
  const TrammelReadings *old = trammel_machine_readings (machine);
  gsize before = trammel_readings_length (old);

  if (before + n > TRAMMEL_MAX_READINGS)
    {
      trammel_notices_show (trammel_window_notices (window), "import", TRAMMEL_NOTICE_TROUBLE,
                            _ ("That would be more readings than a machine can hold."), NULL, 0);
      return;
    }

  g_autoptr (TrammelReadings) all = trammel_readings_splice (old, before, 0, rows, n);
  trammel_session_edit (session, trammel_machine_with_readings (machine, all), _ ("import readings"), NULL);
  trammel_window_show_page (window, "readings");
  if (n > 0)
    trammel_session_select_reading (session, (int)before);

  const TrammelAnswer undo[] = { { _ ("Undo"), "win.undo" } };
  g_autofree char *base = g_path_get_basename (path);
  g_autofree char *name = g_filename_display_name (base);
  g_autofree char *text = g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "%'lu reading added from %s.", "%'lu readings added from %s.", n), (gulong)n, name);
  trammel_notices_show (trammel_window_notices (window), "import", TRAMMEL_NOTICE_INFO, text, undo,
                        G_N_ELEMENTS (undo));
}

static void
readings_read (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (GError) error = NULL;
  TrammelWindow *window = TRAMMEL_WINDOW (source);
  g_autoptr (TrammelReadings) readings = g_task_propagate_pointer (G_TASK (result), &error);
  if (gtk_widget_in_destruction (GTK_WIDGET (window)) || !trammel_window_session (window))
    return;
  if (readings)
    add_readings (window, readings, ((const Import *)g_task_get_task_data (G_TASK (result)))->path);
  else
    trammel_notices_show (trammel_window_notices (window), "import", TRAMMEL_NOTICE_TROUBLE, error->message, NULL, 0);
}

void
trammel_readings_import (TrammelWindow *window, GFile *file)
{
  g_return_if_fail (TRAMMEL_IS_WINDOW (window) && G_IS_FILE (file));

  char *path = g_file_get_path (file);
  if (!path)
    {
      trammel_notices_show (trammel_window_notices (window), "import", TRAMMEL_NOTICE_TROUBLE,
                            _ ("Only files of this computer can be opened; copy it here first."), NULL, 0);
      return;
    }
  g_autoptr (GTask) task = g_task_new (window, NULL, readings_read, NULL);
  g_task_set_source_tag (task, trammel_readings_import);
  Import *import = g_new (Import, 1);
  *import = (Import){ path, trammel_machine_ref (trammel_session_machine (trammel_window_session (window))) };
  g_task_set_task_data (task, import, (GDestroyNotify)import_free);
  g_task_run_in_thread (task, read_in_thread);
}

static void
file_chosen (GFile *file, gpointer window)
{
  if (file)
    trammel_readings_import (window, file);
}

void
trammel_readings_import_choose (TrammelWindow *window)
{
  g_return_if_fail (TRAMMEL_IS_WINDOW (window));
  trammel_file_chooser_open (GTK_WINDOW (window), _ ("Import readings"), TRAMMEL_FILES_READINGS,
                             trammel_session_file (trammel_window_session (window)), file_chosen, window);
}
