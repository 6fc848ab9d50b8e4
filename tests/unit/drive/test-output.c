/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/motor.h"
#include "drive/output.h"

#include <check.h>
#include <string.h>

/* A record from "key=value;key=value". */
static TrammelRecord *
make_record (const TrammelRecordKind *kind, const char *settings)
{
  ck_assert_ptr_nonnull (kind);
  g_autoptr (TrammelRecord) record = trammel_record_new (kind);
  g_auto (GStrv) parts = g_strsplit (settings, ";", -1);
  for (gsize i = 0; parts[i] != NULL && parts[i][0] != '\0'; i++)
    {
      g_auto (GStrv) sides = g_strsplit (parts[i], "=", 2);
      g_autoptr (GError) error = NULL;
      TrammelRecord *next = trammel_record_with_text (record, sides[0], sides[1], NULL, &error);
      ck_assert_msg (next != NULL, "%s: %s", parts[i], error != NULL ? error->message : "");
      trammel_record_unref (record);
      record = next;
    }
  return g_steal_pointer (&record);
}

/* Travel per turn by hand, in mm. Pitches: ISO 261 coarse M8 1.25, ISO 2904 Tr 8 × 1.5, 1/4-20 UNC 25.4/20, ISO 5296
 * MXL 2.032, XL 5.08, L 9.525 (all from memory); the belt of 2 mm pitch is common practice, no source. */
static const struct
{
  const char *type, *settings;
  gint64 num, den;
  int pi;
} travels[] = {
  { "screw", "pitch=2 mm;starts=4", 8, 1, 0 },
  { "screw", "pitch=2 mm;starts=4;hand=left", -8, 1, 0 },
  { "screw", "pitch=2 mm;starts=4;turning=nut;count=2", 8, 1, 0 },
  { "screw", "pitch=1.25 mm;starts=1", 5, 4, 0 },
  { "screw", "pitch=1.5 mm;starts=1", 3, 2, 0 },
  { "screw", "pitch=20 tpi;starts=1", 127, 100, 0 },
  { "screw", "pitch=4 mm;starts=2", 8, 1, 0 }, /* power screw: lead 8 mm (Shigley, chapter 8; from memory) */
  { "rack", "teeth=15;module=1 mm", 15, 1, 1 },
  { "rack", "teeth=20;module=24 DP", 127, 6, 1 },
  { "rack", "teeth=15;module=;pitch=3 mm", 45, 1, 0 },
  { "worm-rack", "starts=2;module=1.5 mm", 3, 1, 1 },
  { "worm-rack", "starts=1;module=;pitch=1/8 in", 127, 40, 0 },
  { "belt", "teeth=20;pitch=2 mm", 40, 1, 0 },
  { "belt", "teeth=20;pitch=2 mm;fall=2", 20, 1, 0 },
  { "belt", "teeth=15;pitch=5.08 mm;fall=2", 381, 10, 0 },
  { "belt", "teeth=18;pitch=2.032 mm", 4572, 125, 0 },
  { "belt", "teeth=10;pitch=9.525 mm", 381, 4, 0 },
  { "roller", "diameter=8 mm", 8, 1, 1 },
  { "roller", "diameter=1/2 in", 127, 10, 1 },
  { "table", "", 360, 1, 0 },
};

START_TEST (travel_by_hand)
{
  g_autoptr (TrammelRecord) output = make_record (trammel_output_kind (travels[_i].type), travels[_i].settings);
  g_autoptr (GError) error = NULL;
  TrammelExact travel;
  ck_assert_msg (trammel_output_travel_per_turn (output, &travel, &error), "%s %s", travels[_i].type,
                 travels[_i].settings);
  ck_assert_int_eq (travel.num, travels[_i].num);
  ck_assert_int_eq (travel.den, travels[_i].den);
  ck_assert_int_eq (travel.pi, travels[_i].pi);
  ck_assert_int_eq (trammel_output_is_rotary (output), g_str_equal (travels[_i].type, "table"));
}
END_TEST

static const struct
{
  const char *type, *settings;
  int code;
  const char *start;
} impossible[] = {
  { "rack", "pitch=3 mm", TRAMMEL_ERROR_IMPOSSIBLE, "pitch: " },
  { "rack", "module=", TRAMMEL_ERROR_IMPOSSIBLE, "module: not set" },
  { "worm-rack", "module=", TRAMMEL_ERROR_IMPOSSIBLE, "module: not set" },
  { "screw", "pitch=", TRAMMEL_ERROR_RANGE, "pitch: not set" },
  { "belt", "teeth=", TRAMMEL_ERROR_RANGE, "teeth: not set" },
  { "roller", "diameter=", TRAMMEL_ERROR_RANGE, "diameter: not set" },
};

START_TEST (impossible_outputs)
{
  g_autoptr (TrammelRecord) output = make_record (trammel_output_kind (impossible[_i].type), impossible[_i].settings);
  g_autoptr (GError) error = NULL;
  TrammelExact travel;
  ck_assert (!trammel_output_travel_per_turn (output, &travel, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, impossible[_i].code), "%s", error->message);
  ck_assert_msg (g_str_has_prefix (error->message, impossible[_i].start), "%s", error->message);
}
END_TEST

