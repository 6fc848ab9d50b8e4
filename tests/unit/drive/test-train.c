/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "parts.h"

#include <locale.h>
#include <math.h>
#include <string.h>

/* Counts per unit and direction. The first rows are everyday figures (common practice, no source); the others by hand:
 * counts per turn / (product of ratios · travel per turn). */
static const struct
{
  const char *motor, *stages, *output;
  gboolean reverse;
  const char *display; /* exact and 6 digits */
  int direction;
} trains[] = {
  { STEPPER, "", "belt teeth=20;pitch=2 mm", FALSE, "80", 1 },
  { STEPPER, "", "screw pitch=2 mm;starts=4", FALSE, "400", 1 },
  { STEPPER, "", "screw pitch=20 tpi;starts=1", FALSE, "320000/127 = 2519.69", 1 },
  { STEPPER, "", "screw pitch=3 mm;starts=3", FALSE, "3200/9 = 355.556", 1 },
  { "encoder counts=1250", "", "roller diameter=3 mm", FALSE, "1250/(3π) = 132.629", 1 },
  { STEPPER, "spur driver=12;driven=36", "screw pitch=2 mm;starts=4", FALSE, "1200", -1 },
  { STEPPER, "spur driver=12;driven=36", "screw pitch=2 mm;starts=4", TRUE, "1200", 1 },
  { STEPPER, "spur driver=12;driven=36;idlers=20", "screw pitch=2 mm;starts=4", FALSE, "1200", 1 },
  { STEPPER, "spur driver=12;driven=36", "screw pitch=2 mm;starts=4;hand=left", FALSE, "1200", 1 },
  { STEPPER, "belt driver=20;driven=60|spur driver=15;driven=45", "rack teeth=15;module=1 mm", FALSE,
    "1920/π = 611.155", -1 },
  { STEPPER, "planetary sun=20;ring=80", "belt teeth=20;pitch=2 mm;fall=2", FALSE, "800", 1 },
  { STEPPER, "gearbox ratio=57/11|coupling", "belt teeth=20;pitch=2 mm", FALSE, "4560/11 = 414.545", 1 },
  { STEPPER, "worm starts=1;wheel=90;hand=left", "table", FALSE, "800", -1 },
  { "encoder counts=360", "internal driver=15;driven=60|bevel driver=20;driven=40;reverse=yes",
    "worm-rack starts=2;module=;pitch=1/8 in", FALSE, "57600/127 = 453.543", -1 },
  /* Change gears 80/63 for 127/100: one turn of a 1.27 mm screw drives 1.6127 mm (common practice; by arithmetic). */
  { STEPPER, "spur driver=80;driven=63;idlers=40", "screw pitch=1.27 mm;starts=1", FALSE, "252000/127 = 1984.25", 1 },
  { "stepper full_steps=400;microsteps=256", "chain driver=12;driven=36;crossed=yes", "roller diameter=20 mm", TRUE,
    "15360/π = 4889.24", 1 },
};

START_TEST (counts_per_unit)
{
  g_autoptr (TrammelTrain) train
      = make_train (trains[_i].motor, trains[_i].stages, trains[_i].output, trains[_i].reverse);
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, &error);
  ck_assert_msg (facts != NULL, "%s", error != NULL ? error->message : "");
  g_autofree char *display = trammel_exact_to_display (facts->counts_per_unit, ".");
  ck_assert_str_eq (display, trains[_i].display);
  ck_assert_int_eq (facts->direction, trains[_i].direction);
  ck_assert (trammel_train_check (train, NULL));
}
END_TEST

