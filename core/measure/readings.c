/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/reading.h"

struct _TrammelReadings
{
  gatomicrefcount references;
  GArray *rows;
};

static void
clear_element (gpointer element)
{
  trammel_reading_clear (element);
}

GArray *
trammel_reading_array_new (gsize reserved)
{
  GArray *rows
      = g_array_sized_new (FALSE, FALSE, sizeof (TrammelReading), (guint)MIN (reserved, (gsize)TRAMMEL_MAX_READINGS));

  g_array_set_clear_func (rows, clear_element);
  return rows;
}

TrammelReadings *
trammel_readings_take (GArray *rows)
{
  g_return_val_if_fail (rows != NULL && g_array_get_element_size (rows) == sizeof (TrammelReading), NULL);

  TrammelReadings *readings = g_new0 (TrammelReadings, 1);
  g_atomic_ref_count_init (&readings->references);
  g_array_set_clear_func (rows, clear_element);
  readings->rows = rows;
  return readings;
}

TrammelReadings *
trammel_readings_new_empty (void)
{
  return trammel_readings_take (trammel_reading_array_new (0));
}

TrammelReadings *
trammel_readings_ref (const TrammelReadings *readings)
{
  TrammelReadings *shared = (TrammelReadings *)readings;

  g_return_val_if_fail (readings != NULL, NULL);

  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_readings_unref (TrammelReadings *readings)
{
  g_return_if_fail (readings != NULL);

  if (!g_atomic_ref_count_dec (&readings->references))
    return;
  g_array_unref (readings->rows);
  g_free (readings);
}

const TrammelReading *
trammel_readings_rows (const TrammelReadings *readings, gsize *n)
{
  g_return_val_if_fail (readings != NULL, NULL);

  if (n != NULL)
    *n = readings->rows->len;
  return (const TrammelReading *)(gpointer)readings->rows->data;
}

gsize
trammel_readings_length (const TrammelReadings *readings)
{
  g_return_val_if_fail (readings != NULL, 0);

  return readings->rows->len;
}

const TrammelReading *
trammel_readings_get (const TrammelReadings *readings, gsize i)
{
  g_return_val_if_fail (readings != NULL && i < readings->rows->len, NULL);

  return &g_array_index (readings->rows, TrammelReading, i);
}

static void
append_copies (GArray *rows, const TrammelReading *added, gsize n)
{
  guint start = rows->len;

  if (n == 0)
    return;
  g_array_set_size (rows, start + (guint)n);
  for (gsize i = 0; i < n; i++)
    trammel_reading_copy (&added[i], &g_array_index (rows, TrammelReading, start + i));
}

TrammelReadings *
trammel_readings_splice (const TrammelReadings *readings, gsize start, gsize n_removed, const TrammelReading *added,
                         gsize n_added)
{
  gsize n;
  const TrammelReading *old = trammel_readings_rows (readings, &n);

  g_return_val_if_fail (readings != NULL && start <= n && n_removed <= n - start, NULL);
  g_return_val_if_fail (added != NULL || n_added == 0, NULL);

  GArray *rows = trammel_reading_array_new (n - n_removed + n_added);
  append_copies (rows, old, start);
  append_copies (rows, added, n_added);
  if (start + n_removed < n)
    append_copies (rows, old + start + n_removed, n - start - n_removed);
  return trammel_readings_take (rows);
}

gboolean
trammel_readings_equal (const TrammelReadings *a, const TrammelReadings *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  if (a == b)
    return TRUE;
  if (a->rows->len != b->rows->len)
    return FALSE;
  for (gsize i = 0; i < a->rows->len; i++)
    if (!trammel_reading_equal (trammel_readings_get (a, i), trammel_readings_get (b, i)))
      return FALSE;
  return TRUE;
}
