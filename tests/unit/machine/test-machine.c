/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "machine/machine.h"

#include <check.h>
#include <math.h>
#include <string.h>

static TrammelMachine *
machine_with_letters (const char *letters)
{
  TrammelMachine *machine = trammel_machine_new ();
  for (const char *letter = letters; *letter != '\0'; letter++)
    {
      g_autoptr (TrammelMachine) before = machine;
      g_autoptr (TrammelAxis) axis = trammel_axis_new (*letter, TRAMMEL_AXIS_LINEAR);
      machine = trammel_machine_with_axis_inserted (before, trammel_machine_n_axes (before), axis, NULL);
      ck_assert_ptr_nonnull (machine);
    }
  return machine;
}

static void
expect_letters (const TrammelMachine *machine, const char *letters)
{
  ck_assert_uint_eq (trammel_machine_n_axes (machine), strlen (letters));
  for (gsize i = 0; letters[i] != '\0'; i++)
    ck_assert_int_eq (trammel_axis_letter (trammel_machine_axis (machine, i)), letters[i]);
}

START_TEST (a_new_machine_is_empty)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  gsize n;
  ck_assert_str_eq (trammel_machine_name (machine), "");
  ck_assert_str_eq (trammel_machine_note (machine), "");
  ck_assert_str_eq (trammel_unit_symbol (trammel_machine_display_unit (machine)), "mm");
  ck_assert_uint_eq (trammel_machine_n_axes (machine), 0);
  ck_assert_uint_eq (trammel_machine_n_log (machine), 0);
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (machine)), 0);
  trammel_machine_instruments (machine, &n);
  ck_assert_uint_eq (n, 0);
  trammel_machine_stated (machine, &n);
  ck_assert_uint_eq (n, 0);
  ck_assert_int_eq (trammel_machine_axis_index (machine, 'X'), -1);
  ck_assert (trammel_record_is (trammel_machine_piece (machine), "square"));
  ck_assert_double_eq (trammel_record_value (trammel_machine_piece (machine), "size"), 100);
  ck_assert (trammel_record_check (trammel_machine_piece (machine), NULL));
}
END_TEST

START_TEST (an_edit_leaves_the_old_value_alone_and_shares_the_rest)
{
  g_autoptr (TrammelMachine) before = machine_with_letters ("XY");
  g_autoptr (TrammelRecord) stage = trammel_record_new (trammel_stage_kind ("coupling"));
  g_autoptr (TrammelTrain) train
      = trammel_train_with_stage_inserted (trammel_axis_train (trammel_machine_axis (before, 1)), 0, stage, NULL);
  g_autoptr (TrammelMachine) after = trammel_machine_with_train (before, 1, train);

  ck_assert_uint_eq (trammel_train_n_stages (trammel_axis_train (trammel_machine_axis (before, 1))), 0);
  ck_assert_uint_eq (trammel_train_n_stages (trammel_axis_train (trammel_machine_axis (after, 1))), 1);
  ck_assert_ptr_eq (trammel_machine_axis (before, 0), trammel_machine_axis (after, 0));
  ck_assert_ptr_eq (trammel_machine_readings (before), trammel_machine_readings (after));
  ck_assert_ptr_eq (trammel_machine_piece (before), trammel_machine_piece (after));
  ck_assert (!trammel_machine_equal (before, after));

  g_autoptr (TrammelRecord) gearbox = trammel_record_new (trammel_stage_kind ("gearbox"));
  g_autoptr (TrammelMachine) third = trammel_machine_with_stage (after, 1, 0, gearbox);
  ck_assert (
      trammel_record_is (trammel_train_stage (trammel_axis_train (trammel_machine_axis (third, 1)), 0), "gearbox"));
  ck_assert (
      trammel_record_is (trammel_train_stage (trammel_axis_train (trammel_machine_axis (after, 1)), 0), "coupling"));
}
END_TEST

START_TEST (axes_come_go_and_move)
{
  g_autoptr (TrammelMachine) machine = machine_with_letters ("XYZE");
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('A', TRAMMEL_AXIS_ROTARY);
  g_autoptr (TrammelMachine) inserted = trammel_machine_with_axis_inserted (machine, 1, axis, NULL);
  expect_letters (inserted, "XAYZE");
  g_autoptr (TrammelMachine) replaced = trammel_machine_with_axis (machine, 2, axis, NULL);
  expect_letters (replaced, "XYAE");
  g_autoptr (TrammelMachine) without = trammel_machine_without_axis (machine, 0);
  expect_letters (without, "YZE");
  g_autoptr (TrammelMachine) later = trammel_machine_with_axis_moved (machine, 0, 2);
  expect_letters (later, "YZXE");
  g_autoptr (TrammelMachine) earlier = trammel_machine_with_axis_moved (machine, 3, 0);
  expect_letters (earlier, "EXYZ");
  g_autoptr (TrammelMachine) same = trammel_machine_with_axis_moved (machine, 1, 1);
  expect_letters (same, "XYZE");
  expect_letters (machine, "XYZE");
  ck_assert_int_eq (trammel_machine_axis_index (later, 'X'), 2);
}
END_TEST

