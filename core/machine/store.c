/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/store.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <glib/gstdio.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"
#include "machine/codec.h"
#include "machine/file-reader.h"
#include "machine/stale-files.h"

#define MOST_LINKS 40
#define MOST_TRIES 100
#define NEW_FILE_MODE 0666 /* less the umask */

static gboolean
refuse (const char *path, const char *why, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE, "%s: %s", shown, why);
  return FALSE;
}

TrammelMachine *
trammel_store_load (const char *path, GError **error)
{
  g_autofree char *shown = NULL;
  g_autoptr (GBytes) bytes = NULL;
  TrammelMachine *machine;
  const char *data;
  gsize length;

  g_return_val_if_fail (path != NULL, NULL);

  bytes = trammel_file_read (path, error);
  if (!bytes)
    return NULL;
  data = g_bytes_get_data (bytes, &length);
  machine = trammel_codec_read (data ? data : "", length, error);
  shown = g_filename_display_name (path);
  if (!machine)
    g_prefix_error (error, "%s: ", shown);
  return machine;
}

/* (transfer full): the file that @path means once symbolic links are followed, whether it is there or not; NULL with
 * errno set when they lead in a circle. */
static char *
follow_links (const char *path)
{
  char *target = g_strdup (path);

  for (int i = 0; i < MOST_LINKS; i++)
    {
      g_autofree char *link = target;
      g_autofree char *meant = g_file_read_link (link, NULL);
      g_autofree char *folder = NULL;

      if (!meant)
        return g_steal_pointer (&link);
      folder = g_path_get_dirname (link);
      target = g_path_is_absolute (meant) ? g_steal_pointer (&meant) : g_build_filename (folder, meant, NULL);
    }
  g_free (target);
  errno = ELOOP;
  return NULL;
}

/* What is being written, and where to. */
typedef struct
{
  char *target;    /* the file itself, links followed */
  char *folder;    /* that it lies in */
  char *temporary; /* beside it; NULL: none there now */
  int fd;          /* of the temporary one; −1: none open */
  gboolean exists; /* there is a file to replace */
  struct stat old; /* of it */
} Saving;

static void
end_saving (Saving *saving)
{
  if (saving->fd >= 0)
    close (saving->fd);
  if (saving->temporary)
    g_unlink (saving->temporary);
  g_free (saving->temporary);
  g_free (saving->folder);
  g_free (saving->target);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Saving, end_saving)

static gboolean
look_at_target (Saving *saving, const char *path, GError **error)
{
  saving->target = follow_links (path);
  if (!saving->target)
    return refuse (path, g_strerror (errno), error);
  saving->folder = g_path_get_dirname (saving->target);
  if (stat (saving->target, &saving->old) != 0)
    return errno == ENOENT || refuse (path, g_strerror (errno), error);
  saving->exists = TRUE;
  if (S_ISDIR (saving->old.st_mode))
    return refuse (path, _ ("found a folder; a file is wanted"), error);
  if (access (saving->target, W_OK) != 0)
    return refuse (path, g_strerror (errno), error);
  return TRUE;
}

static gboolean
open_temporary (Saving *saving)
{
  char *name = trammel_stale_files_template (saving->target);

  saving->fd = g_mkstemp_full (name, O_RDWR | O_CLOEXEC, NEW_FILE_MODE);
  if (saving->fd < 0)
    {
      int why = errno;

      g_free (name);
      errno = why;
      return FALSE;
    }
  saving->temporary = name;
  /* While it is locked it is no leftover. */
  flock (saving->fd, LOCK_EX | LOCK_NB);
  return TRUE;
}

/* As readable, writable and owned as the file that was there. */
static gboolean
keep_permissions (Saving *saving)
{
  mode_t mode = saving->old.st_mode & 07777;

  if (!saving->exists)
    return TRUE;
  if ((saving->old.st_uid != geteuid () || saving->old.st_gid != getegid ())
      && fchown (saving->fd, saving->old.st_uid, saving->old.st_gid) != 0)
    mode &= 0777;
  return fchmod (saving->fd, mode) == 0;
}

static gboolean
write_all (int fd, const char *data, gsize length)
{
  while (length > 0)
    {
      gssize written = write (fd, data, MIN (length, (gsize)G_MAXINT));

      if (written < 0 && errno == EINTR)
        continue;
      if (written < 0)
        return FALSE;
      data += written;
      length -= (gsize)written;
    }
  return TRUE;
}

static gboolean
close_temporary (Saving *saving)
{
  int fd = saving->fd;

  saving->fd = -1;
  return close (fd) == 0;
}

