/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/load.h"
#include "machine/codec.h"

#include <check.h>
#include <math.h>
#include <string.h>
#include <time.h>

#define HEAD "{\"format\":\"trammel-machine\",\"version\":1,"
#define STEPPER "\"motor\":{\"type\":\"stepper\",\"full_steps\":200,\"microsteps\":16}"
#define X "\"letter\":\"X\",\"kind\":\"linear\"," STEPPER

static TrammelMachine *
read_text (const char *text)
{
  g_autoptr (GError) error = NULL;
  TrammelMachine *machine = trammel_codec_read (text, strlen (text), &error);
  ck_assert_msg (machine != NULL, "%s", error ? error->message : "");
  return machine;
}

static const TrammelRecord *
output_of (const TrammelMachine *machine)
{
  return trammel_train_output (trammel_axis_train (trammel_machine_axis (machine, 0)));
}

/* The exact value in the base unit, num/den, of the pitch that the file gives. */
static const struct
{
  const char *pitch;
  gint64 num, den;
} pitches[] = {
  { "2.1", 21, 10 },
  { "\"2.1 mm\"", 21, 10 },
  { "0.1", 1, 10 },
  { "1.27", 127, 100 },
  { "\"20 tpi\"", 127, 100 },
  { "\"1/4 in\"", 127, 20 },
  { "2e-3", 1, 500 },
  { "3.175", 127, 40 },
  { "0.30000000000000004", 7500000000000001, 25000000000000000 },
  { "\"5 2/11 mm\"", 57, 11 },
  { "\"12,5 mm\"", 25, 2 },
  { "5", 5, 1 },
};

START_TEST (plain_numbers_are_exact)
{
  g_autofree char *text
      = g_strdup_printf (HEAD "\"axes\":[{" X ",\"output\":{\"type\":\"screw\",\"pitch\":%s}}]}", pitches[_i].pitch);
  g_autoptr (TrammelMachine) machine = read_text (text);
  TrammelExact pitch;
  ck_assert (trammel_record_exact (output_of (machine), "pitch", &pitch, NULL));
  ck_assert_int_eq (pitch.num, pitches[_i].num);
  ck_assert_int_eq (pitch.den, pitches[_i].den);
  ck_assert_int_eq (pitch.pi, 0);
}
END_TEST

START_TEST (a_new_machine_round_trips)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  gsize length;
  g_autofree char *text = trammel_codec_write (machine, &length);
  ck_assert_uint_eq (length, strlen (text));
  ck_assert_int_eq (text[length - 1], '\n');
  g_autoptr (TrammelMachine) back = read_text (text);
  ck_assert (trammel_machine_equal (machine, back));
}
END_TEST

START_TEST (what_is_left_out_means_the_usual)
{
  g_autoptr (TrammelMachine) machine = read_text (HEAD "\"axes\":[{" X ",\"output\":{\"type\":\"screw\",\"pitch\":2}},"
                                                       "{\"letter\":\"Y\",\"kind\":\"linear\"," STEPPER
                                                       ",\"output\":{\"type\":\"rack\",\"teeth\":15,\"pitch\":3}}]}");
  ck_assert_int_eq (trammel_record_integer (output_of (machine), "starts"), 1);
  ck_assert_int_eq (trammel_record_integer (output_of (machine), "count"), 1);
  ck_assert_str_eq (trammel_record_choice (output_of (machine), "hand"), "right");
  ck_assert_uint_eq (trammel_train_n_stages (trammel_axis_train (trammel_machine_axis (machine, 0))), 0);
  ck_assert (!trammel_train_reverse (trammel_axis_train (trammel_machine_axis (machine, 0))));
  /* A rack with a pitch has no module, whatever a new one starts with. */
  const TrammelRecord *rack = trammel_train_output (trammel_axis_train (trammel_machine_axis (machine, 1)));
  ck_assert (!trammel_record_has (rack, "module"));
  ck_assert (trammel_axis_check (trammel_machine_axis (machine, 1), NULL));
  ck_assert_str_eq (trammel_unit_symbol (trammel_machine_display_unit (machine)), "mm");
  ck_assert_double_eq (trammel_record_value (trammel_machine_piece (machine), "size"), 100);
}
END_TEST