static const struct
{
  const char *type, *key, *text;
} out_of_bounds[] = {
  { "screw", "pitch", "0" },       { "screw", "pitch", "-2 mm" }, { "screw", "pitch", "2 potatoes" },
  { "screw", "pitch", "0 tpi" },   { "screw", "starts", "0" },    { "screw", "hand", "up" },
  { "belt", "fall", "3" },         { "belt", "fall", "0" },       { "belt", "teeth", "0" },
  { "rack", "teeth", "0" },        { "rack", "module", "0" },     { "roller", "diameter", "0" },
  { "roller", "diameter", "nan" },
};

START_TEST (bounds)
{
  g_autoptr (TrammelRecord) output = trammel_record_new (trammel_output_kind (out_of_bounds[_i].type));
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_record_with_text (output, out_of_bounds[_i].key, out_of_bounds[_i].text, NULL, &error) == NULL,
                 "%s = %s", out_of_bounds[_i].key, out_of_bounds[_i].text);
  ck_assert_ptr_nonnull (error);
}
END_TEST

START_TEST (travel_that_does_not_fit)
{
  g_autoptr (TrammelRecord) output
      = make_record (trammel_output_kind ("belt"), "teeth=9999;pitch=8.999999999999999999 mm");
  g_autoptr (GError) error = NULL;
  TrammelExact travel;
  ck_assert (!trammel_output_travel_per_turn (output, &travel, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_OVERFLOW));
}
END_TEST

START_TEST (every_output_starts_as_one_that_works)
{
  static const char *const types[] = { "screw", "rack", "worm-rack", "belt", "roller", "table" };
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_output_kinds (&n);
  ck_assert_uint_eq (n, G_N_ELEMENTS (types));
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TrammelRecord) output = trammel_record_new (kinds[i]);
      ck_assert_str_eq (kinds[i]->type, types[i]);
      ck_assert_ptr_eq (trammel_output_kind (types[i]), kinds[i]);
      ck_assert_msg (trammel_record_check (output, &error), "%s", types[i]);
    }
  ck_assert_ptr_null (trammel_output_kind ("spur"));
}
END_TEST

START_TEST (motors)
{
  g_autoptr (TrammelRecord) stepper = make_record (trammel_motor_kind ("stepper"), "full_steps=200;microsteps=16");
  g_autoptr (TrammelRecord) encoder = make_record (trammel_motor_kind ("encoder"), "counts=2797/5;count_name=tick");
  TrammelExact counts;
  gsize n;
  ck_assert (trammel_motor_counts_per_turn (stepper, &counts, NULL));
  ck_assert (trammel_exact_equal (counts, (TrammelExact){ 3200, 1, 0 }));
  ck_assert_int_eq (trammel_motor_counts_per_full_step (stepper), 16);
  ck_assert (trammel_motor_counts_per_turn (encoder, &counts, NULL));
  ck_assert (trammel_exact_equal (counts, (TrammelExact){ 2797, 5, 0 }));
  ck_assert_int_eq (trammel_motor_counts_per_full_step (encoder), 0);
  ck_assert_ptr_eq (trammel_motor_kinds (&n)[0], trammel_motor_kind ("stepper"));
  ck_assert_uint_eq (n, 2);
  ck_assert_ptr_null (trammel_motor_kind ("servo"));
}
END_TEST

static const struct
{
  const char *type, *key, *text;
} bad_motors[] = {
  { "stepper", "full_steps", "0" },     { "stepper", "full_steps", "100001" },  { "stepper", "microsteps", "65537" },
  { "stepper", "microsteps", "1.5" },   { "encoder", "counts", "0" },           { "encoder", "counts", "-1" },
  { "stepper", "max_speed", "0 rpm" },  { "stepper", "max_speed", "600 mm/s" }, { "stepper", "torque", "0" },
  { "stepper", "max_count_rate", "0" }, { "stepper", "rotor_inertia", "-1" },
};

START_TEST (bounds_of_motors)
{
  g_autoptr (TrammelRecord) motor = trammel_record_new (trammel_motor_kind (bad_motors[_i].type));
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_record_with_text (motor, bad_motors[_i].key, bad_motors[_i].text, NULL, &error) == NULL,
                 "%s = %s", bad_motors[_i].key, bad_motors[_i].text);
  ck_assert_ptr_nonnull (error);
}
END_TEST

START_TEST (a_motor_without_steps)
{
  g_autoptr (TrammelRecord) stepper = make_record (trammel_motor_kind ("stepper"), "full_steps=");
  g_autoptr (GError) error = NULL;
  TrammelExact counts;
  ck_assert (!trammel_motor_counts_per_turn (stepper, &counts, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("output");
  TCase *outputs = tcase_create ("outputs"), *motors_case = tcase_create ("motors");
  tcase_add_loop_test (outputs, travel_by_hand, 0, G_N_ELEMENTS (travels));
  tcase_add_loop_test (outputs, impossible_outputs, 0, G_N_ELEMENTS (impossible));
  tcase_add_loop_test (outputs, bounds, 0, G_N_ELEMENTS (out_of_bounds));
  tcase_add_test (outputs, travel_that_does_not_fit);
  tcase_add_test (outputs, every_output_starts_as_one_that_works);
  tcase_add_test (motors_case, motors);
  tcase_add_loop_test (motors_case, bounds_of_motors, 0, G_N_ELEMENTS (bad_motors));
  tcase_add_test (motors_case, a_motor_without_steps);
  suite_add_tcase (suite, outputs);
  suite_add_tcase (suite, motors_case);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
