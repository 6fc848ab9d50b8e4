/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"
#include "machine/text-cache.h"

#define MOST_RUNS 1000000000

void
trammel_codec_reading_units (const GPtrArray *axes, TrammelReadingUnits *units)
{
  memset (units, 0, sizeof *units);
  for (guint i = 0; i < axes->len; i++)
    {
      const TrammelAxis *axis = g_ptr_array_index (axes, i);

      units->rotary[trammel_axis_letter (axis) - 'A'] = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY;
    }
}

static gboolean
is_in_degrees (const TrammelReading *reading, const TrammelReadingUnits *units)
{
  if (!reading->has_along || !trammel_direction_is_single (&reading->along))
    return FALSE;
  return units->rotary[reading->along.axes[0] - 'A'];
}

/* One reading as it is read. */
typedef struct
{
  const TrammelPlace *place;
  TrammelJsonObject *members;
  const TrammelReadingUnits *units;
  TrammelTextCache *cache;
  TrammelReading *reading;
} Reader;

/* The member @column; FALSE when it is left out or null. */
static gboolean
take (const Reader *reader, TrammelColumn column, TrammelJson *out)
{
  return trammel_json_object_take (reader->members, trammel_column_key (column), out)
         && !trammel_json_is (*out, TRAMMEL_JSON_NULL);
}

static gboolean
refuse (const Reader *reader, TrammelColumn column, const TrammelJson *value, const char *wanted, GError **error)
{
  TrammelPlace place = { reader->place, trammel_column_key (column), 0 };

  return trammel_codec_refuse (&place, value, TRAMMEL_ERROR_FORMAT, wanted, error);
}

static gboolean
refuse_because (const Reader *reader, TrammelColumn column, GError *why, GError **error)
{
  TrammelPlace place = { reader->place, trammel_column_key (column), 0 };

  return trammel_codec_refuse_because (&place, why, error);
}

static gboolean
read_kind (const Reader *reader, GError **error)
{
  g_autofree char *text = NULL;
  TrammelReadingKind kind;
  GError *why = NULL;
  TrammelJson value;

  if (!take (reader, TRAMMEL_COLUMN_KIND, &value))
    return refuse (reader, TRAMMEL_COLUMN_KIND, NULL, _ ("a kind of reading such as “outside”"), error);
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING))
    return refuse (reader, TRAMMEL_COLUMN_KIND, &value, _ ("a kind of reading such as “outside”"), error);
  text = trammel_json_string (value);
  if (!trammel_reading_kind_parse (text, &kind, &why))
    return refuse_because (reader, TRAMMEL_COLUMN_KIND, why, error);
  reader->reading->kind = (guint8)kind;
  return TRUE;
}

static gboolean
read_along (const Reader *reader, GError **error)
{
  g_autofree char *text = NULL;
  GError *why = NULL;
  TrammelJson value;

  if (!take (reader, TRAMMEL_COLUMN_ALONG, &value))
    return TRUE;
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING))
    return refuse (reader, TRAMMEL_COLUMN_ALONG, &value, _ ("a direction such as “X”, “X+Y” or “XY@30”"), error);
  text = trammel_json_string (value);
  if (!trammel_direction_parse (text, &reader->reading->along, &why))
    return refuse_because (reader, TRAMMEL_COLUMN_ALONG, why, error);
  reader->reading->has_along = TRUE;
  return TRUE;
}

static gboolean
read_approach (const Reader *reader, GError **error)
{
  g_autofree char *text = NULL;
  TrammelApproach approach;
  GError *why = NULL;
  TrammelJson value;

  if (!take (reader, TRAMMEL_COLUMN_APPROACH, &value))
    return TRUE;
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING))
    return refuse (reader, TRAMMEL_COLUMN_APPROACH, &value, _ ("“+”, “-” or “reversed”"), error);
  text = trammel_json_string (value);
  if (!trammel_approach_parse (text, &approach, &why))
    return refuse_because (reader, TRAMMEL_COLUMN_APPROACH, why, error);
  reader->reading->approach = (guint8)approach;
  return TRUE;
}

/* A decimal and the one unit that most files hold: nothing to convert, nothing to round. */
static gboolean
read_plain_amount (TrammelJson value, const char *unit, double *out)
{
  gsize length, unit_length = strlen (unit);
  const char *text;

  if (!trammel_json_plain_string (value, &text, &length) || length <= unit_length)
    return FALSE;
  length -= unit_length;
  return memcmp (text + length, unit, unit_length) == 0 && trammel_number_from_text (text, (gssize)length, FALSE, out);
}

