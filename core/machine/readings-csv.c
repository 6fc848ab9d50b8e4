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
#include "machine/csv-reader.h"
#include "machine/encoding.h"
#include "machine/file-reader.h"
#include "machine/text-cache.h"

#define UNIT TRAMMEL_N_COLUMNS /* the column that is of the file only */
#define N_CSV_COLUMNS (TRAMMEL_N_COLUMNS + 1)

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
  TrammelCsvReader csv;
  TrammelTextCache cache;
  KnownDirection directions[KNOWN_DIRECTIONS];
  gsize next_direction;
  double factor; /* mm (degrees) per unit of a number without unit, on this line */
} Reader;

static gboolean
field_is (const TrammelCsvField *field, const char *text)
{
  return field->length == strlen (text) && memcmp (field->text, text, field->length) == 0;
}

static gboolean
read_header (Reader *reader, GError **error)
{
  TrammelCsvReader *csv = &reader->csv;

  if (trammel_csv_scanner_next (&csv->scanner))
    return trammel_csv_reader_take_header (csv, NULL, error)
           && trammel_csv_reader_check_headed (csv, TRAMMEL_COLUMN_KIND, error)
           && trammel_csv_reader_check_headed (csv, TRAMMEL_COLUMN_ALONG, error);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
               _ ("%s: found no line; a header line such as “kind,along,nominal,measured” is wanted"), csv->name);
  return FALSE;
}

/* --- a line of readings --- */

/* Any cell as a person would type it: all that may be written, and all messages. */
static gboolean
read_as_typed (Reader *reader, TrammelColumn column, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, (int)column);
  g_autofree char *text = g_strndup (field->text, field->length);
  GError *why = NULL;

  return trammel_reading_set_text (reading, column, text, reader->factor, &why)
         || trammel_csv_reader_refuse_because (&reader->csv, (int)column, why, error);
}

static gboolean
read_unit (Reader *reader, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, UNIT);
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
    return trammel_csv_reader_refuse_field (&reader->csv, UNIT, _ ("a unit such as mm, in or deg"), error);
  reader->factor = trammel_unit_factor (unit) * 180 / G_PI;
  return TRUE;
}

static gboolean
read_kind (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, TRAMMEL_COLUMN_KIND);

  for (int kind = 0; kind < TRAMMEL_N_READING_KINDS; kind++)
    if (field_is (field, trammel_reading_kind_key ((TrammelReadingKind)kind)))
      {
        reading->kind = (guint8)kind;
        return TRUE;
      }
  if (field->length == 0)
    return trammel_csv_reader_refuse_field (&reader->csv, TRAMMEL_COLUMN_KIND,
                                            _ ("a kind of reading such as “outside”"), error);
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
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, TRAMMEL_COLUMN_ALONG);

  if (field->length == 0 && reading->kind == TRAMMEL_READING_HEIGHT)
    return reading->has_along = trammel_direction_parse ("Z", &reading->along, error);
  if (field->length == 0)
    return trammel_csv_reader_refuse_field (&reader->csv, TRAMMEL_COLUMN_ALONG,
                                            _ ("a direction such as X, X+Y or XY@30"), error);
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
    return trammel_csv_reader_refuse_field (&reader->csv, TRAMMEL_COLUMN_ALONG,
                                            _ ("a direction such as X, X+Y or XY@30"), error);
  remember_direction (reader, field, &reading->along);
  return TRUE;
}

static gboolean
read_number (const Reader *reader, const TrammelCsvField *field, double *out)
{
  if (trammel_number_from_text (field->text, (gssize)field->length, FALSE, out))
    return TRUE;
  return reader->csv.scanner.separator != ','
         && trammel_number_from_text (field->text, (gssize)field->length, TRUE, out);
}

static gboolean
read_amount (Reader *reader, TrammelColumn column, TrammelReading *reading, double *out, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, (int)column);
  double number;

  if (field->length == 0)
    return TRUE;
  if (read_number (reader, field, &number) && isfinite (number * reader->factor)
      && (column != TRAMMEL_COLUMN_U || number > 0))
    {
      *out = number * reader->factor;
      return TRUE;
    }
  if (reader->csv.scanner.separator == ',' && memchr (field->text, ',', field->length))
    return trammel_csv_reader_refuse_field (&reader->csv, (int)column,
                                            _ ("a decimal point, where commas separate the columns,"), error);
  return read_as_typed (reader, column, reading, error);
}

static gboolean
read_run (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, TRAMMEL_COLUMN_RUN);
  double run;

  if (field->length == 0)
    return TRUE;
  if (trammel_number_from_text (field->text, (gssize)field->length, FALSE, &run) && run >= 1 && run <= MOST_RUNS
      && run == floor (run))
    {
      reading->run = (int)run;
      return TRUE;
    }
  return trammel_csv_reader_refuse_field (&reader->csv, TRAMMEL_COLUMN_RUN, _ ("the number of a run (1, 2, …)"), error);
}

static gboolean
read_approach (Reader *reader, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, TRAMMEL_COLUMN_APPROACH);

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
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, (int)column);

  return trammel_text_cache_get (&reader->cache, field->text, field->length);
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
    return trammel_csv_reader_check_headed (&reader->csv, TRAMMEL_COLUMN_NOMINAL, error)
           && trammel_csv_reader_refuse_field (&reader->csv, TRAMMEL_COLUMN_NOMINAL, _ ("the commanded length"), error);
  reading->instrument = read_name (reader, TRAMMEL_COLUMN_INSTRUMENT);
  reading->set = read_name (reader, TRAMMEL_COLUMN_SET);
  reading->note = read_name (reader, TRAMMEL_COLUMN_NOTE);
  return TRUE;
}

static gboolean
read_line (Reader *reader, TrammelReading *reading, GError **error)
{
  g_autoptr (GError) why = NULL;

  if (!trammel_csv_reader_check_row (&reader->csv, error) || !read_cells (reader, reading, error))
    return FALSE;
  if (!trammel_reading_is_complete (reading) || trammel_reading_check (reading, &why))
    return TRUE;
  return trammel_csv_reader_refuse_line (&reader->csv, why->message, error);
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
  g_autoptr (GArray) rows = reserve_rows (estimate_lines (&reader->csv.scanner));

  while (trammel_csv_scanner_next (&reader->csv.scanner))
    {
      TrammelReading *reading;

      if (rows->len == TRAMMEL_MAX_READINGS)
        {
          g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE, _ ("%s: found more than %d readings"),
                       reader->csv.name, TRAMMEL_MAX_READINGS);
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
  const char *keys[N_CSV_COLUMNS];
  Reader reader = { .factor = 1 };
  TrammelReadings *readings = NULL;

  g_return_val_if_fail ((data != NULL || length == 0) && name != NULL, NULL);

  if (!trammel_encoding_check (&data, &length, error))
    {
      g_prefix_error (error, "%s: ", name);
      return NULL;
    }
  for (int column = 0; column < N_CSV_COLUMNS; column++)
    keys[column] = column == UNIT ? "unit" : trammel_column_key ((TrammelColumn)column);
  trammel_csv_reader_init (&reader.csv, name, keys, N_CSV_COLUMNS, data, length);
  if (read_header (&reader, error))
    readings = read_lines (&reader, error);
  trammel_csv_reader_clear (&reader.csv);
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
