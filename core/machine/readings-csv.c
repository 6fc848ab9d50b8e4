/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/readings-csv.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>
#include <sys/mman.h>
#include <unistd.h>

#include "base/error.h"
#include "base/number.h"
#include "base/quantity.h"
#include "machine/csv-scanner.h"
#include "machine/encoding.h"
#include "machine/file-reader.h"
#include "machine/text-cache.h"

#define UNIT TRAMMEL_N_COLUMNS /* the column that is of the file only */
#define N_CSV_COLUMNS (TRAMMEL_N_COLUMNS + 1)
#define NO_FIELD (-1)

#define MOST_RUNS 1000000000
#define LARGE (16 << 20) /* bytes */
#define SHORTEST_LINE 8  /* bytes that a reading takes at least */

#define KNOWN_DIRECTIONS 8
#define LONGEST_DIRECTION 16

/* A direction as it was written: few are different in a long file. */
typedef struct
{
  char text[LONGEST_DIRECTION];
  gsize length; /* 0: free */
  TrammelDirection direction;
} KnownDirection;

typedef struct
{
  const char *name; /* of the file, for messages */
  TrammelCsvScanner scanner;
  gsize n_fields; /* of the header line */
  gsize header_line;
  gboolean headed[TRAMMEL_CSV_MAX_FIELDS];
  int field_of[N_CSV_COLUMNS]; /* index of the field, or NO_FIELD */
  TrammelTextCache cache;
  KnownDirection directions[KNOWN_DIRECTIONS];
  gsize next_direction;
  double factor; /* mm (degrees) per unit of a number without unit, on this line */
} Reader;

static const char *
column_key (int column)
{
  return column == UNIT ? "unit" : trammel_column_key ((TrammelColumn)column);
}

static gboolean
refuse_line (const Reader *reader, const char *why, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%s: line %zu: %s"), reader->name, reader->scanner.line,
               why);
  return FALSE;
}

static gboolean
check_headed (const Reader *reader, TrammelColumn column, GError **error)
{
  if (reader->field_of[column] != NO_FIELD)
    return TRUE;
  g_autofree char *why = g_strdup_printf (_ ("no column “%s” in the header; it is needed"), column_key ((int)column));
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%s: line %zu: %s"), reader->name, reader->header_line,
               why);
  return FALSE;
}

/* Takes @why over. */
static gboolean
refuse_field (const Reader *reader, int column, GError *why, GError **error)
{
  g_propagate_prefixed_error (error, why, _ ("%s: line %zu, column %s: "), reader->name, reader->scanner.line,
                              column_key (column));
  return FALSE;
}

static gboolean
refuse_text (const Reader *reader, int column, const TrammelCsvField *field, const char *wanted, GError **error)
{
  g_autofree char *found = trammel_error_excerpt (field->text, (gssize)field->length);

  return refuse_field (reader, column,
                       g_error_new (TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found “%s”; %s is wanted"), found, wanted),
                       error);
}

static const TrammelCsvField *
field_of (const Reader *reader, int column)
{
  static const TrammelCsvField blank = { "", 0 };

  return reader->field_of[column] == NO_FIELD ? &blank : &reader->scanner.fields[reader->field_of[column]];
}

static gboolean
field_is (const TrammelCsvField *field, const char *text)
{
  return field->length == strlen (text) && memcmp (field->text, text, field->length) == 0;
}

/* --- the header line --- */

static int
find_column (const TrammelCsvField *field)
{
  g_autofree char *name = g_ascii_strdown (field->text, (gssize)field->length);

  for (int column = 0; column < N_CSV_COLUMNS; column++)
    if (g_str_equal (name, column_key (column)))
      return column;
  return -1;
}

static char *
list_columns (void)
{
  GString *list = g_string_new (NULL);

  for (int column = 0; column < N_CSV_COLUMNS; column++)
    g_string_append_printf (list, "%s%s", column == 0 ? "" : column == UNIT ? _ (" or ") : ", ", column_key (column));
  return g_string_free (list, FALSE);
}

static gboolean
place_column (Reader *reader, gsize i, GError **error)
{
  const TrammelCsvField *field = &reader->scanner.fields[i];
  g_autofree char *found = trammel_error_excerpt (field->text, (gssize)field->length);
  g_autofree char *columns = list_columns ();
  g_autofree char *why = NULL;
  int column;

  reader->headed[i] = field->length > 0;
  if (!reader->headed[i])
    return TRUE;
  column = find_column (field);
  if (column < 0)
    why = g_strdup_printf (_ ("found a column “%s”; %s is wanted"), found, columns);
  else if (reader->field_of[column] != NO_FIELD)
    why = g_strdup_printf (_ ("found the column “%s” twice; each is wanted once"), found);
  else
    reader->field_of[column] = (int)i;
  return !why || refuse_line (reader, why, error);
}

static gboolean
read_header (Reader *reader, GError **error)
{
  if (!trammel_csv_scanner_next (&reader->scanner))
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
                   _ ("%s: found no line; a header line such as “kind,along,nominal,measured” is wanted"),
                   reader->name);
      return FALSE;
    }
  if (reader->scanner.problem)
    return refuse_line (reader, reader->scanner.problem, error);
  reader->n_fields = reader->scanner.n_fields;
  reader->header_line = reader->scanner.line;
  for (gsize i = 0; i < reader->n_fields; i++)
    if (!place_column (reader, i, error))
      return FALSE;
  return check_headed (reader, TRAMMEL_COLUMN_KIND, error) && check_headed (reader, TRAMMEL_COLUMN_ALONG, error);
}