START_TEST (what_was_cleared_stays_cleared)
{
  g_autoptr (TrammelMachine) machine
      = read_text (HEAD "\"axes\":[{" X ",\"output\":{\"type\":\"screw\",\"pitch\":2,\"starts\":4}}]}");
  g_autoptr (TrammelRecord) cleared = trammel_record_with_text (output_of (machine), "pitch", "", NULL, NULL);
  g_autoptr (TrammelRecord) no_hand = trammel_record_with_text (cleared, "hand", NULL, NULL, NULL);
  g_autoptr (TrammelTrain) train
      = trammel_train_with_output (trammel_axis_train (trammel_machine_axis (machine, 0)), no_hand);
  g_autoptr (TrammelMachine) edited = trammel_machine_with_train (machine, 0, train);
  g_autofree char *text = trammel_codec_write (edited, NULL);
  g_autoptr (TrammelMachine) back = read_text (text);
  ck_assert (trammel_machine_equal (edited, back));
  ck_assert (!trammel_record_has (output_of (back), "pitch"));
  ck_assert (!trammel_record_has (output_of (back), "hand"));
}
END_TEST

START_TEST (a_train_that_does_not_work_is_loaded_and_told_later)
{
  g_autoptr (TrammelMachine) machine
      = read_text (HEAD "\"axes\":[{" X
                        ",\"stages\":[{\"type\":\"planetary\",\"sun\":20,\"ring\":80,\"held\":\"sun\",\"in\":\"sun\","
                        "\"out\":\"carrier\"}],\"output\":{\"type\":\"screw\",\"pitch\":2}}]}");
  g_autoptr (GError) error = NULL;
  ck_assert (!trammel_axis_check (trammel_machine_axis (machine, 0), &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE));
  ck_assert (g_str_has_prefix (error->message, "stages[0]."));
}
END_TEST

START_TEST (members_that_nobody_knows_are_kept_everywhere)
{
  static const char *const members[] = {
    "\"on_top\": 1",      "\"on_axis\": [1,2]",          "\"on_motor\": \"a\"",   "\"on_stage\": null",
    "\"on_output\": {}",  "\"in_force\": 2.50",          "\"on_instrument\": -0", "\"on_stated\": 1e5",
    "\"on_piece\": true", "\"on_reading\": \"\\u00b5\"", "\"on_log\": false",     "\"on_change\": \"c\"",
    "\"on_used\": 0.10",  "\"on_aside\": [{}]",
  };
  g_autofree char *text = g_strdup_printf (
      HEAD "%s,\"axes\":[{" X
           ",%s,\"output\":{\"type\":\"screw\",\"pitch\":2,%s},\"stages\":[{\"type\":\"coupling\",%s}],"
           "\"counts_per_unit\":{\"value\":80,%s}},"
           "{\"letter\":\"Y\",\"kind\":\"linear\",\"motor\":{\"type\":\"encoder\",\"counts\":5,%s},\"output\":"
           "{\"type\":\"belt\",\"teeth\":20,\"pitch\":2}}],"
           "\"instruments\":[{\"name\":\"rule\",\"u\":1,%s}],\"stated\":{\"bead\":{\"value\":0,\"u\":1,%s}},"
           "\"piece\":{\"type\":\"square\",%s},\"readings\":[{\"kind\":\"outside\",%s}],"
           "\"log\":[{\"time\":\"2026-11-25T09:36:00Z\",%s,\"changes\":[{\"letter\":\"X\",%s}],"
           "\"readings\":[{\"kind\":\"inside\",%s}],\"set_aside\":[{\"kind\":\"inside\",%s}]}]}",
      members[0], members[1], members[4], members[3], members[5], members[2], members[6], members[7], members[8],
      members[9], members[10], members[11], members[12], members[13]);
  g_autoptr (TrammelMachine) machine = read_text (text);
  g_autofree char *written = trammel_codec_write (machine, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (members); i++)
    ck_assert_msg (strstr (written, members[i]) != NULL, "%s is lost in\n%s", members[i], written);
  g_autoptr (TrammelMachine) back = read_text (written);
  g_autofree char *again = trammel_codec_write (back, NULL);
  ck_assert (trammel_machine_equal (machine, back));
  ck_assert_str_eq (written, again);
}
END_TEST

