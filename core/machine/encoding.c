/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/encoding.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

void
trammel_encoding_locate (const char *start, const char *position, gsize *line, gsize *column)
{
  *line = 1;
  *column = 1;
  for (const char *p = start; p < position; p++)
    if (*p == '\n')
      {
        ++*line;
        *column = 1;
      }
    else if (((guchar)*p & 0xC0) != 0x80) /* not the rest of a character */
      ++*column;
}

static gboolean
starts_with (const char *data, gsize length, const char *mark, gsize mark_length)
{
  return length >= mark_length && memcmp (data, mark, mark_length) == 0;
}

/* The name of a wider encoding that @data is written in, or NULL. Without a mark, the first characters tell: those of a
 * machine file or of CSV are ASCII. */
static const char *
wide_encoding (const char *data, gsize length)
{
  if (starts_with (data, length, "\xFF\xFE\0\0", 4) || starts_with (data, length, "\0\0\xFE\xFF", 4))
    return "UTF-32";
  if (starts_with (data, length, "\xFF\xFE", 2) || starts_with (data, length, "\xFE\xFF", 2))
    return "UTF-16";
  if (length >= 4 && data[0] && !data[1] && data[2] && !data[3])
    return "UTF-16";
  if (length >= 4 && !data[0] && data[1] && !data[2] && data[3])
    return "UTF-16";
  return NULL;
}

gboolean
trammel_encoding_check (const char **data, gsize *length, GError **error)
{
  const char *wide = wide_encoding (*data, *length);
  const char *bad;
  gsize line, column;

  if (wide)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("found %s text; UTF-8 is wanted"), wide);
      return FALSE;
    }
  if (starts_with (*data, *length, "\xEF\xBB\xBF", 3))
    {
      *data += 3;
      *length -= 3;
    }
  if (g_utf8_validate_len (*data, *length, &bad))
    return TRUE;
  trammel_encoding_locate (*data, bad, &line, &column);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
               _ ("line %zu, column %zu: found the byte 0x%02X; text in UTF-8 is wanted"), line, column,
               (guint)(guchar)*bad);
  return FALSE;
}
