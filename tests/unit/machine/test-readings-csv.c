/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/codec.h"
#include "machine/readings-csv.h"

#include <check.h>
#include <glib/gstdio.h>
#include <math.h>
#include <string.h>
#include <time.h>

static TrammelReadings *
read_csv (const char *csv)
{
  g_autoptr (GError) error = NULL;
  TrammelReadings *readings = trammel_readings_csv_read (csv, strlen (csv), "test.csv", NULL, &error);
  ck_assert_msg (readings != NULL, "%s", error ? error->message : "");
  return readings;
}

/* The same two rows in all the ways that they may be written. */
static const char *const ways[] = {
  "kind,along,nominal,measured\noutside,X,100,99.71\ninside,Y,92,\n",
  "kind,along,nominal,measured\r\noutside,X,100,99.71\r\ninside,Y,92,\r\n",
  "kind,along,nominal,measured\noutside,X,100,99.71\ninside,Y,92,",
  "\xEF\xBB\xBFkind;along;nominal;measured\noutside;X;100;99,71\ninside;Y;92;\n",
  "kind\talong\tnominal\tmeasured\noutside\tX\t100,0\t99.71\ninside\tY\t92\t\n",
  "# today\n\nmeasured, nominal, along, kind\n 99.71 , 100 , X , outside\n  \n# more\n,92,Y,inside\n",
  "\"kind\",\"along\",\"nominal\",\"measured\"\n\"outside\",\"X\",\"100\",\"99.71\"\n\"inside\",\"Y\",\"92\",\"\"\n",
  "KIND,Along,Nominal,Measured,,\noutside,x,100 mm,9.971 cm,,\ninside,Y,92,,,\n",
  "kind,along,nominal,measured,unit\noutside,X,10,9.971,cm\ninside,Y,92,,mm\n",
  "kind;along;nominal;measured;unit\noutside;X;100000;99710;µm\ninside;Y;92;;\n",
  "kind,along,nominal,measured\noutside,X,1e2,9.971E+01\n,,,\ninside,Y,+92,\n",
};

START_TEST (one_meaning_many_ways)
{
  g_autoptr (TrammelReadings) readings = read_csv (ways[_i]);
  ck_assert_uint_eq (trammel_readings_length (readings), 2);
  const TrammelReading *first = trammel_readings_get (readings, 0), *second = trammel_readings_get (readings, 1);
  ck_assert_int_eq (first->kind, TRAMMEL_READING_OUTSIDE);
  ck_assert_int_eq (first->along.axes[0], 'X');
  ck_assert_double_eq_tol (first->nominal, 100, 1e-12);
  ck_assert_double_eq_tol (first->measured, 99.71, 1e-12);
  ck_assert (isnan (first->u));
  ck_assert_int_eq (second->kind, TRAMMEL_READING_INSIDE);
  ck_assert_int_eq (second->along.axes[0], 'Y');
  ck_assert_double_eq (second->nominal, 92);
  ck_assert (isnan (second->measured));
}
END_TEST

START_TEST (every_column)
{
  g_autoptr (TrammelReadings) readings
      = read_csv ("kind,along,nominal,measured,u,unit,instrument,approach,run,set,note\n"
                  "position,A,5,5.5,0.5,in,dial,-,12,noon,\"cold, \"\"dry\"\"\nand late\"\n"
                  "travel,X+Y,50,49.9,,,dial,,,,\n");
  const TrammelReading *first = trammel_readings_get (readings, 0), *second = trammel_readings_get (readings, 1);
  ck_assert_double_eq (first->nominal, 127); /* the international inch: 25.4 mm exactly */
  ck_assert_double_eq_tol (first->measured, 139.7, 1e-12);
  ck_assert_double_eq_tol (first->u, 12.7, 1e-12);
  ck_assert_str_eq (first->instrument, "dial");
  ck_assert_int_eq (first->approach, TRAMMEL_APPROACH_DOWN);
  ck_assert_int_eq (first->run, 12);
  ck_assert_str_eq (first->set, "noon");
  ck_assert_str_eq (first->note, "cold, \"dry\"\nand late");
  ck_assert (!trammel_direction_is_single (&second->along));
  ck_assert_ptr_eq (first->instrument, second->instrument); /* kept once */
}
END_TEST

START_TEST (angles_are_degrees)
{
  g_autoptr (TrammelReadings) readings
      = read_csv ("kind,along,nominal,measured,unit\n"
                  "position,A,45,45.1,deg\nposition,A,0.5,0.5,turn\nposition,A,45 deg,45.1°,\n");
  ck_assert_double_eq (trammel_readings_get (readings, 0)->nominal, 45);
  ck_assert_double_eq (trammel_readings_get (readings, 0)->measured, 45.1);
  ck_assert_double_eq_tol (trammel_readings_get (readings, 1)->nominal, 180, 1e-12);
  ck_assert_double_eq (trammel_readings_get (readings, 2)->measured, 45.1);
}
END_TEST

