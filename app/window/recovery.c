/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/recovery.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <unistd.h>

#include "base/error.h"
#include "machine/codec.h"
#include "machine/store.h"

struct _TrammelRecovery
{
  char *machine_path;
  char *info_path;
  int lock; /* the open info file */
};

static char *
recovery_folder (void)
{
  return g_build_filename (g_get_user_state_dir (), "trammel", "recovery", NULL);
}

static TrammelRecovery *
place_named (const char *folder, const char *name, int lock)
{
  TrammelRecovery *recovery = g_new0 (TrammelRecovery, 1);
  g_autofree char *machine = g_strconcat (name, ".trammel", NULL);
  g_autofree char *info = g_strconcat (name, ".info", NULL);
  recovery->machine_path = g_build_filename (folder, machine, NULL);
  recovery->info_path = g_build_filename (folder, info, NULL);
  recovery->lock = lock;
  return recovery;
}

static int
open_locked (const char *path, int flags)
{
  int fd = g_open (path, flags | O_CLOEXEC, 0600);
  if (fd >= 0 && flock (fd, LOCK_EX | LOCK_NB) == 0)
    return fd;
  if (fd >= 0)
    close (fd);
  return -1;
}

TrammelRecovery *
trammel_recovery_new (GError **error)
{
  g_autofree char *folder = recovery_folder ();
  g_mkdir_with_parents (folder, 0700);
  for (int i = 1; i < 1000; i++)
    {
      g_autofree char *name = g_strdup_printf ("%ld-%d", (long)getpid (), i);
      g_autoptr (TrammelRecovery) place = place_named (folder, name, -1);
      place->lock = open_locked (place->info_path, O_RDWR | O_CREAT | O_EXCL);
      if (place->lock >= 0)
        return g_steal_pointer (&place);
      if (errno != EEXIST)
        break;
    }
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE, "%s: %s", folder, g_strerror (errno));
  return NULL;
}

void
trammel_recovery_free (TrammelRecovery *recovery)
{
  if (!recovery)
    return;
  if (recovery->lock >= 0)
    close (recovery->lock);
  g_free (recovery->machine_path);
  g_free (recovery->info_path);
  g_free (recovery);
}

/* In place: another file of the same name would not be the locked one. */
static gboolean
write_info (TrammelRecovery *recovery, const char *path)
{
  gsize length = path ? strlen (path) : 0;
  return lseek (recovery->lock, 0, SEEK_SET) == 0 && ftruncate (recovery->lock, 0) == 0
         && (length == 0 || write (recovery->lock, path, length) == (gssize)length);
}

gboolean
trammel_recovery_write (TrammelRecovery *recovery, const TrammelMachine *machine, const char *path, GError **error)
{
  gsize length;
  g_autofree char *text = trammel_codec_write (machine, &length);
  if (!write_info (recovery, path))
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE, "%s: %s", recovery->info_path, g_strerror (errno));
      return FALSE;
    }
  return trammel_store_write_text (recovery->machine_path, text, length, error);
}

TrammelMachine *
trammel_recovery_read (TrammelRecovery *recovery, char **path, GError **error)
{
  TrammelMachine *machine = trammel_store_load (recovery->machine_path, error);
  *path = NULL;
  if (machine && g_file_get_contents (recovery->info_path, path, NULL, NULL) && !**path)
    g_clear_pointer (path, g_free);
  return machine;
}

GDateTime *
trammel_recovery_time (TrammelRecovery *recovery)
{
  GStatBuf status;
  return g_stat (recovery->machine_path, &status) == 0 ? g_date_time_new_from_unix_local (status.st_mtime) : NULL;
}

void
trammel_recovery_clear (TrammelRecovery *recovery)
{
  g_unlink (recovery->machine_path);
}

void
trammel_recovery_remove (TrammelRecovery *recovery)
{
  trammel_recovery_clear (recovery);
  g_unlink (recovery->info_path);
  trammel_recovery_free (recovery);
}

/* Takes @recovery; NULL when it holds nothing (and then it is no more). */
static TrammelRecovery *
unless_empty (TrammelRecovery *recovery)
{
  if (g_file_test (recovery->machine_path, G_FILE_TEST_IS_REGULAR))
    return recovery;
  trammel_recovery_remove (recovery);
  return NULL;
}

static gint64
time_written (TrammelRecovery *recovery)
{
  g_autoptr (GDateTime) time = trammel_recovery_time (recovery);
  return time ? g_date_time_to_unix (time) : 0;
}

TrammelRecovery *
trammel_recovery_find_leftover (void)
{
  g_autofree char *path = recovery_folder ();
  g_autoptr (GDir) folder = g_dir_open (path, 0, NULL);
  TrammelRecovery *newest = NULL;
  const char *file;
  while (folder && (file = g_dir_read_name (folder)))
    {
      if (!g_str_has_suffix (file, ".info"))
        continue;
      g_autofree char *info = g_build_filename (path, file, NULL);
      int lock = open_locked (info, O_RDWR);
      if (lock < 0)
        continue;
      g_autofree char *name = g_strndup (file, strlen (file) - strlen (".info"));
      TrammelRecovery *found = unless_empty (place_named (path, name, lock));
      if (found && newest && time_written (found) <= time_written (newest))
        g_clear_pointer (&found, trammel_recovery_free);
      if (found)
        {
          trammel_recovery_free (newest);
          newest = found;
        }
    }
  return newest;
}
