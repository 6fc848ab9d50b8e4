/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <locale.h>
#include <math.h>

#include "window/sheet-cells.h"

static const TrammelUnit *mm, *inch;

static TrammelReadings *
two_rows (void)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { 0 };
  gsize n_lost;
  return trammel_cells_paste (none, "outside\tX\t100\t99.71\tcaliper\ninside\tY\t80\t79.8\n", mm, &block, &n_lost);
}

static void
assert_cell (const TrammelReadings *readings, gsize row, TrammelColumn column, const char *expected)
{
  ck_assert_uint_lt (row, trammel_readings_length (readings));
  g_autofree char *text = trammel_cell_to_edit (trammel_readings_get (readings, row), column, mm);
  ck_assert_str_eq (text, expected);
}

static void
start (void)
{
  setlocale (LC_ALL, "C");
  mm = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "mm");
  inch = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in");
}

START_TEST (block_from_a_spreadsheet_fills_rows)
{
  g_autoptr (TrammelReadings) readings = two_rows ();
  ck_assert_uint_eq (trammel_readings_length (readings), 2);
  assert_cell (readings, 0, TRAMMEL_COLUMN_KIND, "Outside");
  assert_cell (readings, 0, TRAMMEL_COLUMN_MEASURED, "99.71");
  assert_cell (readings, 1, TRAMMEL_COLUMN_KIND, "Inside");
  assert_cell (readings, 1, TRAMMEL_COLUMN_ALONG, "Y");
}
END_TEST

START_TEST (paste_goes_on_below_the_last_row)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  TrammelBlock block = { .top = 1, .bottom = 1, .left = TRAMMEL_COLUMN_MEASURED, .right = TRAMMEL_COLUMN_MEASURED };
  gsize n_lost;
  g_autoptr (TrammelReadings) after = trammel_cells_paste (before, "1,5\r\n2,5\r\n3,5\r\n", mm, &block, &n_lost);
  ck_assert_uint_eq (trammel_readings_length (after), 4);
  assert_cell (after, 0, TRAMMEL_COLUMN_MEASURED, "99.71");
  assert_cell (after, 1, TRAMMEL_COLUMN_MEASURED, "1.5");
  assert_cell (after, 1, TRAMMEL_COLUMN_NOMINAL, "80");
  assert_cell (after, 3, TRAMMEL_COLUMN_MEASURED, "3.5");
  ck_assert_uint_eq (block.top, 1);
  ck_assert_uint_eq (block.bottom, 3);
  ck_assert_uint_eq (n_lost, 0);
  /* The old value is as it was */
  ck_assert_uint_eq (trammel_readings_length (before), 2);
  assert_cell (before, 1, TRAMMEL_COLUMN_MEASURED, "79.8");
}
END_TEST

START_TEST (one_cell_fills_the_selection)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  TrammelBlock block = { .top = 0, .bottom = 1, .left = TRAMMEL_COLUMN_INSTRUMENT, .right = TRAMMEL_COLUMN_INSTRUMENT };
  gsize n_lost;
  g_autoptr (TrammelReadings) after = trammel_cells_paste (before, "rule", mm, &block, &n_lost);
  assert_cell (after, 0, TRAMMEL_COLUMN_INSTRUMENT, "rule");
  assert_cell (after, 1, TRAMMEL_COLUMN_INSTRUMENT, "rule");
}
END_TEST

START_TEST (first_line_may_name_the_columns)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { .left = 5, .right = 5 };
  gsize n_lost;
  g_autoptr (TrammelReadings) readings
      = trammel_cells_paste (none, "measured\tKIND\tnominal\talong\n10.02\ttravel\t10\tz\n", mm, &block, &n_lost);
  ck_assert_uint_eq (trammel_readings_length (readings), 1);
  assert_cell (readings, 0, TRAMMEL_COLUMN_KIND, "Travel");
  assert_cell (readings, 0, TRAMMEL_COLUMN_ALONG, "Z");
  assert_cell (readings, 0, TRAMMEL_COLUMN_NOMINAL, "10");
  assert_cell (readings, 0, TRAMMEL_COLUMN_MEASURED, "10.02");
}
END_TEST

START_TEST (columns_beyond_the_sheet_are_counted)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { .left = TRAMMEL_COLUMN_SET, .right = TRAMMEL_COLUMN_SET };
  gsize n_lost;
  g_autoptr (TrammelReadings) readings = trammel_cells_paste (none, "a\tb\tc\td\n", mm, &block, &n_lost);
  assert_cell (readings, 0, TRAMMEL_COLUMN_SET, "a");
  assert_cell (readings, 0, TRAMMEL_COLUMN_NOTE, "b");
  ck_assert_uint_eq (n_lost, 2);
}
END_TEST

