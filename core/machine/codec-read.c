/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "machine/codec-instrument-private.h"
#include "machine/codec-private.h"
#include "machine/encoding.h"
#include "machine/machine-private.h"

#define FORMAT "trammel-machine"

static gboolean
check_format (TrammelJsonObject *members, GError **error)
{
  TrammelPlace place = { NULL, "format", 0 };
  const char *wanted = "\"" FORMAT "\"";
  g_autofree char *format = NULL;
  TrammelJson value;

  if (!trammel_json_object_take (members, "format", &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (!trammel_codec_read_text (&place, value, wanted, &format, error))
    return FALSE;
  return g_str_equal (format, FORMAT) || trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
}

static gboolean
check_version (TrammelJsonObject *members, GError **error)
{
  TrammelPlace place = { NULL, "version", 0 };
  g_autofree char *wanted = g_strdup_printf (_ ("version %d"), TRAMMEL_MACHINE_VERSION);
  TrammelJson value;
  double version;

  if (!trammel_json_object_take (members, "version", &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (!trammel_codec_read_number (&place, value, 1, G_MAXINT, wanted, &version, error))
    return FALSE;
  if (version == TRAMMEL_MACHINE_VERSION)
    return TRUE;
  if (version != floor (version))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_VERSION,
               _ ("version: found version %.0f, made by a newer Trammel; this one reads up to version %d"), version,
               TRAMMEL_MACHINE_VERSION);
  return FALSE;
}

static gboolean
read_optional_text (TrammelJsonObject *members, const char *name, char **out, GError **error)
{
  TrammelPlace place = { NULL, name, 0 };
  char *text;
  TrammelJson value;

  if (!trammel_json_object_take (members, name, &value))
    return TRUE;
  if (!trammel_codec_read_text (&place, value, _ ("text"), &text, error))
    return FALSE;
  g_free (*out);
  *out = text;
  return TRUE;
}

static gboolean
read_display_unit (TrammelJsonObject *members, const TrammelUnit **out, GError **error)
{
  TrammelPlace place = { NULL, "display_unit", 0 };
  const char *wanted = _ ("“mm” or “in”");
  g_autofree char *symbol = NULL;
  TrammelJson value;

  if (!trammel_json_object_take (members, "display_unit", &value))
    return TRUE;
  if (!trammel_codec_read_text (&place, value, wanted, &symbol, error))
    return FALSE;
  if (!g_str_equal (symbol, "mm") && !g_str_equal (symbol, "in"))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  *out = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol);
  return TRUE;
}

static gboolean
add_axis (const TrammelPlace *place, TrammelMachine *machine, TrammelJson value, GError **error)
{
  TrammelPlace letter_place = { place, "letter", 0 };
  g_autoptr (TrammelAxis) axis = trammel_codec_read_axis (place, value, error);
  int other;

  if (!axis)
    return FALSE;
  other = trammel_machine_axis_index (machine, trammel_axis_letter (axis));
  if (other >= 0)
    {
      GError *why = g_error_new (TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT,
                                 _ ("found “%c”, which axes[%d] has; a letter of its own is wanted"),
                                 trammel_axis_letter (axis), other);

      return trammel_codec_refuse_because (&letter_place, why, error);
    }
  g_ptr_array_add (machine->axes, g_steal_pointer (&axis));
  return TRUE;
}

static gboolean
read_axes (TrammelMachine *machine, TrammelJsonObject *members, GError **error)
{
  TrammelPlace list = { NULL, "axes", 0 };
  TrammelPlace place = { &list, NULL, 0 };
  TrammelJsonElements elements;
  TrammelJson value;

  if (!trammel_json_object_take (members, "axes", &value))
    return trammel_codec_refuse (&list, NULL, TRAMMEL_ERROR_FORMAT, _ ("a list of axes"), error);
  if (!trammel_codec_open_array (&list, value, _ ("a list of axes"), &elements, error))
    return FALSE;
  for (; trammel_json_next (&elements, &value); place.index++)
    if (!add_axis (&place, machine, value, error))
      return FALSE;
  return TRUE;
}

/* One of the two numbers of a stated value, in the parameter's unit. */
static gboolean
read_amount (const TrammelPlace *stated, TrammelJsonObject *members, const char *parameter, const char *member,
             double *out, GError **error)
{
  TrammelPlace place = { stated, member, 0 };
  const char *wanted = _ ("a number, or text with number and unit,");
  g_autofree char *text = NULL;
  GError *why = NULL;
  TrammelJson value;

  if (!trammel_json_object_take (members, member, &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING) && !trammel_json_is (value, TRAMMEL_JSON_NUMBER))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  text = trammel_json_scalar (value);
  return trammel_stated_parse_amount (parameter, text, out, &why) || trammel_codec_refuse_because (&place, why, error);
}

static gboolean
add_stated (TrammelMachine *machine, const char *name, TrammelJson value, GError **error)
{
  TrammelPlace all = { NULL, "stated", 0 };
  TrammelPlace place = { &all, name, 0 }, u_place = { &place, "u", 0 };
  g_auto (TrammelJsonObject) members = { 0 };
  TrammelStated stated;
  GError *why = NULL;
  TrammelJson u;
  char *extra;

  if (!trammel_stated_parse_amount (name, "0", &stated.value, &why))
    return trammel_codec_refuse_because (&place, why, error);
  if (!trammel_codec_open_object (&place, value, _ ("an object with value and u"), &members, error)
      || !read_amount (&place, &members, name, "value", &stated.value, error)
      || !read_amount (&place, &members, name, "u", &stated.u, error))
    return FALSE;
  if (!(stated.u >= 0) && trammel_json_object_take (&members, "u", &u))
    return trammel_codec_refuse (&u_place, &u, TRAMMEL_ERROR_RANGE, _ ("0 or more"), error);
  stated.name = g_ref_string_new (name);
  g_array_append_val (machine->stated, stated);
  extra = trammel_json_object_rest (&members);
  if (extra)
    g_hash_table_insert (machine->stated_extra, g_strdup (name), extra);
  return TRUE;
}

static gboolean
read_stated (TrammelMachine *machine, TrammelJsonObject *members, GError **error)
{
  TrammelPlace place = { NULL, "stated", 0 };
  g_auto (TrammelJsonObject) stated = { 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, "stated", &value))
    return TRUE;
  if (!trammel_codec_open_object (&place, value, _ ("an object with one member per stated value"), &stated, error))
    return FALSE;
  for (gsize i = 0; i < stated.n; i++)
    {
      g_autofree char *name = g_strndup (stated.members[i].name, stated.members[i].name_length);

      if (!add_stated (machine, name, stated.members[i].value, error))
        return FALSE;
    }
  return TRUE;
}

/* @record, that of member @key, as the file has it; as it is where the file leaves it out. */
static gboolean
read_record (TrammelJsonObject *members, const char *key, const TrammelRecordKind *const *kinds, gsize n_kinds,
             TrammelRecord **record, GError **error)
{
  TrammelPlace place = { NULL, key, 0 };
  TrammelRecord *read;
  TrammelJson value;

  if (!trammel_json_object_take (members, key, &value))
    return TRUE;
  read = trammel_codec_read_record (&place, value, kinds, n_kinds, error);
  if (!read)
    return FALSE;
  trammel_record_unref (*record);
  *record = read;
  return TRUE;
}

static gboolean
read_piece_and_plate (TrammelMachine *machine, TrammelJsonObject *members, GError **error)
{
  const TrammelRecordKind *plate = trammel_plate_kind ();
  gsize n_pieces;
  const TrammelRecordKind *const *pieces = trammel_piece_kinds (&n_pieces);

  return read_record (members, "piece", pieces, n_pieces, &machine->piece, error)
         && read_record (members, "grid", &plate, 1, &machine->plate, error);
}

static gboolean
read_readings (TrammelMachine *machine, TrammelJsonObject *members, const TrammelReadingUnits *units, GError **error)
{
  TrammelPlace place = { NULL, "readings", 0 };
  TrammelReadings *readings;
  TrammelJson value;

  if (!trammel_json_object_take (members, "readings", &value))
    return TRUE;
  readings = trammel_codec_read_readings (&place, value, units, error);
  if (!readings)
    return FALSE;
  trammel_readings_unref (machine->readings);
  machine->readings = readings;
  return TRUE;
}

static gboolean
read_log (TrammelMachine *machine, TrammelJsonObject *members, const TrammelReadingUnits *units, GError **error)
{
  TrammelPlace list = { NULL, "log", 0 };
  TrammelPlace place = { &list, NULL, 0 };
  TrammelJsonElements elements;
  TrammelJson value;

  if (!trammel_json_object_take (members, "log", &value))
    return TRUE;
  if (!trammel_codec_open_array (&list, value, _ ("a list of log entries"), &elements, error))
    return FALSE;
  for (; trammel_json_next (&elements, &value); place.index++)
    {
      TrammelLogEntry *entry = trammel_codec_read_log_entry (&place, value, units, error);

      if (!entry)
        return FALSE;
      g_ptr_array_add (machine->log, entry);
    }
  return TRUE;
}

static gboolean
read_members (TrammelMachine *machine, TrammelJsonObject *members, GError **error)
{
  TrammelReadingUnits units;

  if (!check_format (members, error) || !check_version (members, error)
      || !read_optional_text (members, "name", &machine->name, error)
      || !read_optional_text (members, "note", &machine->note, error)
      || !read_display_unit (members, &machine->display_unit, error) || !read_axes (machine, members, error)
      || !trammel_codec_read_instruments (machine, members, error) || !trammel_codec_read_part (machine, members, error)
      || !read_stated (machine, members, error) || !read_piece_and_plate (machine, members, error))
    return FALSE;
  trammel_codec_reading_units (machine->axes, &units);
  if (!read_readings (machine, members, &units, error) || !read_log (machine, members, &units, error))
    return FALSE;
  machine->extra = trammel_json_object_rest (members);
  return TRUE;
}

TrammelMachine *
trammel_codec_read (const char *data, gsize length, GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  g_autoptr (TrammelMachine) machine = NULL;
  TrammelJson whole;

  g_return_val_if_fail (data != NULL || length == 0, NULL);

  if (length == 0)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("found an empty file; a machine is wanted"));
      return NULL;
    }
  if (!trammel_encoding_check (&data, &length, error) || !trammel_json_check (data, length, &whole, error)
      || !trammel_codec_open_object (NULL, whole, _ ("an object with a machine"), &members, error))
    return NULL;
  machine = trammel_machine_new ();
  return read_members (machine, &members, error) ? g_steal_pointer (&machine) : NULL;
}