START_TEST (a_load_and_torque_at_speed)
{
  g_autoptr (TrammelMachine) machine = read_text (
      HEAD "\"axes\":[{\"letter\":\"Z\",\"kind\":\"linear\",\"motor\":{\"type\":\"stepper\",\"full_steps\":200,"
           "\"microsteps\":16,\"torque_points\":[[0,\"40 N·cm\"],[\"600 rpm\",0.2]]},"
           "\"output\":{\"type\":\"screw\",\"pitch\":2},\"load\":{\"mass\":\"250 g\",\"slope\":90,\"on_load\":[1]}}]}");
  const TrammelAxis *axis = trammel_machine_axis (machine, 0);
  const TrammelRecord *load = trammel_axis_load (axis);
  gsize n;
  const TrammelPair *pairs
      = trammel_record_pairs (trammel_train_motor (trammel_axis_train (axis)), "torque_points", &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_double_eq_tol (trammel_quantity_value (pairs[0].second), 0.4, 1e-15);
  ck_assert_double_eq_tol (trammel_quantity_value (pairs[1].first), 62.83185307179586, 1e-12);
  ck_assert_double_eq (trammel_record_value (load, "mass"), 0.25);
  ck_assert_double_eq_tol (trammel_record_value (load, "slope"), 1.5707963267948966, 1e-15);
  ck_assert (!trammel_record_has (load, "drag"));

  g_autofree char *text = trammel_codec_write (machine, NULL);
  ck_assert_msg (
      strstr (text, "\"torque_points\": [ [ \"0 rad/s\", \"40 N·cm\" ], [ \"600 rpm\", \"0.2 N·m\" ] ]") != NULL
          || strstr (text, "\"torque_points\": [[\"0 rad/s\", \"40 N·cm\"], [\"600 rpm\", \"0.2 N·m\"]]") != NULL,
      "%s", text);
  ck_assert_ptr_nonnull (strstr (text, "\"on_load\": [1]"));
  g_autoptr (TrammelMachine) back = read_text (text);
  ck_assert (trammel_machine_equal (machine, back));
}
END_TEST

/* One alone is written as one, as files had it before there could be more. */
static const struct
{
  const char *center, *text, *written;
} centers[] = {
  { "\"28.5 mm\"", "28.5 mm", "\"center\": \"28.5 mm\"" },
  { "28.5", "28.5 mm", "\"center\": \"28.5 mm\"" },
  { "[\"36 mm\"]", "36 mm", "\"center\": \"36 mm\"" },
  { "[\"36 mm\", 60]", "36 mm; 60 mm", "\"center\": [ \"36 mm\", \"60 mm\" ]" },
  { "[]", NULL, NULL },
  { "null", NULL, NULL },
};

START_TEST (center_distances_of_one_mesh_and_of_several)
{
  g_autofree char *text
      = g_strdup_printf (HEAD "\"axes\":[{" X ",\"stages\":[{\"type\":\"spur\",\"driver\":12,\"driven\":36,"
                              "\"idlers\":[20],\"center\":%s}],\"output\":{\"type\":\"screw\",\"pitch\":2}}]}",
                         centers[_i].center);
  g_autoptr (TrammelMachine) machine = read_text (text);
  const TrammelTrain *train = trammel_axis_train (trammel_machine_axis (machine, 0));
  g_autofree char *read = trammel_record_text (trammel_train_stage (train, 0), "center");
  g_autofree char *written = trammel_codec_write (machine, NULL);
  ck_assert_pstr_eq (read, centers[_i].text);
  if (centers[_i].written != NULL)
    ck_assert_msg (strstr (written, centers[_i].written) != NULL, "%s", written);
  else
    ck_assert_ptr_null (strstr (written, "\"center\""));
  g_autoptr (TrammelMachine) back = read_text (written);
  ck_assert (trammel_machine_equal (machine, back));
}
END_TEST

START_TEST (a_load_follows_its_axis)
{
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('Z', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelRecord) load = trammel_record_new (trammel_load_kind (FALSE));
  g_autoptr (TrammelAxis) loaded = trammel_axis_with_load (axis, load);
  ck_assert_ptr_null (trammel_axis_load (axis));
  ck_assert (!trammel_axis_equal (axis, loaded));
  g_autoptr (TrammelAxis) feed = trammel_axis_with_kind (loaded, TRAMMEL_AXIS_FEED);
  ck_assert_ptr_eq (trammel_axis_load (feed), load);
  g_autoptr (TrammelAxis) rotary = trammel_axis_with_kind (loaded, TRAMMEL_AXIS_ROTARY);
  ck_assert_ptr_null (trammel_axis_load (rotary));
  g_autoptr (TrammelAxis) bare = trammel_axis_with_load (loaded, NULL);
  ck_assert (trammel_axis_equal (axis, bare));
}
END_TEST

START_TEST (unknown_members_survive_edits)
{
  g_autoptr (TrammelMachine) machine = read_text (
      HEAD "\"axes\":[],\"instruments\":[{\"name\":\"a\",\"u\":1,\"x\":1},{\"name\":\"b\",\"u\":1,\"y\":2}],"
           "\"stated\":{\"bead\":{\"value\":0,\"u\":1,\"z\":3}},\"w\":4}");
  TrammelInstrument renamed[] = { { g_ref_string_new ("a"), 2 }, { g_ref_string_new ("c"), 1 } };
  g_autoptr (TrammelMachine) instruments = trammel_machine_with_instruments (machine, renamed, 2);
  g_autoptr (TrammelMachine) stated
      = trammel_machine_with_stated (instruments, "bead", &(TrammelStated){ NULL, 0.5, 0.5 });
  g_autofree char *text = trammel_codec_write (stated, NULL);
  ck_assert_ptr_nonnull (strstr (text, "{ \"name\": \"a\", \"u\": \"2 mm\", \"x\": 1 }"));
  ck_assert_ptr_nonnull (strstr (text, "{ \"name\": \"c\", \"u\": \"1 mm\", \"y\": 2 }"));
  ck_assert_ptr_nonnull (strstr (text, "\"bead\": { \"value\": \"0.5 mm\", \"u\": \"0.5 mm\", \"z\": 3 }"));
  ck_assert_ptr_nonnull (strstr (text, "\"w\": 4"));
  g_ref_string_release (renamed[0].name);
  g_ref_string_release (renamed[1].name);
}
END_TEST

static const TrammelReading *
only_reading (const TrammelMachine *machine)
{
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (machine)), 1);
  return trammel_readings_get (trammel_machine_readings (machine), 0);
}

