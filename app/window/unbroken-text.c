/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/unbroken-text.h"

#include <string.h>

#define NO_BREAK_SPACE "\xC2\xA0"
#define WORD_JOINER "\xE2\x81\xA0"

static const char *const units[] = { "%", "mm", "µm", "cm", "m", "in", "s", "N", "g", "kg", "rpm", "kHz", "°", "deg" };

/* A unit, and no longer word, stands at @p. */
static gboolean
unit_begins (const char *p)
{
  for (gsize i = 0; i < G_N_ELEMENTS (units); i++)
    {
      gsize length = strlen (units[i]);

      if (strncmp (p, units[i], length) == 0 && !g_unichar_isalpha (g_utf8_get_char (p + length)))
        return TRUE;
    }
  return FALSE;
}

static gboolean
ends_with (const char *text, const char *p, const char *sign)
{
  gsize length = strlen (sign);

  return (gsize)(p - text) >= length && memcmp (p - length, sign, length) == 0;
}

static gboolean
is_glued_space (const char *text, const char *p)
{
  if (*p != ' ' || p == text)
    return FALSE;
  return ends_with (text, p, "±") || (g_ascii_isdigit (p[-1]) && unit_begins (p + 1));
}

static gboolean
is_glued_slash (const char *text, const char *p)
{
  return *p == '/' && p > text && g_ascii_isalpha (p[-1]) && unit_begins (p + 1);
}

char *
trammel_unbroken_text (const char *text)
{
  g_return_val_if_fail (text != NULL, NULL);

  GString *unbroken = g_string_sized_new (strlen (text) + 16);
  for (const char *p = text; *p; p++)
    if (is_glued_space (text, p))
      g_string_append (unbroken, NO_BREAK_SPACE);
    else if (is_glued_slash (text, p))
      g_string_append (unbroken, WORD_JOINER "/" WORD_JOINER);
    else
      g_string_append_c (unbroken, *p);
  return g_string_free (unbroken, FALSE);
}
