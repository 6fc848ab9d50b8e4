/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/homing-csv.h"
#include "machine/homing-report.h"
#include "machine/readings-csv.h"

#include <check.h>
#include <math.h>
#include <string.h>

static TrammelReadings *
readings_of (const char *csv)
{
  g_autoptr (GError) error = NULL;
  TrammelReadings *readings = trammel_readings_csv_read (csv, strlen (csv), "test.csv", NULL, &error);
  ck_assert_msg (readings != NULL, "%s", error ? error->message : "");
  return readings;
}

static TrammelHomingRows *
homes_of (const char *csv)
{
  g_autoptr (TrammelReadings) readings = readings_of (csv);
  g_autoptr (GError) error = NULL;
  TrammelHomingRows *rows = trammel_homing_rows_of_readings (readings, &error);
  ck_assert_msg (rows != NULL, "%s", error ? error->message : "");
  return rows;
}

static TrammelHomingRows *
homes_of_file (const char *csv)
{
  g_autoptr (GError) error = NULL;
  TrammelHomingRows *rows = trammel_homing_csv_read (csv, strlen (csv), "test.csv", &error);
  ck_assert_msg (rows != NULL, "%s", error ? error->message : "");
  return rows;
}

/* Of the readings 1, 3, 4, 5, 7 and 8 are homes: X fast − 1 and 3, fast 4, slow − 2 and 2.5; Z 9. */
#define MIXED                                                                                                          \
  "kind,along,nominal,measured,approach,run,set\n"                                                                     \
  "travel,X,100,99.9,,,fast\n"                                                                                         \
  "home,X,,1,-,1,fast\n"                                                                                               \
  "home,X,,,-,,fast\n"                                                                                                 \
  "home,X,0,3,-,2,fast\n"                                                                                              \
  "home,Z,,9,,,\n"                                                                                                     \
  "home,X,,2,-,,slow\n"                                                                                                \
  "position,X,1,1,-,1,fast\n"                                                                                          \
  "home,X,,2.5,-,,slow\n"                                                                                              \
  "home,X,,4,,,fast\n"

START_TEST (homes_of_readings)
{
  g_autoptr (TrammelHomingRows) rows = homes_of (MIXED);
  gsize n;
  const TrammelHomingRow *row = trammel_homing_rows_get (rows, &n);
  ck_assert_uint_eq (n, 6);
  static const gsize indices[] = { 1, 3, 4, 5, 7, 8 };
  static const char *const groups[] = { "fast -", "fast -", "", "slow -", "slow -", "fast" };
  for (gsize i = 0; i < n; i++)
    {
      ck_assert_uint_eq (row[i].index, indices[i]);
      ck_assert_str_eq (row[i].group, groups[i]);
      ck_assert_int_eq (row[i].axis, i == 2 ? 'Z' : 'X');
    }
  ck_assert_ptr_eq (row[0].group, row[1].group);
  ck_assert_double_eq (row[1].measured, 3);
  ck_assert_double_eq (row[1].run, 2);
  ck_assert (isnan (row[2].run));
  ck_assert (trammel_homing_row_is_of (&row[0], "fast") && trammel_homing_row_is_of (&row[0], "fast -"));
  ck_assert (!trammel_homing_row_is_of (&row[0], "fas") && !trammel_homing_row_is_of (&row[0], "slow"));
  ck_assert (trammel_homing_row_is_of (&row[2], "") && !trammel_homing_row_is_of (&row[0], ""));
}
END_TEST

