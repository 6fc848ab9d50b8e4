/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include "base/error.h"

static void
set (TrammelReading *reading, TrammelColumn column, const char *text, double unit_factor)
{
  g_autoptr (GError) error = NULL;

  ck_assert_msg (trammel_reading_set_text (reading, column, text, unit_factor, &error), "%s: %s", text,
                 error ? error->message : "");
}

static void
assert_text (const TrammelReading *reading, TrammelColumn column, double unit_factor, const char *wanted)
{
  g_autofree char *text = trammel_reading_get_text (reading, column, unit_factor);

  ck_assert_str_eq (text, wanted);
}

/* What is typed into a cell of a length, the unit of a bare number, and the mm (degrees) that are meant; 1 in = 25.4 mm
 * exactly. */
static const struct
{
  const char *along, *text;
  double unit_factor, value;
} lengths[] = {
  { "X", "99.71", 1, 99.71 }, { "X", " 99,71 ", 1, 99.71 }, { "X", "99.71 mm", 25.4, 99.71 },
  { "X", "12.8 cm", 1, 128 }, { "X", "5 in", 1, 127 },      { "X", "5\"", 1, 127 },
  { "X", "5", 25.4, 127 },    { "X", "1/4 in", 1, 6.35 },   { "X", "1/4", 25.4, 6.35 },
  { "X", "1e2", 1, 100 },     { "X", "-3.5", 1, -3.5 },     { "A", "30 deg", 1, 30 },
  { "A", "22,5°", 1, 22.5 },  { "A", "0.25 turn", 1, 90 },
};

START_TEST (reads_lengths)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  set (&reading, TRAMMEL_COLUMN_ALONG, lengths[_i].along, 1);
  set (&reading, TRAMMEL_COLUMN_MEASURED, lengths[_i].text, lengths[_i].unit_factor);
  ck_assert_double_eq_tol (reading.measured, lengths[_i].value, 1e-13 * 128);
  ck_assert (!trammel_reading_has_faulty (&reading));
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (shows_lengths_in_the_unit_they_are_edited_in)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  for (int thousandths = 1; thousandths < 20000; thousandths += 7)
    {
      g_autofree char *typed = g_strdup_printf ("%g", thousandths / 1000.0);
      set (&reading, TRAMMEL_COLUMN_NOMINAL, typed, 25.4);
      assert_text (&reading, TRAMMEL_COLUMN_NOMINAL, 25.4, typed);
    }
  set (&reading, TRAMMEL_COLUMN_NOMINAL, "5 in", 1);
  assert_text (&reading, TRAMMEL_COLUMN_NOMINAL, 1, "127");
  trammel_reading_clear (&reading);
}
END_TEST

static const struct
{
  TrammelColumn column;
  const char *typed, *shown;
} cells[] = {
  { TRAMMEL_COLUMN_KIND, "Inside", "inside" },
  { TRAMMEL_COLUMN_KIND, " position ", "position" },
  { TRAMMEL_COLUMN_KIND, "Reversal", "reversal" },
  { TRAMMEL_COLUMN_ALONG, "x+y", "X+Y" },
  { TRAMMEL_COLUMN_NOMINAL, "100", "100" },
  { TRAMMEL_COLUMN_U, "0,03", "0.03" },
  { TRAMMEL_COLUMN_INSTRUMENT, " caliper ", "caliper" },
  { TRAMMEL_COLUMN_APPROACH, "up", "+" },
  { TRAMMEL_COLUMN_APPROACH, "−", "-" },
  { TRAMMEL_COLUMN_APPROACH, "Reversed", "reversed" },
  { TRAMMEL_COLUMN_RUN, "3", "3" },
  { TRAMMEL_COLUMN_SET, "left side", "left side" },
  { TRAMMEL_COLUMN_NOTE, "two\nlines", "two\nlines" },
};

