/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/text-cache.h"

#include <string.h>

static guint
slot_of (const char *text, gsize length)
{
  guint hash = 2166136261u;

  for (gsize i = 0; i < length; i++)
    hash = (hash ^ (guchar)text[i]) * 16777619u;
  return hash % TRAMMEL_TEXT_CACHE_SLOTS;
}

GRefString *
trammel_text_cache_get (TrammelTextCache *cache, const char *text, gsize length)
{
  GRefString **slot;

  if (length == 0)
    return NULL;
  slot = &cache->slots[slot_of (text, length)];
  if (*slot && g_ref_string_length (*slot) == length && memcmp (*slot, text, length) == 0)
    return g_ref_string_acquire (*slot);
  g_clear_pointer (slot, g_ref_string_release);
  *slot = g_ref_string_new_len (text, (gssize)length);
  return g_ref_string_acquire (*slot);
}

void
trammel_text_cache_clear (TrammelTextCache *cache)
{
  for (gsize i = 0; i < TRAMMEL_TEXT_CACHE_SLOTS; i++)
    g_clear_pointer (&cache->slots[i], g_ref_string_release);
}
