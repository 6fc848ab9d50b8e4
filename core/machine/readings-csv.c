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

/* What an amount along an axis is measured in. */
typedef enum
{
  MEASURE_NOT_KNOWN, /* there is no machine to tell whether the axis turns */
  MEASURE_LENGTH,
  MEASURE_ANGLE,
  MEASURE_NONE, /* the machine has no such axis */
} Measure;

typedef struct
{
  TrammelCsvReader csv;
  TrammelTextCache cache;
  const TrammelMachine *machine; /* nullable */
  Measure measures['Z' - 'A' + 1];
  Measure measure; /* of this line */
  KnownDirection directions[KNOWN_DIRECTIONS];
  gsize next_direction;
  double factor; /* mm (degrees) per unit of a number without unit, on this line */
} Reader;

/* X, Y and Z never turn; of the others the machine tells. */
static void
take_machine (Reader *reader, const TrammelMachine *machine)
{
  reader->machine = machine;
  for (char letter = 'A'; letter <= 'Z'; letter++)
    reader->measures[letter - 'A'] = machine ? MEASURE_NONE : letter >= 'X' ? MEASURE_LENGTH : MEASURE_NOT_KNOWN;
  for (gsize i = 0; machine && i < trammel_machine_n_axes (machine); i++)
    {
      const TrammelAxis *axis = trammel_machine_axis (machine, i);

      reader->measures[trammel_axis_letter (axis) - 'A']
          = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY ? MEASURE_ANGLE : MEASURE_LENGTH;
    }
}

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

static Measure
measure_along (const Reader *reader, const TrammelDirection *along)
{
  return trammel_direction_is_single (along) ? reader->measures[along->axes[0] - 'A'] : MEASURE_LENGTH;
}

/* "X, Y, Z, E". (transfer full) */
static char *
axes_of (const TrammelMachine *machine)
{
  GString *letters = g_string_new (NULL);

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    g_string_append_printf (letters, "%s%c", i == 0 ? "" : ", ",
                            trammel_axis_letter (trammel_machine_axis (machine, i)));
  return g_string_free (letters, FALSE);
}

static gboolean
check_axes (const Reader *reader, const TrammelDirection *along, GError **error)
{
  g_autofree char *letters = NULL;
  g_autofree char *wanted = NULL;
  gboolean known = TRUE;

  for (gsize i = 0; i < G_N_ELEMENTS (along->axes) && along->axes[i] != '\0'; i++)
    known = known && reader->measures[along->axes[i] - 'A'] != MEASURE_NONE;
  if (known)
    return TRUE;
  letters = axes_of (reader->machine);
  wanted
      = *letters ? g_strdup_printf (_ ("an axis of the machine (%s)"), letters) : g_strdup (_ ("a machine with axes"));
  return trammel_csv_reader_refuse_field (&reader->csv, TRAMMEL_COLUMN_ALONG, wanted, error);
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
  if (!check_axes (reader, &reading->along, error))
    return FALSE;
  remember_direction (reader, field, &reading->along);
  return TRUE;
}

/* mm or degrees in one @symbol; FALSE where it is not of what the line measures. */
static gboolean
find_factor (Measure measure, const char *symbol, double *factor)
{
  const TrammelUnit *length = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol);
  const TrammelUnit *angle = trammel_unit_find (TRAMMEL_DIMENSION_ANGLE, symbol);

  if (length && measure != MEASURE_ANGLE)
    *factor = trammel_unit_factor (length);
  else if (angle && measure != MEASURE_LENGTH)
    *factor = trammel_unit_factor (angle) * 180 / G_PI;
  else
    return FALSE;
  return TRUE;
}

static gboolean
read_unit (Reader *reader, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, UNIT);
  g_autofree char *symbol = NULL;

  reader->factor = 1;
  if (field->length == 0 || (field_is (field, "mm") && reader->measure != MEASURE_ANGLE)
      || (field_is (field, "deg") && reader->measure != MEASURE_LENGTH))
    return TRUE;
  symbol = g_strndup (field->text, field->length);
  if (find_factor (reader->measure, symbol, &reader->factor))
    return TRUE;
  return trammel_csv_reader_refuse_field (&reader->csv, UNIT,
                                          reader->measure == MEASURE_ANGLE    ? _ ("a unit of angle such as deg")
                                          : reader->measure == MEASURE_LENGTH ? _ ("a unit of length such as mm or in")
                                                                              : _ ("a unit such as mm, in or deg"),
                                          error);
}

static gboolean
read_number (const Reader *reader, const TrammelCsvField *field, double *out)
{
  if (trammel_number_from_text (field->text, (gssize)field->length, FALSE, out))
    return TRUE;
  return reader->csv.scanner.separator != ','
         && trammel_number_from_text (field->text, (gssize)field->length, TRUE, out);
}

/* An amount with a unit of its own, or a fraction. A reading takes lengths and, off X, Y and Z, angles. */
static gboolean
read_typed_amount (Reader *reader, TrammelColumn column, TrammelReading *reading, GError **error)
{
  const TrammelCsvField *field = trammel_csv_reader_field (&reader->csv, (int)column);
  g_autofree char *text = NULL;
  GError *why = NULL;
  double value;

  if (reader->measure == MEASURE_NOT_KNOWN)
    return read_as_typed (reader, column, reading, error);
  text = g_strndup (field->text, field->length);
  if (!trammel_quantity_parse_value (
          text, reader->measure == MEASURE_ANGLE ? TRAMMEL_DIMENSION_ANGLE : TRAMMEL_DIMENSION_LENGTH, NULL, &value,
          &why))
    return trammel_csv_reader_refuse_because (&reader->csv, (int)column, why, error);
  return read_as_typed (reader, column, reading, error);
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
  return read_typed_amount (reader, column, reading, error);
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
  if (!read_kind (reader, reading, error) || !read_along (reader, reading, error))
    return FALSE;
  reader->measure = measure_along (reader, &reading->along);
  if (!read_unit (reader, error) || !read_amount (reader, TRAMMEL_COLUMN_NOMINAL, reading, &reading->nominal, error)
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
trammel_readings_csv_read (const char *data, gsize length, const char *name, const TrammelMachine *machine,
                           GError **error)
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
  take_machine (&reader, machine);
  trammel_csv_reader_init (&reader.csv, name, keys, N_CSV_COLUMNS, data, length);
  if (read_header (&reader, error))
    readings = read_lines (&reader, error);
  trammel_csv_reader_clear (&reader.csv);
  trammel_text_cache_clear (&reader.cache);
  return readings;
}

TrammelReadings *
trammel_readings_csv_load (const char *path, const TrammelMachine *machine, GError **error)
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
  return trammel_readings_csv_read (data ? data : "", length, name, machine, error);
}
