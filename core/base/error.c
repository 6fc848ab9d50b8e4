/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"

#include <string.h>

#define EXCERPT_CHARACTERS 40

/* clang-format off */
G_DEFINE_QUARK (trammel-error-quark, trammel_error)
/* clang-format on */

char *
trammel_error_excerpt (const char *text, gssize length)
{
  if (text == NULL)
    return g_strdup ("");

  /* A character takes at most 6 bytes in any scheme that calls itself UTF-8, so the rest need not be looked at. */
  const gsize look = (EXCERPT_CHARACTERS + 1) * 6;
  const gsize available = length < 0 ? strnlen (text, look) : MIN ((gsize)length, look);
  g_autofree char *valid = g_utf8_make_valid (text, (gssize)available);
  GString *shown = g_string_new (NULL);
  int n = 0;

  for (const char *p = valid; *p != '\0'; p = g_utf8_next_char (p))
    {
      if (n++ == EXCERPT_CHARACTERS)
        {
          g_string_append (shown, "…");
          break;
        }
      const gunichar c = g_utf8_get_char (p);
      g_string_append_unichar (shown, g_unichar_isprint (c) ? c : ' ');
    }
  g_strstrip (shown->str);
  return g_string_free (shown, FALSE);
}
