/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/homing-csv.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"
#include "base/quantity.h"
#include "machine/csv-reader.h"
#include "machine/encoding.h"
#include "machine/file-reader.h"

typedef enum
{
  COLUMN_MEASURED,
  COLUMN_RUN,
  COLUMN_SET,
  COLUMN_APPROACH,
  COLUMN_UNIT,
  COLUMN_KIND,
  COLUMN_ALONG,
  N_COLUMNS
} Column;

static const char *const column_keys[N_COLUMNS] = { "measured", "run", "set", "approach", "unit", "kind", "along" };

typedef struct
{
  TrammelCsvReader csv;
  TrammelHomingRows *rows;
  gsize n;             /* readings so far */
  gboolean homes_only; /* some rows are of kind home: no others are */
} Reader;

/* @text as a length in mm; @unit where none is written. */
static gboolean
read_length (const Reader *reader, const char *text, const TrammelUnit *unit, double *out, GError **error)
{
  GError *why = NULL;

  return trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, unit, out, &why)
         || trammel_csv_reader_refuse_because (&reader->csv, COLUMN_MEASURED, why, error);
}

/* --- a plain list --- */

static void
add_plain (Reader *reader, double measured)
{
  const TrammelHomingRow row = { .measured = measured, .run = NAN, .index = reader->n++ };

  trammel_homing_rows_add (reader->rows, &row, NULL, NULL);
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
  const TrammelCsvScanner *scanner = &reader->csv.scanner;

  if (scanner->problem)
    return trammel_csv_reader_refuse_line (&reader->csv, scanner->problem, error);
  if (has_unclear_comma (scanner))
    return trammel_csv_reader_refuse_line (
        &reader->csv,
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
  return FALSE;
}

/* (transfer full): "" where there is no such column. */
static char *
cell (const Reader *reader, Column column)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, column);

  return g_strndup (field->text, field->length);
}

static gboolean
read_unit (const Reader *reader, const TrammelUnit **out, GError **error)
{
  g_autofree char *symbol = cell (reader, COLUMN_UNIT);

  *out = *symbol ? trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol) : trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  return *out || trammel_csv_reader_refuse_field (&reader->csv, COLUMN_UNIT, _ ("a unit such as mm, µm or in"), error);
}

static gboolean
read_run (const Reader *reader, double *out, GError **error)
{
  g_autofree char *text = cell (reader, COLUMN_RUN);

  *out = NAN;
  if (*text == '\0' || (trammel_number_from_text (text, -1, FALSE, out) && *out == floor (*out)))
    return TRUE;
  return trammel_csv_reader_refuse_field (&reader->csv, COLUMN_RUN, _ ("the number of a run (1, 2, …)"), error);
}

static gboolean
read_along (const Reader *reader, char *out, GError **error)
{
  g_autofree char *text = cell (reader, COLUMN_ALONG);
  TrammelDirection along;

  *out = '\0';
  if (*text == '\0')
    return TRUE;
  if (trammel_direction_parse (text, &along, NULL) && trammel_direction_is_single (&along))
    *out = along.axes[0];
  return *out != '\0' || trammel_csv_reader_refuse_field (&reader->csv, COLUMN_ALONG, _ ("one axis such as X"), error);
}

static gboolean
is_home (const Reader *reader)
{
  g_autofree char *text = cell (reader, COLUMN_KIND);
  TrammelReadingKind kind;

  return trammel_reading_kind_parse (text, &kind, NULL) && kind == TRAMMEL_READING_HOME;
}

static gboolean
read_csv_row (Reader *reader, GError **error)
{
  g_autofree char *measured = NULL;
  g_autofree char *set = NULL;
  g_autofree char *approach = NULL;
  TrammelHomingRow row = { 0 };
  const TrammelUnit *unit;

  if (!trammel_csv_reader_check_row (&reader->csv, error))
    return FALSE;
  measured = cell (reader, COLUMN_MEASURED);
  if (*measured == '\0' || (reader->homes_only && !is_home (reader)))
    return TRUE;
  if (!read_unit (reader, &unit, error) || !read_length (reader, measured, unit, &row.measured, error)
      || !read_run (reader, &row.run, error) || (reader->homes_only && !read_along (reader, &row.axis, error)))
    return FALSE;
  row.index = reader->n++;
  set = cell (reader, COLUMN_SET);
  approach = cell (reader, COLUMN_APPROACH);
  trammel_homing_rows_add (reader->rows, &row, set, approach);
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

/* Then the rest of the readings are none. */
static gboolean
some_are_homes (Reader *reader)
{
  const TrammelCsvScanner start = reader->csv.scanner;
  gboolean found = FALSE;

  while (!found && trammel_csv_scanner_next (&reader->csv.scanner) && !reader->csv.scanner.problem)
    found = is_home (reader);
  reader->csv.scanner = start;
  return found;
}

static gboolean
read_lines (Reader *reader, gboolean (*read_line) (Reader *, GError **), GError **error)
{
  while (trammel_csv_scanner_next (&reader->csv.scanner))
    if (!read_line (reader, error))
      return FALSE;
  return TRUE;
}

static gboolean
read_rows (Reader *reader, GError **error)
{
  TrammelCsvReader *csv = &reader->csv;
  const TrammelCsvScanner start = csv->scanner;

  if (!trammel_csv_scanner_next (&csv->scanner))
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%s: found no line; readings are wanted"), csv->name);
      return FALSE;
    }
  if (is_plain (&csv->scanner))
    {
      csv->scanner = start;
      separate_plain (&csv->scanner);
      return read_lines (reader, read_plain_row, error);
    }
  if (!trammel_csv_reader_take_header (csv, is_passed_over, error)
      || !trammel_csv_reader_check_headed (csv, COLUMN_MEASURED, error))
    return FALSE;
  reader->homes_only = some_are_homes (reader);
  return read_lines (reader, read_csv_row, error);
}

TrammelHomingRows *
trammel_homing_csv_read (const char *text, gsize length, const char *name, GError **error)
{
  g_autoptr (TrammelHomingRows) rows = trammel_homing_rows_new ();
  Reader reader = { .rows = rows };
  gboolean done;

  g_return_val_if_fail (text != NULL && name != NULL, NULL);

  if (!trammel_encoding_check (&text, &length, error))
    {
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  trammel_csv_reader_init (&reader.csv, name, column_keys, N_COLUMNS, text, length);
  done = read_rows (&reader, error);
  trammel_csv_reader_clear (&reader.csv);
  return done ? g_steal_pointer (&rows) : NULL;
}

TrammelHomingRows *
trammel_homing_csv_load (const char *path, GError **error)
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
  return trammel_homing_csv_read (text ? text : "", length, name, error);
}
