/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/export-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/number.h"

#define N_TABLE_COLUMNS 7
#define GAP 2

typedef char *Row[N_TABLE_COLUMNS];

static char *
number_and_unit (double value, const char *unit, const char *per)
{
  g_autofree char *number = NULL;

  if (!isfinite (value))
    return g_strdup ("-");
  number = trammel_number_to_text (value);
  return g_strconcat (number, *unit ? " " : "", unit, per, NULL);
}

static void
fill_heading (Row row)
{
  static const char *const headings[N_TABLE_COLUMNS] = {
    N_ ("axis"), N_ ("kind"), N_ ("counts per unit"), N_ ("u"), N_ ("direction"), N_ ("travel"), N_ ("top speed"),
  };

  for (int column = 0; column < N_TABLE_COLUMNS; column++)
    row[column] = g_strdup (_ (headings[column]));
}

static void
fill_row (Row row, const TrammelExportAxis *axis)
{
  g_autofree char *per = g_strconcat ("/", axis->unit, NULL);

  row[0] = g_strdup_printf ("%c", axis->letter);
  row[1] = g_strdup (trammel_axis_kind_label (axis->kind));
  row[2] = number_and_unit (axis->counts_per_unit, "", per);
  row[3] = number_and_unit (axis->u, "", per);
  row[4] = g_strdup (axis->direction < 0 ? "-1" : "+1");
  row[5] = number_and_unit (axis->travel, axis->unit, "");
  row[6] = number_and_unit (axis->top_speed, axis->unit, "/s");
}

static void
measure_widths (Row *rows, gsize n, glong widths[N_TABLE_COLUMNS])
{
  for (int column = 0; column < N_TABLE_COLUMNS; column++)
    {
      widths[column] = 0;
      for (gsize i = 0; i < n; i++)
        widths[column] = MAX (widths[column], g_utf8_strlen (rows[i][column], -1));
    }
}

static void
append_row (GString *table, Row row, const glong widths[N_TABLE_COLUMNS])
{
  for (int column = 0; column < N_TABLE_COLUMNS; column++)
    {
      glong spaces = widths[column] - g_utf8_strlen (row[column], -1) + GAP;

      g_string_append (table, row[column]);
      for (glong i = 0; i < spaces && column + 1 < N_TABLE_COLUMNS; i++)
        g_string_append_c (table, ' ');
    }
  g_string_append_c (table, '\n');
}

/* On one line, whatever it is called. */
static void
append_title (GString *table, const char *name, const char *time)
{
  for (const char *p = name; *p; p = g_utf8_next_char (p))
    g_string_append_unichar (table, g_unichar_isprint (g_utf8_get_char (p)) ? g_utf8_get_char (p) : ' ');
  g_string_append_printf (table, "%s%s\n\n", *name ? ", " : "", time);
}

char *
trammel_export_table (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time)
{
  GString *table = g_string_new (NULL);
  g_autofree Row *rows = g_new0 (Row, n + 1);
  glong widths[N_TABLE_COLUMNS];

  fill_heading (rows[0]);
  for (gsize i = 0; i < n; i++)
    fill_row (rows[i + 1], &axes[i]);
  measure_widths (rows, n + 1, widths);
  append_title (table, trammel_machine_name (machine), time);
  for (gsize i = 0; i < n + 1; i++)
    append_row (table, rows[i], widths);
  for (gsize i = 0; i < n + 1; i++)
    for (int column = 0; column < N_TABLE_COLUMNS; column++)
      g_free (rows[i][column]);
  return g_string_free (table, FALSE);
}
