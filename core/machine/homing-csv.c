/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/homing-csv.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"
#include "base/quantity.h"
#include "machine/csv-scanner.h"
#include "machine/encoding.h"
#include "machine/file-reader.h"
#include "measure/reading.h"

#define NO_FIELD (-1)

typedef enum
{
  COLUMN_MEASURED,
  COLUMN_RUN,
  COLUMN_SET,
  COLUMN_APPROACH,
  COLUMN_UNIT,
  N_COLUMNS
} Column;

static const char *const column_keys[N_COLUMNS] = { "measured", "run", "set", "approach", "unit" };

struct _TrammelHomingRows
{
  GArray *rows;
  GPtrArray *groups; /* owned; NULL-terminated */
};

typedef struct
{
  const char *name;
  TrammelCsvScanner scanner;
  int field_of[N_COLUMNS];
  gsize n_fields;
  TrammelHomingRows *rows;
} Reader;

void
trammel_homing_rows_free (TrammelHomingRows *rows)
{
  if (!rows)
    return;
  g_array_unref (rows->rows);
  g_ptr_array_unref (rows->groups);
  g_free (rows);
}

static TrammelHomingRows *
rows_new (void)
{
  TrammelHomingRows *rows = g_new0 (TrammelHomingRows, 1);

  rows->rows = g_array_new (FALSE, FALSE, sizeof (TrammelHomingRow));
  rows->groups = g_ptr_array_new_with_free_func (g_free);
  g_ptr_array_add (rows->groups, NULL);
  return rows;
}

/* Takes @name. The few groups of a file are looked through from the newest. */
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

static gboolean
refuse_line (const Reader *reader, const char *why, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%s: line %zu: %s"), reader->name, reader->scanner.line,
               why);
  return FALSE;
}

static gboolean
refuse_text (const Reader *reader, Column column, const char *found, const char *wanted, GError **error)
{
  g_autofree char *excerpt = trammel_error_excerpt (found, -1);

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("%s: line %zu, column %s: found “%s”; %s is wanted"),
               reader->name, reader->scanner.line, column_keys[column], excerpt, wanted);
  return FALSE;
}

/* @text as a length in mm; @unit where none is written. */
static gboolean
read_length (const Reader *reader, const char *text, const TrammelUnit *unit, double *out, GError **error)
{
  GError *why = NULL;

  if (trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, unit, out, &why))
    return TRUE;
  g_propagate_prefixed_error (error, why, _ ("%s: line %zu, column %s: "), reader->name, reader->scanner.line,
                              column_keys[COLUMN_MEASURED]);
  return FALSE;
}

/* --- a plain list --- */

static void
add_plain (Reader *reader, double measured)
{
  TrammelHomingRow row = { measured, NAN, group_named (reader->rows, g_strdup ("")), 0 };

  g_array_append_val (reader->rows->rows, row);
}

/* A field is one reading, maybe with its unit, or many with blanks between them. */
static gboolean
read_plain_field (Reader *reader, const TrammelCsvField *field, GError **error)
{
  g_autofree char *text = g_strndup (field->text, field->length);
  g_auto (GStrv) words = NULL;
  double measured;

  if (field->length == 0)
    return TRUE;
  if (trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, NULL, &measured, NULL))
    {
      add_plain (reader, measured);
      return TRUE;
    }
  words = g_strsplit_set (text, " \t", -1);
  for (gsize i = 0; words[i]; i++)
    {
      if (*words[i] == '\0')
        continue;
      if (!read_length (reader, words[i], NULL, &measured, error))
        return FALSE;
      add_plain (reader, measured);
    }
  return TRUE;
}

/* 0,012 may be one reading or two. */
static gboolean
has_unclear_comma (const TrammelCsvScanner *scanner)
{
  if (scanner->separator != ',' || scanner->n_fields < 2)
    return FALSE;
  for (gsize i = 0; i < scanner->n_fields; i++)
    if (memchr (scanner->fields[i].text, '.', scanner->fields[i].length))
      return FALSE;
  return TRUE;
}