START_TEST (a_reading_of_every_member)
{
  g_autoptr (TrammelMachine) machine
      = read_text (HEAD "\"axes\":[],\"readings\":[{\"kind\":\"travel\",\"along\":\"X\",\"nominal\":\"5 in\","
                        "\"measured\":\"126,9 mm\",\"u\":0.01,\"instrument\":\"dial\",\"approach\":\"reversed\","
                        "\"run\":3,\"set\":\"noon\",\"note\":\"cold\"}]}");
  const TrammelReading *reading = only_reading (machine);
  ck_assert_int_eq (reading->kind, TRAMMEL_READING_TRAVEL);
  ck_assert (reading->has_along && trammel_direction_is_single (&reading->along));
  ck_assert_double_eq (reading->nominal, 127); /* the international inch: 25.4 mm exactly */
  ck_assert_double_eq (reading->measured, 126.9);
  ck_assert_double_eq (reading->u, 0.01);
  ck_assert_str_eq (reading->instrument, "dial");
  ck_assert_int_eq (reading->approach, TRAMMEL_APPROACH_REVERSED);
  ck_assert_int_eq (reading->run, 3);
  ck_assert_str_eq (reading->set, "noon");
  ck_assert_str_eq (reading->note, "cold");
}
END_TEST

START_TEST (a_home_with_and_without_a_place_wanted)
{
  g_autoptr (TrammelMachine) machine = read_text (
      HEAD "\"readings\":[{\"kind\":\"home\",\"along\":\"X\",\"measured\":\"-12 µm\",\"u\":0.001,"
           "\"instrument\":\"dial\",\"approach\":\"-\",\"run\":2,\"set\":\"two-speed\",\"note\":\"warm\"},"
           "{\"kind\":\"home\",\"along\":\"A\",\"nominal\":\"-5 deg\",\"measured\":null}],"
           "\"axes\":[{\"letter\":\"A\",\"kind\":\"rotary\"," STEPPER ",\"output\":{\"type\":\"table\"}}]}");
  const TrammelReading *first = trammel_readings_get (trammel_machine_readings (machine), 0);
  ck_assert_int_eq (first->kind, TRAMMEL_READING_HOME);
  ck_assert (isnan (first->nominal));
  ck_assert_double_eq_tol (first->measured, -0.012, 1e-15);
  ck_assert_double_eq (trammel_readings_get (trammel_machine_readings (machine), 1)->nominal, -5);
  g_autofree char *text = trammel_codec_write (machine, NULL);
  ck_assert_ptr_nonnull (strstr (text, "{ \"kind\": \"home\", \"along\": \"X\", \"measured\": \"-0.012 mm\""));
  ck_assert_ptr_nonnull (strstr (text, "\"nominal\": \"-5 deg\", \"measured\": null"));
  g_autoptr (TrammelMachine) back = read_text (text);
  ck_assert (trammel_machine_equal (machine, back));
}
END_TEST