START_TEST (shows_what_was_typed_and_clears_it)
{
  TrammelReading reading, empty;

  trammel_reading_init (&reading);
  trammel_reading_init (&empty);
  set (&reading, cells[_i].column, cells[_i].typed, 1);
  assert_text (&reading, cells[_i].column, 1, cells[_i].shown);
  ck_assert (!trammel_reading_equal (&reading, &empty));
  set (&reading, cells[_i].column, "  ", 1);
  ck_assert (trammel_reading_equal (&reading, &empty));
  assert_text (&reading, cells[_i].column, 1, cells[_i].column == TRAMMEL_COLUMN_KIND ? "outside" : "");
  trammel_reading_clear (&reading);
}
END_TEST

static const struct
{
  TrammelColumn column;
  const char *text;
} bad_cells[] = {
  { TRAMMEL_COLUMN_KIND, "sideways" },
  { TRAMMEL_COLUMN_ALONG, "X+Q" },
  { TRAMMEL_COLUMN_NOMINAL, "2 potatoes" },
  { TRAMMEL_COLUMN_MEASURED, "99.7l" },
  { TRAMMEL_COLUMN_MEASURED, "nan" },
  { TRAMMEL_COLUMN_MEASURED, "1e400" },
  { TRAMMEL_COLUMN_MEASURED, "inf" },
  { TRAMMEL_COLUMN_MEASURED, "back\\slash\nand line\tand tab" },
  { TRAMMEL_COLUMN_U, "-0.1" },
  { TRAMMEL_COLUMN_U, "0" },
  { TRAMMEL_COLUMN_APPROACH, "sideways" },
  { TRAMMEL_COLUMN_RUN, "1.5" },
  { TRAMMEL_COLUMN_RUN, "-1" },
};

START_TEST (keeps_what_cannot_be_read)
{
  TrammelReading reading, copy;
  g_autoptr (GError) error = NULL;

  trammel_reading_init (&reading);
  set (&reading, TRAMMEL_COLUMN_ALONG, "X", 1);
  set (&reading, TRAMMEL_COLUMN_NOMINAL, "100", 1);
  set (&reading, TRAMMEL_COLUMN_MEASURED, "99", 1);
  ck_assert (trammel_reading_is_complete (&reading));

  ck_assert (!trammel_reading_set_text (&reading, bad_cells[_i].column, bad_cells[_i].text, 1, &error));
  ck_assert (error->domain == TRAMMEL_ERROR);
  ck_assert (trammel_reading_has_faulty (&reading));
  ck_assert (!trammel_reading_is_complete (&reading));
  g_autofree char *kept = trammel_reading_faulty (&reading, bad_cells[_i].column);
  ck_assert_str_eq (kept, bad_cells[_i].text);
  assert_text (&reading, bad_cells[_i].column, 1, bad_cells[_i].text);

  trammel_reading_copy (&reading, &copy);
  ck_assert (trammel_reading_equal (&reading, &copy));
  set (&copy, bad_cells[_i].column, "", 1);
  ck_assert (!trammel_reading_has_faulty (&copy));
  ck_assert (!trammel_reading_equal (&reading, &copy));
  trammel_reading_clear (&reading);
  trammel_reading_clear (&copy);
}
END_TEST