static gboolean
read_plain_row (Reader *reader, GError **error)
{
  const TrammelCsvScanner *scanner = &reader->scanner;

  if (scanner->problem)
    return refuse_line (reader, scanner->problem, error);
  if (has_unclear_comma (scanner))
    return refuse_line (reader,
                        _ ("found a comma, which may be a decimal sign or stand between two readings; decimal points, "
                           "or semicolons between readings, are wanted"),
                        error);
  for (gsize i = 0; i < scanner->n_fields; i++)
    if (!read_plain_field (reader, &scanner->fields[i], error))
      return FALSE;
  return TRUE;
}

/* --- CSV --- */

static gboolean
is_passed_over (const char *key)
{
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    if (g_str_equal (key, trammel_column_key ((TrammelColumn)column)))
      return TRUE;
  return *key == '\0';
}

static gboolean
place_column (Reader *reader, gsize i, GError **error)
{
  const TrammelCsvField *field = &reader->scanner.fields[i];
  g_autofree char *key = g_ascii_strdown (field->text, (gssize)field->length);
  g_autofree char *found = trammel_error_excerpt (key, -1);
  g_autofree char *why = NULL;
  gsize column = 0;

  while (column < N_COLUMNS && !g_str_equal (key, column_keys[column]))
    column++;
  if (column == N_COLUMNS && is_passed_over (key))
    return TRUE;
  if (column == N_COLUMNS)
    why = g_strdup_printf (_ ("found a column “%s”; measured, run, set, approach or unit is wanted"), found);
  else if (reader->field_of[column] != NO_FIELD)
    why = g_strdup_printf (_ ("found the column “%s” twice; each is wanted once"), found);
  else
    reader->field_of[column] = (int)i;
  return !why || refuse_line (reader, why, error);
}

static gboolean
read_header (Reader *reader, GError **error)
{
  reader->n_fields = reader->scanner.n_fields;
  for (gsize i = 0; i < reader->n_fields; i++)
    if (!place_column (reader, i, error))
      return FALSE;
  if (reader->field_of[COLUMN_MEASURED] == NO_FIELD)
    return refuse_line (reader, _ ("no column “measured” in the header; it is needed"), error);
  return TRUE;
}

/* (transfer full): "" where there is no such column. */
static char *
cell (const Reader *reader, Column column)
{
  int i = reader->field_of[column];

  if (i == NO_FIELD || (gsize)i >= reader->scanner.n_fields)
    return g_strdup ("");
  return g_strndup (reader->scanner.fields[i].text, reader->scanner.fields[i].length);
}

static gboolean
read_unit (const Reader *reader, const TrammelUnit **out, GError **error)
{
  g_autofree char *symbol = cell (reader, COLUMN_UNIT);

  *out = *symbol ? trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol) : trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  return *out || refuse_text (reader, COLUMN_UNIT, symbol, _ ("a unit such as mm, µm or in"), error);
}

static gboolean
read_run (const Reader *reader, double *out, GError **error)
{
  g_autofree char *text = cell (reader, COLUMN_RUN);

  *out = NAN;
  if (*text == '\0' || (trammel_number_from_text (text, -1, FALSE, out) && *out == floor (*out)))
    return TRUE;
  return refuse_text (reader, COLUMN_RUN, text, _ ("the number of a run (1, 2, …)"), error);
}

static char *
group_of_row (const Reader *reader, gsize *set_length)
{
  g_autofree char *set = cell (reader, COLUMN_SET);
  g_autofree char *approach = cell (reader, COLUMN_APPROACH);

  *set_length = strlen (set);
  return g_strconcat (set, *set && *approach ? " " : "", approach, NULL);
}

static gboolean
read_csv_row (Reader *reader, GError **error)
{
  TrammelHomingRow row;
  const TrammelUnit *unit;
  g_autofree char *measured = NULL;
  g_autofree char *why = NULL;

  if (reader->scanner.problem)
    return refuse_line (reader, reader->scanner.problem, error);
  for (gsize i = reader->n_fields; i < reader->scanner.n_fields && !why; i++)
    if (reader->scanner.fields[i].length > 0)
      why = g_strdup_printf (_ ("found %u fields; %u, as in the header line, are wanted"),
                             (guint)reader->scanner.n_fields, (guint)reader->n_fields);
  if (why)
    return refuse_line (reader, why, error);
  measured = cell (reader, COLUMN_MEASURED);
  if (*measured == '\0')
    return TRUE;
  if (!read_unit (reader, &unit, error) || !read_length (reader, measured, unit, &row.measured, error)
      || !read_run (reader, &row.run, error))
    return FALSE;
  row.group = group_named (reader->rows, group_of_row (reader, &row.set_length));
  g_array_append_val (reader->rows->rows, row);
  return TRUE;
}

