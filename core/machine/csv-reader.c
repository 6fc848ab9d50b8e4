/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/csv-reader.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"

void
trammel_csv_reader_init (TrammelCsvReader *reader, const char *name, const char *const *keys, int n_columns,
                         const char *text, gsize length)
{
  g_return_if_fail (reader != NULL && name != NULL && keys != NULL);
  g_return_if_fail (n_columns <= TRAMMEL_CSV_MAX_COLUMNS);

  *reader = (TrammelCsvReader){ .name = name, .keys = keys, .n_columns = n_columns };
  for (int column = 0; column < n_columns; column++)
    reader->field_of[column] = TRAMMEL_CSV_NO_FIELD;
  trammel_csv_scanner_init (&reader->scanner, text, length);
}

void
trammel_csv_reader_clear (TrammelCsvReader *reader)
{
  trammel_csv_scanner_clear (&reader->scanner);
}

/* --- messages --- */

static gboolean
refuse_at (const TrammelCsvReader *reader, gsize line, const char *why, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%s: line %zu: %s"), reader->name, line, why);
  return FALSE;
}

gboolean
trammel_csv_reader_refuse_line (const TrammelCsvReader *reader, const char *why, GError **error)
{
  return refuse_at (reader, reader->scanner.line, why, error);
}

gboolean
trammel_csv_reader_refuse_because (const TrammelCsvReader *reader, int column, GError *why, GError **error)
{
  g_propagate_prefixed_error (error, why, _ ("%s: line %zu, column %s: "), reader->name, reader->scanner.line,
                              reader->keys[column]);
  return FALSE;
}

gboolean
trammel_csv_reader_refuse_field (const TrammelCsvReader *reader, int column, const char *wanted, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (reader, column);
  g_autofree char *found = trammel_error_excerpt (field->text, (gssize)field->length);

  return trammel_csv_reader_refuse_because (
      reader, column, g_error_new (TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found “%s”; %s is wanted"), found, wanted),
      error);
}

/* --- the header line --- */

static int
find_column (const TrammelCsvReader *reader, const char *key)
{
  for (int column = 0; column < reader->n_columns; column++)
    if (g_str_equal (key, reader->keys[column]))
      return column;
  return -1;
}

/* (transfer full): "kind, along or unit" */
static char *
list_columns (const TrammelCsvReader *reader)
{
  GString *list = g_string_new (NULL);

  for (int column = 0; column < reader->n_columns; column++)
    g_string_append_printf (list, "%s%s",
                            column == 0                       ? ""
                            : column == reader->n_columns - 1 ? _ (" or ")
                                                              : ", ",
                            reader->keys[column]);
  return g_string_free (list, FALSE);
}

static gboolean
place_column (TrammelCsvReader *reader, gsize i, gboolean (*passes_over) (const char *key), GError **error)
{
  const TrammelCsvField *field = &reader->scanner.fields[i];
  g_autofree char *key = g_ascii_strdown (field->text, (gssize)field->length);
  g_autofree char *found = trammel_error_excerpt (field->text, (gssize)field->length);
  g_autofree char *columns = list_columns (reader);
  g_autofree char *why = NULL;
  const int column = find_column (reader, key);

  reader->headed[i] = field->length > 0;
  if (!reader->headed[i] || (column < 0 && passes_over != NULL && passes_over (key)))
    return TRUE;
  if (column < 0)
    why = g_strdup_printf (_ ("found a column “%s”; %s is wanted"), found, columns);
  else if (reader->field_of[column] != TRAMMEL_CSV_NO_FIELD)
    why = g_strdup_printf (_ ("found the column “%s” twice; each is wanted once"), found);
  else
    reader->field_of[column] = (int)i;
  return !why || trammel_csv_reader_refuse_line (reader, why, error);
}

gboolean
trammel_csv_reader_take_header (TrammelCsvReader *reader, gboolean (*passes_over) (const char *key), GError **error)
{
  g_return_val_if_fail (reader != NULL, FALSE);

  if (reader->scanner.problem)
    return trammel_csv_reader_refuse_line (reader, reader->scanner.problem, error);
  reader->n_fields = reader->scanner.n_fields;
  reader->header_line = reader->scanner.line;
  for (gsize i = 0; i < reader->n_fields; i++)
    if (!place_column (reader, i, passes_over, error))
      return FALSE;
  return TRUE;
}

gboolean
trammel_csv_reader_check_headed (const TrammelCsvReader *reader, int column, GError **error)
{
  if (reader->field_of[column] != TRAMMEL_CSV_NO_FIELD)
    return TRUE;
  g_autofree char *why = g_strdup_printf (_ ("no column “%s” in the header; it is needed"), reader->keys[column]);
  return refuse_at (reader, reader->header_line, why, error);
}

/* --- the rows below it --- */

gboolean
trammel_csv_reader_check_row (const TrammelCsvReader *reader, GError **error)
{
  const TrammelCsvScanner *scanner = &reader->scanner;
  gboolean too_many = FALSE;

  if (scanner->problem)
    return trammel_csv_reader_refuse_line (reader, scanner->problem, error);
  for (gsize i = 0; i < scanner->n_fields && !too_many; i++)
    {
      const TrammelCsvField *field = &scanner->fields[i];

      if (field->length == 0 || (i < reader->n_fields && reader->headed[i]))
        continue;
      too_many = i >= reader->n_fields;
      if (too_many)
        continue;
      g_autofree char *found = trammel_error_excerpt (field->text, (gssize)field->length);
      g_autofree char *why = g_strdup_printf (_ ("found “%s” under no heading; a blank field is wanted there"), found);
      return trammel_csv_reader_refuse_line (reader, why, error);
    }
  if (!too_many && scanner->n_fields >= reader->n_fields)
    return TRUE;
  g_autofree char *why
      = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "found %zu field; %zu, as in the header line, are wanted",
                                      "found %zu fields; %zu, as in the header line, are wanted", scanner->n_fields),
                         scanner->n_fields, reader->n_fields);
  return trammel_csv_reader_refuse_line (reader, why, error);
}