START_TEST (what_is_written_is_read_back)
{
  GArray *rows = trammel_reading_array_new (0);
  static const char *const cells[][TRAMMEL_N_COLUMNS] = {
    { "outside", "X", "100", "99.71", "0.03", "caliper", "", "", "", "" },
    { "travel", "E", "0.1", "0.30000000000000004", "", "", "reversed", "", "", "a, \"b\"; c" },
    { "position", "A", "-45", "-45.1", "", "", "-", "3", "morning run", "two\nlines" },
    { "height", "Z", "3", "", "", "", "", "", "", "" },
    { "home", "Z", "", "-0.0125", "0.001", "dial", "-", "1", "two-speed", "" },
    { "home", "A", "0", "0.01", "", "", "", "", "", "" },
    { "inside", "XY@30", "1e-07", "1e+20", "", "#1", "", "", "", "" },
    { "reversal", "Y", "", "-0.02", "", "", "", "", "", "" },
    { "reversal", "X", "0", "", "", "", "", "", "", "pair that meets × 0.05 mm" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (cells); i++)
    {
      TrammelReading reading;
      trammel_reading_init (&reading);
      for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
        ck_assert (trammel_reading_set_text (&reading, (TrammelColumn)column, cells[i][column], 1, NULL));
      if (i == 6)
        reading.measured = NAN; /* no length that could be measured */
      g_array_append_val (rows, reading);
    }
  g_autoptr (TrammelReadings) readings = trammel_readings_take (rows);
  g_autofree char *csv = trammel_readings_csv_write (readings);
  g_autoptr (TrammelReadings) back = read_csv (csv);
  ck_assert (trammel_readings_equal (readings, back));
  ck_assert (g_str_has_prefix (csv, "kind,along,nominal,measured,u,instrument,approach,run,set,note\n"
                                    "outside,X,100,99.71,0.03,caliper,,,,\n"));
}
END_TEST

/* A file of homes alone needs no column of what was commanded. */
START_TEST (homes_need_no_nominal)
{
  g_autoptr (TrammelReadings) readings = read_csv ("kind,along,measured,set,approach,unit\n"
                                                   "home,X,0.5,fast,-,thou\nHOME,a,-1,,,deg\n");
  const TrammelReading *first = trammel_readings_get (readings, 0), *second = trammel_readings_get (readings, 1);
  ck_assert_int_eq (first->kind, TRAMMEL_READING_HOME);
  ck_assert (isnan (first->nominal) && trammel_reading_is_complete (first));
  ck_assert_double_eq_tol (first->measured, 0.0127, 1e-15); /* an inch is 25.4 mm, a thou a thousandth of it */
  ck_assert_str_eq (first->set, "fast");
  ck_assert_int_eq (first->approach, TRAMMEL_APPROACH_DOWN);
  ck_assert_int_eq (second->along.axes[0], 'A');
  ck_assert_double_eq (second->measured, -1);
}
END_TEST

START_TEST (only_columns_in_use_are_written)
{
  g_autoptr (TrammelReadings) readings = read_csv ("kind,along,nominal,note,run\noutside,X,100,,\n");
  g_autofree char *csv = trammel_readings_csv_write (readings);
  ck_assert_str_eq (csv, "kind,along,nominal,measured\noutside,X,100,\n");
}
END_TEST

START_TEST (rows_that_are_not_finished_become_comments)
{
  GArray *rows = trammel_reading_array_new (2);
  TrammelReading reading;
  trammel_reading_init (&reading);
  reading.measured = 5;
  trammel_reading_set_text (&reading, TRAMMEL_COLUMN_NOTE, "two\nlines", 1, NULL);
  g_array_append_val (rows, reading);
  trammel_reading_init (&reading);
  trammel_reading_set_text (&reading, TRAMMEL_COLUMN_ALONG, "X", 1, NULL);
  trammel_reading_set_text (&reading, TRAMMEL_COLUMN_NOMINAL, "100", 1, NULL);
  g_array_append_val (rows, reading);
  g_autoptr (TrammelReadings) readings = trammel_readings_take (rows);
  g_autofree char *csv = trammel_readings_csv_write (readings);
  g_autoptr (TrammelReadings) back = read_csv (csv);
  ck_assert_uint_eq (trammel_readings_length (back), 1);
  ck_assert_ptr_nonnull (strstr (csv, "\n# outside,,,5,\"two lines\"\n"));
}
END_TEST

START_TEST (a_million_lines)
{
  g_autofree char *path = NULL;
  int fd = g_file_open_tmp ("trammel-XXXXXX.csv", &path, NULL);
  g_close (fd, NULL);
  GString *csv = g_string_new ("kind,along,nominal,measured,run,approach\n");
  for (int i = 0; i < 1000000; i++)
    g_string_append_printf (csv, "position,X,%d,%d.%03d,%d,%c\n", i % 200, i % 200, i % 1000, i / 200 % 9 + 1,
                            i % 2 ? '+' : '-');
  ck_assert (g_file_set_contents (path, csv->str, (gssize)csv->len, NULL));
  g_string_free (csv, TRUE);
  /* Time of this thread alone; sanitizers slow it down several times. */
  clock_t start = clock ();
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_load (path, NULL, NULL);
  double seconds = (double)(clock () - start) / CLOCKS_PER_SEC;
  g_unlink (path);
  ck_assert_uint_eq (trammel_readings_length (readings), 1000000);
  ck_assert_double_eq_tol (trammel_readings_get (readings, 999999)->measured, 199.999, 1e-12);
  ck_assert_int_eq (trammel_readings_get (readings, 999999)->approach, TRAMMEL_APPROACH_UP);
  ck_assert_double_lt (seconds, 10);
}
END_TEST

static TrammelMachine *
machine_with_table (void)
{
  const char *file = "{ \"format\": \"trammel-machine\", \"version\": 1, \"axes\": ["
                     "{ \"letter\": \"X\", \"kind\": \"linear\","
                     "  \"motor\": { \"type\": \"stepper\", \"full_steps\": 200, \"microsteps\": 16 },"
                     "  \"output\": { \"type\": \"screw\", \"pitch\": 2 } },"
                     "{ \"letter\": \"A\", \"kind\": \"rotary\","
                     "  \"motor\": { \"type\": \"stepper\", \"full_steps\": 200, \"microsteps\": 16 },"
                     "  \"output\": { \"type\": \"table\" } } ] }";
  g_autoptr (GError) error = NULL;
  TrammelMachine *machine = trammel_codec_read (file, strlen (file), &error);
  ck_assert_msg (machine != NULL, "%s", error ? error->message : "");
  return machine;
}

/* Readings of a machine with X and a table A: where a message begins; NULL: they are read. */
static const struct
{
  const char *row, *message;
} of_machine[] = {
  { "travel,X,100,99,", NULL },
  { "travel,X,4,3.9,in", NULL },
  { "travel,X,100 mm,9.9 cm,", NULL },
  { "travel,A,90,89.9,deg", NULL },
  { "travel,A,90 deg,1/4 turn,", NULL },
  { "travel,A,1,1,turn", NULL },
  { "travel,B,100,99,", "test.csv: line 2, column along: found “B”; an axis of the machine (X, A) is wanted" },
  { "travel,X+Y,100,99,", "test.csv: line 2, column along: found “X+Y”" },
  { "travel,X,100,99,deg", "test.csv: line 2, column unit: found “deg”; a unit of length" },
  { "travel,A,100,99,mm", "test.csv: line 2, column unit: found “mm”; a unit of angle" },
  { "travel,X,100 deg,99,", "test.csv: line 2, column nominal: found “100 deg”; a length" },
  { "travel,A,100,99 mm,", "test.csv: line 2, column measured: found “99 mm”; an angle" },
};

START_TEST (only_what_the_machine_has)
{
  g_autoptr (TrammelMachine) machine = machine_with_table ();
  g_autoptr (GError) error = NULL;
  g_autofree char *csv = g_strconcat ("kind,along,nominal,measured,unit\n", of_machine[_i].row, "\n", NULL);
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_read (csv, strlen (csv), "test.csv", machine, &error);
  ck_assert_msg ((readings != NULL) == (of_machine[_i].message == NULL), "%s", error ? error->message : "read");
  if (of_machine[_i].message)
    ck_assert_msg (g_str_has_prefix (error->message, of_machine[_i].message), "%s", error->message);
}
END_TEST

START_TEST (files_that_are_none)
{
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_readings_csv_load ("/tmp", NULL, &error));
  ck_assert_str_eq (error->message, "/tmp: found a folder; a file is wanted");
  g_clear_error (&error);
  ck_assert_ptr_null (trammel_readings_csv_load ("/nowhere/at.csv", NULL, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE));
  ck_assert (g_str_has_prefix (error->message, "/nowhere/at.csv: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("readings-csv");
  TCase *tests = tcase_create ("readings-csv");
  tcase_set_timeout (tests, 100);
  tcase_add_loop_test (tests, one_meaning_many_ways, 0, G_N_ELEMENTS (ways));
  tcase_add_test (tests, every_column);
  tcase_add_test (tests, angles_are_degrees);
  tcase_add_test (tests, what_is_written_is_read_back);
  tcase_add_test (tests, homes_need_no_nominal);
  tcase_add_test (tests, only_columns_in_use_are_written);
  tcase_add_test (tests, rows_that_are_not_finished_become_comments);
  tcase_add_test (tests, a_million_lines);
  tcase_add_loop_test (tests, only_what_the_machine_has, 0, G_N_ELEMENTS (of_machine));
  tcase_add_test (tests, files_that_are_none);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
