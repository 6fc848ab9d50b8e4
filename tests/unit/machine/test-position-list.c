/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/position-list.h"

#include <check.h>
#include <math.h>
#include <string.h>

static const TrammelPositionListOptions along_x = { .letter = 'X' };

static TrammelPositionList
read_list (const char *text, const TrammelPositionListOptions *options)
{
  TrammelPositionList list;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_position_list_read (text, options, &list, &error), "%s: %s", text,
                 error != NULL ? error->message : "");
  return list;
}

/* "target:value side run" of every row, with a blank after each. */
static char *
rows_of (const TrammelPositionList *list)
{
  static const char sides[] = { '.', '+', '-', '?' };
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < trammel_readings_length (list->readings); i++)
    {
      const TrammelReading *row = trammel_readings_get (list->readings, i);
      g_autofree char *along = row->has_along ? trammel_direction_to_text (&row->along) : NULL;
      ck_assert_int_eq (row->kind, TRAMMEL_READING_POSITION);
      ck_assert_str_eq (along, "X");
      g_string_append_printf (text, "%g:%g%c%d ", row->nominal, row->measured, sides[row->approach], row->run);
    }
  return g_string_free (text, FALSE);
}

/* What the rows are was worked out by hand from what the list says. */
static const struct
{
  const char *text, *rows;
} lists[] = {
  /* both ways, the ends said twice, as ISO 230-2's standard cycle has it */
  { "0\t1\n10\t12\n20\t23\n20\t24\n10\t14\n0\t4\n0\t5\n10\t16\n20\t27\n",
    "0:1+1 10:12+1 20:23+1 20:24-1 10:14-1 0:4-1 0:5+2 10:16+2 20:27+2 " },
  /* both ways, the ends said once */
  { "0 1\n10 12\n20 23\n10 14\n0 5\n10 16\n", "0:1+1 10:12+1 20:23+1 10:14-1 0:5-1 10:16+2 " },
  /* one way, with a way back */
  { "0,1.5\n10,12.5\n20,23.5\n0,2.5\n10,13.5\n20,24.5", "0:1.5+1 10:12.5+1 20:23.5+1 0:2.5+2 10:13.5+2 20:24.5+2 " },
  { "20;23\r\n10;12\r\n0;1\r\n20;24\r\n10;13\r\n0;2\r\n", "20:23-1 10:12-1 0:1-1 20:24-2 10:13-2 0:2-2 " },
  /* every target read twice before going on */
  { "0 1\n0 2\n10 11\n10 12\n20 21\n20 22", "0:1+1 0:2+1 10:11+1 10:12+1 20:21+1 20:22+1 " },
  /* an instrument that counts the other way */
  { "0 30\n10 20.5\n20 10.25", "0:-30+1 10:-20.5+1 20:-10.25+1 " },
  /* one place only: nothing tells how it was approached */
  { "10 10.5\n10 10.6\n10 10.4", "10:10.5.1 10:10.6.1 10:10.4.1 " },
  /* said by a third column */
  { "target,shown,side\n0,1.0,+\n0,2.0,-\n10,11.0,+\n10,12.0,down\n", "0:1+1 0:2-1 10:11+2 10:12-2 " },
  { "0\t1\t\xe2\x86\x91\n10\t11\t\xe2\x86\x91\n10\t12\t\xe2\x86\x93", "0:1+1 10:11+1 10:12-1 " },
  /* a column for each pass */
  { "0\t1\t2\t3\t4\n10\t11\t12\t13\t14\n", "0:1+1 10:11+1 0:2-1 10:12-1 0:3+2 10:13+2 0:4-2 10:14-2 " },
  { "0\t1\t2\t3\n10\t11\t\t13\n", "0:1+1 10:11+1 0:2+2 0:3+3 10:13+3 " },
  { "place\tdown 1\tdown 2\n0\t1\t2\n10\t11\t12\n", "0:1-1 10:11-1 0:2-2 10:12-2 " },
  { "place;1 \xe2\x86\x91;1 \xe2\x86\x93\n0;1;2\n10;11;12", "0:1+1 10:11+1 0:2-1 10:12-1 " },
  /* decimal commas, units, blanks, comments, a typeset minus, the empty cells of a spreadsheet */
  { "0\t0,5\n10\t10,5\n", "0:0.5+1 10:10.5+1 " },
  { "0,5 1,25\n10,5 11,25", "0.5:1.25+1 10.5:11.25+1 " },
  { "0 mm 1 mm\n1 cm 11 mm\n", "0:1+1 10:11+1 " },
  { "# dial, 20 \xc2\xb0"
    "C\n\n0\t1\t\t\n10\t11\t\t\n\n",
    "0:1+1 10:11+1 " },
  { "\xe2\x88\x92"
    "10\t\xe2\x88\x92"
    "11\n0\t1",
    "-10:-11+1 0:1+1 " },
  /* units in the header, of columns; lines of words above it, with signs that stand between cells elsewhere */
  { "target\tdial (\xc2\xb5m)\n0\t2000\n1\t3000", "0:2+1 1:3+1 " },
  { "test of X, 20 \xc2\xb0"
    "C\ntarget;dial\ncm;\xc2\xb5m\n0;1000;\n0,1;2000;",
    "0:1+1 1:2+1 " },
  { "n,m\n0,1\n1,2\n", "0:1+1 1:2+1 " },
  { "n,m\n0,1.5\n1,2.5\n", "0:1.5+1 1:2.5+1 " },
  { "cm mm\n0 1\n1 12 mm\n", "0:1+1 10:12+1 " },
  { "x in cm\tup, mm\tdown, mm\n0\t1\t2\n1\t11\t12\n", "0:1+1 10:11+1 0:2-1 10:12-1 " },
};

