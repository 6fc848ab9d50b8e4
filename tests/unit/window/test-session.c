/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>

#include "window/history.h"
#include "window/session.h"

static TrammelSession *session;
static int n_changed, n_selected, n_adjusted;

static void
count (int *n)
{
  ++*n;
}

static void
start (void)
{
  session = trammel_session_new ();
  n_changed = n_selected = n_adjusted = 0;
  g_signal_connect_swapped (session, "changed", G_CALLBACK (count), &n_changed);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (count), &n_selected);
  g_signal_connect_swapped (session, "adjusted", G_CALLBACK (count), &n_adjusted);
}

static void
end (void)
{
  g_clear_object (&session);
}

static void
rename_to (const char *name, const char *merge)
{
  trammel_session_edit (session, trammel_machine_with_name (trammel_session_machine (session), name), "rename", merge);
}

static void
add_axis (char letter)
{
  g_autoptr (TrammelAxis) axis = trammel_axis_new (letter, TRAMMEL_AXIS_LINEAR);
  const TrammelMachine *machine = trammel_session_machine (session);
  trammel_session_edit (
      session, trammel_machine_with_axis_inserted (machine, trammel_machine_n_axes (machine), axis, NULL), "add", NULL);
}

static const char *
name_now (void)
{
  return trammel_machine_name (trammel_session_machine (session));
}

static gboolean
flag (const char *property)
{
  gboolean value;
  g_object_get (session, property, &value, NULL);
  return value;
}

START_TEST (edits_are_undone_and_redone_in_order)
{
  rename_to ("one", NULL);
  rename_to ("two", NULL);
  ck_assert_int_eq (n_changed, 2);
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "one");
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "");
  ck_assert (!flag ("can-undo") && flag ("can-redo"));
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "");
  trammel_session_redo (session);
  trammel_session_redo (session);
  ck_assert_str_eq (name_now (), "two");
  ck_assert (flag ("can-undo") && !flag ("can-redo"));
}
END_TEST

START_TEST (edit_after_undo_forgets_what_could_be_redone)
{
  rename_to ("one", NULL);
  rename_to ("two", NULL);
  trammel_session_undo (session);
  rename_to ("three", NULL);
  ck_assert (!flag ("can-redo"));
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "one");
}
END_TEST

START_TEST (equal_value_and_null_are_no_edit)
{
  rename_to ("one", NULL);
  rename_to ("one", NULL);
  trammel_session_edit (session, NULL, "nothing", NULL);
  ck_assert_int_eq (n_changed, 1);
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "");
}
END_TEST

START_TEST (dragging_is_one_step)
{
  rename_to ("before", NULL);
  rename_to ("a", "drag");
  rename_to ("ab", "drag");
  rename_to ("abc", "drag");
  rename_to ("x", "another drag");
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "abc");
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "before");
  trammel_session_redo (session);
  rename_to ("abcd", "drag");
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "abc");
}
END_TEST

START_TEST (saved_value_is_not_modified)
{
  g_autoptr (GFile) file = g_file_new_for_path ("/nowhere/a.trammel");
  ck_assert (!trammel_session_is_modified (session));
  rename_to ("one", "drag");
  ck_assert (trammel_session_is_modified (session));
  trammel_session_saved (session, file);
  ck_assert (!trammel_session_is_modified (session));
  ck_assert (g_file_equal (trammel_session_file (session), file));
  /* Merging does not reach back over a save */
  rename_to ("two", "drag");
  ck_assert (trammel_session_is_modified (session));
  trammel_session_undo (session);
  ck_assert_str_eq (name_now (), "one");
  ck_assert (!trammel_session_is_modified (session));
  trammel_session_undo (session);
  ck_assert (trammel_session_is_modified (session));
}
END_TEST

START_TEST (opened_document_starts_anew)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  rename_to ("one", NULL);
  trammel_session_open (session, trammel_machine_with_name (empty, "other"), NULL, FALSE);
  ck_assert_str_eq (name_now (), "other");
  ck_assert (!flag ("can-undo") && !flag ("can-redo") && !flag ("modified"));
  trammel_session_open (session, trammel_machine_with_name (empty, "recovered"), NULL, TRUE);
  ck_assert (flag ("modified"));
}
END_TEST