START_TEST (quoted_cells_hold_tabs_lines_and_quotes)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { .left = TRAMMEL_COLUMN_SET, .right = TRAMMEL_COLUMN_SET };
  gsize n_lost;
  g_autoptr (TrammelReadings) readings
      = trammel_cells_paste (none, "s\t\"one\ntwo \"\"three\"\"\"\ns\t5\" rule\n", mm, &block, &n_lost);
  ck_assert_uint_eq (trammel_readings_length (readings), 2);
  assert_cell (readings, 0, TRAMMEL_COLUMN_NOTE, "one\ntwo \"three\"");
  assert_cell (readings, 1, TRAMMEL_COLUMN_NOTE, "5\" rule");
}
END_TEST

START_TEST (quote_that_is_not_closed_is_a_letter)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { .left = TRAMMEL_COLUMN_SET, .right = TRAMMEL_COLUMN_SET };
  gsize n_lost;
  g_autoptr (TrammelReadings) readings = trammel_cells_paste (none, "s\t\"odd\nt\tx", mm, &block, &n_lost);
  ck_assert_uint_eq (trammel_readings_length (readings), 2);
  assert_cell (readings, 0, TRAMMEL_COLUMN_NOTE, "\"odd");
  assert_cell (readings, 1, TRAMMEL_COLUMN_SET, "t");
}
END_TEST

START_TEST (pasted_values_below_a_home_are_homes)
{
  gsize n_lost;
  TrammelBlock block = { 0, 0, 0, 0 };
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  g_autoptr (TrammelReadings) home = trammel_cells_paste (none, "home\tZ\t\t0.01\t\tdial\t-\n", mm, &block, &n_lost);
  block = (TrammelBlock){ 1, 1, TRAMMEL_COLUMN_MEASURED, TRAMMEL_COLUMN_MEASURED };
  g_autoptr (TrammelReadings) after = trammel_cells_paste (home, "0.02\n0.03\n", mm, &block, &n_lost);
  ck_assert_uint_eq (trammel_readings_length (after), 3);
  const TrammelReading *last = trammel_readings_get (after, 2);
  ck_assert_int_eq (last->kind, TRAMMEL_READING_HOME);
  ck_assert (last->has_along && last->approach == TRAMMEL_APPROACH_DOWN);
  ck_assert_double_eq (last->measured, 0.03);
  ck_assert_str_eq (last->instrument, "dial");
}
END_TEST

START_TEST (columns_of_numbers)
{
  ck_assert (trammel_cells_is_column_of_numbers ("0.1\n0,2\r\n3 mm\n"));
  ck_assert (!trammel_cells_is_column_of_numbers ("0.1"));
  ck_assert (!trammel_cells_is_column_of_numbers ("0.1\t0.2\n0.3\t0.4"));
  ck_assert (!trammel_cells_is_column_of_numbers ("outside\ninside"));
}
END_TEST

START_TEST (nothing_to_paste_is_nothing)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { 0 };
  gsize n_lost;
  ck_assert_ptr_null (trammel_cells_paste (none, "", mm, &block, &n_lost));
  ck_assert_ptr_null (trammel_cells_paste (none, "kind\talong\n", mm, &block, &n_lost));
}
END_TEST

START_TEST (copy_and_paste_give_the_same_rows)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock all = { .top = 0, .bottom = 1, .left = 0, .right = TRAMMEL_N_COLUMNS - 1 };
  g_autofree char *text = trammel_cells_to_text (before, &all, mm);
  TrammelBlock block = { 0 };
  gsize n_lost;
  g_autoptr (TrammelReadings) after = trammel_cells_paste (none, text, mm, &block, &n_lost);
  ck_assert (trammel_readings_equal (before, after));
}
END_TEST

START_TEST (bad_text_is_kept_with_its_reason)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  g_autoptr (TrammelReadings) after = trammel_cells_with_text (before, 1, TRAMMEL_COLUMN_MEASURED, "79,8x", mm);
  const TrammelReading *row = trammel_readings_get (after, 1);
  assert_cell (after, 1, TRAMMEL_COLUMN_MEASURED, "79,8x");
  ck_assert (!trammel_reading_is_complete (row));
  g_autofree char *reason = trammel_cell_trouble (row, TRAMMEL_COLUMN_MEASURED, mm);
  ck_assert_ptr_nonnull (reason);
  ck_assert_ptr_nonnull (strstr (reason, "79,8x"));
  ck_assert_ptr_null (trammel_cell_trouble (row, TRAMMEL_COLUMN_NOMINAL, mm));

  g_autoptr (TrammelReadings) mended = trammel_cells_with_text (after, 1, TRAMMEL_COLUMN_MEASURED, "79,8", mm);
  ck_assert (trammel_readings_equal (before, mended));
}
END_TEST