START_TEST (keeps_several_faulty_cells_apart)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_MEASURED, "u\tno number", 1, NULL));
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_U, "nor\\n this", 1, NULL));
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_ALONG, "nowhere", 1, NULL));
  set (&reading, TRAMMEL_COLUMN_ALONG, "Y", 1);
  assert_text (&reading, TRAMMEL_COLUMN_MEASURED, 1, "u\tno number");
  assert_text (&reading, TRAMMEL_COLUMN_U, 1, "nor\\n this");
  ck_assert_ptr_null (trammel_reading_faulty (&reading, TRAMMEL_COLUMN_ALONG));
  ck_assert_ptr_null (trammel_reading_faulty (&reading, TRAMMEL_COLUMN_NOTE));
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (clips_endless_faulty_text)
{
  TrammelReading reading;
  g_autofree char *endless = g_strnfill (1000000, 'x');

  trammel_reading_init (&reading);
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_MEASURED, endless, 1, NULL));
  g_autofree char *kept = trammel_reading_faulty (&reading, TRAMMEL_COLUMN_MEASURED);
  ck_assert_uint_eq (strlen (kept), 10000);
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (a_height_goes_up)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  set (&reading, TRAMMEL_COLUMN_KIND, "height", 1);
  assert_text (&reading, TRAMMEL_COLUMN_ALONG, 1, "Z");
  trammel_reading_clear (&reading);

  trammel_reading_init (&reading);
  set (&reading, TRAMMEL_COLUMN_ALONG, "X", 1);
  set (&reading, TRAMMEL_COLUMN_KIND, "height", 1);
  assert_text (&reading, TRAMMEL_COLUMN_ALONG, 1, "X");
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (refuses_degrees_along_a_straight_axis)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  set (&reading, TRAMMEL_COLUMN_ALONG, "X", 1);
  ck_assert (!trammel_reading_set_text (&reading, TRAMMEL_COLUMN_MEASURED, "98 deg", 1, NULL));
  ck_assert (isnan (reading.measured));
  trammel_reading_clear (&reading);
}
END_TEST

static const struct
{
  const char *line;
  gboolean usable;
} rows_to_check[] = {
  { "outside X 100 99.7", TRUE },
  { "inside X+Y 100 99.7", TRUE },
  { "center XZ@30 100 99.7", TRUE },
  { "height Z 100 99.7", TRUE },
  { "height X 100 99.7", FALSE },
  { "height Z-X 100 99.7", FALSE },
  { "travel X 100 99.7 . reversed", TRUE },
  { "travel X+Y 100 99.7 . reversed", FALSE },
  { "travel X+Y 100 99.7", TRUE },
  { "travel E 100 99.7", TRUE },
  { "outside E 100 99.7", FALSE },
  { "position X -100 -99.7 . +", TRUE },
  { "position A 0 0.1 . -", TRUE },
  { "position X+Y 100 99.7", FALSE },
  { "position X 100 99.7 . reversed", FALSE },
  { "outside X 100 99.7 . reversed", FALSE },
  { "home X . 0.012", TRUE },
  { "home A -5 -5.01 . -", TRUE },
  { "home X+Y . 0.012", FALSE },
  { "home X . 0.012 . reversed", FALSE },
  { "home X . 1e10", FALSE },
  { "home X 1e10 1", FALSE },
  { "home X . 0.012 1e-12", FALSE },
  { "reversal X 40 0.12", TRUE },
  { "reversal X -40 -0.12", TRUE },
  { "reversal X 0 0.12", TRUE },
  { "reversal X . 0.12", TRUE },
  { "reversal A . 0.12", TRUE },
  { "reversal X+Y . 0.12", FALSE },
  { "reversal X . 0.12 . reversed", FALSE },
  { "reversal X 1e10 0.12", FALSE },
  { "travel X 0 0", FALSE },
  { "outside X -100 -99.7", FALSE },
  { "outside X 1e10 99", FALSE },
  { "outside X 100 -1e10", FALSE },
  { "outside X 100 99 1e-12", FALSE },
};

START_TEST (tells_what_can_be_used)
{
  g_autoptr (GArray) rows = rows_from_text (rows_to_check[_i].line);
  g_autoptr (GError) error = NULL;

  ck_assert_int_eq (trammel_reading_check (&g_array_index (rows, TrammelReading, 0), &error), rows_to_check[_i].usable);
  if (!rows_to_check[_i].usable)
    ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
}
END_TEST