/* --- a line of readings --- */

/* Any cell as a person would type it: all that may be written, and all messages. */
static gboolean
read_as_typed (Reader *reader, TrammelColumn column, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = field_of (reader, (int)column);
  g_autofree char *text = g_strndup (field->text, field->length);
  GError *why = NULL;

  return trammel_reading_set_text (reading, column, text, reader->factor, &why)
         || refuse_field (reader, (int)column, why, error);
}

static gboolean
read_unit (Reader *reader, GError **error)
{
  const TrammelCsvField *field = field_of (reader, UNIT);
  g_autofree char *symbol = NULL;
  const TrammelUnit *unit;

  reader->factor = 1;
  if (field->length == 0 || field_is (field, "mm") || field_is (field, "deg"))
    return TRUE;
  symbol = g_strndup (field->text, field->length);
  unit = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol);
  if (unit)
    {
      reader->factor = trammel_unit_factor (unit);
      return TRUE;
    }
  unit = trammel_unit_find (TRAMMEL_DIMENSION_ANGLE, symbol);
  if (!unit)
    return refuse_text (reader, UNIT, field, _ ("a unit such as mm, in or deg"), error);
  reader->factor = trammel_unit_factor (unit) * 180 / G_PI;
  return TRUE;
}

static gboolean
read_kind (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = field_of (reader, TRAMMEL_COLUMN_KIND);

  for (int kind = 0; kind < TRAMMEL_N_READING_KINDS; kind++)
    if (field_is (field, trammel_reading_kind_key ((TrammelReadingKind)kind)))
      {
        reading->kind = (guint8)kind;
        return TRUE;
      }
  if (field->length == 0)
    return refuse_text (reader, TRAMMEL_COLUMN_KIND, field, _ ("a kind of reading such as “outside”"), error);
  return read_as_typed (reader, TRAMMEL_COLUMN_KIND, reading, error);
}

static void
remember_direction (Reader *reader, const TrammelCsvField *field, const TrammelDirection *direction)
{
  KnownDirection *known = &reader->directions[reader->next_direction];

  if (field->length > LONGEST_DIRECTION)
    return;
  memcpy (known->text, field->text, field->length);
  known->length = field->length;
  known->direction = *direction;
  reader->next_direction = (reader->next_direction + 1) % KNOWN_DIRECTIONS;
}

static gboolean
read_along (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = field_of (reader, TRAMMEL_COLUMN_ALONG);

  if (field->length == 0 && reading->kind == TRAMMEL_READING_HEIGHT)
    return reading->has_along = trammel_direction_parse ("Z", &reading->along, error);
  if (field->length == 0)
    return refuse_text (reader, TRAMMEL_COLUMN_ALONG, field, _ ("a direction such as X, X+Y or XY@30"), error);
  for (gsize i = 0; i < KNOWN_DIRECTIONS; i++)
    {
      const KnownDirection *known = &reader->directions[i];

      if (known->length != field->length || memcmp (known->text, field->text, field->length) != 0)
        continue;
      reading->along = known->direction;
      return reading->has_along = TRUE;
    }
  if (!read_as_typed (reader, TRAMMEL_COLUMN_ALONG, reading, error))
    return FALSE;
  if (!reading->has_along) /* nothing but white space in quotes */
    return refuse_text (reader, TRAMMEL_COLUMN_ALONG, field, _ ("a direction such as X, X+Y or XY@30"), error);
  remember_direction (reader, field, &reading->along);
  return TRUE;
}