START_TEST (row_that_does_not_fit_tells_why)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  g_autoptr (TrammelReadings) after = trammel_cells_with_text (before, 1, TRAMMEL_COLUMN_KIND, "height", mm);
  g_autofree char *fine = trammel_row_trouble (trammel_readings_get (after, 0));
  g_autofree char *reason = trammel_row_trouble (trammel_readings_get (after, 1));
  ck_assert_ptr_null (fine);
  ck_assert_ptr_nonnull (reason);
}
END_TEST

START_TEST (numbers_are_in_the_unit_of_the_display)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  g_autoptr (TrammelReadings) after = trammel_cells_with_text (before, 0, TRAMMEL_COLUMN_NOMINAL, "5", inch);
  /* The inch is 25.4 mm */
  ck_assert_double_eq_tol (trammel_readings_get (after, 0)->nominal, 127, 1e-12);
  g_autofree char *shown = trammel_cell_to_show (trammel_readings_get (after, 0), TRAMMEL_COLUMN_NOMINAL, inch);
  ck_assert_str_eq (shown, "5");
}
END_TEST

/* 100/25.4 = 3.9370078740157…; what was typed with that many digits itself is cut, too, but never what is edited */
START_TEST (digits_of_conversion_are_not_shown)
{
  TrammelReading reading;
  trammel_reading_init (&reading);
  reading.nominal = 100;
  g_autofree char *shown = trammel_cell_to_show (&reading, TRAMMEL_COLUMN_NOMINAL, inch);
  g_autofree char *edited = trammel_cell_to_edit (&reading, TRAMMEL_COLUMN_NOMINAL, inch);
  ck_assert_str_eq (shown, "3.937008");
  ck_assert (g_str_has_prefix (edited, "3.93700787401"));
  reading.nominal = 1000.12345;
  g_autofree char *fine = trammel_cell_to_show (&reading, TRAMMEL_COLUMN_NOMINAL, mm);
  ck_assert_str_eq (fine, "1000.12345");
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (minus_of_typesetting_is_read_and_shown)
{
  TrammelReading reading;
  trammel_reading_init (&reading);
  ck_assert (trammel_cell_set (&reading, TRAMMEL_COLUMN_MEASURED, "−0.5", mm, NULL));
  ck_assert_double_eq (reading.measured, -0.5);
  g_autofree char *shown = trammel_cell_to_show (&reading, TRAMMEL_COLUMN_MEASURED, mm);
  g_autofree char *edited = trammel_cell_to_edit (&reading, TRAMMEL_COLUMN_MEASURED, mm);
  ck_assert_str_eq (shown, "−0.5");
  ck_assert_str_eq (edited, "-0.5");
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (new_row_takes_kind_and_instrument_of_the_last)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  g_autoptr (TrammelReadings) first = trammel_cells_with_text (none, 0, TRAMMEL_COLUMN_KIND, "travel", mm);
  g_autoptr (TrammelReadings) second = trammel_cells_with_text (first, 0, TRAMMEL_COLUMN_INSTRUMENT, "dial", mm);
  g_autoptr (TrammelReadings) third = trammel_cells_with_text (second, 1, TRAMMEL_COLUMN_MEASURED, "10", mm);
  ck_assert_uint_eq (trammel_readings_length (third), 2);
  assert_cell (third, 1, TRAMMEL_COLUMN_KIND, "Travel");
  assert_cell (third, 1, TRAMMEL_COLUMN_INSTRUMENT, "dial");
  ck_assert (!trammel_readings_get (third, 1)->has_along);
}
END_TEST

START_TEST (homes_are_entered_one_below_the_other)
{
  g_autoptr (TrammelReadings) none = trammel_readings_new_empty ();
  TrammelBlock block = { 0 };
  gsize n_lost;
  g_autoptr (TrammelReadings) first
      = trammel_cells_paste (none, "Home\tZ\t\t−0.012\t\tdial\t−\t\ttwo-speed\tcold", mm, &block, &n_lost);
  assert_cell (first, 0, TRAMMEL_COLUMN_KIND, "Home");
  assert_cell (first, 0, TRAMMEL_COLUMN_NOMINAL, "");
  ck_assert (trammel_reading_is_complete (trammel_readings_get (first, 0)));
  g_autofree char *trouble = trammel_row_trouble (trammel_readings_get (first, 0));
  ck_assert_ptr_null (trouble);

  g_autoptr (TrammelReadings) second = trammel_cells_with_text (first, 1, TRAMMEL_COLUMN_MEASURED, "0.01", mm);
  assert_cell (second, 1, TRAMMEL_COLUMN_KIND, "Home");
  assert_cell (second, 1, TRAMMEL_COLUMN_ALONG, "Z");
  assert_cell (second, 1, TRAMMEL_COLUMN_INSTRUMENT, "dial");
  assert_cell (second, 1, TRAMMEL_COLUMN_SET, "two-speed");
  assert_cell (second, 1, TRAMMEL_COLUMN_NOTE, "");
  ck_assert_int_eq (trammel_readings_get (second, 1)->approach, TRAMMEL_APPROACH_DOWN);

  g_autoptr (TrammelReadings) across = trammel_cells_with_text (second, 1, TRAMMEL_COLUMN_ALONG, "X+Z", mm);
  g_autofree char *reason = trammel_row_trouble (trammel_readings_get (across, 1));
  ck_assert_ptr_nonnull (reason);
}
END_TEST

START_TEST (clearing_leaves_the_cells_around)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  TrammelBlock block = { .top = 0, .bottom = 7, .left = TRAMMEL_COLUMN_MEASURED, .right = TRAMMEL_COLUMN_MEASURED };
  g_autoptr (TrammelReadings) after = trammel_cells_without (before, &block);
  ck_assert_uint_eq (trammel_readings_length (after), 2);
  assert_cell (after, 0, TRAMMEL_COLUMN_MEASURED, "");
  assert_cell (after, 1, TRAMMEL_COLUMN_MEASURED, "");
  assert_cell (after, 1, TRAMMEL_COLUMN_NOMINAL, "80");
}
END_TEST

