/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/readings-csv.h"

#include <math.h>
#include <string.h>

/* Columns that are written even when nothing stands in them. */
static gboolean
is_always_written (TrammelColumn column)
{
  return column <= TRAMMEL_COLUMN_MEASURED;
}

static void
find_used_columns (const TrammelReading *rows, gsize n, gboolean used[TRAMMEL_N_COLUMNS])
{
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    used[column] = is_always_written ((TrammelColumn)column);
  for (gsize i = 0; i < n; i++)
    {
      used[TRAMMEL_COLUMN_U] |= !isnan (rows[i].u);
      used[TRAMMEL_COLUMN_INSTRUMENT] |= rows[i].instrument != NULL;
      used[TRAMMEL_COLUMN_APPROACH] |= rows[i].approach != TRAMMEL_APPROACH_NONE;
      used[TRAMMEL_COLUMN_RUN] |= rows[i].run > 0;
      used[TRAMMEL_COLUMN_SET] |= rows[i].set != NULL;
      used[TRAMMEL_COLUMN_NOTE] |= rows[i].note != NULL;
    }
}

static gboolean
needs_quotes (const char *text)
{
  gsize length = strlen (text);

  if (length == 0)
    return FALSE;
  return strpbrk (text, ",\"\r\n") || g_ascii_isspace (text[0]) || g_ascii_isspace (text[length - 1]);
}

static void
append_field (GString *csv, const char *text)
{
  if (!needs_quotes (text))
    {
      g_string_append (csv, text);
      return;
    }
  g_string_append_c (csv, '"');
  for (const char *p = text; *p; p++)
    {
      if (*p == '"')
        g_string_append_c (csv, '"');
      g_string_append_c (csv, *p);
    }
  g_string_append_c (csv, '"');
}

static gboolean
can_be_read_back (const TrammelReading *reading)
{
  return reading->has_along && !trammel_reading_has_faulty (reading)
         && (!isnan (reading->nominal) || !trammel_reading_kind_needs_nominal (reading->kind));
}

/* What cannot be read back stands as a comment, on one line. */
static void
append_row (GString *csv, const TrammelReading *reading, const gboolean used[TRAMMEL_N_COLUMNS])
{
  gsize start = csv->len;
  gboolean comment = !can_be_read_back (reading), first = TRUE;

  if (comment)
    g_string_append (csv, "# ");
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    {
      g_autofree char *text = NULL;

      if (!used[column])
        continue;
      if (!first)
        g_string_append_c (csv, ',');
      first = FALSE;
      text = trammel_reading_get_text (reading, (TrammelColumn)column, 1);
      append_field (csv, text);
    }
  for (gsize i = start; comment && i < csv->len; i++)
    if (csv->str[i] == '\n' || csv->str[i] == '\r')
      csv->str[i] = ' ';
  g_string_append_c (csv, '\n');
}

char *
trammel_readings_csv_write (const TrammelReadings *readings)
{
  gboolean used[TRAMMEL_N_COLUMNS], first = TRUE;
  const TrammelReading *rows;
  GString *csv;
  gsize n;

  g_return_val_if_fail (readings != NULL, NULL);

  rows = trammel_readings_rows (readings, &n);
  find_used_columns (rows, n, used);
  csv = g_string_new (NULL);
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    if (used[column])
      {
        g_string_append_printf (csv, "%s%s", first ? "" : ",", trammel_column_key ((TrammelColumn)column));
        first = FALSE;
      }
  g_string_append_c (csv, '\n');
  for (gsize i = 0; i < n; i++)
    append_row (csv, &rows[i], used);
  return g_string_free (csv, FALSE);
}