START_TEST (selection_stays_within_the_value)
{
  ck_assert_int_eq (trammel_session_selected_axis (session), -1);
  add_axis ('X');
  ck_assert_int_eq (trammel_session_selected_axis (session), 0);
  add_axis ('Y');
  trammel_session_select_axis (session, 1);
  trammel_session_select_part (session, 99);
  /* Motor 0, no stage, output 1 */
  ck_assert_int_eq (trammel_session_selected_part (session), 1);
  trammel_session_select_axis (session, 99);
  ck_assert_int_eq (trammel_session_selected_axis (session), 1);
  trammel_session_select_reading (session, 0);
  ck_assert_int_eq (trammel_session_selected_reading (session), -1);
  n_selected = 0;
  trammel_session_edit (session, trammel_machine_without_axis (trammel_session_machine (session), 1), "remove", NULL);
  ck_assert_int_eq (trammel_session_selected_axis (session), 0);
  ck_assert_int_eq (n_selected, 1);
  /* Undoing shows what comes back */
  trammel_session_undo (session);
  ck_assert_int_eq (trammel_session_selected_axis (session), 1);
}
END_TEST

START_TEST (facts_are_kept_while_the_axis_is_the_same)
{
  add_axis ('X');
  const TrammelFacts *facts = trammel_session_facts (session, 0, NULL);
  ck_assert_ptr_nonnull (facts);
  /* 200·16 counts a turn over a lead of 2 mm × 4 */
  ck_assert_int_eq (facts->counts_per_unit.num, 400);
  ck_assert_int_eq (facts->counts_per_unit.den, 1);
  rename_to ("one", NULL);
  ck_assert_ptr_eq (trammel_session_facts (session, 0, NULL), facts);
}
END_TEST

START_TEST (facts_of_a_train_that_does_not_work_tell_why)
{
  g_autoptr (GError) error = NULL;
  add_axis ('X');
  const TrammelMachine *machine = trammel_session_machine (session);
  const TrammelTrain *train = trammel_axis_train (trammel_machine_axis (machine, 0));
  g_autoptr (TrammelRecord) output = trammel_record_with_text (trammel_train_output (train), "pitch", NULL, NULL, NULL);
  g_autoptr (TrammelTrain) broken = trammel_train_with_output (train, output);
  trammel_session_edit (session, trammel_machine_with_train (machine, 0, broken), "break", NULL);
  ck_assert_ptr_null (trammel_session_facts (session, 0, &error));
  ck_assert_ptr_nonnull (error);
}
END_TEST

/* @n displacements of 100 mm that all measured 100.1 mm: e = 0.001 exactly, with any weights. */
static void
put_readings (gsize n)
{
  GArray *rows = trammel_reading_array_new (n);
  for (gsize i = 0; i < n; i++)
    {
      TrammelReading reading;
      trammel_reading_init (&reading);
      reading.kind = TRAMMEL_READING_TRAVEL;
      reading.has_along = trammel_direction_parse ("X", &reading.along, NULL);
      reading.nominal = 100;
      reading.measured = 100.1;
      g_array_append_val (rows, reading);
    }
  g_autoptr (TrammelReadings) readings = trammel_readings_take (rows);
  trammel_session_edit (session, trammel_machine_with_readings (trammel_session_machine (session), readings), "measure",
                        NULL);
}

START_TEST (few_readings_are_adjusted_at_once)
{
  add_axis ('X');
  ck_assert_ptr_null (trammel_session_adjustment (session, NULL));
  put_readings (3);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (session, NULL);
  ck_assert_ptr_nonnull (adjustment);
  ck_assert_double_eq_tol (trammel_adjustment_axis (adjustment, 'X')->scale_error, 0.001, 1e-12);
  ck_assert (!trammel_session_is_adjusting (session));
  rename_to ("one", NULL);
  ck_assert_ptr_eq (trammel_session_adjustment (session, NULL), adjustment);
}
END_TEST

START_TEST (many_readings_are_adjusted_in_a_thread)
{
  add_axis ('X');
  put_readings (30000);
  ck_assert_ptr_null (trammel_session_adjustment (session, NULL));
  ck_assert (trammel_session_is_adjusting (session) && flag ("adjusting"));
  while (n_adjusted == 0)
    g_main_context_iteration (NULL, TRUE);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (session, NULL);
  ck_assert_ptr_nonnull (adjustment);
  ck_assert_double_eq_tol (trammel_adjustment_axis (adjustment, 'X')->scale_error, 0.001, 1e-12);
  ck_assert (!trammel_session_is_adjusting (session));
}
END_TEST