START_TEST (rows_are_put_in_and_taken_out)
{
  g_autoptr (TrammelReadings) before = two_rows ();
  g_autoptr (TrammelReadings) more = trammel_cells_with_rows (before, 1, 2);
  ck_assert_uint_eq (trammel_readings_length (more), 4);
  assert_cell (more, 1, TRAMMEL_COLUMN_NOMINAL, "");
  assert_cell (more, 3, TRAMMEL_COLUMN_NOMINAL, "80");
  g_autoptr (TrammelReadings) again = trammel_cells_without_rows (more, 1, 2);
  ck_assert (trammel_readings_equal (before, again));
  g_autoptr (TrammelReadings) beyond = trammel_cells_without_rows (before, 1, 99);
  ck_assert_uint_eq (trammel_readings_length (beyond), 1);
}
END_TEST

static Suite *
sheet_cells_suite (void)
{
  Suite *suite = suite_create ("sheet-cells");
  TCase *tests = tcase_create ("sheet-cells");

  tcase_add_unchecked_fixture (tests, start, NULL);
  tcase_add_test (tests, block_from_a_spreadsheet_fills_rows);
  tcase_add_test (tests, paste_goes_on_below_the_last_row);
  tcase_add_test (tests, one_cell_fills_the_selection);
  tcase_add_test (tests, first_line_may_name_the_columns);
  tcase_add_test (tests, columns_beyond_the_sheet_are_counted);
  tcase_add_test (tests, quoted_cells_hold_tabs_lines_and_quotes);
  tcase_add_test (tests, quote_that_is_not_closed_is_a_letter);
  tcase_add_test (tests, pasted_values_below_a_home_are_homes);
  tcase_add_test (tests, columns_of_numbers);
  tcase_add_test (tests, nothing_to_paste_is_nothing);
  tcase_add_test (tests, copy_and_paste_give_the_same_rows);
  tcase_add_test (tests, bad_text_is_kept_with_its_reason);
  tcase_add_test (tests, row_that_does_not_fit_tells_why);
  tcase_add_test (tests, numbers_are_in_the_unit_of_the_display);
  tcase_add_test (tests, digits_of_conversion_are_not_shown);
  tcase_add_test (tests, minus_of_typesetting_is_read_and_shown);
  tcase_add_test (tests, new_row_takes_kind_and_instrument_of_the_last);
  tcase_add_test (tests, homes_are_entered_one_below_the_other);
  tcase_add_test (tests, clearing_leaves_the_cells_around);
  tcase_add_test (tests, rows_are_put_in_and_taken_out);
  suite_add_tcase (suite, tests);
  return suite;
}

int
main (void)
{
  SRunner *runner = srunner_create (sheet_cells_suite ());

  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
