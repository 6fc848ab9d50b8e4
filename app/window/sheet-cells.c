/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/sheet-cells.h"

#include <math.h>
#include <string.h>

#include "base/number.h"
#include "draw/display.h"

#define MINUS "\xe2\x88\x92"
#define MOST_DIGITS_SHOWN 9
#define DIGITS_OF_CONVERTED 7
#define SMALLEST_ROUNDED 1e-3

gboolean
trammel_cell_is_numeric (TrammelColumn column)
{
  return column == TRAMMEL_COLUMN_NOMINAL || column == TRAMMEL_COLUMN_MEASURED || column == TRAMMEL_COLUMN_U
         || column == TRAMMEL_COLUMN_RUN;
}

static gboolean
is_faulty (const TrammelReading *reading, TrammelColumn column)
{
  g_autofree char *faulty = reading->faulty ? trammel_reading_faulty (reading, column) : NULL;
  return faulty != NULL;
}

char *
trammel_cell_to_edit (const TrammelReading *reading, TrammelColumn column, const TrammelUnit *unit)
{
  g_return_val_if_fail (reading != NULL && unit != NULL, NULL);

  char *text = trammel_reading_get_text (reading, column, trammel_unit_factor (unit));
  if (is_faulty (reading, column))
    return text;
  if (column == TRAMMEL_COLUMN_KIND)
    {
      g_free (text);
      return g_strdup (trammel_reading_kind_label (reading->kind));
    }
  if (trammel_cell_is_numeric (column) && g_str_equal (trammel_display_decimal_sign (), ","))
    g_strdelimit (text, ".", ',');
  return text;
}

static char *
with_real_minus (char *text)
{
  if (*text != '-')
    return text;
  char *shown = g_strconcat (MINUS, text + 1, NULL);
  g_free (text);
  return shown;
}

/* The many digits that a length gets when it was typed in another unit tell nothing, and do not fit. */
static char *
without_digits_of_conversion (char *text)
{
  double value;
  guint digits = 0;
  gboolean comma = g_str_equal (trammel_display_decimal_sign (), ",");

  for (const char *c = text; *c; c++)
    digits += g_ascii_isdigit (*c) && (digits > 0 || *c != '0') ? 1 : 0;
  if (digits <= MOST_DIGITS_SHOWN || !trammel_number_from_text (text, -1, comma, &value)
      || fabs (value) < SMALLEST_ROUNDED)
    return text;

  char buffer[G_ASCII_DTOSTR_BUF_SIZE], format[8];
  g_snprintf (format, sizeof format, "%%.%dg", DIGITS_OF_CONVERTED);
  g_free (text);
  text = g_strdup (g_ascii_formatd (buffer, sizeof buffer, format, value));
  return comma ? g_strdelimit (text, ".", ',') : text;
}

char *
trammel_cell_to_show (const TrammelReading *reading, TrammelColumn column, const TrammelUnit *unit)
{
  char *text = trammel_cell_to_edit (reading, column, unit);
  if (is_faulty (reading, column))
    {
      g_autofree char *owned = text;
      return g_strdelimit (g_steal_pointer (&owned), "\n\r\t", ' ');
    }
  if (trammel_cell_is_numeric (column))
    return with_real_minus (without_digits_of_conversion (text));
  if (column == TRAMMEL_COLUMN_APPROACH)
    return with_real_minus (text);
  if (column == TRAMMEL_COLUMN_NOTE)
    g_strdelimit (text, "\n\r\t", ' ');
  return text;
}

gboolean
trammel_cell_set (TrammelReading *reading, TrammelColumn column, const char *text, const TrammelUnit *unit,
                  GError **error)
{
  g_return_val_if_fail (reading != NULL && text != NULL && unit != NULL, FALSE);

  double factor = trammel_unit_factor (unit);
  if (!trammel_cell_is_numeric (column) || !strstr (text, MINUS))
    return trammel_reading_set_text (reading, column, text, factor, error);

  g_auto (GStrv) parts = g_strsplit (text, MINUS, -1);
  g_autofree char *plain = g_strjoinv ("-", parts);
  return trammel_reading_set_text (reading, column, plain, factor, error);
}