START_TEST (session_ends_while_a_thread_is_at_it)
{
  add_axis ('X');
  put_readings (30000);
  ck_assert_ptr_null (trammel_session_adjustment (session, NULL));
  g_clear_object (&session);
  for (int i = 0; i < 50; i++)
    {
      g_usleep (2000);
      g_main_context_iteration (NULL, FALSE);
    }
  ck_assert_int_eq (n_adjusted, 0);
}
END_TEST

START_TEST (another_method_is_another_adjustment)
{
  add_axis ('X');
  put_readings (3);
  const TrammelAdjustment *stated = trammel_session_adjustment (session, NULL);
  ck_assert_int_eq (trammel_adjustment_scatter (stated), TRAMMEL_SCATTER_STATED);
  trammel_session_saved (session, NULL);
  n_changed = 0;
  trammel_session_set_method (session, TRAMMEL_SCATTER_ESTIMATED, FALSE);
  ck_assert_int_eq (n_changed, 1);
  const TrammelAdjustment *estimated = trammel_session_adjustment (session, NULL);
  ck_assert_int_eq (trammel_adjustment_scatter (estimated), TRAMMEL_SCATTER_ESTIMATED);
  trammel_session_set_method (session, TRAMMEL_SCATTER_ESTIMATED, FALSE);
  ck_assert_int_eq (n_changed, 1);
  /* A setting of the session, not of the document */
  ck_assert (!flag ("modified"));
}
END_TEST

START_TEST (merging_ends_with_time)
{
  g_autoptr (TrammelMachine) first = trammel_machine_new ();
  g_autoptr (TrammelHistory) history = trammel_history_new (first);
  trammel_history_put (history, trammel_machine_with_name (first, "a"), "rename", "drag", 0, 0);
  trammel_history_put (history, trammel_machine_with_name (first, "b"), "rename", "drag", 0,
                       TRAMMEL_HISTORY_MERGE_TIME - 1);
  /* The time counts from the last of them */
  trammel_history_put (history, trammel_machine_with_name (first, "c"), "rename", "drag", 0,
                       2 * TRAMMEL_HISTORY_MERGE_TIME - 2);
  trammel_history_put (history, trammel_machine_with_name (first, "d"), "rename", "drag", 0,
                       3 * TRAMMEL_HISTORY_MERGE_TIME);
  ck_assert (trammel_history_undo (history, NULL));
  ck_assert_str_eq (trammel_machine_name (trammel_history_current (history)), "c");
  ck_assert (trammel_history_undo (history, NULL));
  ck_assert_str_eq (trammel_machine_name (trammel_history_current (history)), "");
  ck_assert (!trammel_history_undo (history, NULL));
}
END_TEST

START_TEST (oldest_steps_go_and_undo_stops_there)
{
  g_autoptr (TrammelMachine) first = trammel_machine_new ();
  g_autoptr (TrammelHistory) history = trammel_history_new (first);
  for (int i = 0; i < 5000; i++)
    {
      g_autofree char *name = g_strdup_printf ("%d", i);
      trammel_history_put (history, trammel_machine_with_name (first, name), "rename", NULL, 0, i);
    }
  int n = 0;
  while (trammel_history_undo (history, NULL))
    n++;
  ck_assert_int_ge (n, 1000);
  ck_assert_int_lt (n, 5000);
  ck_assert_ptr_null (trammel_history_undo_label (history));
  ck_assert_str_eq (trammel_history_redo_label (history), "rename");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("session");
  TCase *tests = tcase_create ("session");
  tcase_add_checked_fixture (tests, start, end);
  tcase_add_test (tests, edits_are_undone_and_redone_in_order);
  tcase_add_test (tests, edit_after_undo_forgets_what_could_be_redone);
  tcase_add_test (tests, equal_value_and_null_are_no_edit);
  tcase_add_test (tests, dragging_is_one_step);
  tcase_add_test (tests, saved_value_is_not_modified);
  tcase_add_test (tests, opened_document_starts_anew);
  tcase_add_test (tests, selection_stays_within_the_value);
  tcase_add_test (tests, facts_are_kept_while_the_axis_is_the_same);
  tcase_add_test (tests, facts_of_a_train_that_does_not_work_tell_why);
  tcase_add_test (tests, few_readings_are_adjusted_at_once);
  tcase_add_test (tests, many_readings_are_adjusted_in_a_thread);
  tcase_add_test (tests, session_ends_while_a_thread_is_at_it);
  tcase_add_test (tests, another_method_is_another_adjustment);
  tcase_add_test (tests, merging_ends_with_time);
  tcase_add_test (tests, oldest_steps_go_and_undo_stops_there);
  suite_add_tcase (suite, tests);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