START_TEST (along_one_axis)
{
  g_autoptr (TrammelHomingRows) all = homes_of (MIXED);
  g_autoptr (TrammelHomingRows) first = trammel_homing_rows_along (all, '\0');
  g_autoptr (TrammelHomingRows) of_z = trammel_homing_rows_along (all, 'Z');
  g_autoptr (TrammelHomingRows) none = trammel_homing_rows_along (all, 'Y');
  const char *const *groups = trammel_homing_rows_groups (first);
  gsize n;
  trammel_homing_rows_get (first, &n);
  ck_assert_uint_eq (n, 5);
  ck_assert_str_eq (groups[0], "fast -");
  ck_assert_str_eq (groups[1], "slow -");
  ck_assert_str_eq (groups[2], "fast");
  ck_assert_ptr_null (groups[3]);
  ck_assert_double_eq (trammel_homing_rows_get (of_z, &n)->measured, 9);
  ck_assert_uint_eq (n, 1);
  trammel_homing_rows_get (none, &n);
  ck_assert_uint_eq (n, 0);
  ck_assert_ptr_null (trammel_homing_rows_groups (none)[0]);

  /* A plain list may be of any axis. */
  g_autoptr (TrammelHomingRows) list = homes_of_file ("1\n2\n");
  g_autoptr (TrammelHomingRows) of_x = trammel_homing_rows_along (list, 'X');
  trammel_homing_rows_get (of_x, &n);
  ck_assert_uint_eq (n, 2);
}
END_TEST

/* The same list, as readings and as a file of its own. */
START_TEST (a_file_of_all_readings_gives_its_homes)
{
  g_autoptr (TrammelHomingRows) rows = homes_of_file (MIXED);
  g_autoptr (TrammelHomingRows) others
      = homes_of_file ("kind,along,nominal,measured\noutside,X+Y,100,99\ninside,Z,50,49.5\n");
  gsize n;
  const TrammelHomingRow *row = trammel_homing_rows_get (rows, &n);
  ck_assert_uint_eq (n, 6);
  ck_assert_int_eq (row[2].axis, 'Z');
  ck_assert_double_eq (row[5].measured, 4);
  row = trammel_homing_rows_get (others, &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_int_eq (row[0].axis, '\0');

  g_autoptr (GError) error = NULL;
  const char diagonal[] = "kind,along,measured\nhome,X,1\nhome,X+Y,2\n";
  ck_assert_ptr_null (trammel_homing_csv_read (diagonal, strlen (diagonal), "test.csv", &error));
  ck_assert_ptr_nonnull (strstr (error->message, "line 3, column along"));
}
END_TEST

/* A row that ends before the columns asked for, after one whose quoted field is gone. */
START_TEST (a_short_row_after_quotes)
{
  const char csv[] = "measured,set,kind\n1,a,\"ho\"\"me\"\n2\n3,b,home\n";
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_homing_csv_read (csv, strlen (csv), "test.csv", &error));
  ck_assert_ptr_nonnull (strstr (error->message, "line 3: found 1 field;"));
}
END_TEST

/* By hand: {1, 3} has squares 2 about 2, {2, 2.5} 0.125 about 2.25, {4} alone tells nothing: √(2.125/2) of 4 homes. */
START_TEST (scatter_within_groups)
{
  g_autoptr (TrammelHomingRows) all = homes_of (MIXED);
  g_autoptr (TrammelHomingRows) of_x = trammel_homing_rows_along (all, 'X');
  g_autoptr (TrammelHomingRows) of_z = trammel_homing_rows_along (all, 'Z');
  TrammelHomingScatter scatter;
  ck_assert (trammel_homing_rows_scatter (of_x, &scatter));
  ck_assert_double_eq_tol (scatter.s, sqrt (2.125 / 2), 1e-15);
  ck_assert_uint_eq (scatter.n, 4);
  ck_assert_uint_eq (scatter.dof, 2);
  ck_assert (!trammel_homing_rows_scatter (of_z, &scatter));

  /* NIST Statistical Reference Datasets, univariate, NumAcc1 (public domain): certified s 1 of 3. */
  g_autoptr (TrammelHomingRows) far = homes_of_file ("10000001\n10000003\n10000002\n");
  ck_assert (trammel_homing_rows_scatter (far, &scatter));
  ck_assert_double_eq (scatter.s, 1);
  ck_assert_uint_eq (scatter.dof, 2);
}
END_TEST

