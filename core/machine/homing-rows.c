/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/homing-rows.h"

#include <math.h>
#include <string.h>

#include "base/error.h"

struct _TrammelHomingRows
{
  GArray *rows;
  GPtrArray *groups; /* owned; NULL-terminated */
};

TrammelHomingRows *
trammel_homing_rows_new (void)
{
  TrammelHomingRows *rows = g_new0 (TrammelHomingRows, 1);

  rows->rows = g_array_new (FALSE, FALSE, sizeof (TrammelHomingRow));
  rows->groups = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (rows->groups, NULL);
  return rows;
}

void
trammel_homing_rows_free (TrammelHomingRows *rows)
{
  if (!rows)
    return;
  g_array_unref (rows->rows);
  g_ptr_array_unref (rows->groups);
  g_free (rows);
}

/* Takes @name. The few groups are looked through from the newest. */
static const char *
group_named (TrammelHomingRows *rows, char *name)
{
  for (guint i = rows->groups->len - 1; i > 0; i--)
    if (g_str_equal (g_ptr_array_index (rows->groups, i - 1), name))
      {
        g_free (name);
        return g_ptr_array_index (rows->groups, i - 1);
      }
  g_ptr_array_insert (rows->groups, (int)rows->groups->len - 1, name);
  return name;
}

void
trammel_homing_rows_add (TrammelHomingRows *rows, const TrammelHomingRow *row, const char *set, const char *approach)
{
  TrammelHomingRow added;

  g_return_if_fail (rows != NULL && row != NULL);

  set = set ? set : "";
  approach = approach ? approach : "";
  added = *row;
  added.set_length = strlen (set);
  added.group = group_named (rows, g_strconcat (set, *set && *approach ? " " : "", approach, NULL));
  g_array_append_val (rows->rows, added);
}

TrammelHomingRows *
trammel_homing_rows_of_readings (const TrammelReadings *readings, GError **error)
{
  g_autoptr (TrammelHomingRows) homes = trammel_homing_rows_new ();
  gsize n;
  const TrammelReading *rows;

  g_return_val_if_fail (readings != NULL, NULL);

  rows = trammel_readings_rows (readings, &n);
  for (gsize i = 0; i < n; i++)
    {
      if (rows[i].kind != TRAMMEL_READING_HOME || !trammel_reading_is_complete (&rows[i]))
        continue;
      if (!trammel_reading_check (&rows[i], error))
        {
          g_prefix_error (error, "readings[%" G_GSIZE_FORMAT "]: ", i);
          return NULL;
        }
      const TrammelHomingRow row = { .measured = rows[i].measured,
                                     .run = rows[i].run > 0 ? rows[i].run : NAN,
                                     .axis = rows[i].along.axes[0],
                                     .index = i };
      trammel_homing_rows_add (homes, &row, rows[i].set, trammel_approach_key (rows[i].approach));
    }
  return g_steal_pointer (&homes);
}

static char
first_axis (const TrammelHomingRows *rows)
{
  for (guint i = 0; i < rows->rows->len; i++)
    if (g_array_index (rows->rows, TrammelHomingRow, i).axis != '\0')
      return g_array_index (rows->rows, TrammelHomingRow, i).axis;
  return '\0';
}

TrammelHomingRows *
trammel_homing_rows_along (const TrammelHomingRows *rows, char axis)
{
  TrammelHomingRows *along = trammel_homing_rows_new ();

  g_return_val_if_fail (rows != NULL, along);

  if (axis == '\0')
    axis = first_axis (rows);
  for (guint i = 0; i < rows->rows->len; i++)
    {
      TrammelHomingRow row = g_array_index (rows->rows, TrammelHomingRow, i);

      if (row.axis != '\0' && row.axis != axis)
        continue;
      row.group = group_named (along, g_strdup (row.group));
      g_array_append_val (along->rows, row);
    }
  return along;
}

const TrammelHomingRow *
trammel_homing_rows_get (const TrammelHomingRows *rows, gsize *n)
{
  g_return_val_if_fail (rows != NULL && n != NULL, NULL);

  *n = rows->rows->len;
  return (const TrammelHomingRow *)(gconstpointer)rows->rows->data;
}

const char *const *
trammel_homing_rows_groups (const TrammelHomingRows *rows)
{
  g_return_val_if_fail (rows != NULL, NULL);

  return (const char *const *)rows->groups->pdata;
}

gboolean
trammel_homing_row_is_of (const TrammelHomingRow *row, const char *group)
{
  g_return_val_if_fail (row != NULL && group != NULL, FALSE);

  return g_str_equal (row->group, group)
         || (row->set_length > 0 && strlen (group) == row->set_length
             && strncmp (row->group, group, row->set_length) == 0);
}

/* Sum of the squares about the mean of @group; @n gets how many there are. */
static double
squares_of (const TrammelHomingRows *rows, const char *group, gsize *n)
{
  double mean = 0, squares = 0;

  *n = 0;
  for (guint i = 0; i < rows->rows->len; i++)
    {
      const TrammelHomingRow *row = &g_array_index (rows->rows, TrammelHomingRow, i);

      if (row->group != group)
        continue;
      const double off = row->measured - mean;
      mean += off / (double)++*n;
      squares += off * (row->measured - mean);
    }
  return squares;
}

gboolean
trammel_homing_rows_scatter (const TrammelHomingRows *rows, TrammelHomingScatter *out)
{
  TrammelHomingScatter scatter = { 0 };
  double squares = 0;

  g_return_val_if_fail (rows != NULL && out != NULL, FALSE);

  for (guint i = 0; i + 1 < rows->groups->len; i++)
    {
      gsize n;
      const double of_group = squares_of (rows, g_ptr_array_index (rows->groups, i), &n);

      if (n < 2)
        continue;
      squares += of_group;
      scatter.n += n;
      scatter.dof += n - 1;
    }
  if (scatter.dof == 0)
    return FALSE;
  scatter.s = sqrt (squares / (double)scatter.dof);
  *out = scatter;
  return TRUE;
}
