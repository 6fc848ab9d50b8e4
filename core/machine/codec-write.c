/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <string.h>

#include "base/number.h"
#include "machine/codec-instrument-private.h"
#include "machine/codec-private.h"
#include "machine/machine-private.h"

/* Longer numbers of degrees were not typed by anyone. */
#define LONGEST_DEGREES 10

static void
write_length (TrammelJsonWriter *writer, const char *name, double value)
{
  g_autofree char *number = trammel_number_to_text (value);
  g_autofree char *text = g_strconcat (number, " mm", NULL);

  trammel_json_writer_string (writer, name, text);
}

/* In degrees where that is how it was typed, as a number of radians otherwise. */
static void
write_angle (TrammelJsonWriter *writer, const char *name, const char *parameter, double radians)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_autofree char *text = NULL;
  double back;

  g_ascii_formatd (number, sizeof number, "%.9g", radians * 180 / G_PI);
  text = g_strconcat (number, " deg", NULL);
  if (radians != 0 && strlen (number) <= LONGEST_DEGREES && trammel_stated_parse_amount (parameter, text, &back, NULL)
      && back == radians)
    trammel_json_writer_string (writer, name, text);
  else
    trammel_json_writer_number (writer, name, radians);
}

static void
write_amount (TrammelJsonWriter *writer, const char *name, const char *parameter, double value)
{
  TrammelParameterKind kind = TRAMMEL_PARAMETER_SHRINK;
  char axes[2];
  const char *set;

  trammel_parameter_parse (parameter, &kind, axes, &set, NULL);
  if (kind == TRAMMEL_PARAMETER_SKEW)
    write_angle (writer, name, parameter, value);
  else if (kind == TRAMMEL_PARAMETER_BEAD || kind == TRAMMEL_PARAMETER_FOOT)
    write_length (writer, name, value);
  else /* a fraction, or lash, whose unit is that of its axis */
    trammel_json_writer_number (writer, name, value);
}

static void
write_stated (TrammelJsonWriter *writer, const TrammelMachine *machine)
{
  trammel_json_writer_open (writer, "stated", '{', FALSE);
  for (guint i = 0; i < machine->stated->len; i++)
    {
      const TrammelStated *stated = &g_array_index (machine->stated, TrammelStated, i);

      trammel_json_writer_open (writer, stated->name, '{', TRUE);
      write_amount (writer, "value", stated->name, stated->value);
      write_amount (writer, "u", stated->name, stated->u);
      trammel_json_writer_members (writer, trammel_machine_stated_extra (machine, stated->name));
      trammel_json_writer_close (writer, '}');
    }
  trammel_json_writer_close (writer, '}');
}

static void
write_axes (TrammelJsonWriter *writer, const TrammelMachine *machine)
{
  trammel_json_writer_open (writer, "axes", '[', FALSE);
  for (guint i = 0; i < machine->axes->len; i++)
    trammel_codec_write_axis (writer, g_ptr_array_index (machine->axes, i));
  trammel_json_writer_close (writer, ']');
}

static void
write_log (TrammelJsonWriter *writer, const TrammelMachine *machine, const TrammelReadingUnits *units)
{
  trammel_json_writer_open (writer, "log", '[', FALSE);
  for (guint i = 0; i < machine->log->len; i++)
    trammel_codec_write_log_entry (writer, g_ptr_array_index (machine->log, i), units);
  trammel_json_writer_close (writer, ']');
}

/* Most machines stand on none. */
static void
write_plate (TrammelJsonWriter *writer, const TrammelRecord *plate)
{
  g_autoptr (TrammelRecord) none = trammel_record_new (trammel_plate_kind ());

  if (!trammel_record_equal (plate, none))
    trammel_codec_write_record (writer, "grid", plate, TRUE);
}

char *
trammel_codec_write (const TrammelMachine *machine, gsize *length)
{
  TrammelJsonWriter writer;
  TrammelReadingUnits units;

  g_return_val_if_fail (machine != NULL, NULL);

  trammel_codec_reading_units (machine->axes, &units);
  trammel_json_writer_init (&writer);
  trammel_json_writer_open (&writer, NULL, '{', FALSE);
  trammel_json_writer_string (&writer, "format", "trammel-machine");
  trammel_json_writer_integer (&writer, "version", TRAMMEL_MACHINE_VERSION);
  trammel_json_writer_string (&writer, "name", machine->name);
  trammel_json_writer_string (&writer, "note", machine->note);
  trammel_json_writer_string (&writer, "display_unit", trammel_unit_symbol (machine->display_unit));
  write_axes (&writer, machine);
  trammel_codec_write_instruments (&writer, machine);
  trammel_codec_write_part (&writer, machine);
  write_stated (&writer, machine);
  trammel_codec_write_record (&writer, "piece", machine->piece, FALSE);
  write_plate (&writer, machine->plate);
  trammel_codec_write_readings (&writer, "readings", machine->readings, &units);
  write_log (&writer, machine, &units);
  trammel_json_writer_members (&writer, machine->extra);
  trammel_json_writer_close (&writer, '}');
  return trammel_json_writer_finish (&writer, length);
}
