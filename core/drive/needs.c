/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/needs.h"

static void
free_need (gpointer data)
{
  TrammelNeed *need = data;
  g_free (need->place);
  g_free (need->taken);
  g_free (need);
}

GPtrArray *
trammel_needs_new (void)
{
  return g_ptr_array_new_with_free_func (free_need);
}

static TrammelNeed *
find (GPtrArray *needs, const char *place)
{
  for (guint i = 0; i < needs->len; i++)
    {
      TrammelNeed *need = g_ptr_array_index (needs, i);
      if (g_str_equal (need->place, place))
        return need;
    }
  return NULL;
}

static void
add (GPtrArray *needs, const char *place, const TrammelField *field, const char *taken)
{
  TrammelNeed *need = find (needs, place);
  if (need != NULL)
    {
      if (taken == NULL)
        g_clear_pointer (&need->taken, g_free);
      return;
    }
  need = g_new0 (TrammelNeed, 1);
  need->place = g_strdup (place);
  need->field = field;
  need->taken = g_strdup (taken);
  g_ptr_array_add (needs, need);
}

void
trammel_needs_add (GPtrArray *needs, const char *part, const TrammelRecordKind *kind, const char *key,
                   const char *taken)
{
  g_return_if_fail (needs != NULL && part != NULL && kind != NULL && key != NULL);
  const TrammelField *field = trammel_record_kind_field (kind, key);
  g_return_if_fail (field != NULL);

  g_autofree char *place = g_strdup_printf ("%s.%s", part, key);
  add (needs, place, field, taken);
}

void
trammel_needs_add_number (GPtrArray *needs, const char *part, const TrammelRecordKind *kind, const char *key,
                          double taken)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  trammel_needs_add (needs, part, kind, key, g_ascii_formatd (text, sizeof text, "%.4g", taken));
}

void
trammel_needs_add_all (GPtrArray *needs, const GPtrArray *more)
{
  g_return_if_fail (needs != NULL && more != NULL);

  for (guint i = 0; i < more->len; i++)
    {
      const TrammelNeed *need = more->pdata[i];
      add (needs, need->place, need->field, need->taken);
    }
}

char *
trammel_needs_stage_place (gsize i)
{
  return g_strdup_printf ("stages[%" G_GSIZE_FORMAT "]", i);
}