/* What is complete, and what of it a fit takes. */
static const struct
{
  const char *line;
  gboolean complete, fitted;
} rows_to_count[] = {
  { "travel X 100 99.9", TRUE, TRUE },    { "travel X . 99.9", FALSE, FALSE }, { "travel X 100 .", FALSE, FALSE },
  { "outside . 100 99.9", FALSE, FALSE }, { "home Z . -0.02", TRUE, FALSE },   { "home Z 0 -0.02", TRUE, FALSE },
  { "home Z 0 .", FALSE, FALSE },         { "home . 0 -0.02", FALSE, FALSE },  { "position X . 0.1", FALSE, FALSE },
  { "reversal X . 0.1", TRUE, TRUE },     { "reversal X 3 .", FALSE, FALSE },
};

START_TEST (home_and_reversal_are_whole_without_a_nominal)
{
  g_autoptr (GArray) rows = rows_from_text (rows_to_count[_i].line);
  TrammelReading *row = &g_array_index (rows, TrammelReading, 0);

  ck_assert_int_eq (trammel_reading_is_complete (row), rows_to_count[_i].complete);
  ck_assert_int_eq (trammel_reading_is_fitted (row), rows_to_count[_i].fitted);
  ck_assert (!trammel_reading_set_text (row, TRAMMEL_COLUMN_U, "none", 1, NULL));
  ck_assert (!trammel_reading_is_complete (row) && !trammel_reading_is_fitted (row));
}
END_TEST

START_TEST (splices_without_touching_the_old_array)
{
  g_autoptr (TrammelReadings) before
      = trammel_readings_take (rows_from_text ("outside X 1 1 . . a\noutside X 2 2 . . b\noutside X 3 3 . . c"));
  g_autoptr (GArray) added = rows_from_text ("inside Y 8 8 . . d\ninside Y 9 9 . . e");
  g_autoptr (TrammelReadings) after
      = trammel_readings_splice (before, 1, 1, (const TrammelReading *)(gpointer)added->data, 2);
  static const double nominals[] = { 1, 8, 9, 3 };

  ck_assert_uint_eq (trammel_readings_length (before), 3);
  ck_assert_double_eq (trammel_readings_get (before, 1)->nominal, 2);
  ck_assert_uint_eq (trammel_readings_length (after), 4);
  for (gsize i = 0; i < 4; i++)
    ck_assert_double_eq (trammel_readings_get (after, i)->nominal, nominals[i]);
  ck_assert_str_eq (trammel_readings_get (after, 2)->set, "e");

  g_autoptr (TrammelReadings) back = trammel_readings_splice (after, 1, 2, trammel_readings_get (before, 1), 1);
  ck_assert (trammel_readings_equal (before, back));
  ck_assert (!trammel_readings_equal (before, after));

  g_autoptr (TrammelReadings) empty = trammel_readings_new_empty ();
  ck_assert_uint_eq (trammel_readings_length (empty), 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("reading");
  TCase *cell = tcase_create ("cells");
  TCase *row = tcase_create ("rows");

  tcase_add_loop_test (cell, reads_lengths, 0, G_N_ELEMENTS (lengths));
  tcase_add_test (cell, shows_lengths_in_the_unit_they_are_edited_in);
  tcase_add_loop_test (cell, shows_what_was_typed_and_clears_it, 0, G_N_ELEMENTS (cells));
  tcase_add_loop_test (cell, keeps_what_cannot_be_read, 0, G_N_ELEMENTS (bad_cells));
  tcase_add_test (cell, keeps_several_faulty_cells_apart);
  tcase_add_test (cell, clips_endless_faulty_text);
  tcase_add_test (cell, a_height_goes_up);
  tcase_add_test (cell, refuses_degrees_along_a_straight_axis);
  tcase_add_loop_test (row, tells_what_can_be_used, 0, G_N_ELEMENTS (rows_to_check));
  tcase_add_loop_test (row, home_and_reversal_are_whole_without_a_nominal, 0, G_N_ELEMENTS (rows_to_count));
  tcase_add_test (row, splices_without_touching_the_old_array);
  suite_add_tcase (suite, cell);
  suite_add_tcase (suite, row);
  return run_suite (suite);
}