START_TEST (lists_are_read)
{
  g_auto (TrammelPositionList) list = read_list (lists[_i].text, &along_x);
  g_autofree char *rows = rows_of (&list);
  ck_assert_str_eq (rows, lists[_i].rows);
}
END_TEST

START_TEST (what_was_found_is_told)
{
  g_auto (TrammelPositionList) list = read_list (lists[0].text, &along_x);
  ck_assert_uint_eq (list.n_targets, 3);
  ck_assert_double_eq (list.low, 0);
  ck_assert_double_eq (list.high, 20);
  ck_assert_uint_eq (list.n_up, 6);
  ck_assert_uint_eq (list.n_down, 3);
  ck_assert_uint_eq (list.n_unsaid, 0);
  ck_assert_int_eq (list.n_runs, 2);
  ck_assert (!list.in_columns && list.values == TRAMMEL_LIST_VALUES_PLACES);
}
END_TEST

START_TEST (deviations_are_told_from_places)
{
  const char *deviations = "0 0.01\n50 0.03\n100 0.06";
  g_auto (TrammelPositionList) guessed = read_list (deviations, &along_x);
  ck_assert_int_eq (guessed.values, TRAMMEL_LIST_VALUES_DEVIATIONS);
  ck_assert_double_eq_tol (guessed.least_deviation, 0.01, 1e-12);
  ck_assert_double_eq_tol (guessed.greatest_deviation, 0.06, 1e-12);
  ck_assert_double_eq_tol (trammel_readings_get (guessed.readings, 2)->measured, 100.06, 1e-12);

  TrammelPositionListOptions options = { .letter = 'X', .values = TRAMMEL_LIST_VALUES_PLACES };
  g_auto (TrammelPositionList) told = read_list (deviations, &options);
  ck_assert_int_eq (told.values, TRAMMEL_LIST_VALUES_PLACES);
  ck_assert_double_eq (trammel_readings_get (told.readings, 2)->measured, 0.06);

  options.values = TRAMMEL_LIST_VALUES_DEVIATIONS;
  g_auto (TrammelPositionList) places = read_list ("0 0\n50 50", &options);
  ck_assert_double_eq (trammel_readings_get (places.readings, 1)->measured, 100);
}
END_TEST

START_TEST (passes_set_and_instrument_as_said)
{
  TrammelPositionListOptions options
      = { .letter = 'X', .passes = TRAMMEL_LIST_PASSES_IN_TURN, .set = "first", .instrument = "dial" };
  g_auto (TrammelPositionList) list = read_list ("0 1 2 3\n10 11 12 13", &options);
  g_autofree char *rows = rows_of (&list);
  ck_assert_str_eq (rows, "0:1+1 10:11+1 0:2-1 10:12-1 0:3+2 10:13+2 ");
  ck_assert_str_eq (trammel_readings_get (list.readings, 0)->set, "first");
  ck_assert_str_eq (trammel_readings_get (list.readings, 0)->instrument, "dial");

  options.passes = TRAMMEL_LIST_PASSES_DOWN;
  g_auto (TrammelPositionList) down = read_list ("0 1 2\n10 11 12", &options);
  g_autofree char *all_down = rows_of (&down);
  ck_assert_str_eq (all_down, "0:1-1 10:11-1 0:2-2 10:12-2 ");
}
END_TEST