/* --- the whole --- */

/* Does the file begin with a number, or with the names of columns? */
static gboolean
is_plain (const TrammelCsvScanner *scanner)
{
  const TrammelCsvField *field = &scanner->fields[0];

  return !scanner->problem && field->length > 0
         && (g_ascii_isdigit (*field->text) || strchr ("+-.", *field->text) || (guchar)*field->text == 0xE2); /* − */
}

/* In a list the first sign between numbers may be a decimal comma: what else there is tells more. */
static void
separate_plain (TrammelCsvScanner *scanner)
{
  const gsize left = (gsize)(scanner->end - scanner->p);

  if (memchr (scanner->p, ';', left))
    scanner->separator = ';';
  else if (memchr (scanner->p, '\t', left))
    scanner->separator = '\t';
}

static gboolean
read_rows (Reader *reader, GError **error)
{
  const TrammelCsvScanner start = reader->scanner;
  gboolean (*read_row) (Reader *, GError **) = read_csv_row;
  gboolean more = trammel_csv_scanner_next (&reader->scanner);

  if (!more)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%s: found no line; readings are wanted"),
                   reader->name);
      return FALSE;
    }
  if (is_plain (&reader->scanner))
    {
      reader->scanner = start;
      separate_plain (&reader->scanner);
      more = trammel_csv_scanner_next (&reader->scanner);
      read_row = read_plain_row;
    }
  else if (reader->scanner.problem)
    return refuse_line (reader, reader->scanner.problem, error);
  else if (!read_header (reader, error))
    return FALSE;
  else
    more = trammel_csv_scanner_next (&reader->scanner);
  for (; more; more = trammel_csv_scanner_next (&reader->scanner))
    if (!read_row (reader, error))
      return FALSE;
  return TRUE;
}

TrammelHomingRows *
trammel_homing_rows_read (const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr (TrammelHomingRows) rows = rows_new ();
  Reader reader = { .name = name, .rows = rows };
  gboolean done;

  g_return_val_if_fail (text != NULL && name != NULL, NULL);

  if (!trammel_encoding_check (&text, &length, error))
    {
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  for (gsize i = 0; i < N_COLUMNS; i++)
    reader.field_of[i] = NO_FIELD;
  trammel_csv_scanner_init (&reader.scanner, text, length);
  done = read_rows (&reader, error);
  trammel_csv_scanner_clear (&reader.scanner);
  return done ? g_steal_pointer (&rows) : NULL;
}

TrammelHomingRows *
trammel_homing_rows_load (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = NULL;
  g_autofree char *name = NULL;
  const char *text;
  gsize length;

  g_return_val_if_fail (path != NULL, NULL);

  bytes = trammel_file_map (path, error);
  if (!bytes)
    return NULL;
  name = g_filename_display_name (path);
  text = g_bytes_get_data (bytes, &length);
  return trammel_homing_rows_read (text ? text : "", length, name, error);
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

static gboolean
belongs (const TrammelHomingRow *row, const char *group)
{
  return g_str_equal (row->group, group)
         || (row->set_length > 0 && strlen (group) == row->set_length
             && strncmp (row->group, group, row->set_length) == 0);
}

double *
trammel_homing_rows_values (const TrammelHomingRows *rows, const char *group, gsize *n, double **runs)
{
  GArray *values, *numbers;
  gboolean all_said = TRUE;

  g_return_val_if_fail (rows != NULL && n != NULL, NULL);

  values = g_array_new (FALSE, FALSE, sizeof (double));
  numbers = g_array_new (FALSE, FALSE, sizeof (double));
  for (guint i = 0; i < rows->rows->len; i++)
    {
      const TrammelHomingRow *row = &g_array_index (rows->rows, TrammelHomingRow, i);

      if (group && !belongs (row, group))
        continue;
      g_array_append_val (values, row->measured);
      g_array_append_val (numbers, row->run);
      all_said = all_said && !isnan (row->run);
    }
  *n = values->len;
  if (runs)
    *runs = all_said && values->len > 0 ? (double *)(gpointer)numbers->data : NULL;
  g_array_free (numbers, !(runs && *runs));
  return (double *)(gpointer)g_array_free (values, FALSE);
}