static gboolean
read_number (const Reader *reader, const TrammelCsvField *field, double *out)
{
  if (trammel_number_from_text (field->text, (gssize)field->length, FALSE, out))
    return TRUE;
  return reader->scanner.separator != ',' && trammel_number_from_text (field->text, (gssize)field->length, TRUE, out);
}

static gboolean
read_amount (Reader *reader, TrammelColumn column, TrammelReading *reading, double *out, GError **error)
{
  const TrammelCsvField *field = field_of (reader, (int)column);
  double number;

  if (field->length == 0)
    return TRUE;
  if (read_number (reader, field, &number) && isfinite (number * reader->factor)
      && (column != TRAMMEL_COLUMN_U || number > 0))
    {
      *out = number * reader->factor;
      return TRUE;
    }
  if (reader->scanner.separator == ',' && memchr (field->text, ',', field->length))
    return refuse_text (reader, (int)column, field, _ ("a decimal point, where commas separate the columns,"), error);
  return read_as_typed (reader, column, reading, error);
}

static gboolean
read_run (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = field_of (reader, TRAMMEL_COLUMN_RUN);
  double run;

  if (field->length == 0)
    return TRUE;
  if (trammel_number_from_text (field->text, (gssize)field->length, FALSE, &run) && run >= 1 && run <= MOST_RUNS
      && run == floor (run))
    {
      reading->run = (int)run;
      return TRUE;
    }
  return refuse_text (reader, TRAMMEL_COLUMN_RUN, field, _ ("the number of a run (1, 2, …)"), error);
}

static gboolean
read_approach (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = field_of (reader, TRAMMEL_COLUMN_APPROACH);

  if (field->length == 0)
    return TRUE;
  for (int approach = TRAMMEL_APPROACH_NONE; approach <= TRAMMEL_APPROACH_REVERSED; approach++)
    if (field_is (field, trammel_approach_key ((TrammelApproach)approach)))
      {
        reading->approach = (guint8)approach;
        return TRUE;
      }
  return read_as_typed (reader, TRAMMEL_COLUMN_APPROACH, reading, error);
}

static GRefString *
read_name (Reader *reader, TrammelColumn column)
{
  const TrammelCsvField *field = field_of (reader, (int)column);

  return trammel_text_cache_get (&reader->cache, field->text, field->length);
}

/* As many fields as the header has; blank ones at the end, as spreadsheets leave them, do no harm. */
static gboolean
check_fields (const Reader *reader, GError **error)
{
  const TrammelCsvScanner *scanner = &reader->scanner;
  g_autofree char *why = NULL;

  for (gsize i = 0; i < scanner->n_fields && !why; i++)
    {
      const TrammelCsvField *field = &scanner->fields[i];

      if (field->length == 0 || (i < reader->n_fields && reader->headed[i]))
        continue;
      if (i < reader->n_fields)
        {
          g_autofree char *found = trammel_error_excerpt (field->text, (gssize)field->length);

          why = g_strdup_printf (_ ("found “%s” under no heading; a blank field is wanted there"), found);
        }
      else
        why = g_strdup_printf (_ ("found %zu fields; %zu, as in the header line, are wanted"), scanner->n_fields,
                               reader->n_fields);
    }
  if (!why && scanner->n_fields < reader->n_fields)
    why = g_strdup_printf (_ ("found %zu fields; %zu, as in the header line, are wanted"), scanner->n_fields,
                           reader->n_fields);
  return !why || refuse_line (reader, why, error);
}

