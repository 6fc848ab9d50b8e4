/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/file-actions.h"

#include <glib/gi18n.h>
#include <string.h>

#include "machine/codec.h"
#include "machine/store.h"
#include "window/file-chooser.h"
#include "window/readings-import.h"

#define MIME_TYPE "application/vnd.trammel.machine+json"

/* What waits for the answer to the question about unsaved work. */
typedef enum
{
  PENDING_NOTHING,
  PENDING_NEW,
  PENDING_EXAMPLE,
  PENDING_FILE,
  PENDING_CLOSE,
} Pending;

struct _TrammelFileActions
{
  TrammelWindow *window;
  TrammelSession *session;
  TrammelNotices *notices;

  GFile *known;  /* the file that was read or written here last */
  char *version; /* of it, as it was then; NULL: not known */
  Pending pending;
  GFile *pending_file;
  gboolean close_without_asking;
};

static void perform_pending (TrammelFileActions *self);

static void
say_trouble (TrammelFileActions *self, const char *text)
{
  trammel_notices_show (self->notices, "file", TRAMMEL_NOTICE_TROUBLE, text, NULL, 0);
}

static void
remember_recent (GFile *file)
{
  g_autofree char *uri = g_file_get_uri (file);
  char *no_groups[] = { NULL };
  const GtkRecentData recent = {
    .mime_type = (char *)MIME_TYPE,
    .app_name = (char *)"Trammel",
    .app_exec = (char *)"trammel %f",
    .groups = no_groups,
  };
  gtk_recent_manager_add_full (gtk_recent_manager_get_default (), uri, &recent);
}

/* What tells one state of a file on disk from another. NULL: no such file. (transfer full) */
static char *
version_of (GFile *file)
{
  g_autoptr (GFileInfo) info
      = g_file_query_info (file, G_FILE_ATTRIBUTE_ETAG_VALUE, G_FILE_QUERY_INFO_NONE, NULL, NULL);
  return info ? g_strdup (g_file_info_get_etag (info)) : NULL;
}

static void
keep_version (TrammelFileActions *self, GFile *file)
{
  g_set_object (&self->known, file);
  g_free (self->version);
  self->version = version_of (file);
}

/* Opening */

static void
open_machine (TrammelFileActions *self, GFile *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_file_get_path (file);
  if (!path)
    {
      say_trouble (self, _ ("Only files of this computer can be opened; copy it here first."));
      return;
    }

  TrammelMachine *machine = trammel_store_load (path, &error);
  if (!machine)
    {
      const TrammelAnswer another[] = { { _ ("Open another…"), "win.open" } };
      trammel_notices_show (self->notices, "file", TRAMMEL_NOTICE_TROUBLE, error->message, another,
                            G_N_ELEMENTS (another));
      return;
    }
  trammel_session_open (self->session, machine, file, FALSE);
  keep_version (self, file);
  trammel_notices_dismiss (self->notices, "file");
  trammel_notices_dismiss (self->notices, "changed");
  remember_recent (file);
}

/* A machine to start from: one axis, so that there is something to see. */
static TrammelMachine *
new_machine (void)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  return trammel_machine_with_axis_inserted (empty, 0, axis, NULL);
}

static TrammelMachine *
example_machine (void)
{
  gsize length;
  g_autoptr (GBytes) bytes
      = g_resources_lookup_data ("/org/trammel_bench/Trammel/heron.trammel", G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  if (!bytes)
    return NULL;
  const char *data = g_bytes_get_data (bytes, &length);
  return trammel_codec_read (data, length, NULL);
}

static void
open_example (TrammelFileActions *self)
{
  TrammelMachine *machine = example_machine ();
  trammel_session_open (self->session, machine ? machine : new_machine (), NULL, FALSE);
}

/* Saving */

static gboolean
write_to (TrammelFileActions *self, GFile *file)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_file_get_path (file);
  const TrammelAnswer elsewhere[] = { { _ ("Save as…"), "win.save-as" } };
  if (!path)
    {
      say_trouble (self, _ ("Machines can be saved on this computer only."));
      return FALSE;
    }
  if (!trammel_store_save (trammel_session_machine (self->session), path, &error))
    {
      trammel_notices_show (self->notices, "file", TRAMMEL_NOTICE_TROUBLE, error->message, elsewhere,
                            G_N_ELEMENTS (elsewhere));
      return FALSE;
    }
  trammel_session_saved (self->session, file);
  keep_version (self, file);
  trammel_notices_dismiss (self->notices, "file");
  trammel_notices_dismiss (self->notices, "changed");
  remember_recent (file);
  return TRUE;
}