static const TrammelLogChange *
only_change (const TrammelMachine *machine)
{
  ck_assert_uint_eq (trammel_machine_n_log (machine), 1);
  ck_assert_uint_eq (trammel_machine_log (machine, 0)->n_changes, 1);
  return &trammel_machine_log (machine, 0)->changes[0];
}

#define CHANGE(members)                                                                                                \
  HEAD "\"axes\":[],\"log\":[{\"time\":\"2026-11-25T09:36:00Z\",\"changes\":[{\"letter\":\"X\"" members "}]}]}"

START_TEST (what_a_change_found_besides)
{
  g_autoptr (TrammelMachine) machine
      = read_text (CHANGE (",\"after\":80.3,\"nominal\":80,\"lash\":{\"value\":-0.04,\"u\":0.01,\"of\":\"nut\"},"
                           "\"home\":{\"s\":0.004,\"n\":12,\"dof\":10,\"switch\":[1]}"));
  const TrammelLogChange *change = only_change (machine);
  ck_assert_double_eq (change->nominal, 80);
  ck_assert (change->has_lash && change->has_home);
  ck_assert_double_eq (change->lash.value, -0.04);
  ck_assert_double_eq (change->lash.u, 0.01);
  ck_assert_double_eq (change->home.s, 0.004);
  ck_assert_int_eq (change->home.n, 12);
  ck_assert_int_eq (change->home.dof, 10);

  g_autofree char *text = trammel_codec_write (machine, NULL);
  ck_assert_ptr_nonnull (strstr (text, "\"lash\": { \"value\": -0.04, \"u\": 0.01, \"of\": \"nut\" }"));
  g_autoptr (TrammelMachine) back = read_text (text);
  ck_assert (trammel_machine_equal (machine, back));

  g_autoptr (TrammelMachine) same_way = read_text (CHANGE (",\"lash\":null,\"home\":{\"s\":0.004,\"n\":12}"));
  ck_assert_int_eq (only_change (same_way)->home.dof, 11);
  ck_assert (!only_change (same_way)->has_lash);

  g_autoptr (TrammelMachine) bare = read_text (CHANGE (""));
  ck_assert (!only_change (bare)->has_lash && !only_change (bare)->has_home);
  g_autofree char *plain = trammel_codec_write (bare, NULL);
  ck_assert (!strstr (plain, "lash") && !strstr (plain, "home") && !strstr (plain, "nominal"));
}
END_TEST