static gboolean
read_cells (Reader *reader, TrammelReading *reading, GError **error)
{
  if (!read_unit (reader, error) || !read_kind (reader, reading, error) || !read_along (reader, reading, error)
      || !read_amount (reader, TRAMMEL_COLUMN_NOMINAL, reading, &reading->nominal, error)
      || !read_amount (reader, TRAMMEL_COLUMN_MEASURED, reading, &reading->measured, error)
      || !read_amount (reader, TRAMMEL_COLUMN_U, reading, &reading->u, error) || !read_approach (reader, reading, error)
      || !read_run (reader, reading, error))
    return FALSE;
  if (isnan (reading->nominal) && trammel_reading_kind_needs_nominal (reading->kind))
    return check_headed (reader, TRAMMEL_COLUMN_NOMINAL, error)
           && refuse_text (reader, TRAMMEL_COLUMN_NOMINAL, field_of (reader, TRAMMEL_COLUMN_NOMINAL),
                           _ ("the commanded length"), error);
  reading->instrument = read_name (reader, TRAMMEL_COLUMN_INSTRUMENT);
  reading->set = read_name (reader, TRAMMEL_COLUMN_SET);
  reading->note = read_name (reader, TRAMMEL_COLUMN_NOTE);
  return TRUE;
}

static gboolean
read_line (Reader *reader, TrammelReading *reading, GError **error)
{
  g_autoptr (GError) why = NULL;

  if (reader->scanner.problem)
    return refuse_line (reader, reader->scanner.problem, error);
  if (!check_fields (reader, error) || !read_cells (reader, reading, error))
    return FALSE;
  if (!trammel_reading_is_complete (reading) || trammel_reading_check (reading, &why))
    return TRUE;
  return refuse_line (reader, why->message, error);
}

/* About how many readings are to come; growing to millions by doubling would copy them all again and again. */
static gsize
estimate_lines (const TrammelCsvScanner *scanner)
{
  gsize n = 1;

  for (const char *p = scanner->p; (p = memchr (p, '\n', (gsize)(scanner->end - p))) != NULL; p++)
    n++;
  n = MIN (n, (gsize)(scanner->end - scanner->p) / SHORTEST_LINE + 1);
  return MIN (n, TRAMMEL_MAX_READINGS);
}

/* Room for @n readings. Millions of them fill so many pages of memory that fetching these one by one would take longer
 * than reading the text; large pages are fetched at once. */
static GArray *
reserve_rows (gsize n)
{
  GArray *rows = trammel_reading_array_new (n);
#ifdef MADV_HUGEPAGE
  gsize page = (gsize)sysconf (_SC_PAGESIZE), size = n * sizeof (TrammelReading);
  char *first = (char *)(((guintptr)rows->data + page - 1) / page * page);

  if (size >= LARGE)
    madvise (first, (size - page) / page * page, MADV_HUGEPAGE); /* advice only: it may not be taken */
#endif
  return rows;
}

static TrammelReadings *
read_lines (Reader *reader, GError **error)
{
  g_autoptr (GArray) rows = reserve_rows (estimate_lines (&reader->scanner));

  while (trammel_csv_scanner_next (&reader->scanner))
    {
      TrammelReading *reading;

      if (rows->len == TRAMMEL_MAX_READINGS)
        {
          g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE, _ ("%s: found more than %d readings"),
                       reader->name, TRAMMEL_MAX_READINGS);
          return NULL;
        }
      g_array_set_size (rows, rows->len + 1);
      reading = &g_array_index (rows, TrammelReading, rows->len - 1);
      trammel_reading_init (reading);
      if (!read_line (reader, reading, error))
        return NULL;
    }
  return trammel_readings_take (g_steal_pointer (&rows));
}

TrammelReadings *
trammel_readings_csv_read (const char *data, gsize length, const char *name, GError **error)
{
  Reader reader = { .name = name };
  TrammelReadings *readings = NULL;

  g_return_val_if_fail ((data != NULL || length == 0) && name != NULL, NULL);

  if (!trammel_encoding_check (&data, &length, error))
    {
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  for (int column = 0; column < N_CSV_COLUMNS; column++)
    reader.field_of[column] = NO_FIELD;
  trammel_csv_scanner_init (&reader.scanner, data, length);
  if (read_header (&reader, error))
    readings = read_lines (&reader, error);
  trammel_csv_scanner_clear (&reader.scanner);
  trammel_text_cache_clear (&reader.cache);
  return readings;
}

TrammelReadings *
trammel_readings_csv_load (const char *path, GError **error)
{
  g_autoptr (GBytes) bytes = NULL;
  g_autofree char *name = NULL;
  const char *data;
  gsize length;

  g_return_val_if_fail (path != NULL, NULL);

  bytes = trammel_file_map (path, error);
  if (!bytes)
    return NULL;
  data = g_bytes_get_data (bytes, &length);
  name = g_filename_display_name (path);
  return trammel_readings_csv_read (data ? data : "", length, name, error);
}
