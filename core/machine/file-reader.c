/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/file-reader.h"

#include <errno.h>
#include <fcntl.h>
#include <glib/gi18n-lib.h>
#include <sys/stat.h>
#include <unistd.h>

#include "base/error.h"

#define FIRST_BYTES 65536

static gboolean
refuse (const char *path, int code, const char *why, GError **error)
{
  g_autofree char *shown = g_filename_display_name (path);

  g_set_error (error, TRAMMEL_ERROR, code, "%s: %s", shown, why);
  return FALSE;
}

static gboolean
refuse_length (const char *path, GError **error)
{
  return refuse (path, TRAMMEL_ERROR_TOO_LARGE, _ ("found more than 1 GiB; a shorter file is wanted"), error);
}

/* The open file, or −1. A pipe that nobody writes to would keep us waiting when it is opened. */
static int
open_file (const char *path, gboolean wait, struct stat *status, GError **error)
{
  int fd = open (path, O_RDONLY | O_CLOEXEC | O_NOCTTY | (wait ? 0 : O_NONBLOCK));

  if (fd >= 0 && fstat (fd, status) == 0)
    return fd;
  refuse (path, TRAMMEL_ERROR_STORE, g_strerror (errno), error);
  if (fd >= 0)
    close (fd);
  return -1;
}

/* Up to the end, or a byte beyond the limit. NULL with errno set. */
static GByteArray *
read_to_end (int fd, gsize expected)
{
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  gsize length = 0;

  g_byte_array_set_size (bytes, (guint)MAX (expected + 1, FIRST_BYTES));
  for (;;)
    {
      gssize n = read (fd, bytes->data + length, bytes->len - length);

      if (n < 0 && errno == EINTR)
        continue;
      if (n < 0)
        return NULL;
      length += (gsize)n;
      if (n == 0 || length > TRAMMEL_FILE_MOST_BYTES)
        break;
      if (length == bytes->len)
        g_byte_array_set_size (bytes, (guint)MIN (length * 2, TRAMMEL_FILE_MOST_BYTES + 1));
    }
  g_byte_array_set_size (bytes, (guint)length);
  return g_steal_pointer (&bytes);
}

static GBytes *
read_file (const char *path, int fd, gsize expected, GError **error)
{
  GByteArray *bytes = read_to_end (fd, expected);

  if (!bytes)
    {
      refuse (path, TRAMMEL_ERROR_STORE, g_strerror (errno), error);
      return NULL;
    }
  if (bytes->len <= TRAMMEL_FILE_MOST_BYTES)
    return g_byte_array_free_to_bytes (bytes);
  g_byte_array_unref (bytes);
  refuse_length (path, error);
  return NULL;
}

static gboolean
check_status (const char *path, const struct stat *status, gboolean pipes, GError **error)
{
  if (S_ISDIR (status->st_mode))
    return refuse (path, TRAMMEL_ERROR_STORE, _ ("found a folder; a file is wanted"), error);
  if (!S_ISREG (status->st_mode) && !pipes)
    return refuse (path, TRAMMEL_ERROR_STORE, _ ("found something that is not a regular file"), error);
  if (S_ISREG (status->st_mode) && status->st_size > (goffset)TRAMMEL_FILE_MOST_BYTES)
    return refuse_length (path, error);
  return TRUE;
}

GBytes *
trammel_file_read (const char *path, GError **error)
{
  struct stat status;
  int fd = open_file (path, FALSE, &status, error);
  GBytes *bytes = NULL;

  if (fd < 0)
    return NULL;
  if (check_status (path, &status, FALSE, error))
    bytes = read_file (path, fd, (gsize)status.st_size, error);
  close (fd);
  return bytes;
}

GBytes *
trammel_file_map (const char *path, GError **error)
{
  struct stat status;
  int fd = open_file (path, TRUE, &status, error);
  GMappedFile *map = NULL;
  GBytes *bytes = NULL;

  if (fd < 0)
    return NULL;
  if (check_status (path, &status, TRUE, error))
    {
      if (S_ISREG (status.st_mode))
        map = g_mapped_file_new_from_fd (fd, FALSE, NULL);
      bytes = map ? g_mapped_file_get_bytes (map) : read_file (path, fd, 0, error);
    }
  g_clear_pointer (&map, g_mapped_file_unref);
  close (fd);
  return bytes;
}