START_TEST (facts_of_a_geared_screw)
{
  g_autoptr (TrammelTrain) train
      = make_train (STEPPER ";max_speed=600 rpm;max_count_rate=20 kHz",
                    "spur driver=12;driven=36|belt driver=20;driven=40", "screw pitch=2 mm;starts=4", FALSE);
  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, NULL);
  ck_assert (!facts->rotary);
  /* 1/3 · 1/2 · 8 mm = 4/3 mm per turn of the motor, to 3200 counts: 2400 per mm. */
  ck_assert (trammel_exact_equal (facts->counts_per_unit, trammel_exact_integer (2400)));
  ck_assert_double_eq_tol (facts->travel_per_motor_turn, 4.0 / 3.0, 1e-15);
  ck_assert_double_eq_tol (facts->travel_per_count, 1.0 / 2400.0, 1e-18);
  ck_assert_double_eq_tol (facts->travel_per_full_step, 1.0 / 150.0, 1e-17);
  ck_assert_int_eq (facts->direction, -1);

  ck_assert_uint_eq (facts->n_shafts, 3);
  ck_assert (trammel_exact_equal (facts->shafts[0].turns_per_motor_turn, TRAMMEL_EXACT_ONE));
  ck_assert (trammel_exact_equal (facts->shafts[1].turns_per_motor_turn, (TrammelExact){ -1, 3, 0 }));
  ck_assert (trammel_exact_equal (facts->shafts[2].turns_per_motor_turn, (TrammelExact){ -1, 6, 0 }));
  ck_assert_double_eq_tol (facts->shafts[0].travel_per_turn, -4.0 / 3.0, 1e-15);
  ck_assert_double_eq_tol (facts->shafts[1].travel_per_turn, 4.0, 1e-15);
  ck_assert_double_eq_tol (facts->shafts[2].travel_per_turn, 8.0, 1e-15);
  ck_assert_double_eq_tol (facts->shafts[0].turns_per_unit, -0.75, 1e-15);
  ck_assert_double_eq_tol (facts->shafts[2].turns_per_unit, 0.125, 1e-15);

  /* 10 turns a second · 4/3 mm = 13.333 mm/s; 20000 counts a second / 2400 = 8.333 mm/s. */
  ck_assert_double_eq_tol (facts->top_speed_motor, 40.0 / 3.0, 1e-13);
  ck_assert_double_eq_tol (facts->top_speed_rate, 25.0 / 3.0, 1e-13);
  ck_assert_double_eq (facts->top_speed, facts->top_speed_rate);
  ck_assert_int_eq (facts->limit, TRAMMEL_LIMIT_COUNT_RATE);
}
END_TEST

START_TEST (what_limits_the_speed)
{
  static const struct
  {
    const char *motor;
    double speed; /* degrees per second; NaN: unknown */
    TrammelLimit limit;
  } cases[] = {
    { "encoder counts=360", NAN, TRAMMEL_LIMIT_NONE },
    { "encoder counts=360;max_speed=1 rev/s", 360, TRAMMEL_LIMIT_MOTOR_SPEED },
    { "encoder counts=360;max_count_rate=90 Hz", 90, TRAMMEL_LIMIT_COUNT_RATE },
    { "encoder counts=360;max_speed=1 rev/s;max_count_rate=1 kHz", 360, TRAMMEL_LIMIT_MOTOR_SPEED },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TrammelTrain) train = make_train (cases[i].motor, "", "table", FALSE);
      g_autoptr (TrammelFacts) facts = trammel_train_facts (train, NULL);
      ck_assert (facts->rotary);
      ck_assert (isnan (facts->travel_per_full_step));
      ck_assert_int_eq (facts->limit, cases[i].limit);
      if (isnan (cases[i].speed))
        ck_assert (isnan (facts->top_speed));
      else
        ck_assert_double_eq_tol (facts->top_speed, cases[i].speed, 1e-12);
    }
}
END_TEST

static const struct
{
  const char *motor, *stages, *output;
  int code;
  const char *start;
} broken[] = {
  { "stepper full_steps=", "", "screw", TRAMMEL_ERROR_RANGE, "motor.full_steps: not set" },
  { STEPPER, "coupling|spur driver=", "screw", TRAMMEL_ERROR_RANGE, "stages[1].driver: not set" },
  { STEPPER, "planetary held=sun", "screw", TRAMMEL_ERROR_IMPOSSIBLE, "stages[0].in: " },
  { STEPPER, "", "screw pitch=", TRAMMEL_ERROR_RANGE, "output.pitch: not set" },
  { STEPPER, "", "rack pitch=3 mm", TRAMMEL_ERROR_IMPOSSIBLE, "output.pitch: " },
  { STEPPER,
    "spur driver=9973;driven=9967|spur driver=9949;driven=9941|spur driver=9931;driven=9929|"
    "spur driver=9923;driven=9907|spur driver=9901;driven=9887",
    "screw", TRAMMEL_ERROR_OVERFLOW, "stages[4]: " },
  { STEPPER, "gearbox ratio=2π", "rack teeth=15;module=2π mm", TRAMMEL_ERROR_OVERFLOW, "output: " },
};