static gboolean
read_amount (const Reader *reader, TrammelColumn column, double *out, GError **error)
{
  gboolean degrees = is_in_degrees (reader->reading, reader->units);
  const char *wanted = degrees ? _ ("an angle such as “45 deg”") : _ ("a length such as “99.71 mm”");
  g_autofree char *text = NULL;
  GError *why = NULL;
  TrammelJson value;

  if (!take (reader, column, &value))
    return TRUE;
  if (trammel_json_is (value, TRAMMEL_JSON_NUMBER))
    return trammel_number_from_text (value.text, (gssize)value.length, FALSE, out)
           || refuse (reader, column, &value, wanted, error);
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING))
    return refuse (reader, column, &value, wanted, error);
  if (read_plain_amount (value, degrees ? "deg" : "mm", out))
    return TRUE;
  text = trammel_json_string (value);
  if (!trammel_quantity_parse_value (text, degrees ? TRAMMEL_DIMENSION_ANGLE : TRAMMEL_DIMENSION_LENGTH, NULL, out,
                                     &why))
    return refuse_because (reader, column, why, error);
  if (degrees)
    *out = *out * 180 / G_PI;
  return TRUE;
}

static gboolean
read_run (const Reader *reader, GError **error)
{
  TrammelPlace place = { reader->place, trammel_column_key (TRAMMEL_COLUMN_RUN), 0 };
  const char *wanted = _ ("a whole number from 1");
  TrammelJson value;
  double run;

  if (!take (reader, TRAMMEL_COLUMN_RUN, &value))
    return TRUE;
  if (!trammel_codec_read_number (&place, value, 1, MOST_RUNS, wanted, &run, error))
    return FALSE;
  if (run != floor (run))
    return refuse (reader, TRAMMEL_COLUMN_RUN, &value, wanted, error);
  reader->reading->run = (int)run;
  return TRUE;
}

static gboolean
read_name (const Reader *reader, TrammelColumn column, GRefString **out, GError **error)
{
  g_autofree char *copy = NULL;
  const char *text;
  gsize length;
  TrammelJson value;

  if (!take (reader, column, &value))
    return TRUE;
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING))
    return refuse (reader, column, &value, _ ("text"), error);
  if (!trammel_json_plain_string (value, &text, &length))
    {
      text = copy = trammel_json_string (value);
      length = strlen (copy);
    }
  *out = trammel_text_cache_get (reader->cache, text, length);
  return TRUE;
}

/* What a person typed into cells that cannot be read is typed in again, and fails again. */
static gboolean
read_typed (const Reader *reader, GError **error)
{
  TrammelPlace place = { reader->place, "typed", 0 };
  g_auto (TrammelJsonObject) typed = { 0 };
  TrammelJson value;

  if (!trammel_json_object_take (reader->members, "typed", &value))
    return TRUE;
  if (!trammel_codec_open_object (&place, value, _ ("an object with the text of cells"), &typed, error))
    return FALSE;
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    {
      const char *key = trammel_column_key ((TrammelColumn)column);
      TrammelPlace here = { &place, key, 0 };
      g_autofree char *text = NULL;

      if (!trammel_json_object_take (&typed, key, &value))
        continue;
      if (!trammel_codec_read_text (&here, value, _ ("text"), &text, error))
        return FALSE;
      trammel_reading_set_text (reader->reading, (TrammelColumn)column, text, 1, NULL);
    }
  return TRUE;
}

static gboolean
read_members (const Reader *reader, GError **error)
{
  TrammelReading *reading = reader->reading;

  return read_kind (reader, error) && read_along (reader, error) && read_approach (reader, error)
         && read_amount (reader, TRAMMEL_COLUMN_NOMINAL, &reading->nominal, error)
         && read_amount (reader, TRAMMEL_COLUMN_MEASURED, &reading->measured, error)
         && read_amount (reader, TRAMMEL_COLUMN_U, &reading->u, error)
         && read_name (reader, TRAMMEL_COLUMN_INSTRUMENT, &reading->instrument, error) && read_run (reader, error)
         && read_name (reader, TRAMMEL_COLUMN_SET, &reading->set, error)
         && read_name (reader, TRAMMEL_COLUMN_NOTE, &reading->note, error) && read_typed (reader, error);
}

