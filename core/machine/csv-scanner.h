/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Rows of CSV (RFC 4180) where they lie: a field is a piece of the text, without white space around it. */

#define TRAMMEL_CSV_MAX_FIELDS 64

typedef struct
{
  const char *text;
  gsize length;
} TrammelCsvField;

typedef struct
{
  const char *p;
  const char *end;
  char separator;
  gsize next_line; /* number of the line at p */
  gsize line;      /* of the line on which the row begins */
  gsize n_fields;
  TrammelCsvField fields[TRAMMEL_CSV_MAX_FIELDS];
  const char *problem;  /* translated: why the row cannot be taken apart; NULL: it can */
  GPtrArray *unescaped; /* fields of this row with quotes in them */
} TrammelCsvScanner;

/* @text: @length bytes of UTF-8, borrowed. The separator is the first comma, semicolon or tab of the first line that is
 * neither blank nor a comment. */
void trammel_csv_scanner_init (TrammelCsvScanner *scanner, const char *text, gsize length);
void trammel_csv_scanner_clear (TrammelCsvScanner *scanner);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelCsvScanner, trammel_csv_scanner_clear)

/* The next row that is neither blank nor a comment; FALSE at the end. A row with a problem is the last that makes
 * sense. */
gboolean trammel_csv_scanner_next (TrammelCsvScanner *scanner);

G_END_DECLS
