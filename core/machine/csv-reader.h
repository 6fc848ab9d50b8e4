/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/csv-scanner.h"

G_BEGIN_DECLS

/* CSV whose header line names its columns, in any order: which field of a row stands in which column, and messages that
 * name file, line and column. */

#define TRAMMEL_CSV_NO_FIELD (-1)
#define TRAMMEL_CSV_MAX_COLUMNS 16

typedef struct
{
  const char *name;        /* of the file, for messages */
  const char *const *keys; /* of the columns: a column is its place among them */
  int n_columns;
  TrammelCsvScanner scanner;
  gsize header_line; /* its number */
  gsize n_fields;    /* of the header line */
  gboolean headed[TRAMMEL_CSV_MAX_FIELDS];
  int field_of[TRAMMEL_CSV_MAX_COLUMNS]; /* index of the field, or TRAMMEL_CSV_NO_FIELD */
} TrammelCsvReader;

/* Everything is borrowed. @text: @length bytes of UTF-8. */
void trammel_csv_reader_init (TrammelCsvReader *reader, const char *name, const char *const *keys, int n_columns,
                              const char *text, gsize length);
void trammel_csv_reader_clear (TrammelCsvReader *reader);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelCsvReader, trammel_csv_reader_clear)

/**
 * trammel_csv_reader_take_header:
 * @passes_over: (nullable): a name that is no column's but does no harm; in lower case
 *
 * Takes the row at the scanner as the header line. FALSE with @error: TRAMMEL_ERROR_FORMAT for a row that cannot be
 * taken apart, a name that is no column's, and one that stands there twice.
 */
gboolean trammel_csv_reader_take_header (TrammelCsvReader *reader, gboolean (*passes_over) (const char *key),
                                         GError **error);
/* FALSE with TRAMMEL_ERROR_FORMAT, which names the header line, where it has no such column. */
gboolean trammel_csv_reader_check_headed (const TrammelCsvReader *reader, int column, GError **error);
/* The row can be taken apart and has as many fields as the header; blank ones at the end, as spreadsheets leave them,
 * do no harm. */
gboolean trammel_csv_reader_check_row (const TrammelCsvReader *reader, GError **error);

/* The field of this row in @column; blank where there is no such column, or the row ends before it. */
static inline const TrammelCsvField *
trammel_csv_reader_field (const TrammelCsvReader *reader, int column)
{
  static const TrammelCsvField blank = { "", 0 };

  const int i = reader->field_of[column];

  return i == TRAMMEL_CSV_NO_FIELD || (gsize)i >= reader->scanner.n_fields ? &blank : &reader->scanner.fields[i];
}

/* Each sets @error and returns FALSE: "NAME: line 7: @why"; "NAME: line 7, column measured: @why" (takes @why over);
 * the same with "found “…”; @wanted is wanted". */
gboolean trammel_csv_reader_refuse_line (const TrammelCsvReader *reader, const char *why, GError **error);
gboolean trammel_csv_reader_refuse_because (const TrammelCsvReader *reader, int column, GError *why, GError **error);
gboolean trammel_csv_reader_refuse_field (const TrammelCsvReader *reader, int column, const char *wanted,
                                          GError **error);

G_END_DECLS