char *
trammel_cell_trouble (const TrammelReading *reading, TrammelColumn column, const TrammelUnit *unit)
{
  g_return_val_if_fail (reading != NULL && unit != NULL, NULL);

  g_autofree char *faulty = reading->faulty ? trammel_reading_faulty (reading, column) : NULL;
  if (!faulty)
    return NULL;
  TrammelReading tried;
  trammel_reading_copy (reading, &tried);
  g_autoptr (GError) error = NULL;
  gboolean read = trammel_reading_set_text (&tried, column, faulty, trammel_unit_factor (unit), &error);
  trammel_reading_clear (&tried);
  return read ? NULL : g_strdup (error->message);
}

char *
trammel_row_trouble (const TrammelReading *reading)
{
  g_return_val_if_fail (reading != NULL, NULL);

  g_autoptr (GError) error = NULL;
  if (!trammel_reading_is_complete (reading) || trammel_reading_check (reading, &error))
    return NULL;
  return g_strdup (error->message);
}

void
trammel_row_begin (const TrammelReadings *readings, TrammelReading *row)
{
  g_return_if_fail (readings != NULL && row != NULL);

  gsize n = trammel_readings_length (readings);
  trammel_reading_init (row);
  if (n == 0)
    return;
  const TrammelReading *last = trammel_readings_get (readings, n - 1);
  row->kind = last->kind;
  row->instrument = last->instrument ? g_ref_string_acquire (last->instrument) : NULL;
  if (last->kind != TRAMMEL_READING_HOME)
    return;
  /* Homes are the same thing again and again. */
  row->has_along = last->has_along;
  row->along = last->along;
  row->approach = last->approach;
  row->set = last->set ? g_ref_string_acquire (last->set) : NULL;
}

/* A copy of @row, or one begun below the last. */
static void
copy_or_begin (const TrammelReadings *readings, gsize row, TrammelReading *out)
{
  if (row < trammel_readings_length (readings))
    trammel_reading_copy (trammel_readings_get (readings, row), out);
  else
    trammel_row_begin (readings, out);
}

TrammelReadings *
trammel_cells_with_text (const TrammelReadings *readings, gsize row, TrammelColumn column, const char *text,
                         const TrammelUnit *unit)
{
  g_return_val_if_fail (readings != NULL && text != NULL && unit != NULL, NULL);

  gsize n = trammel_readings_length (readings);
  g_return_val_if_fail (row <= n, NULL);
  TrammelReading changed;
  copy_or_begin (readings, row, &changed);
  trammel_cell_set (&changed, column, text, unit, NULL);
  TrammelReadings *made = trammel_readings_splice (readings, row, row < n ? 1 : 0, &changed, 1);
  trammel_reading_clear (&changed);
  return made;
}

/* Copies of the rows @top … @top+@n−1; those beyond the last are empty, or with @begun as a person begins one.
 * (transfer full) */
static GArray *
copies (const TrammelReadings *readings, gsize top, gsize n, gboolean begun)
{
  GArray *rows = trammel_reading_array_new (n);
  g_array_set_size (rows, (guint)n);
  for (gsize i = 0; i < n; i++)
    {
      TrammelReading *row = &g_array_index (rows, TrammelReading, i);
      if (begun || top + i < trammel_readings_length (readings))
        copy_or_begin (readings, top + i, row);
      else
        trammel_reading_init (row);
    }
  return rows;
}

/* @rows in place of those from @top on that they were copied from; frees @rows. */
static TrammelReadings *
put_back (const TrammelReadings *readings, gsize top, GArray *rows)
{
  gsize n = trammel_readings_length (readings);
  gsize replaced = MIN (rows->len, n - MIN (top, n));
  TrammelReadings *made
      = trammel_readings_splice (readings, MIN (top, n), replaced, (TrammelReading *)(gpointer)rows->data, rows->len);
  g_array_unref (rows);
  return made;
}

