/* SPDX-License-Identifier: GPL-3.0-or-later */
/* write-samples FOLDER: machine files of every kind of part with every member, for the test of the schema, and the
 * tables that they come from as FOLDER/kinds.json. */
#include "drive/load.h"
#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "machine/codec.h"
#include "machine/json-writer.h"

#include <stdio.h>
#include <string.h>

static const char *
sample_text (const TrammelField *field)
{
  static const char *const quantities[] = {
    [TRAMMEL_DIMENSION_NUMBER] = "0.5",
    [TRAMMEL_DIMENSION_LENGTH] = "1.2 mm",
    [TRAMMEL_DIMENSION_PITCH] = "20 tpi",
    [TRAMMEL_DIMENSION_MODULE] = "24 DP",
    [TRAMMEL_DIMENSION_ANGLE] = "15 deg",
    [TRAMMEL_DIMENSION_MASS] = "2 kg",
    [TRAMMEL_DIMENSION_FORCE] = "3 N",
    [TRAMMEL_DIMENSION_TORQUE] = "0.4 N·m",
    [TRAMMEL_DIMENSION_INERTIA] = "54 g cm²",
    [TRAMMEL_DIMENSION_SPEED] = "30 mm/s",
    [TRAMMEL_DIMENSION_ROTATION] = "170 rpm",
    [TRAMMEL_DIMENSION_TIME] = "3 s",
    [TRAMMEL_DIMENSION_RATE] = "100 kHz",
    [TRAMMEL_DIMENSION_LASH] = "0.05 mm",
    [TRAMMEL_DIMENSION_ACCELERATION] = "1500 mm/s²",
    [TRAMMEL_DIMENSION_ANGULAR_ACCELERATION] = "720 deg/s²",
    [TRAMMEL_DIMENSION_DENSITY] = "7.85 g/cm³",
    [TRAMMEL_DIMENSION_STRESS] = "206 GPa",
  };
  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
      return "2";
    case TRAMMEL_FIELD_INTEGERS:
      return "12, 20";
    case TRAMMEL_FIELD_EXACT:
      return field->high == 1 ? "97 %" : "57/11";
    case TRAMMEL_FIELD_QUANTITY:
      return quantities[field->dimension];
    case TRAMMEL_FIELD_CHOICE:
      return field->choices[0];
    case TRAMMEL_FIELD_FLAG:
      return "yes";
    case TRAMMEL_FIELD_QUANTITIES:
      return "36 mm; 1.5 in";
    case TRAMMEL_FIELD_PAIRS:
      return "0 rpm 0.4 N·m; 600 rpm 0.2 N·m";
    case TRAMMEL_FIELD_TEXT:
    default:
      return "E";
    }
}

/* A record with every field set, or with none. */
static TrammelRecord *
sample (const TrammelRecordKind *kind, gboolean full)
{
  TrammelRecord *record = trammel_record_new (kind);
  for (gsize i = 0; i < kind->n_fields; i++)
    {
      const char *text = full ? sample_text (&kind->fields[i]) : NULL;
      TrammelRecord *changed = trammel_record_with_text (record, kind->fields[i].key, text, NULL, NULL);
      if (changed == NULL) /* out of the bounds of this field: it keeps what it starts with */
        continue;
      trammel_record_unref (record);
      record = changed;
    }
  return record;
}

static TrammelMachine *
with_part (const TrammelMachine *machine, const TrammelRecordKind *kind, const char *role, gboolean full)
{
  g_autoptr (TrammelRecord) part = sample (kind, full);
  const gboolean rotary = kind == trammel_load_kind (TRUE);
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', rotary ? TRAMMEL_AXIS_ROTARY : TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelTrain) train = NULL;
  g_autoptr (TrammelAxis) with_train = NULL;
  if (strcmp (role, "piece") == 0)
    return trammel_machine_with_piece (machine, part);
  if (strcmp (role, "grid") == 0)
    return trammel_machine_with_plate (machine, part);
  if (strcmp (role, "load") == 0)
    {
      with_train = trammel_axis_with_load (axis, part);
      return trammel_machine_with_axis_inserted (machine, 0, with_train, NULL);
    }
  if (strcmp (role, "motor") == 0)
    train = trammel_train_with_motor (trammel_axis_train (axis), part);
  else if (strcmp (role, "output") == 0)
    train = trammel_train_with_output (trammel_axis_train (axis), part);
  else
    train = trammel_train_with_stage_inserted (trammel_axis_train (axis), 0, part, NULL);
  with_train = trammel_axis_with_train (axis, train);
  return trammel_machine_with_axis_inserted (machine, 0, with_train, NULL);
}

static gboolean
write_sample (const char *folder, const TrammelRecordKind *kind, const char *role, gboolean full)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelMachine) machine = with_part (empty, kind, role, full);
  g_autofree char *name = g_strdup_printf ("%s-%s-%s.trammel", role, kind->type, full ? "full" : "cleared");
  g_autofree char *path = g_build_filename (folder, name, NULL);
  gsize length;
  g_autofree char *text = trammel_codec_write (machine, &length);
  return g_file_set_contents (path, text, (gssize)length, NULL);
}

static gboolean
write_kinds (TrammelJsonWriter *tables, const char *folder, const char *role, const TrammelRecordKind *const *kinds,
             gsize n)
{
  trammel_json_writer_open (tables, role, '{', FALSE);
  for (gsize i = 0; i < n; i++)
    {
      trammel_json_writer_open (tables, kinds[i]->type, '[', TRUE);
      for (gsize k = 0; k < kinds[i]->n_fields; k++)
        trammel_json_writer_string (tables, NULL, kinds[i]->fields[k].key);
      trammel_json_writer_close (tables, ']');
      if (!write_sample (folder, kinds[i], role, TRUE) || !write_sample (folder, kinds[i], role, FALSE))
        return FALSE;
    }
  trammel_json_writer_close (tables, '}');
  return TRUE;
}

int
main (int argc, char **argv)
{
  TrammelJsonWriter tables;
  gsize n_motors, n_stages, n_outputs, n_pieces;
  const TrammelRecordKind *const *motors = trammel_motor_kinds (&n_motors);
  const TrammelRecordKind *const *stages = trammel_stage_kinds (&n_stages);
  const TrammelRecordKind *const *outputs = trammel_output_kinds (&n_outputs);
  const TrammelRecordKind *const *pieces = trammel_piece_kinds (&n_pieces);
  const TrammelRecordKind *plate = trammel_plate_kind ();
  const TrammelRecordKind *const loads[] = { trammel_load_kind (FALSE), trammel_load_kind (TRUE) };
  if (argc != 2)
    return 2;

  trammel_json_writer_init (&tables);
  trammel_json_writer_open (&tables, NULL, '{', FALSE);
  gboolean done = write_kinds (&tables, argv[1], "motor", motors, n_motors)
                  && write_kinds (&tables, argv[1], "stage", stages, n_stages)
                  && write_kinds (&tables, argv[1], "output", outputs, n_outputs)
                  && write_kinds (&tables, argv[1], "load", loads, G_N_ELEMENTS (loads))
                  && write_kinds (&tables, argv[1], "piece", pieces, n_pieces)
                  && write_kinds (&tables, argv[1], "grid", &plate, 1);
  trammel_json_writer_close (&tables, '}');
  g_autofree char *text = trammel_json_writer_finish (&tables, NULL);
  g_autofree char *path = g_build_filename (argv[1], "kinds.json", NULL);
  return done && g_file_set_contents (path, text, -1, NULL) ? 0 : 1;
}
