/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/slips-private.h"

#include "machine/table.h"

#define SAME_SIZE 1e-6

gboolean
trammel_is_inch_size (TrammelExact mm)
{
  return mm.pi == 0 && mm.num != 0 && mm.num % 127 == 0;
}

static int
by_size (gconstpointer a, gconstpointer b)
{
  const TrammelStandardSize *one = a, *other = b;
  return (one->size > other->size) - (one->size < other->size);
}

/* Sorted, each once. */
static TrammelStandardSize *
finish (GArray *sizes, gsize *n)
{
  g_array_sort (sizes, by_size);
  for (guint i = sizes->len; i > 1; i--)
    {
      const TrammelStandardSize *one = &g_array_index (sizes, TrammelStandardSize, i - 1), *before = one - 1;
      if (one->size - before->size < SAME_SIZE * one->size)
        g_array_remove_index (sizes, i - 1);
    }
  *n = sizes->len;
  return (TrammelStandardSize *)(gpointer)g_array_free (sizes, FALSE);
}

static TrammelStandardSizes
read_sizes (const TrammelTable *table)
{
  GArray *metric = g_array_new (FALSE, FALSE, sizeof (TrammelStandardSize));
  GArray *inch = g_array_new (FALSE, FALSE, sizeof (TrammelStandardSize));
  TrammelStandardSizes sizes = { 0 };
  gsize n_rows;
  const TrammelTableRow *rows = trammel_table_rows (table, &n_rows);

  for (gsize i = 0; i < n_rows; i++)
    {
      TrammelExact exact;
      if (!trammel_table_row_exact (table, &rows[i], &exact))
        continue;
      const TrammelStandardSize size = { trammel_exact_to_double (exact), rows[i].value };
      g_array_append_val (trammel_is_inch_size (exact) ? inch : metric, size);
    }
  sizes.metric = finish (metric, &sizes.n_metric);
  sizes.inch = finish (inch, &sizes.n_inch);
  return sizes;
}

const TrammelStandardSizes *
trammel_standard_sizes (const char *table)
{
  /* Live as long as the program, as the tables do. */
  static struct
  {
    const char *table;
    TrammelStandardSizes sizes;
  } read[] = { { .table = "thread-pitch" }, { .table = "belt-pitch" }, { .table = "module" } };
  static gsize once;

  if (g_once_init_enter (&once))
    {
      for (gsize i = 0; i < G_N_ELEMENTS (read); i++)
        read[i].sizes = read_sizes (trammel_table_find (read[i].table));
      g_once_init_leave (&once, 1);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (read); i++)
    if (g_strcmp0 (read[i].table, table) == 0)
      return &read[i].sizes;
  g_return_val_if_reached (NULL);
}