/* Each differs from the first in one member. */
static const char *const changes_apart[] = {
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":2},\"home\":{\"s\":3,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":81,\"lash\":{\"value\":1,\"u\":2},\"home\":{\"s\":3,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"home\":{\"s\":3,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":9,\"u\":2},\"home\":{\"s\":3,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":9},\"home\":{\"s\":3,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":2,\"x\":1},\"home\":{\"s\":3,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":2}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":2},\"home\":{\"s\":9,\"n\":9,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":2},\"home\":{\"s\":3,\"n\":8,\"dof\":5}"),
  CHANGE (",\"nominal\":80,\"lash\":{\"value\":1,\"u\":2},\"home\":{\"s\":3,\"n\":9,\"dof\":6}"),
};

START_TEST (changes_that_differ_are_not_equal)
{
  g_autoptr (TrammelMachine) first = read_text (changes_apart[0]);
  g_autoptr (TrammelMachine) other = read_text (changes_apart[_i]);
  ck_assert_int_eq (trammel_machine_equal (first, other), _i == 0);
}
END_TEST

START_TEST (lengths_along_a_rotary_axis_are_degrees)
{
  g_autoptr (TrammelMachine) machine = read_text (
      HEAD "\"readings\":[{\"kind\":\"position\",\"along\":\"A\",\"nominal\":\"45.1 deg\",\"measured\":90},"
           "{\"kind\":\"position\",\"along\":\"A\",\"nominal\":\"1/4 turn\"}],"
           "\"axes\":[{\"letter\":\"A\",\"kind\":\"rotary\"," STEPPER ",\"output\":{\"type\":\"table\"}}]}");
  const TrammelReadings *readings = trammel_machine_readings (machine);
  ck_assert_double_eq (trammel_readings_get (readings, 0)->nominal, 45.1);
  ck_assert_double_eq (trammel_readings_get (readings, 0)->measured, 90);
  ck_assert_double_eq_tol (trammel_readings_get (readings, 1)->nominal, 90, 1e-12);
  g_autofree char *text = trammel_codec_write (machine, NULL);
  ck_assert_ptr_nonnull (strstr (text, "\"nominal\": \"45.1 deg\", \"measured\": \"90 deg\""));
}
END_TEST

START_TEST (cells_that_cannot_be_read_are_kept)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  TrammelReading reading;
  trammel_reading_init (&reading);
  trammel_reading_set_text (&reading, TRAMMEL_COLUMN_ALONG, "X", 1, NULL);
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_MEASURED, " 99,7x \n\t\\n", 1, NULL));
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_KIND, "overside", 1, NULL));
  GArray *rows = trammel_reading_array_new (1);
  g_array_append_val (rows, reading);
  g_autoptr (TrammelReadings) readings = trammel_readings_take (rows);
  g_autoptr (TrammelMachine) with_reading = trammel_machine_with_readings (machine, readings);
  g_autofree char *text = trammel_codec_write (with_reading, NULL);
  g_autoptr (TrammelMachine) back = read_text (text);
  ck_assert (trammel_machine_equal (with_reading, back));
  g_autofree char *cell = trammel_reading_faulty (only_reading (back), TRAMMEL_COLUMN_MEASURED);
  ck_assert_str_eq (cell, " 99,7x \n\t\\n");
}
END_TEST

START_TEST (stated_values_in_their_units)
{
  g_autoptr (TrammelMachine) machine
      = read_text (HEAD "\"axes\":[],\"stated\":{\"bead\":{\"value\":\"0.1 mm\",\"u\":0.2},"
                        "\"shrink\":{\"value\":\"0.3 %\",\"u\":0.001},\"skew.XY\":{\"value\":0.01,\"u\":\"1 deg\"}}}");
  gsize n;
  const TrammelStated *stated = trammel_machine_stated (machine, &n);
  ck_assert_uint_eq (n, 3);
  ck_assert_double_eq (stated[0].value, 0.1);
  ck_assert_double_eq (stated[0].u, 0.2);
  ck_assert_double_eq_tol (stated[1].value, 0.003, 1e-18);
  ck_assert_double_eq (stated[2].value, 0.01); /* plain: rad */
  ck_assert_double_eq_tol (stated[2].u, G_PI / 180, 1e-18);
  g_autofree char *text = trammel_codec_write (machine, NULL);
  ck_assert_ptr_nonnull (strstr (text, "\"skew.XY\": { \"value\": 0.01, \"u\": \"1 deg\" }"));
}
END_TEST