START_TEST (letters_are_unique)
{
  g_autoptr (TrammelMachine) machine = machine_with_letters ("XY");
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('Y', TRAMMEL_AXIS_LINEAR);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_machine_with_axis_inserted (machine, 0, axis, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
  ck_assert_ptr_nonnull (strstr (error->message, "Y"));
  g_clear_error (&error);
  ck_assert_ptr_null (trammel_machine_with_axis (machine, 0, axis, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
  g_autoptr (TrammelMachine) same_place = trammel_machine_with_axis (machine, 1, axis, NULL);
  ck_assert_ptr_nonnull (same_place);
}
END_TEST

START_TEST (every_letter_fits)
{
  g_autoptr (TrammelMachine) machine = machine_with_letters ("ABCDEFGHIJKLMNOPQRSTUVWXYZ");
  ck_assert_uint_eq (trammel_machine_n_axes (machine), TRAMMEL_MAX_AXES);
}
END_TEST

START_TEST (names_of_instruments_are_unique_and_later_wins)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  TrammelInstrument list[] = {
    { g_ref_string_new ("caliper"), 0.03 }, { g_ref_string_new ("rule"), 0.2 }, { g_ref_string_new ("caliper"), 0.02 },
    { g_ref_string_new ("broken"), 0 },     { g_ref_string_new ("lost"), NAN }, { g_ref_string_new (""), 1 },
  };
  g_autoptr (TrammelMachine) changed = trammel_machine_with_instruments (machine, list, G_N_ELEMENTS (list));
  for (gsize i = 0; i < G_N_ELEMENTS (list); i++)
    g_ref_string_release (list[i].name);
  gsize n;
  const TrammelInstrument *kept = trammel_machine_instruments (changed, &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_str_eq (kept[0].name, "caliper");
  ck_assert_double_eq (kept[0].u, 0.02);
  ck_assert_str_eq (kept[1].name, "rule");
}
END_TEST

START_TEST (stated_values_are_set_replaced_and_taken_back)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  g_autoptr (TrammelMachine) one = trammel_machine_with_stated (machine, "bead", &(TrammelStated){ NULL, 0.1, 0.2 });
  g_autoptr (TrammelMachine) two = trammel_machine_with_stated (one, "skew.XY", &(TrammelStated){ NULL, 0, 0.01 });
  g_autoptr (TrammelMachine) replaced = trammel_machine_with_stated (two, "bead", &(TrammelStated){ NULL, 0.3, 0 });
  g_autoptr (TrammelMachine) back = trammel_machine_with_stated (replaced, "bead", NULL);
  gsize n;

  const TrammelStated *stated = trammel_machine_stated (replaced, &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_str_eq (stated[0].name, "bead");
  ck_assert_double_eq (stated[0].value, 0.3);
  ck_assert_double_eq (stated[0].u, 0);
  stated = trammel_machine_stated (back, &n);
  ck_assert_uint_eq (n, 1);
  ck_assert_str_eq (stated[0].name, "skew.XY");
  stated = trammel_machine_stated (two, &n);
  ck_assert_double_eq (stated[0].value, 0.1);
}
END_TEST

START_TEST (the_log_only_grows)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  g_autoptr (TrammelLogEntry) first = trammel_log_entry_new ("2026-11-25T09:36:00Z", NULL, 0);
  g_autoptr (TrammelLogEntry) second = trammel_log_entry_new ("2026-11-26T09:36:00Z", NULL, 0);
  g_autoptr (TrammelMachine) one = trammel_machine_with_log_entry (machine, first);
  g_autoptr (TrammelMachine) two = trammel_machine_with_log_entry (one, second);
  ck_assert_uint_eq (trammel_machine_n_log (machine), 0);
  ck_assert_uint_eq (trammel_machine_n_log (one), 1);
  ck_assert_uint_eq (trammel_machine_n_log (two), 2);
  ck_assert_ptr_eq (trammel_machine_log (two, 0), first);
  ck_assert_ptr_eq (trammel_machine_log (two, 1), second);
  ck_assert (!trammel_machine_equal (one, two));
}
END_TEST

START_TEST (equal_looks_at_everything)
{
  g_autoptr (TrammelMachine) machine = machine_with_letters ("X");
  g_autoptr (TrammelMachine) twin = machine_with_letters ("X");
  ck_assert (trammel_machine_equal (machine, twin));

  g_autoptr (TrammelRecord) piece
      = trammel_record_with_text (trammel_machine_piece (machine), "size", "80 mm", NULL, NULL);
  g_autoptr (TrammelAxis) axis = trammel_axis_with_in_force (trammel_machine_axis (machine, 0), 80, 0.1);
  GArray *rows = trammel_reading_array_new (1);
  g_array_set_size (rows, 1);
  trammel_reading_init (&g_array_index (rows, TrammelReading, 0));
  g_autoptr (TrammelReadings) readings = trammel_readings_take (rows);
  TrammelInstrument instrument = { g_ref_string_new ("rule"), 0.2 };
  TrammelMachine *others[] = {
    trammel_machine_with_name (machine, "Heron"),
    trammel_machine_with_note (machine, "a note"),
    trammel_machine_with_display_unit (machine, trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in")),
    trammel_machine_with_axis (machine, 0, axis, NULL),
    trammel_machine_without_axis (machine, 0),
    trammel_machine_with_readings (machine, readings),
    trammel_machine_with_instruments (machine, &instrument, 1),
    trammel_machine_with_stated (machine, "bead", &(TrammelStated){ NULL, 0, 0.1 }),
    trammel_machine_with_piece (machine, piece),
    trammel_machine_with_extra (machine, "{\"a\":1}"),
  };
  for (gsize i = 0; i < G_N_ELEMENTS (others); i++)
    {
      ck_assert_msg (!trammel_machine_equal (machine, others[i]), "edit %zu made no difference", i);
      trammel_machine_unref (others[i]);
    }
  g_ref_string_release (instrument.name);
}
END_TEST

START_TEST (axes_start_with_a_train_that_works)
{
  /* 200 × 16 counts per turn on a lead of 8 mm: 400 per mm (common practice, no source); on a table 3200/360. */
  g_autoptr (TrammelAxis) linear = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) rotary = trammel_axis_new ('A', TRAMMEL_AXIS_ROTARY);
  g_autoptr (TrammelAxis) feed = trammel_axis_new ('E', TRAMMEL_AXIS_FEED);
  double value, u;
  ck_assert (trammel_axis_check (linear, NULL) && trammel_axis_check (rotary, NULL) && trammel_axis_check (feed, NULL));
  ck_assert (trammel_axis_in_force (linear, &value, &u, NULL));
  ck_assert_double_eq (value, 400);
  ck_assert_double_eq (u, 0);
  ck_assert (trammel_axis_in_force (rotary, &value, NULL, NULL));
  ck_assert_double_eq_tol (value, 3200.0 / 360, 1e-12);
  ck_assert (trammel_axis_in_force (feed, &value, NULL, NULL));
  ck_assert_double_eq_tol (value, 3200 / (8 * G_PI), 1e-10);
  ck_assert_str_eq (trammel_axis_unit (rotary), "deg");
  ck_assert_str_eq (trammel_axis_unit (feed), "mm");
}
END_TEST

START_TEST (a_value_in_force_stands_before_the_nominal)
{
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) set = trammel_axis_with_in_force (axis, 401.5, 0.2);
  g_autoptr (TrammelAxis) back = trammel_axis_with_in_force (set, NAN, 0);
  double value, u;
  ck_assert (!trammel_axis_set_in_force (axis, &value, &u));
  ck_assert (trammel_axis_set_in_force (set, &value, &u));
  ck_assert_double_eq (value, 401.5);
  ck_assert_double_eq (u, 0.2);
  ck_assert (trammel_axis_in_force (set, &value, NULL, NULL));
  ck_assert_double_eq (value, 401.5);
  ck_assert (trammel_axis_equal (axis, back));
}
END_TEST

START_TEST (travel_is_kept_as_typed)
{
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) inches = trammel_axis_with_travel (axis, "7 in", NULL, NULL);
  g_autoptr (TrammelAxis) assumed
      = trammel_axis_with_travel (axis, "7", trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in"), NULL);
  TrammelQuantity travel;
  ck_assert (!trammel_axis_travel (axis, &travel));
  ck_assert (isnan (trammel_axis_travel_value (axis)));
  ck_assert (trammel_axis_travel (inches, &travel));
  g_autofree char *text = trammel_quantity_to_text (travel);
  ck_assert_str_eq (text, "7 in");
  ck_assert_double_eq_tol (trammel_axis_travel_value (inches), 177.8, 1e-12);
  ck_assert (trammel_axis_equal (inches, assumed));
  g_autoptr (TrammelAxis) none = trammel_axis_with_travel (inches, " ", NULL, NULL);
  ck_assert (trammel_axis_equal (none, axis));

  static const char *const bad[] = { "0", "-5 mm", "far", "90 deg", "2000000 mm" };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      ck_assert_ptr_null (trammel_axis_with_travel (axis, bad[i], NULL, &error));
      ck_assert_ptr_nonnull (error);
    }
}
END_TEST