START_TEST (broken_trains_name_the_place)
{
  g_autoptr (TrammelTrain) train = make_train (broken[_i].motor, broken[_i].stages, broken[_i].output, FALSE);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_train_facts (train, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, broken[_i].code), "%s", error->message);
  ck_assert_msg (g_str_has_prefix (error->message, broken[_i].start), "%s", error->message);
  ck_assert (!trammel_train_check (train, NULL));
}
END_TEST

/* The types of the stages, first letters only. */
static char *
letters (const TrammelTrain *train)
{
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < trammel_train_n_stages (train); i++)
    g_string_append_c (text, trammel_record_kind (trammel_train_stage (train, i))->type[0]);
  return g_string_free (text, FALSE);
}

static void
expect_letters (TrammelTrain *train, const char *wanted)
{
  g_autofree char *found = letters (train);
  ck_assert_str_eq (found, wanted);
  trammel_train_unref (train);
}

START_TEST (edits)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "spur|belt|worm|chain", "screw", FALSE);
  g_autoptr (TrammelRecord) gearbox = make_part (trammel_stage_kind, "gearbox");
  g_autoptr (TrammelRecord) rack = make_part (trammel_output_kind, "rack");
  g_autoptr (TrammelRecord) encoder = make_part (trammel_motor_kind, "encoder");

  expect_letters (trammel_train_with_stage (train, 1, gearbox), "sgwc");
  expect_letters (trammel_train_with_stage_inserted (train, 0, gearbox, NULL), "gsbwc");
  expect_letters (trammel_train_with_stage_inserted (train, 4, gearbox, NULL), "sbwcg");
  expect_letters (trammel_train_without_stage (train, 0), "bwc");
  expect_letters (trammel_train_without_stage (train, 3), "sbw");
  expect_letters (trammel_train_with_stage_moved (train, 0, 3), "bwcs");
  expect_letters (trammel_train_with_stage_moved (train, 3, 0), "csbw");
  expect_letters (trammel_train_with_stage_moved (train, 1, 2), "swbc");
  expect_letters (trammel_train_with_stage_moved (train, 2, 2), "sbwc");

  g_autoptr (TrammelTrain) racked = trammel_train_with_output (train, rack);
  g_autoptr (TrammelTrain) encoded = trammel_train_with_motor (racked, encoder);
  g_autoptr (TrammelTrain) reversed = trammel_train_with_reverse (encoded, TRUE);
  ck_assert_ptr_eq (trammel_train_output (reversed), rack);
  ck_assert_ptr_eq (trammel_train_motor (reversed), encoder);
  ck_assert (trammel_train_reverse (reversed));
  /* What did not change is shared, and the first train is what it was. */
  ck_assert_ptr_eq (trammel_train_stage (reversed, 2), trammel_train_stage (train, 2));
  ck_assert (!trammel_train_reverse (train));
  ck_assert (trammel_record_is (trammel_train_output (train), "screw"));
  expect_letters (trammel_train_ref (train), "sbwc");
}
END_TEST

