/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/stale-files.h"

#include <fcntl.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <time.h>
#include <unistd.h>

#define RANDOM_LETTERS 6
/* A file system's names are at most 255 bytes long. */
#define LONGEST_NAME 200
/* No save takes so long between making a file and locking or renaming it. */
#define WHILE_IN_SECONDS 10

static const char letters[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";

/* `.NAME.` */
static char *
prefix_of (const char *target)
{
  g_autofree char *name = g_path_get_basename (target);

  return g_strdup_printf (".%.*s.", LONGEST_NAME, name);
}

char *
trammel_stale_files_template (const char *target)
{
  g_autofree char *folder = g_path_get_dirname (target);
  g_autofree char *prefix = prefix_of (target);
  g_autofree char *name = g_strconcat (prefix, "XXXXXX", NULL);

  return g_build_filename (folder, name, NULL);
}

char *
trammel_stale_files_link_name (const char *target)
{
  char *template = trammel_stale_files_template (target);
  gsize length = strlen (template);
  char *name;

  for (gsize i = length - RANDOM_LETTERS; i < length; i++)
    template[i] = letters[g_random_int_range (0, sizeof letters - 1)];
  name = g_strconcat (template, "~", NULL);
  g_free (template);
  return name;
}

static gboolean
is_ours (const char *name, const char *prefix)
{
  gsize length = strlen (prefix);

  if (!g_str_has_prefix (name, prefix))
    return FALSE;
  name += length;
  for (int i = 0; i < RANDOM_LETTERS; i++)
    if (!g_ascii_isalnum (name[i]))
      return FALSE;
  return name[RANDOM_LETTERS] == '\0' || g_str_equal (name + RANDOM_LETTERS, "~");
}

/* A regular file that has been as it is for a while and that no saving process holds locked. Linking and renaming
 * count as changes too, so the time of the last change of state is what counts. */
static gboolean
is_left_over (const char *path)
{
  struct stat status;
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOFOLLOW | O_NONBLOCK);
  gboolean left;

  if (fd < 0)
    return FALSE;
  left = fstat (fd, &status) == 0 && S_ISREG (status.st_mode) && time (NULL) - status.st_ctime > WHILE_IN_SECONDS
         && flock (fd, LOCK_EX | LOCK_NB) == 0;
  close (fd);
  return left;
}

void
trammel_stale_files_remove (const char *target)
{
  g_autofree char *folder = g_path_get_dirname (target);
  g_autofree char *prefix = prefix_of (target);
  g_autoptr (GDir) entries = g_dir_open (folder, 0, NULL);
  const char *name;

  while (entries && (name = g_dir_read_name (entries)))
    {
      g_autofree char *path = NULL;

      if (!is_ours (name, prefix))
        continue;
      path = g_build_filename (folder, name, NULL);
      if (is_left_over (path))
        g_unlink (path);
    }
}
