/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "drive/load.h"
#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "machine/axis-private.h"

static const TrammelAxisKind axis_kinds[] = { TRAMMEL_AXIS_LINEAR, TRAMMEL_AXIS_ROTARY, TRAMMEL_AXIS_FEED };

static gboolean
take (const TrammelPlace *axis, TrammelJsonObject *members, const char *name, const char *wanted, TrammelJson *out,
      GError **error)
{
  TrammelPlace place = { axis, name, 0 };

  return trammel_json_object_take (members, name, out)
         || trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
}

static gboolean
read_letter (const TrammelPlace *axis, TrammelJsonObject *members, char *out, GError **error)
{
  TrammelPlace place = { axis, "letter", 0 };
  const char *wanted = _ ("a letter from A to Z");
  g_autofree char *text = NULL;
  TrammelJson value;

  if (!take (axis, members, "letter", wanted, &value, error)
      || !trammel_codec_read_text (&place, value, wanted, &text, error))
    return FALSE;
  if (!g_ascii_isupper (text[0]) || text[1] != '\0')
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  *out = text[0];
  return TRUE;
}

static gboolean
read_kind (const TrammelPlace *axis, TrammelJsonObject *members, TrammelAxisKind *out, GError **error)
{
  TrammelPlace place = { axis, "kind", 0 };
  const char *wanted = _ ("linear, rotary or feed");
  g_autofree char *text = NULL;
  TrammelJson value;

  if (!take (axis, members, "kind", wanted, &value, error)
      || !trammel_codec_read_text (&place, value, wanted, &text, error))
    return FALSE;
  for (gsize i = 0; i < G_N_ELEMENTS (axis_kinds); i++)
    if (g_str_equal (text, trammel_axis_kind_key (axis_kinds[i])))
      {
        *out = axis_kinds[i];
        return TRUE;
      }
  return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
}

/* Takes @axis over; so do the others like it. */
static TrammelAxis *
with_travel (const TrammelPlace *up, TrammelJsonObject *members, TrammelAxis *axis, GError **error)
{
  TrammelPlace place = { up, "travel", 0 };
  g_autoptr (TrammelAxis) before = axis;
  g_autofree char *text = NULL;
  TrammelAxis *changed;
  GError *why = NULL;
  TrammelJson value;

  if (!trammel_json_object_take (members, "travel", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return g_steal_pointer (&before);
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING) && !trammel_json_is (value, TRAMMEL_JSON_NUMBER))
    {
      trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, _ ("a length such as “180 mm”"), error);
      return NULL;
    }
  text = trammel_json_scalar (value);
  changed = trammel_axis_with_travel (before, text, NULL, &why);
  if (!changed)
    trammel_codec_refuse_because (&place, why, error);
  return changed;
}

static gboolean
read_in_force_members (const TrammelPlace *place, TrammelJsonObject *members, double *in_force, double *u,
                       GError **error)
{
  TrammelPlace value_place = { place, "value", 0 }, u_place = { place, "u", 0 };
  TrammelJson value;

  if (!take (place, members, "value", _ ("a number above 0"), &value, error)
      || !trammel_codec_read_number (&value_place, value, G_MINDOUBLE, G_MAXDOUBLE, _ ("a number above 0"), in_force,
                                     error))
    return FALSE;
  *u = 0;
  return !trammel_json_object_take (members, "u", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL)
         || trammel_codec_read_number (&u_place, value, 0, G_MAXDOUBLE, _ ("a number of 0 or more"), u, error);
}