START_TEST (travel_of_a_rotary_axis_is_an_angle)
{
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('A', TRAMMEL_AXIS_ROTARY);
  g_autoptr (TrammelAxis) degrees = trammel_axis_with_travel (axis, "350.1", NULL, NULL);
  g_autoptr (TrammelAxis) turns = trammel_axis_with_travel (axis, "2 turn", NULL, NULL);
  g_autoptr (TrammelAxis) not_inches
      = trammel_axis_with_travel (axis, "90", trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in"), NULL);
  ck_assert_double_eq (trammel_axis_travel_value (degrees), 350.1);
  ck_assert_double_eq_tol (trammel_axis_travel_value (turns), 720, 1e-9);
  ck_assert_double_eq (trammel_axis_travel_value (not_inches), 90);
  ck_assert_ptr_null (trammel_axis_with_travel (axis, "90 mm", NULL, NULL));
}
END_TEST

START_TEST (another_kind_swaps_the_output_when_it_must)
{
  g_autoptr (TrammelAxis) linear = trammel_axis_new ('A', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) with_travel = trammel_axis_with_travel (linear, "100 mm", NULL, NULL);
  g_autoptr (TrammelAxis) set = trammel_axis_with_in_force (with_travel, 80, 0.1);
  g_autoptr (TrammelAxis) rotary = trammel_axis_with_kind (set, TRAMMEL_AXIS_ROTARY);
  g_autoptr (TrammelAxis) feed = trammel_axis_with_kind (set, TRAMMEL_AXIS_FEED);

  ck_assert (trammel_record_is (trammel_train_output (trammel_axis_train (rotary)), "table"));
  ck_assert (!trammel_axis_travel (rotary, NULL));
  ck_assert (!trammel_axis_set_in_force (rotary, NULL, NULL));
  ck_assert (trammel_axis_check (rotary, NULL));
  /* A feed may be driven by a screw too: what was there stays. */
  ck_assert (trammel_record_is (trammel_train_output (trammel_axis_train (feed)), "screw"));
  ck_assert (trammel_axis_travel (feed, NULL));
  ck_assert (trammel_axis_set_in_force (feed, NULL, NULL));
}
END_TEST

START_TEST (an_output_that_does_not_fit_the_kind_is_told)
{
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelRecord) table = trammel_record_new (trammel_output_kind ("table"));
  g_autoptr (TrammelTrain) train = trammel_train_with_output (trammel_axis_train (axis), table);
  g_autoptr (TrammelAxis) wrong = trammel_axis_with_train (axis, train);
  g_autoptr (GError) error = NULL;
  ck_assert (!trammel_axis_check (wrong, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE));
  ck_assert (g_str_has_prefix (error->message, "output: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("machine");
  TCase *machines = tcase_create ("machines"), *axes = tcase_create ("axes");
  tcase_add_test (machines, a_new_machine_is_empty);
  tcase_add_test (machines, an_edit_leaves_the_old_value_alone_and_shares_the_rest);
  tcase_add_test (machines, axes_come_go_and_move);
  tcase_add_test (machines, letters_are_unique);
  tcase_add_test (machines, every_letter_fits);
  tcase_add_test (machines, names_of_instruments_are_unique_and_later_wins);
  tcase_add_test (machines, stated_values_are_set_replaced_and_taken_back);
  tcase_add_test (machines, the_log_only_grows);
  tcase_add_test (machines, equal_looks_at_everything);
  tcase_add_test (axes, axes_start_with_a_train_that_works);
  tcase_add_test (axes, a_value_in_force_stands_before_the_nominal);
  tcase_add_test (axes, travel_is_kept_as_typed);
  tcase_add_test (axes, travel_of_a_rotary_axis_is_an_angle);
  tcase_add_test (axes, another_kind_swaps_the_output_when_it_must);
  tcase_add_test (axes, an_output_that_does_not_fit_the_kind_is_told);
  suite_add_tcase (suite, machines);
  suite_add_tcase (suite, axes);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