TrammelReadings *
trammel_cells_without (const TrammelReadings *readings, const TrammelBlock *block)
{
  g_return_val_if_fail (readings != NULL && block != NULL, NULL);

  gsize n = trammel_readings_length (readings);
  gsize bottom = MIN (block->bottom + 1, n);
  if (block->top >= bottom)
    return trammel_readings_ref (readings);

  GArray *rows = copies (readings, block->top, bottom - block->top, FALSE);
  for (guint i = 0; i < rows->len; i++)
    for (int column = block->left; column <= block->right && column < TRAMMEL_N_COLUMNS; column++)
      trammel_reading_set_text (&g_array_index (rows, TrammelReading, i), column, "", 1, NULL);
  return put_back (readings, block->top, rows);
}

TrammelReadings *
trammel_cells_with_rows (const TrammelReadings *readings, gsize row, gsize n)
{
  g_return_val_if_fail (readings != NULL && row <= trammel_readings_length (readings), NULL);

  GArray *rows = trammel_reading_array_new (n);
  g_array_set_size (rows, (guint)n);
  for (gsize i = 0; i < n; i++)
    trammel_reading_init (&g_array_index (rows, TrammelReading, i));
  TrammelReadings *made = trammel_readings_splice (readings, row, 0, (TrammelReading *)(gpointer)rows->data, rows->len);
  g_array_unref (rows);
  return made;
}

TrammelReadings *
trammel_cells_without_rows (const TrammelReadings *readings, gsize row, gsize n)
{
  g_return_val_if_fail (readings != NULL, NULL);

  gsize length = trammel_readings_length (readings);
  if (row >= length)
    return trammel_readings_ref (readings);
  return trammel_readings_splice (readings, row, MIN (n, length - row), NULL, 0);
}

/* Clipboard */

static void
append_cell (GString *text, const char *cell)
{
  if (!strpbrk (cell, "\t\n\r") && *cell != '"')
    {
      g_string_append (text, cell);
      return;
    }
  g_string_append_c (text, '"');
  for (const char *p = cell; *p; p++)
    {
      if (*p == '"')
        g_string_append_c (text, '"');
      g_string_append_c (text, *p);
    }
  g_string_append_c (text, '"');
}

char *
trammel_cells_to_text (const TrammelReadings *readings, const TrammelBlock *block, const TrammelUnit *unit)
{
  g_return_val_if_fail (readings != NULL && block != NULL && unit != NULL, NULL);

  GString *text = g_string_new (NULL);
  gsize n = trammel_readings_length (readings);
  for (gsize row = block->top; row <= block->bottom && row < n; row++)
    {
      for (int column = block->left; column <= block->right && column < TRAMMEL_N_COLUMNS; column++)
        {
          g_autofree char *cell = trammel_cell_to_edit (trammel_readings_get (readings, row), column, unit);
          if (column > block->left)
            g_string_append_c (text, '\t');
          append_cell (text, cell);
        }
      g_string_append_c (text, '\n');
    }
  return g_string_free (text, FALSE);
}

/* One cell from @at on; returns where it ends: at a tab, a line end or the end. */
static const char *
scan_cell (const char *at, GString *cell)
{
  const char *p = at;
  if (*p == '"')
    for (p++; *p && !(p[0] == '"' && p[1] != '"'); p++)
      {
        p += *p == '"';
        g_string_append_c (cell, *p);
      }
  if (*at == '"' && *p == '"' && (p[1] == '\0' || strchr ("\t\n\r", p[1])))
    return p + 1;

  g_string_truncate (cell, 0);
  gsize length = strcspn (at, "\t\n\r");
  g_string_append_len (cell, at, (gssize)length);
  return at + length;
}

/* (transfer full): lines, each a GPtrArray of texts. */
static GPtrArray *
parse_block (const char *text)
{
  GPtrArray *lines = g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref);
  const char *p = text;
  while (*p)
    {
      GPtrArray *line = g_ptr_array_new_with_free_func (g_free);
      for (;; p++)
        {
          GString *cell = g_string_new (NULL);
          p = scan_cell (p, cell);
          g_ptr_array_add (line, g_string_free (cell, FALSE));
          if (*p != '\t')
            break;
        }
      g_ptr_array_add (lines, line);
      p += p[0] == '\r' && p[1] == '\n' ? 2 : *p != '\0';
    }
  return lines;
}