START_TEST (a_home_that_cannot_be_used_is_named)
{
  g_autoptr (TrammelReadings) good = readings_of ("kind,along,measured\nhome,X,1\nhome,X,2\n");
  TrammelReading across;
  trammel_reading_copy (trammel_readings_get (good, 0), &across);
  trammel_reading_set_text (&across, TRAMMEL_COLUMN_ALONG, "X+Y", 1, NULL);
  g_autoptr (TrammelReadings) bad = trammel_readings_splice (good, 1, 1, &across, 1);
  trammel_reading_clear (&across);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_homing_rows_of_readings (bad, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
  ck_assert (g_str_has_prefix (error->message, "readings[1]: "));
}
END_TEST

START_TEST (a_report_of_groups)
{
  g_autoptr (TrammelHomingRows) rows = homes_of (
      "kind,along,measured,set,run\nhome,X,1,a,1\nhome,X,2,a,2\nhome,X,7,b,1\nhome,X,9,b,2\nhome,X,8,b,3\n");
  g_autoptr (TrammelHomingReport) report = trammel_homing_report_new (rows, NULL, NULL);
  ck_assert_ptr_nonnull (report);
  ck_assert_uint_eq (report->n_groups, 2);
  ck_assert_ptr_null (report->all.name);
  ck_assert_double_eq_tol (report->all.homing.mean, 5.4, 1e-14);
  ck_assert_str_eq (report->groups[1].name, "b");
  ck_assert_uint_eq (report->groups[1].indices[0], 2);
  ck_assert_double_eq (report->groups[1].runs[2], 3);
  ck_assert_double_eq (report->groups[1].homing.s, 1);
  ck_assert (report->has_comparison);
  ck_assert_double_eq (report->comparison.difference, -6.5);

  g_autoptr (TrammelHomingReport) only = trammel_homing_report_new (rows, "b", NULL);
  ck_assert_uint_eq (only->all.n, 3);
  ck_assert_uint_eq (only->n_groups, 0);
  ck_assert (!only->has_comparison);

  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_homing_report_new (rows, "c", &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
}
END_TEST

START_TEST (a_group_of_one_does_not_hide_the_rest)
{
  g_autoptr (TrammelHomingRows) rows = homes_of ("kind,along,measured,set\nhome,X,1,a\nhome,X,2,a\nhome,X,7,b\n");
  g_autoptr (TrammelHomingReport) report = trammel_homing_report_new (rows, NULL, NULL);
  ck_assert_ptr_nonnull (report);
  ck_assert_ptr_null (report->groups[0].trouble);
  ck_assert_double_eq (report->groups[0].homing.mean, 1.5);
  ck_assert_ptr_nonnull (report->groups[1].trouble);
  ck_assert (!report->has_comparison);
}
END_TEST

/* Ten alike within 0.02 and one 3 away: Grubbs's test finds it, and without it s is that of the ten. */
START_TEST (an_outlier_is_told_by_its_reading)
{
  g_autoptr (TrammelHomingRows) rows = homes_of_file ("1.00 1.01 0.99 1.00 4 1.02 0.98 1.01 0.99 1.00 1.00\n");
  g_autoptr (TrammelHomingReport) report = trammel_homing_report_new (rows, NULL, NULL);
  ck_assert_uint_eq (report->all.outliers->len, 1);
  const TrammelHomingOutlier *outlier = &g_array_index (report->all.outliers, TrammelHomingOutlier, 0);
  ck_assert_uint_eq (report->all.indices[outlier->index], 4);
  ck_assert (report->all.has_rest);
  ck_assert_uint_eq (report->all.without_outliers.n, 10);
  ck_assert_double_eq_tol (report->all.without_outliers.s, sqrt (0.0012 / 9), 1e-12);
  ck_assert_ptr_null (report->all.runs);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("homing-rows");
  TCase *tests = tcase_create ("homing-rows");
  tcase_add_test (tests, homes_of_readings);
  tcase_add_test (tests, along_one_axis);
  tcase_add_test (tests, a_file_of_all_readings_gives_its_homes);
  tcase_add_test (tests, a_short_row_after_quotes);
  tcase_add_test (tests, scatter_within_groups);
  tcase_add_test (tests, a_home_that_cannot_be_used_is_named);
  tcase_add_test (tests, a_report_of_groups);
  tcase_add_test (tests, a_group_of_one_does_not_hide_the_rest);
  tcase_add_test (tests, an_outlier_is_told_by_its_reading);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
