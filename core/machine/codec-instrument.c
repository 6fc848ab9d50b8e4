/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What readings are taken with, and how warm the part was. */
#include "machine/codec-instrument-private.h"

#include <glib/gi18n-lib.h>

#include "base/error.h"
#include "base/number.h"

static gboolean
read_length (const TrammelPlace *place, TrammelJson value, gboolean above_0, double *out, GError **error)
{
  const char *wanted
      = above_0 ? _ ("a length above 0 such as “0.03 mm”") : _ ("a length of 0 or more such as “0.01 mm”");
  g_autofree char *text = NULL;
  GError *why = NULL;

  if (!trammel_json_is (value, TRAMMEL_JSON_STRING) && !trammel_json_is (value, TRAMMEL_JSON_NUMBER))
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  text = trammel_json_scalar (value);
  if (!trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, NULL, out, &why))
    return trammel_codec_refuse_because (place, why, error);
  if (above_0 ? *out > 0 : *out >= 0)
    return TRUE;
  return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_RANGE, wanted, error);
}

static gboolean
read_resolution (const TrammelPlace *up, TrammelJsonObject *members, double *out, GError **error)
{
  TrammelPlace place = { up, "resolution", 0 };
  TrammelJson value;

  return !trammel_json_object_take (members, "resolution", &value) || read_length (&place, value, FALSE, out, error);
}

static gboolean
read_scale_u (const TrammelPlace *up, TrammelJsonObject *members, double *out, GError **error)
{
  TrammelPlace place = { up, "scale_u", 0 };
  TrammelJson value;

  return !trammel_json_object_take (members, "scale_u", &value)
         || trammel_codec_read_number (&place, value, 0, TRAMMEL_MAX_SCALE_U,
                                       _ ("a fraction from 0 to 0.5 such as 0.0002"), out, error);
}

static gboolean
read_thermal (const TrammelPlace *up, TrammelJsonObject *members, TrammelThermal *out, GError **error)
{
  TrammelPlace expansion_place = { up, "expansion", 0 }, temperature_place = { up, "temperature", 0 };
  TrammelJson value;

  if (trammel_json_object_take (members, "expansion", &value)
      && !trammel_codec_read_number (&expansion_place, value, 0, TRAMMEL_MAX_EXPANSION,
                                     _ ("an expansion per °C from 0 to 0.001 such as 1.15e-5"), &out->expansion, error))
    return FALSE;
  if (!trammel_json_object_take (members, "temperature", &value))
    return TRUE;
  out->has_temperature = TRUE;
  return trammel_codec_read_number (&temperature_place, value, TRAMMEL_MIN_TEMPERATURE, TRAMMEL_MAX_TEMPERATURE,
                                    _ ("a temperature in °C from -100 to 500"), &out->temperature, error);
}

static gboolean
name_is_taken (const GArray *instruments, const char *name)
{
  for (guint i = 0; i < instruments->len; i++)
    if (g_str_equal (g_array_index (instruments, TrammelInstrument, i).name, name))
      return TRUE;
  return FALSE;
}