static gboolean
copy_contents (int from, int to)
{
  char buffer[65536];
  gssize n;

  while ((n = read (from, buffer, sizeof buffer)) != 0)
    {
      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0 || !write_all (to, buffer, (gsize)n))
        return FALSE;
    }
  return TRUE;
}

/* (transfer full): a copy of the old file beside it; NULL with errno set. */
static char *
copy_old (const Saving *saving)
{
  g_autofree char *name = trammel_stale_files_template (saving->target);
  int from = open (saving->target, O_RDONLY | O_CLOEXEC);
  int to = from >= 0 ? g_mkstemp_full (name, O_WRONLY | O_CLOEXEC, (int)(saving->old.st_mode & 0777)) : -1;
  gboolean done = to >= 0 && copy_contents (from, to) && fsync (to) == 0;
  int why = errno;

  if (from >= 0)
    close (from);
  if (to >= 0 && close (to) != 0 && done)
    {
      done = FALSE;
      why = errno;
    }
  if (done)
    return g_steal_pointer (&name);
  if (to >= 0)
    g_unlink (name);
  errno = why;
  return NULL;
}

/* (transfer full): a second name of the old file; NULL with errno set where the file system has no such thing. */
static char *
link_old (const Saving *saving)
{
  for (int i = 0; i < MOST_TRIES; i++)
    {
      char *name = trammel_stale_files_link_name (saving->target);

      if (link (saving->target, name) == 0)
        return name;
      g_free (name);
      if (errno != EEXIST)
        break;
    }
  return NULL;
}

/* The old file gets a second name, or is copied, so that its first name can stay until the new file takes it. */
static gboolean
keep_previous (const Saving *saving)
{
  g_autofree char *kept = g_strconcat (saving->target, "~", NULL);
  g_autofree char *name = NULL;
  int why;

  if (!saving->exists)
    return TRUE;
  name = link_old (saving);
  if (!name)
    name = copy_old (saving);
  if (!name)
    return FALSE;
  why = g_rename (name, kept) == 0 ? 0 : errno;
  /* Still there when renaming failed, and when both were names of one file already. */
  g_unlink (name);
  errno = why;
  return why == 0 || why == ENAMETOOLONG;
}

/* So that the new name survives a power cut. Where a folder cannot be synced there is nothing more to do. */
static void
sync_folder (const char *folder)
{
  int fd = open (folder, O_RDONLY | O_DIRECTORY | O_CLOEXEC);

  if (fd < 0)
    return;
  fsync (fd);
  close (fd);
}

/* A pipe or a device is not replaced but written to. */
static gboolean
write_to_device (const char *path, const char *text, gsize length, GError **error)
{
  int fd = open (path, O_WRONLY | O_CLOEXEC | O_NOCTTY);
  int why = fd < 0 || !write_all (fd, text, length) ? errno : 0;

  if (fd >= 0 && close (fd) != 0 && why == 0)
    why = errno;
  return why == 0 || refuse (path, g_strerror (why), error);
}

static gboolean
is_device (const char *path)
{
  struct stat status;

  return stat (path, &status) == 0 && !S_ISREG (status.st_mode) && !S_ISDIR (status.st_mode);
}

static gboolean
replace_file (const char *path, const char *text, gsize length, gboolean with_previous, GError **error)
{
  g_auto (Saving) saving = { .fd = -1 };

  if (is_device (path))
    return write_to_device (path, text, length, error);
  if (!look_at_target (&saving, path, error))
    return FALSE;
  trammel_stale_files_remove (saving.target);
  if (!open_temporary (&saving) || !keep_permissions (&saving) || !write_all (saving.fd, text, length)
      || fsync (saving.fd) != 0 || !close_temporary (&saving))
    return refuse (path, g_strerror (errno), error);
  if (with_previous && !keep_previous (&saving))
    return refuse (path, g_strerror (errno), error);
  if (g_rename (saving.temporary, saving.target) != 0)
    return refuse (path, g_strerror (errno), error);
  g_clear_pointer (&saving.temporary, g_free);
  sync_folder (saving.folder);
  return TRUE;
}

gboolean
trammel_store_save (const TrammelMachine *machine, const char *path, GError **error)
{
  g_autofree char *text = NULL;
  gsize length;

  g_return_val_if_fail (machine != NULL && path != NULL, FALSE);

  text = trammel_codec_write (machine, &length);
  if (length > TRAMMEL_FILE_MOST_BYTES)
    return refuse (path, _ ("the machine takes more than 1 GiB, which could not be read again"), error);
  return replace_file (path, text, length, TRUE, error);
}

gboolean
trammel_store_write_text (const char *path, const char *text, gsize length, GError **error)
{
  g_return_val_if_fail (path != NULL && (text != NULL || length == 0), FALSE);

  return replace_file (path, text, length, FALSE, error);
}