START_TEST (equality)
{
  g_autoptr (TrammelTrain) one = make_train (STEPPER, "spur|belt", "screw", FALSE);
  g_autoptr (TrammelTrain) same = make_train (STEPPER, "spur|belt", "screw", FALSE);
  g_autoptr (TrammelTrain) reversed = trammel_train_with_reverse (one, TRUE);
  g_autoptr (TrammelTrain) shorter = trammel_train_without_stage (one, 1);
  g_autoptr (TrammelTrain) other = make_train (STEPPER, "spur driven=37|belt", "screw", FALSE);
  g_autoptr (TrammelTrain) slower = make_train ("stepper microsteps=8", "spur|belt", "screw", FALSE);
  g_autoptr (TrammelTrain) coarser = make_train (STEPPER, "spur|belt", "screw starts=2", FALSE);
  ck_assert (trammel_train_equal (one, same));
  ck_assert (!trammel_train_equal (one, reversed));
  ck_assert (!trammel_train_equal (one, shorter));
  ck_assert (!trammel_train_equal (one, other));
  ck_assert (!trammel_train_equal (one, slower));
  ck_assert (!trammel_train_equal (one, coarser));
}
END_TEST

START_TEST (no_more_than_64_stages)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "", "screw", FALSE);
  g_autoptr (TrammelRecord) coupling = make_part (trammel_stage_kind, "coupling");
  g_autoptr (GError) error = NULL;
  for (int i = 0; i < TRAMMEL_TRAIN_MAX_STAGES; i++)
    {
      TrammelTrain *longer = trammel_train_with_stage_inserted (train, 0, coupling, NULL);
      trammel_train_unref (train);
      train = longer;
    }
  ck_assert (trammel_train_check (train, NULL));
  ck_assert_ptr_null (trammel_train_with_stage_inserted (train, 0, coupling, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
}
END_TEST

static const struct
{
  const char *motor, *stages, *output, *words;
} told[] = {
  { STEPPER, "spur driver=12;driven=36", "screw pitch=2 mm;starts=4",
    "stepper 200 × 16 → spur 12:36 → screw 2 mm × 4 starts" },
  { STEPPER, "", "screw pitch=1.25 mm;starts=1", "stepper 200 × 16 → screw 1.25 mm × 1 start" },
  { "encoder counts=57/11", "spur driver=12;driven=36;idlers=20|worm starts=2;wheel=40|planetary", "table",
    "encoder 57/11 → spur 12:36 over 1 idler → worm 2:40 → planetary 20:80, ring held → rotary table" },
  { STEPPER, "gearbox ratio=2.5|coupling|chain", "belt teeth=20;pitch=2 mm;fall=2",
    "stepper 200 × 16 → gearbox 2.5:1 → coupling → chain 12:36 → belt 20 × 2 mm, 2 falls" },
  { STEPPER, "internal|bevel|belt", "rack teeth=15;module=1 mm",
    "stepper 200 × 16 → internal 15:60 → bevel 20:40 → belt 20:60 → rack, pinion of 15, module 1 mm" },
  { STEPPER, "", "worm-rack starts=1;module=;pitch=3 mm", "stepper 200 × 16 → worm of 1 start on rack, pitch 3 mm" },
  { "stepper full_steps=", "spur driver=", "roller diameter=1/2 in", "stepper ? × 16 → spur ?:36 → roller 1/2 in" },
};

START_TEST (in_words)
{
  g_autoptr (TrammelTrain) train = make_train (told[_i].motor, told[_i].stages, told[_i].output, FALSE);
  g_autofree char *words = trammel_train_to_words (train);
  ck_assert_str_eq (words, told[_i].words);
}
END_TEST

int
main (void)
{
  setlocale (LC_ALL, "C.UTF-8");
  Suite *suite = suite_create ("train");
  TCase *facts = tcase_create ("facts"), *values = tcase_create ("values");
  tcase_add_loop_test (facts, counts_per_unit, 0, G_N_ELEMENTS (trains));
  tcase_add_test (facts, facts_of_a_geared_screw);
  tcase_add_test (facts, what_limits_the_speed);
  tcase_add_loop_test (facts, broken_trains_name_the_place, 0, G_N_ELEMENTS (broken));
  tcase_add_test (values, edits);
  tcase_add_test (values, equality);
  tcase_add_test (values, no_more_than_64_stages);
  tcase_add_loop_test (values, in_words, 0, G_N_ELEMENTS (told));
  suite_add_tcase (suite, facts);
  suite_add_tcase (suite, values);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
