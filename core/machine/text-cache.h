/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The same few names and notes come again and again in a long list of readings: each is kept once. */
#define TRAMMEL_TEXT_CACHE_SLOTS 64

typedef struct
{
  GRefString *slots[TRAMMEL_TEXT_CACHE_SLOTS];
} TrammelTextCache;

/* (transfer full): @length bytes of valid UTF-8 at @text; NULL when there are none. */
GRefString *trammel_text_cache_get (TrammelTextCache *cache, const char *text, gsize length);
void trammel_text_cache_clear (TrammelTextCache *cache);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelTextCache, trammel_text_cache_clear)

G_END_DECLS