/* FALSE, and the question put: another program has written the file since. @goes_on: what is pending waits for it. */
static gboolean
is_as_left (TrammelFileActions *self, gboolean goes_on)
{
  GFile *file = trammel_session_file (self->session);
  g_autofree char *version = version_of (file);
  if (!self->known || !g_file_equal (file, self->known) || !self->version || !version
      || strcmp (version, self->version) == 0)
    return TRUE;

  g_autofree char *base = g_file_get_basename (file);
  g_autofree char *name = g_filename_display_name (base);
  g_autofree char *text = g_strdup_printf (
      _ ("%s was changed by another program since it was opened here. Saving keeps that version as %s~."), name, name);
  const TrammelAnswer answers[] = {
    { _ ("Save as…"), "win.save-as" },
    { _ ("Save over it"), goes_on ? "win.save-over(true)" : "win.save-over(false)" },
    { _ ("Open it anew"), "win.reopen" },
    { _ ("Cancel"), "win.guard-cancel" },
  };
  trammel_notices_show (self->notices, "changed", TRAMMEL_NOTICE_QUESTION, text, answers, G_N_ELEMENTS (answers));
  return FALSE;
}

/* A name typed without a suffix gets one, unless that would be a file nobody was asked about. */
static GFile *
with_suffix (GFile *file)
{
  g_autofree char *uri = g_file_get_uri (file);
  g_autofree char *base = g_file_get_basename (file);
  g_autofree char *longer = g_strconcat (uri, ".trammel", NULL);
  g_autoptr (GFile) suffixed = g_file_new_for_uri (longer);
  if (strchr (base, '.') || g_file_query_exists (file, NULL) || g_file_query_exists (suffixed, NULL))
    return g_object_ref (file);
  return g_steal_pointer (&suffixed);
}

static void
save_chosen (GFile *chosen, gpointer data)
{
  TrammelFileActions *self = data;
  g_autoptr (GFile) file = chosen ? with_suffix (chosen) : NULL;
  if (file && write_to (self, file))
    perform_pending (self);
  else
    self->pending = PENDING_NOTHING;
}

static void
save_elsewhere (TrammelFileActions *self)
{
  const char *name = trammel_machine_name (trammel_session_machine (self->session));
  g_autofree char *file_name = g_strconcat (*name ? name : _ ("machine"), ".trammel", NULL);
  g_strdelimit (file_name, "/\\:", '-');
  trammel_file_chooser_save (GTK_WINDOW (self->window), _ ("Save the machine"), TRAMMEL_FILES_MACHINE, file_name,
                             trammel_session_file (self->session), save_chosen, self);
}

/* Unsaved work */

static void
perform_pending (TrammelFileActions *self)
{
  Pending pending = self->pending;
  g_autoptr (GFile) file = g_steal_pointer (&self->pending_file);
  self->pending = PENDING_NOTHING;
  trammel_notices_dismiss (self->notices, "guard");
  switch (pending)
    {
    case PENDING_NOTHING:
      break;
    case PENDING_NEW:
      trammel_session_open (self->session, new_machine (), NULL, FALSE);
      break;
    case PENDING_EXAMPLE:
      open_example (self);
      break;
    case PENDING_FILE:
      open_machine (self, file);
      break;
    case PENDING_CLOSE:
      self->close_without_asking = TRUE;
      gtk_window_close (GTK_WINDOW (self->window));
      break;
    }
}

/* Does it at once, or asks first where work would be lost. */
static void
request (TrammelFileActions *self, Pending what, GFile *file)
{
  self->pending = what;
  g_set_object (&self->pending_file, file);
  if (!trammel_session_is_modified (self->session))
    {
      perform_pending (self);
      return;
    }

  const char *name = trammel_machine_name (trammel_session_machine (self->session));
  g_autofree char *text
      = g_strdup_printf (_ ("“%s” has changes that are not saved."), *name ? name : _ ("Unnamed machine"));
  const TrammelAnswer answers[] = {
    { trammel_session_file (self->session) ? _ ("Save") : _ ("Save as…"), "win.guard-save" },
    { what == PENDING_CLOSE ? _ ("Close without saving") : _ ("Go on without saving"), "win.guard-discard" },
    { what == PENDING_CLOSE ? _ ("Keep it open") : _ ("Cancel"), "win.guard-cancel" },
  };
  trammel_notices_show (self->notices, "guard", TRAMMEL_NOTICE_QUESTION, text, answers, G_N_ELEMENTS (answers));
}

gboolean
trammel_file_actions_may_close (TrammelFileActions *self)
{
  if (self->close_without_asking || !trammel_session_is_modified (self->session))
    return TRUE;
  request (self, PENDING_CLOSE, NULL);
  return FALSE;
}