START_TEST (a_hundred_thousand_readings_in_well_under_a_second)
{
  GString *text = g_string_new (HEAD "\"axes\":[],\"readings\":[");
  for (int i = 0; i < 100000; i++)
    g_string_append_printf (
        text, "%s{\"kind\":\"position\",\"along\":\"X\",\"nominal\":\"%d mm\",\"measured\":\"%d.%02d mm\"}",
        i > 0 ? "," : "", i % 300, i % 300, i % 100);
  g_string_append (text, "]}");
  /* Time of this thread alone, so that a busy computer does not fail it; sanitizers slow it down several times. */
  clock_t start = clock ();
  g_autoptr (TrammelMachine) machine = trammel_codec_read (text->str, text->len, NULL);
  double seconds = (double)(clock () - start) / CLOCKS_PER_SEC;
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (machine)), 100000);
  ck_assert_double_eq_tol (trammel_readings_get (trammel_machine_readings (machine), 12345)->measured, 45.45, 1e-12);
  ck_assert_double_lt (seconds, 5);
  g_string_free (text, TRUE);
}
END_TEST

/* What is refused where the text must be made on the spot for its size. */
START_TEST (two_hundred_megabytes_of_brackets)
{
  const gsize length = 200 * 1000 * 1000;
  g_autofree char *text = g_malloc (length);
  for (const char *bracket = "[{"; *bracket != '\0'; bracket++)
    {
      g_autoptr (GError) error = NULL;
      memset (text, *bracket, length);
      ck_assert_ptr_null (trammel_codec_read (text, length, &error));
      ck_assert_ptr_nonnull (error);
      ck_assert (g_str_has_prefix (error->message, "line 1, column "));
    }
}
END_TEST