static gboolean
read_reading (const TrammelPlace *place, TrammelJson value, const TrammelReadingUnits *units, TrammelTextCache *cache,
              TrammelReading *reading, GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  g_autofree char *rest = NULL;
  Reader reader = { place, &members, units, cache, reading };

  if (!trammel_codec_open_object (place, value, _ ("an object with kind, along, nominal and measured"), &members, error)
      || !read_members (&reader, error))
    return FALSE;
  rest = trammel_json_object_rest (&members);
  if (rest)
    reading->extra = g_ref_string_new (rest);
  return TRUE;
}

TrammelReadings *
trammel_codec_read_readings (const TrammelPlace *place, TrammelJson value, const TrammelReadingUnits *units,
                             GError **error)
{
  g_auto (TrammelTextCache) cache = { { NULL } };
  g_autoptr (GArray) rows = NULL;
  TrammelJsonElements elements;
  TrammelJson element;
  TrammelPlace here = { place, NULL, 0 };
  gsize n;

  if (!trammel_codec_open_array (place, value, _ ("a list of readings"), &elements, error))
    return NULL;
  n = trammel_json_count (value);
  if (n > TRAMMEL_MAX_READINGS)
    {
      trammel_codec_refuse (place, &value, TRAMMEL_ERROR_TOO_LARGE, _ ("a list of at most 10000000 readings"), error);
      return NULL;
    }
  rows = trammel_reading_array_new (n);
  for (; trammel_json_next (&elements, &element); here.index++)
    {
      TrammelReading reading;

      trammel_reading_init (&reading);
      if (!read_reading (&here, element, units, &cache, &reading, error))
        {
          trammel_reading_clear (&reading);
          return NULL;
        }
      g_array_append_val (rows, reading);
    }
  return trammel_readings_take (g_steal_pointer (&rows));
}

static void
write_amount (TrammelJsonWriter *writer, const char *key, double value, const char *unit)
{
  char text[64];
  g_autofree char *number = NULL;

  if (!isfinite (value))
    return;
  number = trammel_number_to_text (value);
  g_snprintf (text, sizeof text, "%s %s", number, unit);
  trammel_json_writer_string (writer, key, text);
}

static void
write_along (TrammelJsonWriter *writer, const TrammelReading *reading)
{
  g_autofree char *text = NULL;

  if (!reading->has_along)
    return;
  text = trammel_direction_to_text (&reading->along);
  trammel_json_writer_string (writer, "along", text);
}

static void
write_typed (TrammelJsonWriter *writer, const TrammelReading *reading)
{
  if (!trammel_reading_has_faulty (reading))
    return;
  trammel_json_writer_open (writer, "typed", '{', TRUE);
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    {
      g_autofree char *text = trammel_reading_faulty (reading, (TrammelColumn)column);

      if (text)
        trammel_json_writer_string (writer, trammel_column_key ((TrammelColumn)column), text);
    }
  trammel_json_writer_close (writer, '}');
}

static void
write_reading (TrammelJsonWriter *writer, const TrammelReading *reading, const TrammelReadingUnits *units)
{
  const char *unit = is_in_degrees (reading, units) ? "deg" : "mm";

  trammel_json_writer_open (writer, NULL, '{', TRUE);
  trammel_json_writer_string (writer, "kind", trammel_reading_kind_key (reading->kind));
  write_along (writer, reading);
  write_amount (writer, "nominal", reading->nominal, unit);
  if (isfinite (reading->measured))
    write_amount (writer, "measured", reading->measured, unit);
  else
    trammel_json_writer_null (writer, "measured");
  write_amount (writer, "u", reading->u, unit);
  if (reading->instrument)
    trammel_json_writer_string (writer, "instrument", reading->instrument);
  if (reading->approach != TRAMMEL_APPROACH_NONE)
    trammel_json_writer_string (writer, "approach", trammel_approach_key (reading->approach));
  if (reading->run > 0)
    trammel_json_writer_integer (writer, "run", reading->run);
  if (reading->set)
    trammel_json_writer_string (writer, "set", reading->set);
  if (reading->note)
    trammel_json_writer_string (writer, "note", reading->note);
  write_typed (writer, reading);
  trammel_json_writer_members (writer, reading->extra);
  trammel_json_writer_close (writer, '}');
}

void
trammel_codec_write_readings (TrammelJsonWriter *writer, const char *name, const TrammelReadings *readings,
                              const TrammelReadingUnits *units)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);

  trammel_json_writer_open (writer, name, '[', FALSE);
  for (gsize i = 0; i < n; i++)
    write_reading (writer, &rows[i], units);
  trammel_json_writer_close (writer, ']');
}