static gboolean
read_name (const TrammelPlace *up, const TrammelMachine *machine, TrammelJsonObject *members, char **out,
           GError **error)
{
  TrammelPlace place = { up, "name", 0 };
  const char *wanted = _ ("a name of its own");
  TrammelJson value;

  if (!trammel_json_object_take (members, "name", &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (!trammel_codec_read_text (&place, value, wanted, out, error))
    return FALSE;
  if (**out == '\0' || name_is_taken (machine->instruments, *out))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  return TRUE;
}

static gboolean
read_u (const TrammelPlace *up, TrammelJsonObject *members, double *out, GError **error)
{
  TrammelPlace place = { up, "u", 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, "u", &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, _ ("a length above 0 such as “0.03 mm”"), error);
  return read_length (&place, value, TRUE, out, error);
}

static gboolean
add_instrument (const TrammelPlace *place, TrammelMachine *machine, TrammelJson value, GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  g_autofree char *name = NULL;
  TrammelInstrument instrument = { 0 };
  char *extra;

  if (!trammel_codec_open_object (place, value, _ ("an object with name and u"), &members, error)
      || !read_name (place, machine, &members, &name, error) || !read_u (place, &members, &instrument.u, error)
      || !read_resolution (place, &members, &instrument.resolution, error)
      || !read_scale_u (place, &members, &instrument.scale_u, error)
      || !read_thermal (place, &members, &instrument.thermal, error))
    return FALSE;
  instrument.name = g_ref_string_new (name);
  g_array_append_val (machine->instruments, instrument);
  extra = trammel_json_object_rest (&members);
  if (extra)
    g_hash_table_insert (machine->instrument_extra, g_steal_pointer (&name), extra);
  return TRUE;
}

gboolean
trammel_codec_read_instruments (TrammelMachine *machine, TrammelJsonObject *members, GError **error)
{
  TrammelPlace list = { NULL, "instruments", 0 };
  TrammelPlace place = { &list, NULL, 0 };
  TrammelJsonElements elements;
  TrammelJson value;

  if (!trammel_json_object_take (members, "instruments", &value))
    return TRUE;
  if (!trammel_codec_open_array (&list, value, _ ("a list of instruments"), &elements, error))
    return FALSE;
  for (; trammel_json_next (&elements, &value); place.index++)
    {
      if (place.index == TRAMMEL_MAX_INSTRUMENTS)
        return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_TOO_LARGE, _ ("a shorter list"), error);
      if (!add_instrument (&place, machine, value, error))
        return FALSE;
    }
  return TRUE;
}

gboolean
trammel_codec_read_part (TrammelMachine *machine, TrammelJsonObject *members, GError **error)
{
  TrammelPlace place = { NULL, "part", 0 };
  g_auto (TrammelJsonObject) part = { 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, "part", &value))
    return TRUE;
  if (!trammel_codec_open_object (&place, value, _ ("an object with expansion and temperature"), &part, error)
      || !read_thermal (&place, &part, &machine->part, error))
    return FALSE;
  machine->part_extra = trammel_json_object_rest (&part);
  return TRUE;
}

static void
write_length (TrammelJsonWriter *writer, const char *name, double value)
{
  g_autofree char *number = trammel_number_to_text (value);
  g_autofree char *text = g_strconcat (number, " mm", NULL);

  trammel_json_writer_string (writer, name, text);
}

static void
write_thermal (TrammelJsonWriter *writer, const TrammelThermal *thermal)
{
  if (thermal->expansion != 0)
    trammel_json_writer_number (writer, "expansion", thermal->expansion);
  if (thermal->has_temperature)
    trammel_json_writer_number (writer, "temperature", thermal->temperature);
}

void
trammel_codec_write_instruments (TrammelJsonWriter *writer, const TrammelMachine *machine)
{
  trammel_json_writer_open (writer, "instruments", '[', FALSE);
  for (guint i = 0; i < machine->instruments->len; i++)
    {
      const TrammelInstrument *instrument = &g_array_index (machine->instruments, TrammelInstrument, i);

      trammel_json_writer_open (writer, NULL, '{', TRUE);
      trammel_json_writer_string (writer, "name", instrument->name);
      write_length (writer, "u", instrument->u);
      if (instrument->resolution != 0)
        write_length (writer, "resolution", instrument->resolution);
      if (instrument->scale_u != 0)
        trammel_json_writer_number (writer, "scale_u", instrument->scale_u);
      write_thermal (writer, &instrument->thermal);
      trammel_json_writer_members (writer, trammel_machine_instrument_extra (machine, instrument->name));
      trammel_json_writer_close (writer, '}');
    }
  trammel_json_writer_close (writer, ']');
}

void
trammel_codec_write_part (TrammelJsonWriter *writer, const TrammelMachine *machine)
{
  if (machine->part.expansion == 0 && !machine->part.has_temperature && !machine->part_extra)
    return;
  trammel_json_writer_open (writer, "part", '{', TRUE);
  write_thermal (writer, &machine->part);
  trammel_json_writer_members (writer, machine->part_extra);
  trammel_json_writer_close (writer, '}');
}