static int
column_named (const char *name)
{
  g_autofree char *word = g_strstrip (g_strdup (name));
  for (int i = 0; i < TRAMMEL_N_COLUMNS; i++)
    if (g_ascii_strcasecmp (word, trammel_column_key (i)) == 0 || g_str_equal (word, trammel_column_label (i)))
      return i;
  return -1;
}

/* (transfer full) (nullable): which column each cell of a line belongs to, when @line names two columns or more and
 * nothing else. */
static int *
columns_named (const GPtrArray *line)
{
  g_autofree int *columns = g_new (int, line->len);
  for (guint i = 0; i < line->len; i++)
    if ((columns[i] = column_named (g_ptr_array_index (line, i))) < 0)
      return NULL;
  return line->len >= 2 ? g_steal_pointer (&columns) : NULL;
}

static void
set_from_line (TrammelReading *row, const GPtrArray *line, const int *columns, int left, const TrammelUnit *unit)
{
  for (guint i = 0; i < line->len; i++)
    {
      int column = columns ? columns[i] : left + (int)i;
      if (column < TRAMMEL_N_COLUMNS)
        trammel_cell_set (row, column, g_ptr_array_index (line, i), unit, NULL);
    }
}

static TrammelReadings *
fill_block (const TrammelReadings *readings, const char *cell, const TrammelUnit *unit, const TrammelBlock *block)
{
  GArray *rows = copies (readings, block->top, block->bottom - block->top + 1, block->left > TRAMMEL_COLUMN_KIND);
  for (guint i = 0; i < rows->len; i++)
    for (int column = block->left; column <= block->right && column < TRAMMEL_N_COLUMNS; column++)
      trammel_cell_set (&g_array_index (rows, TrammelReading, i), column, cell, unit, NULL);
  return put_back (readings, block->top, rows);
}

gboolean
trammel_cells_is_column_of_numbers (const char *text)
{
  g_return_val_if_fail (text != NULL, FALSE);

  g_autoptr (GPtrArray) lines = parse_block (text);
  for (guint i = 0; i < lines->len; i++)
    {
      const GPtrArray *line = g_ptr_array_index (lines, i);
      double number;
      if (line->len != 1
          || !trammel_quantity_parse_value (g_ptr_array_index (line, 0), TRAMMEL_DIMENSION_LENGTH, NULL, &number, NULL))
        return FALSE;
    }
  return lines->len >= 2;
}

TrammelReadings *
trammel_cells_paste (const TrammelReadings *readings, const char *text, const TrammelUnit *unit, TrammelBlock *block,
                     gsize *n_lost)
{
  g_return_val_if_fail (readings != NULL && text != NULL && unit != NULL && block != NULL && n_lost != NULL, NULL);

  g_autoptr (GPtrArray) lines = parse_block (text);
  *n_lost = 0;
  if (lines->len == 0 || lines->len > TRAMMEL_MAX_READINGS - MIN (block->top, TRAMMEL_MAX_READINGS))
    return NULL;

  GPtrArray *first = g_ptr_array_index (lines, 0);
  if (lines->len == 1 && first->len == 1)
    return fill_block (readings, g_ptr_array_index (first, 0), unit, block);

  g_autofree int *columns = columns_named (first);
  guint skipped = columns ? 1 : 0;
  if (lines->len == skipped)
    return NULL;

  gsize width = 1;
  GArray *rows = copies (readings, block->top, lines->len - skipped, !columns && block->left > TRAMMEL_COLUMN_KIND);
  for (guint i = 0; i < rows->len; i++)
    {
      const GPtrArray *line = g_ptr_array_index (lines, i + skipped);
      set_from_line (&g_array_index (rows, TrammelReading, i), line, columns, block->left, unit);
      width = MAX (width, line->len);
    }
  block->bottom = block->top + rows->len - 1;
  if (columns)
    {
      block->left = 0;
      block->right = TRAMMEL_N_COLUMNS - 1;
    }
  else
    {
      gsize room = (gsize)(TRAMMEL_N_COLUMNS - MIN (block->left, TRAMMEL_N_COLUMNS));
      *n_lost = width > room ? width - room : 0;
      block->right = MIN (block->left + (int)width - 1, TRAMMEL_N_COLUMNS - 1);
    }
  return put_back (readings, block->top, rows);
}
