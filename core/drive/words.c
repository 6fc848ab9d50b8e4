/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/words.h"

#include <locale.h>
#include <string.h>

char *
trammel_words_of_field (const TrammelRecord *record, const char *key)
{
  g_autofree char *text = trammel_record_text (record, key);
  if (text == NULL)
    return g_strdup ("?");

  g_auto (GStrv) parts = g_strsplit (text, ".", -1);
  return g_strjoinv (localeconv ()->decimal_point, parts);
}

char *
trammel_words_of_pair (const TrammelRecord *record, const char *name, const char *first, const char *second)
{
  g_autofree char *one = trammel_words_of_field (record, first);
  g_autofree char *other = trammel_words_of_field (record, second);
  return g_strdup_printf ("%s %s:%s", name, one, other);
}
