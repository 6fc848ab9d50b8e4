/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/autosave.h"

#include <glib/gi18n.h>

#include "window/recovery.h"

#define SECONDS_AFTER_EDIT 2

struct _TrammelAutosave
{
  TrammelSession *session;
  TrammelNotices *notices;

  TrammelRecovery *place;   /* of this window; NULL until there is something to keep */
  TrammelRecovery *offered; /* of a process that is no more */
  guint timeout;
  gboolean writing; /* a thread is at it */
  gboolean failed;  /* and has told so */
};

typedef struct
{
  TrammelAutosave *autosave;
  TrammelRecovery *place;
  TrammelMachine *machine;
  char *path;
} Work;

static void
work_free (gpointer data)
{
  Work *work = data;
  trammel_machine_unref (work->machine);
  g_free (work->path);
  g_free (work);
}

static char *
path_of_session (TrammelSession *session)
{
  GFile *file = trammel_session_file (session);
  return file ? g_file_get_path (file) : NULL;
}

/* Told once: the disk that said no will go on doing so. */
static void
tell_failure (TrammelAutosave *self, const GError *error)
{
  if (self->failed)
    return;
  self->failed = TRUE;
  g_autofree char *text
      = g_strdup_printf (_ ("Unsaved work cannot be kept safe in the meantime; save often. %s"), error->message);
  trammel_notices_show (self->notices, "autosave", TRAMMEL_NOTICE_TROUBLE, text, NULL, 0);
}

static gboolean
ensure_place (TrammelAutosave *self)
{
  g_autoptr (GError) error = NULL;
  if (!self->place)
    self->place = trammel_recovery_new (&error);
  if (error)
    tell_failure (self, error);
  return self->place != NULL;
}

static void
write_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  GError *error = NULL;
  if (trammel_recovery_write (work->place, work->machine, work->path, &error))
    g_task_return_boolean (task, TRUE);
  else
    g_task_return_error (task, error);
}

static void
written (GObject *source, GAsyncResult *result, gpointer data)
{
  Work *work = g_task_get_task_data (G_TASK (result));
  TrammelAutosave *self = work->autosave;
  g_autoptr (GError) error = NULL;
  self->writing = FALSE;
  if (!g_task_propagate_boolean (G_TASK (result), &error))
    tell_failure (self, error);
  if (!trammel_session_is_modified (self->session))
    trammel_recovery_clear (self->place);
}

static gboolean
write_soon (gpointer data)
{
  TrammelAutosave *self = data;
  if (self->writing)
    return G_SOURCE_CONTINUE;
  self->timeout = 0;
  if (!trammel_session_is_modified (self->session) || !ensure_place (self))
    return G_SOURCE_REMOVE;

  Work *work = g_new0 (Work, 1);
  work->autosave = self;
  work->place = self->place;
  work->machine = trammel_machine_ref (trammel_session_machine (self->session));
  work->path = path_of_session (self->session);
  g_autoptr (GTask) task = g_task_new (NULL, NULL, written, NULL);
  g_task_set_source_tag (task, write_soon);
  g_task_set_task_data (task, work, work_free);
  self->writing = TRUE;
  g_task_run_in_thread (task, write_in_thread);
  return G_SOURCE_REMOVE;
}

static void
state_changed (TrammelAutosave *self)
{
  if (!trammel_session_is_modified (self->session))
    {
      g_clear_handle_id (&self->timeout, g_source_remove);
      if (self->place && !self->writing)
        trammel_recovery_clear (self->place);
      return;
    }
  if (!self->timeout)
    self->timeout = g_timeout_add_seconds (SECONDS_AFTER_EDIT, write_soon, self);
}

static void
wait_for_thread (TrammelAutosave *self)
{
  while (self->writing)
    g_main_context_iteration (NULL, TRUE);
}

void
trammel_autosave_keep (TrammelAutosave *self)
{
  g_return_if_fail (self != NULL);
  wait_for_thread (self);
  g_clear_handle_id (&self->timeout, g_source_remove);
  if (!trammel_session_is_modified (self->session) || !ensure_place (self))
    return;
  g_autofree char *path = path_of_session (self->session);
  trammel_recovery_write (self->place, trammel_session_machine (self->session), path, NULL);
  g_clear_pointer (&self->place, trammel_recovery_free);
}