static TrammelAxis *
with_in_force (const TrammelPlace *up, TrammelJsonObject *members, TrammelAxis *axis, GError **error)
{
  TrammelPlace place = { up, "counts_per_unit", 0 };
  g_autoptr (TrammelAxis) before = axis;
  g_autoptr (TrammelAxis) changed = NULL;
  g_auto (TrammelJsonObject) in_force = { 0 };
  g_autofree char *extra = NULL;
  TrammelJson value;
  double counts, u;

  if (!trammel_json_object_take (members, "counts_per_unit", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return g_steal_pointer (&before);
  if (!trammel_codec_open_object (&place, value, _ ("null, or an object with value and u"), &in_force, error)
      || !read_in_force_members (&place, &in_force, &counts, &u, error))
    return NULL;
  changed = trammel_axis_with_in_force (before, counts, u);
  extra = trammel_json_object_rest (&in_force);
  return extra ? trammel_axis_with_in_force_extra (changed, extra) : g_steal_pointer (&changed);
}

static TrammelAxis *
with_load (const TrammelPlace *up, TrammelJsonObject *members, TrammelAxis *axis, GError **error)
{
  TrammelPlace place = { up, "load", 0 };
  g_autoptr (TrammelAxis) before = axis;
  g_autoptr (TrammelRecord) load = NULL;
  TrammelJson value;

  if (!trammel_json_object_take (members, "load", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return g_steal_pointer (&before);
  load = trammel_codec_read_record_of (&place, value,
                                       trammel_load_kind (trammel_axis_kind (before) == TRAMMEL_AXIS_ROTARY), error);
  return load ? trammel_axis_with_load (before, load) : NULL;
}

static gboolean
read_reverse (const TrammelPlace *axis, TrammelJsonObject *members, gboolean *out, GError **error)
{
  TrammelPlace place = { axis, "reverse", 0 };
  TrammelJson value;

  *out = FALSE;
  if (!trammel_json_object_take (members, "reverse", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return TRUE;
  if (!trammel_json_is (value, TRAMMEL_JSON_BOOLEAN))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, _ ("true or false"), error);
  *out = trammel_json_is_true (value);
  return TRUE;
}

static TrammelRecord *
read_part (const TrammelPlace *axis, TrammelJsonObject *members, const char *name,
           const TrammelRecordKind *const *kinds, gsize n_kinds, GError **error)
{
  TrammelPlace place = { axis, name, 0 };
  TrammelJson value;

  if (!take (axis, members, name, _ ("an object with a type"), &value, error))
    return NULL;
  return trammel_codec_read_record (&place, value, kinds, n_kinds, error);
}

/* Takes @train over. */
static TrammelTrain *
with_stages (const TrammelPlace *axis, TrammelJsonObject *members, TrammelTrain *train, GError **error)
{
  g_autoptr (TrammelTrain) grown = train;
  TrammelPlace list = { axis, "stages", 0 };
  TrammelPlace place = { &list, NULL, 0 };
  TrammelJsonElements elements;
  TrammelJson value;
  gsize n_kinds;
  const TrammelRecordKind *const *kinds = trammel_stage_kinds (&n_kinds);

  if (!trammel_json_object_take (members, "stages", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return g_steal_pointer (&grown);
  if (!trammel_codec_open_array (&list, value, _ ("a list of stages"), &elements, error))
    return NULL;
  for (; trammel_json_next (&elements, &value); place.index++)
    {
      g_autoptr (TrammelRecord) stage = trammel_codec_read_record (&place, value, kinds, n_kinds, error);
      TrammelTrain *longer;
      GError *why = NULL;

      if (!stage)
        return NULL;
      longer = trammel_train_with_stage_inserted (grown, place.index, stage, &why);
      if (!longer)
        {
          trammel_codec_refuse_because (&list, why, error);
          return NULL;
        }
      trammel_train_unref (grown);
      grown = longer;
    }
  return g_steal_pointer (&grown);
}

static TrammelTrain *
read_train (const TrammelPlace *axis, TrammelJsonObject *members, GError **error)
{
  g_autoptr (TrammelRecord) motor = NULL;
  g_autoptr (TrammelRecord) output = NULL;
  gsize n_motors, n_outputs;
  const TrammelRecordKind *const *motors = trammel_motor_kinds (&n_motors);
  const TrammelRecordKind *const *outputs = trammel_output_kinds (&n_outputs);
  gboolean reverse;

  if (!read_reverse (axis, members, &reverse, error))
    return NULL;
  motor = read_part (axis, members, "motor", motors, n_motors, error);
  if (!motor)
    return NULL;
  output = read_part (axis, members, "output", outputs, n_outputs, error);
  if (!output)
    return NULL;
  return with_stages (axis, members, trammel_train_new (motor, output, reverse), error);
}

TrammelAxis *
trammel_codec_read_axis (const TrammelPlace *place, TrammelJson value, GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  g_autoptr (TrammelTrain) train = NULL;
  g_autoptr (TrammelAxis) plain = NULL;
  g_autofree char *extra = NULL;
  TrammelAxisKind kind = TRAMMEL_AXIS_LINEAR;
  TrammelAxis *axis;
  char letter = 'X';

  if (!trammel_codec_open_object (place, value, _ ("an object with letter, kind, motor, stages and output"), &members,
                                  error)
      || !read_letter (place, &members, &letter, error) || !read_kind (place, &members, &kind, error))
    return NULL;
  train = read_train (place, &members, error);
  if (!train)
    return NULL;
  plain = trammel_axis_new (letter, kind);
  axis = trammel_axis_with_train (plain, train);
  axis = with_travel (place, &members, axis, error);
  axis = axis ? with_in_force (place, &members, axis, error) : NULL;
  axis = axis ? with_load (place, &members, axis, error) : NULL;
  extra = axis ? trammel_json_object_rest (&members) : NULL;
  if (extra)
    {
      g_autoptr (TrammelAxis) known = axis;

      axis = trammel_axis_with_extra (known, extra);
    }
  return axis;
}

static void
write_in_force (TrammelJsonWriter *writer, const TrammelAxis *axis)
{
  double value, u;

  if (!trammel_axis_set_in_force (axis, &value, &u))
    {
      trammel_json_writer_null (writer, "counts_per_unit");
      return;
    }
  trammel_json_writer_open (writer, "counts_per_unit", '{', TRUE);
  trammel_json_writer_number (writer, "value", value);
  trammel_json_writer_number (writer, "u", u);
  trammel_json_writer_members (writer, trammel_axis_in_force_extra (axis));
  trammel_json_writer_close (writer, '}');
}

void
trammel_codec_write_axis (TrammelJsonWriter *writer, const TrammelAxis *axis)
{
  const TrammelTrain *train = trammel_axis_train (axis);
  char letter[] = { trammel_axis_letter (axis), '\0' };
  TrammelQuantity travel;

  trammel_json_writer_open (writer, NULL, '{', FALSE);
  trammel_json_writer_string (writer, "letter", letter);
  trammel_json_writer_string (writer, "kind", trammel_axis_kind_key (trammel_axis_kind (axis)));
  if (trammel_axis_travel (axis, &travel))
    {
      g_autofree char *text = trammel_quantity_to_text (travel);

      trammel_json_writer_string (writer, "travel", text);
    }
  if (trammel_train_reverse (train))
    trammel_json_writer_flag (writer, "reverse", TRUE);
  trammel_codec_write_record (writer, "motor", trammel_train_motor (train), TRUE);
  trammel_json_writer_open (writer, "stages", '[', FALSE);
  for (gsize i = 0; i < trammel_train_n_stages (train); i++)
    trammel_codec_write_record (writer, NULL, trammel_train_stage (train, i), TRUE);
  trammel_json_writer_close (writer, ']');
  trammel_codec_write_record (writer, "output", trammel_train_output (train), TRUE);
  if (trammel_axis_load (axis))
    trammel_codec_write_record (writer, "load", trammel_axis_load (axis), TRUE);
  write_in_force (writer, axis);
  trammel_json_writer_members (writer, trammel_axis_extra (axis));
  trammel_json_writer_close (writer, '}');
}