START_TEST (units_of_display_and_of_turning)
{
  TrammelPositionListOptions inch = { .letter = 'X', .unit = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in") };
  g_auto (TrammelPositionList) list = read_list ("0 0\n1 1.5\n2 50.8mm", &inch);
  g_autofree char *rows = rows_of (&list);
  ck_assert_str_eq (rows, "0:0+1 25.4:38.1+1 50.8:50.8+1 ");

  TrammelPositionListOptions rotary = { .letter = 'X', .rotary = TRUE };
  g_auto (TrammelPositionList) table = read_list ("0 0.5\n90 91\n180 181", &rotary);
  ck_assert_double_eq (trammel_readings_get (table.readings, 1)->nominal, 90);
  ck_assert_double_eq_tol (trammel_readings_get (table.readings, 1)->measured, 91, 1e-12);
  g_auto (TrammelPositionList) named
      = read_list ("deg\trad\n0\t0\n90\t1.5707963267948966\n180\t180\xc2\xb0\n", &rotary);
  ck_assert_double_eq_tol (trammel_readings_get (named.readings, 1)->measured, 90, 1e-12);
  ck_assert_double_eq_tol (trammel_readings_get (named.readings, 2)->measured, 180, 1e-12);
}
END_TEST

static const struct
{
  const char *text, *message;
} refused[] = {
  { "", "nothing in the list" },
  { "# only this\n\n", "nothing in the list" },
  { "target\tshown\n", "nothing in the list" },
  { "1\n2\n3\n", "line 1: found one column" },
  { "0 1\n10\n", "line 2: the value is missing" },
  { "0\t1\n\t11\n", "line 2: the target is missing" },
  { "0 1\r\n10 apples\r\n", "line 2: " },
  { "0 1\n\n# note\n10 nan\n", "line 4: " },
  { "0 1 2\nx 1 2\n", "line 2: " },
  { "1.234,5\t1.234,6\n1.300,0\t1.300,1\n", "line 1: found “1.234,5”; one decimal sign at most" },
  { "what the dial shows um\n0 1\n1 2\n", "line 1: a unit is named, but not clearly of which column" },
};

START_TEST (bad_lists_are_refused)
{
  TrammelPositionList list = { .n_targets = 77 };
  g_autoptr (GError) error = NULL;
  ck_assert (!trammel_position_list_read (refused[_i].text, &along_x, &list, &error));
  ck_assert_msg (error != NULL && strstr (error->message, refused[_i].message) != NULL, "%s",
                 error != NULL ? error->message : "no error");
  ck_assert_uint_eq (list.n_targets, 77);
}
END_TEST

START_TEST (likely_lists)
{
  ck_assert (trammel_position_list_is_likely ("0\t0.1\n10\t10.2\n20\t20.1\n"));
  ck_assert (!trammel_position_list_is_likely ("0\t0.1\n10\t10.2\n"));
  ck_assert (!trammel_position_list_is_likely ("outside\tX\t100\t99.8\ninside\tX\t80\t79.9\ninside\tX\t80\t79.9\n"));
  ck_assert (
      trammel_position_list_is_likely ("0\xc2\xb0\t0.1\xc2\xb0\n90\xc2\xb0\t90.2\xc2\xb0\n180\xc2\xb0\t180\xc2\xb0\n"));
  ck_assert (!trammel_position_list_is_likely ("1\n2\n3\n4\n"));
}
END_TEST

START_TEST (plans_go_as_the_carriage_does)
{
  g_autoptr (TrammelReadings) both = trammel_position_plan ('X', 10, 30, 3, 2, TRUE, "first", NULL);
  static const double targets[] = { 10, 20, 30, 30, 20, 10, 10, 20, 30, 30, 20, 10 };
  ck_assert_uint_eq (trammel_readings_length (both), G_N_ELEMENTS (targets));
  for (gsize i = 0; i < G_N_ELEMENTS (targets); i++)
    {
      const TrammelReading *row = trammel_readings_get (both, i);
      ck_assert_double_eq (row->nominal, targets[i]);
      ck_assert (isnan (row->measured));
      ck_assert_int_eq (row->approach, i % 6 < 3 ? TRAMMEL_APPROACH_UP : TRAMMEL_APPROACH_DOWN);
      ck_assert_int_eq (row->run, i < 6 ? 1 : 2);
      ck_assert_str_eq (row->set, "first");
    }
  g_autoptr (TrammelReadings) up = trammel_position_plan ('X', 0, 100, 11, 5, FALSE, NULL, NULL);
  ck_assert_uint_eq (trammel_readings_length (up), 55);
  ck_assert_double_eq (trammel_readings_get (up, 12)->nominal, 10);
  ck_assert_ptr_null (trammel_position_plan ('X', 0, 100, 10000000, 2, TRUE, NULL, NULL));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("position list");
  TCase *tcase = tcase_create ("list");
  tcase_add_loop_test (tcase, lists_are_read, 0, G_N_ELEMENTS (lists));
  tcase_add_test (tcase, what_was_found_is_told);
  tcase_add_test (tcase, deviations_are_told_from_places);
  tcase_add_test (tcase, passes_set_and_instrument_as_said);
  tcase_add_test (tcase, units_of_display_and_of_turning);
  tcase_add_loop_test (tcase, bad_lists_are_refused, 0, G_N_ELEMENTS (refused));
  tcase_add_test (tcase, likely_lists);
  tcase_add_test (tcase, plans_go_as_the_carriage_does);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
