/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* Tables of what things are made to: pitches of threads, modules, step angles, constants of materials. Each is a file
 * in data/tables, built in: lines of name, value, source and marking. A field of a record whose `table` is the key of
 * one can be filled from it. */

typedef enum
{
  TRAMMEL_MARKING_NONE,        /* the source says so, looked up */
  TRAMMEL_MARKING_FROM_MEMORY, /* the source says so, recalled and not looked up */
  TRAMMEL_MARKING_PRACTICE,    /* common practice; a source, if any, tells what it is about */
  TRAMMEL_MARKING_OWN,         /* a user's own */
} TrammelMarking;

/* Plain texts, borrowed from whoever holds the row. */
typedef struct
{
  const char *name;   /* "M3", "steel, carbon"; built-in ones can be translated with trammel_table_row_name() */
  const char *value;  /* as trammel_record_with_text() reads it for a field of this kind: "0.5 mm" */
  const char *source; /* "ISO 261, coarse"; "" for none */
  TrammelMarking marking;
} TrammelTableRow;

typedef struct _TrammelTable TrammelTable;

/* All tables, in the order in which to show them. Safe from any thread, as are all functions here. */
const TrammelTable *const *trammel_tables (gsize *n);
/* (nullable): the table with @key: "thread-pitch", "module", "belt-pitch", "chain-pitch", "full-steps", "microsteps",
 * "pressure-angle", "thread-angle", "friction", "efficiency", "density", "modulus",
 * "expansion"; NULL for another @key. */
const TrammelTable *trammel_table_find (const char *key);

const char *trammel_table_key (const TrammelTable *table);
const char *trammel_table_label (const TrammelTable *table); /* for people, translated: "Thread pitches" */

/* The built-in rows, in the order of the file. */
const TrammelTableRow *trammel_table_rows (const TrammelTable *table, gsize *n);

/**
 * trammel_table_check:
 * @value: what a person typed
 * @assumed: (nullable): unit when none is written
 *
 * Returns: (transfer full) (nullable): @value as a row of @table holds it, "2 mm". Errors as of
 * trammel_record_with_text().
 */
char *trammel_table_check (const TrammelTable *table, const char *value, const TrammelUnit *assumed, GError **error);

/* The value of @row, one of @table, as a number: in the base unit of the table's dimension. */
double trammel_table_row_value (const TrammelTable *table, const TrammelTableRow *row);
/* The same, exact; FALSE where that does not fit. */
gboolean trammel_table_row_exact (const TrammelTable *table, const TrammelTableRow *row, TrammelExact *out);

/* The name for people, translated where it is built in and has words in it. Borrowed. */
const char *trammel_table_row_name (const TrammelTableRow *row);
/* (transfer full): source and marking for people: "ISO 261, coarse", "common practice, no source". */
char *trammel_table_row_source (const TrammelTableRow *row);

/**
 * trammel_table_row_rank:
 * @typed: some characters of a name or a value, in whatever case; blanks do not matter, and `x` is ×
 *
 * How well @typed matches: 0 for the whole name or value, 1 for the start of the name, 2 for the start of the value, 3
 * for the start of a later word of the name; −1 when it does not. Both names of a built-in row count, the one of the
 * file and the translated one.
 */
int trammel_table_row_rank (const TrammelTableRow *row, const char *typed);

G_END_DECLS