static gboolean
is_readings_file (GFile *file)
{
  g_autofree char *base = g_file_get_basename (file);
  g_autofree char *lower = base ? g_ascii_strdown (base, -1) : NULL;
  return lower && (g_str_has_suffix (lower, ".csv") || g_str_has_suffix (lower, ".tsv"));
}

void
trammel_file_actions_open (TrammelFileActions *self, GFile *file)
{
  g_return_if_fail (self != NULL && G_IS_FILE (file));
  if (!is_readings_file (file))
    {
      request (self, PENDING_FILE, file);
      return;
    }
  /* Readings with nothing yet to be readings of */
  if (trammel_machine_n_axes (trammel_session_machine (self->session)) == 0)
    trammel_session_open (self->session, new_machine (), NULL, FALSE);
  trammel_readings_import (self->window, file);
}

void
trammel_file_actions_open_example (TrammelFileActions *self)
{
  g_return_if_fail (self != NULL);
  request (self, PENDING_EXAMPLE, NULL);
}

/* Actions */

static void
new_document (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  request (data, PENDING_NEW, NULL);
}

static void
example_document (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  request (data, PENDING_EXAMPLE, NULL);
}

static void
open_chosen (GFile *file, gpointer data)
{
  if (file)
    trammel_file_actions_open (data, file);
}

static void
open_document (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelFileActions *self = data;
  trammel_file_chooser_open (GTK_WINDOW (self->window), _ ("Open a machine"), TRAMMEL_FILES_MACHINE,
                             trammel_session_file (self->session), open_chosen, self);
}

static void
open_recent (GSimpleAction *action, GVariant *uri, gpointer data)
{
  g_autoptr (GFile) file = g_file_new_for_uri (g_variant_get_string (uri, NULL));
  request (data, PENDING_FILE, file);
}

static void
save (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelFileActions *self = data;
  if (!trammel_session_file (self->session))
    save_elsewhere (self);
  else if (is_as_left (self, FALSE))
    write_to (self, trammel_session_file (self->session));
}

static void
save_over (GSimpleAction *action, GVariant *goes_on, gpointer data)
{
  TrammelFileActions *self = data;
  GFile *file = trammel_session_file (self->session);
  if (file && write_to (self, file) && g_variant_get_boolean (goes_on))
    perform_pending (self);
}

/* Where there is unsaved work, request() asks about that. */
static void
reopen (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelFileActions *self = data;
  if (trammel_session_file (self->session))
    request (self, PENDING_FILE, trammel_session_file (self->session));
}

static void
save_as (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  save_elsewhere (data);
}

static void
import_readings (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelFileActions *self = data;
  trammel_readings_import_choose (self->window);
}

static void
guard_save (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelFileActions *self = data;
  if (!trammel_session_file (self->session))
    save_elsewhere (self);
  else if (is_as_left (self, TRUE) && write_to (self, trammel_session_file (self->session)))
    perform_pending (self);
}

static void
guard_discard (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  perform_pending (data);
}

static void
guard_cancel (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelFileActions *self = data;
  self->pending = PENDING_NOTHING;
  g_clear_object (&self->pending_file);
}

static const GActionEntry actions[] = {
  { "new", new_document },
  { "open-example", example_document },
  { "open", open_document },
  { "open-recent", open_recent, "s" },
  { "save", save },
  { "save-as", save_as },
  { "save-over", save_over, "b" },
  { "reopen", reopen },
  { "import-readings", import_readings },
  { "guard-save", guard_save },
  { "guard-discard", guard_discard },
  { "guard-cancel", guard_cancel },
};

static gboolean
files_dropped (GtkDropTarget *target, const GValue *value, double x, double y, gpointer data)
{
  g_autoptr (GSList) files = gdk_file_list_get_files (g_value_get_boxed (value));
  if (!files)
    return FALSE;
  trammel_file_actions_open (data, files->data);
  return TRUE;
}

TrammelFileActions *
trammel_file_actions_new (TrammelWindow *window)
{
  TrammelFileActions *self = g_new0 (TrammelFileActions, 1);
  self->window = window;
  self->session = trammel_window_session (window);
  self->notices = trammel_window_notices (window);
  g_action_map_add_action_entries (G_ACTION_MAP (window), actions, G_N_ELEMENTS (actions), self);

  GtkDropTarget *target = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);
  g_signal_connect (target, "drop", G_CALLBACK (files_dropped), self);
  gtk_widget_add_controller (GTK_WIDGET (window), GTK_EVENT_CONTROLLER (target));
  return self;
}

void
trammel_file_actions_free (TrammelFileActions *self)
{
  g_clear_object (&self->pending_file);
  g_clear_object (&self->known);
  g_free (self->version);
  g_free (self);
}