START_TEST (more_readings_than_fit)
{
  static const char row[] = "{\"kind\":\"outside\"},";
  GString *text = g_string_sized_new (TRAMMEL_MAX_READINGS * sizeof row);
  g_string_append (text, HEAD "\"axes\":[],\"readings\":[");
  for (int i = 0; i <= TRAMMEL_MAX_READINGS; i++)
    g_string_append_len (text, row, sizeof row - 1);
  g_string_truncate (text, text->len - 1);
  g_string_append (text, "]}");
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_codec_read (text->str, text->len, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
  ck_assert (g_str_has_prefix (error->message, "readings: "));
  g_string_free (text, TRUE);
}
END_TEST

/* Any bytes at all: refused or read, and what is read comes back. The bytes are made from a good file by small
 * damage, always the same. */
START_TEST (damaged_files_do_no_harm)
{
  g_autofree char *path = g_build_filename (g_getenv ("TRAMMEL_DATA"), "heron.trammel", NULL);
  g_autofree char *good = NULL;
  gsize length;
  g_autoptr (GRand) random = g_rand_new_with_seed (20261125);
  int n_read = 0;
  ck_assert (g_file_get_contents (path, &good, &length, NULL));
  for (int i = 0; i < 3000; i++)
    {
      g_autofree char *damaged = g_memdup2 (good, length);
      g_autoptr (GError) error = NULL;
      gsize cut = g_rand_int_range (random, 0, 10) == 0 ? (gsize)g_rand_int_range (random, 0, (int)length) : length;
      for (int k = g_rand_int_range (random, 0, 3); k >= 0; k--)
        damaged[g_rand_int_range (random, 0, (int)length)]
            = "0123456789-.eE+\",:{}[]nt \\u"[g_rand_int_range (random, 0, 26)];
      g_autoptr (TrammelMachine) machine = trammel_codec_read (damaged, cut, &error);
      ck_assert ((machine == NULL) == (error != NULL));
      if (machine == NULL)
        continue;
      gsize written;
      g_autofree char *text = trammel_codec_write (machine, &written);
      g_autoptr (TrammelMachine) back = trammel_codec_read (text, written, NULL);
      ck_assert (back != NULL && trammel_machine_equal (machine, back));
      n_read++;
    }
  ck_assert_int_gt (n_read, 100);
}
END_TEST

/* From square to ladder and back over a file: what both have stays, and neither loses its own. */
START_TEST (a_piece_keeps_what_only_the_other_kind_knows)
{
  static const char text[] = "{\"format\":\"trammel-machine\",\"version\":1,\"axes\":[],\"piece\":{\"type\":\"square\","
                             "\"size\":\"80 mm\",\"bead_width\":\"0.4 mm\",\"feed_letter\":\"A\",\"mine\":1}}";
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_codec_read (text, sizeof text - 1, &error);
  ck_assert_msg (machine != NULL, "%s", error ? error->message : "");

  g_autoptr (TrammelRecord) fresh
      = trammel_piece_of_kind (trammel_machine_piece (machine), trammel_piece_kind ("ladder"));
  ck_assert_double_eq (trammel_record_value (fresh, "bead_width"), 0.4);
  ck_assert_str_eq (trammel_record_string (fresh, "feed_letter"), "A");
  ck_assert_int_eq (trammel_record_integer (fresh, "lines"), 21);
  g_autoptr (TrammelRecord) ladder = trammel_record_with_text (fresh, "spacing", "3 mm", NULL, NULL);
  g_autoptr (TrammelMachine) changed = trammel_machine_with_piece (machine, ladder);

  gsize length;
  g_autofree char *written = trammel_codec_write (changed, &length);
  g_autoptr (TrammelMachine) back = trammel_codec_read (written, length, &error);
  ck_assert_msg (back != NULL, "%s", error ? error->message : "");
  ck_assert (trammel_record_equal (trammel_machine_piece (back), ladder));
  g_autoptr (TrammelRecord) square
      = trammel_piece_of_kind (trammel_machine_piece (back), trammel_piece_kind ("square"));
  ck_assert_double_eq (trammel_record_value (square, "size"), 80);
  ck_assert_double_eq (trammel_record_value (square, "bead_width"), 0.4);
  g_autoptr (TrammelRecord) again = trammel_piece_of_kind (square, trammel_piece_kind ("ladder"));
  ck_assert_double_eq (trammel_record_value (again, "spacing"), 3);
  ck_assert_ptr_nonnull (strstr (trammel_record_extra (again), "\"mine\":1"));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("codec");
  TCase *reading = tcase_create ("reading"), *large = tcase_create ("large");
  tcase_add_loop_test (reading, plain_numbers_are_exact, 0, G_N_ELEMENTS (pitches));
  tcase_add_test (reading, a_new_machine_round_trips);
  tcase_add_test (reading, what_is_left_out_means_the_usual);
  tcase_add_test (reading, what_was_cleared_stays_cleared);
  tcase_add_test (reading, a_train_that_does_not_work_is_loaded_and_told_later);
  tcase_add_test (reading, members_that_nobody_knows_are_kept_everywhere);
  tcase_add_test (reading, unknown_members_survive_edits);
  tcase_add_test (reading, a_load_and_torque_at_speed);
  tcase_add_loop_test (reading, center_distances_of_one_mesh_and_of_several, 0, G_N_ELEMENTS (centers));
  tcase_add_test (reading, a_load_follows_its_axis);
  tcase_add_test (reading, a_reading_of_every_member);
  tcase_add_test (reading, a_home_with_and_without_a_place_wanted);
  tcase_add_test (reading, what_a_change_found_besides);
  tcase_add_loop_test (reading, changes_that_differ_are_not_equal, 0, G_N_ELEMENTS (changes_apart));
  tcase_add_test (reading, lengths_along_a_rotary_axis_are_degrees);
  tcase_add_test (reading, cells_that_cannot_be_read_are_kept);
  tcase_add_test (reading, stated_values_in_their_units);
  tcase_add_test (reading, a_piece_keeps_what_only_the_other_kind_knows);
  tcase_set_timeout (large, 100);
  tcase_add_test (large, a_hundred_thousand_readings_in_well_under_a_second);
  tcase_add_test (large, two_hundred_megabytes_of_brackets);
  tcase_add_test (large, more_readings_than_fit);
  tcase_add_test (large, damaged_files_do_no_harm);
  suite_add_tcase (suite, reading);
  suite_add_tcase (suite, large);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