void
trammel_autosave_end (TrammelAutosave *self)
{
  g_return_if_fail (self != NULL);
  wait_for_thread (self);
  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->place, trammel_recovery_remove);
}

/* Leftovers */

static char *
name_of_work (const TrammelMachine *machine, const char *path)
{
  if (*trammel_machine_name (machine))
    return g_strdup (trammel_machine_name (machine));
  return path ? g_path_get_basename (path) : g_strdup (_ ("Unnamed machine"));
}

static void
ask_about_leftover (TrammelAutosave *self, const char *text)
{
  const TrammelAnswer answers[] = {
    { _ ("Recover it"), "win.recover" },
    { _ ("Throw it away"), "win.discard-recovered" },
    { _ ("Later"), "win.recover-later" },
  };
  trammel_notices_show (self->notices, "recovery", TRAMMEL_NOTICE_QUESTION, text, answers, G_N_ELEMENTS (answers));
}

void
trammel_autosave_offer_leftovers (TrammelAutosave *self)
{
  g_return_if_fail (self != NULL);
  if (self->offered || !(self->offered = trammel_recovery_find_leftover ()))
    return;

  g_autofree char *path = NULL;
  g_autoptr (TrammelMachine) machine = trammel_recovery_read (self->offered, &path, NULL);
  g_autoptr (GDateTime) time = trammel_recovery_time (self->offered);
  if (!machine || !time)
    {
      g_clear_pointer (&self->offered, trammel_recovery_free);
      return;
    }

  g_autofree char *name = name_of_work (machine, path);
  g_autofree char *when = g_date_time_format (time, "%x %R");
  g_autofree char *text
      = g_strdup_printf (_ ("Trammel ended unexpectedly. Unsaved work on “%s” from %s was kept."), name, when);
  ask_about_leftover (self, text);
}

/* The work is written to this window's own place before the old one goes. */
static void
take_over (TrammelAutosave *self, TrammelMachine *machine, const char *path)
{
  g_autoptr (GFile) file = path ? g_file_new_for_path (path) : NULL;
  TrammelRecovery *old = g_steal_pointer (&self->offered);
  trammel_session_open (self->session, machine, file, TRUE);
  if (ensure_place (self) && trammel_recovery_write (self->place, trammel_session_machine (self->session), path, NULL))
    trammel_recovery_remove (old);
  else
    trammel_recovery_free (old);
  trammel_autosave_offer_leftovers (self);
}

static void
recover (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelAutosave *self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = NULL;
  if (!self->offered)
    return;
  if (trammel_session_is_modified (self->session))
    {
      ask_about_leftover (self,
                          _ ("This machine has changes of its own by now. Save it first, then recover the other."));
      return;
    }
  wait_for_thread (self);
  TrammelMachine *machine = trammel_recovery_read (self->offered, &path, &error);
  if (machine)
    take_over (self, machine, path);
  else
    trammel_notices_show (self->notices, "recovery", TRAMMEL_NOTICE_TROUBLE, error->message, NULL, 0);
}

static void
discard_recovered (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelAutosave *self = data;
  g_clear_pointer (&self->offered, trammel_recovery_remove);
  trammel_autosave_offer_leftovers (self);
}

/* It stays, and is offered at the next start. */
static void
recover_later (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelAutosave *self = data;
  g_clear_pointer (&self->offered, trammel_recovery_free);
}

static const GActionEntry actions[] = {
  { "recover", recover },
  { "discard-recovered", discard_recovered },
  { "recover-later", recover_later },
};

TrammelAutosave *
trammel_autosave_new (TrammelSession *session, TrammelNotices *notices, GActionMap *map)
{
  TrammelAutosave *self = g_new0 (TrammelAutosave, 1);
  self->session = session;
  self->notices = notices;
  g_signal_connect_swapped (session, "notify::modified", G_CALLBACK (state_changed), self);
  g_action_map_add_action_entries (map, actions, G_N_ELEMENTS (actions), self);
  return self;
}

void
trammel_autosave_free (TrammelAutosave *self)
{
  wait_for_thread (self);
  g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_handle_id (&self->timeout, g_source_remove);
  g_clear_pointer (&self->offered, trammel_recovery_free);
  g_clear_pointer (&self->place, trammel_recovery_free);
  g_free (self);
}
