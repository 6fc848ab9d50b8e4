/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "gcode/test-piece.h"

#include <check.h>
#include <math.h>
#include <string.h>

/* Every number here follows by hand from combs of 11 lines of 8 mm, 2 mm apart, with a vernier of 0.05 mm and a line of
 * 0.5 mm: the longest line (12 mm), half a line outside and one inside of it put the middle at 12.75 mm. The combs
 * begin twice that and a space from the corner, at 27.5 mm; pair 0 is the third, at 27.5 + 0.25 + 2·2.05 = 31.85 mm.
 * The near comb takes up 10·2.05 + 0.5 = 21 mm and the last approach another 5 mm, so that the piece is 53.5 mm wide.
 */

/* Sets fields: key, text, …, NULL. */
static TrammelMachine *
rig (const char *letters, const char *travel, ...)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  g_autoptr (TrammelRecord) piece = trammel_record_new (trammel_piece_kind ("ladder"));
  const char *key = "lines", *text = "11";
  va_list arguments;

  for (const char *letter = letters; *letter; letter++)
    {
      g_autoptr (TrammelAxis) plain
          = trammel_axis_new (*letter, *letter == 'E' ? TRAMMEL_AXIS_FEED : TRAMMEL_AXIS_LINEAR);
      g_autoptr (TrammelAxis) axis
          = *letter == 'E' ? trammel_axis_ref (plain) : trammel_axis_with_travel (plain, travel, NULL, NULL);
      TrammelMachine *more = trammel_machine_with_axis_inserted (machine, trammel_machine_n_axes (machine), axis, NULL);
      trammel_machine_unref (machine);
      machine = more;
    }
  va_start (arguments, travel);
  while (key)
    {
      TrammelRecord *set = trammel_record_with_text (piece, key, text, NULL, NULL);
      ck_assert_msg (set != NULL, "%s", key);
      trammel_record_unref (piece);
      piece = set;
      key = va_arg (arguments, const char *);
      text = key ? va_arg (arguments, const char *) : NULL;
    }
  va_end (arguments);
  return trammel_machine_with_piece (machine, piece);
}

/* Takes @machine over. */
static TrammelLadder *
ladder_of (TrammelMachine *machine)
{
  g_autoptr (GError) error = NULL;
  TrammelLadder *ladder = trammel_ladder_new (machine, &error);

  ck_assert_msg (ladder != NULL, "%s", error ? error->message : "no message");
  trammel_machine_unref (machine);
  return ladder;
}

static void
expect_point (TrammelPoint point, double x, double y)
{
  ck_assert_double_eq_tol (point.x, x, 1e-9);
  ck_assert_double_eq_tol (point.y, y, 1e-9);
}

START_TEST (lines_and_their_approaches)
{
  g_autoptr (TrammelLadder) ladder = ladder_of (rig ("XYZE", "200 mm", NULL));
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (ladder, &n);

  ck_assert_uint_eq (n, 44);
  ck_assert_double_eq_tol (trammel_ladder_size (ladder), 53.5, 1e-9);
  /* First of the near comb of X: pair −2, 4.1 mm before pair 0 */
  ck_assert (lines[0].letter == 'X' && lines[0].up && lines[0].pair == -2);
  expect_point (lines[0].from, 27.75, 12.75 - 0.5 - 8);
  expect_point (lines[0].to, 27.75, 12.25);
  expect_point (lines[0].approach, 22.75, 4.25);
  /* Pair 0, half as long again, and pair 5, a quarter */
  expect_point (lines[2].from, 31.85, 0.25);
  expect_point (lines[7].from, 31.85 + 5 * 2.05, 2.25);
  /* The far comb: pair 0 at the same place, the others 2 mm apart, from above */
  ck_assert (lines[13].letter == 'X' && !lines[13].up && lines[13].pair == 0);
  expect_point (lines[13].from, 31.85, 25.25);
  expect_point (lines[13].to, 31.85, 13.25);
  expect_point (lines[13].approach, 36.85, 25.25);
  expect_point (lines[16].to, 31.85 + 3 * 2, 13.25);
  /* Y has them with x and y exchanged */
  ck_assert (lines[22].letter == 'Y' && lines[22].up);
  expect_point (lines[22].from, 4.25, 27.75);
  expect_point (lines[22].approach, 4.25, 22.75);
}
END_TEST

START_TEST (plan_with_a_vernier)
{
  g_autoptr (TrammelLadder) ladder = ladder_of (rig ("XYZE", "200 mm", "origin_x", "12 mm", NULL));
  g_autoptr (TrammelReadings) plan = trammel_feature_plan (trammel_ladder_features (ladder));
  const TrammelReading *x = trammel_readings_get (plan, 0), *y = trammel_readings_get (plan, 1);

  ck_assert_uint_eq (trammel_readings_length (plan), 2);
  ck_assert_int_eq (x->kind, TRAMMEL_READING_REVERSAL);
  ck_assert_int_eq (x->along.axes[0], 'X');
  ck_assert_int_eq (y->along.axes[0], 'Y');
  ck_assert_double_eq_tol (x->nominal, 43.85, 1e-9);
  ck_assert_double_eq_tol (y->nominal, 41.85, 1e-9);
  /* 0.05/√12 = 0.014434 */
  ck_assert_double_eq_tol (x->u, 0.0144, 1e-9);
  ck_assert (isnan (x->measured) && !trammel_reading_is_complete (x));
  ck_assert_ptr_nonnull (strstr (x->note, "0.05 mm"));
  ck_assert_ptr_eq (trammel_feature_find (trammel_ladder_features (ladder), y),
                    &g_array_index (trammel_ladder_features (ladder), TrammelFeature, 1));
}
END_TEST

START_TEST (plan_without_a_vernier)
{
  g_autoptr (TrammelLadder) ladder = ladder_of (rig ("XYZE", "200 mm", "vernier", "0 mm", NULL));
  g_autoptr (TrammelReadings) plan = trammel_feature_plan (trammel_ladder_features (ladder));
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (ladder, &n);
  /* Longest line 10 mm: middle 10.75 mm, first line at 23.5 + 0.25 mm, the others 20 mm on */
  static const double places[] = { 33.75, 43.75, 53.75 };

  ck_assert_uint_eq (trammel_readings_length (plan), 6);
  for (gsize i = 0; i < 6; i++)
    {
      const TrammelReading *row = trammel_readings_get (plan, i);
      ck_assert_double_eq_tol (row->nominal, places[i % 3], 1e-9);
      ck_assert (isnan (row->u));
    }
  ck_assert_int_eq (lines[0].pair, 0);
  for (gsize i = 0; i < 11; i++)
    ck_assert_double_eq_tol (lines[i].to.x, lines[i + 11].to.x, 1e-9);
}
END_TEST

START_TEST (program_goes_to_each_line_from_its_side)
{
  g_autoptr (TrammelLadder) ladder = ladder_of (rig ("XYZE", "200 mm", NULL));
  g_autofree char *program = trammel_ladder_program (ladder);

  ck_assert (g_str_has_prefix (program, "(CAUTION"));
  ck_assert_ptr_nonnull (strstr (program, "(X, lines approached moving up)\nG92 E0\n"));
  /* The top speed of a new axis is not known. Filament: 8 mm of 0.0914159 mm² of bead over 2.4052819 mm² */
  ck_assert_ptr_nonnull (strstr (program, "G0 X32.7500 Y14.2500 F4800.000\nG1 X37.7500 Y14.2500 F1800.000\n"
                                          "G0 Z0.2000 F4800.000\nG1 X37.7500 Y22.2500 E0.30405 F1800.000\n"));
  ck_assert_ptr_nonnull (strstr (program, "(Y, lines approached moving down)\n"));
}
END_TEST

START_TEST (program_of_a_pen)
{
  g_autoptr (TrammelLadder) ladder
      = ladder_of (rig ("XY", "200 mm", "feed", "none", "feed_on", "PEN DOWN", "feed_off", "PEN UP", NULL));
  g_autofree char *program = trammel_ladder_program (ladder);

  ck_assert_ptr_nonnull (strstr (program, "G0 X32.7500 Y14.2500 F4800.000\nG1 X37.7500 Y14.2500 F1800.000\nPEN DOWN\n"
                                          "G1 X37.7500 Y22.2500 F1800.000\nPEN UP\n"));
  /* 12 mm at 30 mm/s */
  ck_assert_ptr_nonnull (strstr (program, "(Longest time held on: 1 s)"));
  ck_assert_ptr_null (strstr (program, " Z"));
}
END_TEST

START_TEST (effort)
{
  g_autoptr (TrammelLadder) ladder = ladder_of (rig ("XYZE", "200 mm", NULL));
  double length, seconds, filament;

  trammel_ladder_effort (ladder, &length, &seconds, &filament);
  /* Of eleven lines from pair −2 to 8: pair 0 of 12 mm, pair 5 of 10 mm, nine of 8 mm; four combs */
  ck_assert_double_eq_tol (length, 4 * (12 + 10 + 9 * 8), 1e-9);
  ck_assert_double_eq_tol (filament, length * (0.2 * 0.3 + G_PI * 0.01) / (G_PI * 0.875 * 0.875), 1e-9);
  /* Drawn and approached at 30 mm/s, lifted 1 mm and lowered at 80 mm/s; and the ways between */
  ck_assert_double_gt (seconds, (length + 44 * 5) / 30 + 44 * 2 / 80.0);
}
END_TEST

static const struct
{
  const char *key, *text, *words[3];
  int code;
} refusals[] = {
  { "spacing", "0.9 mm", { "spacing: 0.9 mm", "0.5 mm", "1 mm" }, TRAMMEL_ERROR_IMPOSSIBLE },
  { "vernier", "0.11 mm", { "vernier: ", "11 lines", "0.1 mm" }, TRAMMEL_ERROR_IMPOSSIBLE },
  { "lines", "3", { "lines: ", "3", "4" }, TRAMMEL_ERROR_IMPOSSIBLE },
  { "origin_x", "50 mm", { "103.5 mm in X", "50 mm origin + 53.5 mm", "100 mm" }, TRAMMEL_ERROR_TOO_LARGE },
  { "origin_y", "-1 mm", { "origin_y: ", "-1 mm", "100 mm" }, TRAMMEL_ERROR_IMPOSSIBLE },
  { "lift", "100 mm", { "100.2 mm in Z", "100 mm lift + 0.2 mm", "100 mm" }, TRAMMEL_ERROR_TOO_LARGE },
  { "approach", "50 mm", { "131 mm in X", "10 mm origin + 121 mm", "100 mm" }, TRAMMEL_ERROR_TOO_LARGE },
  { "feed_letter", "X", { "feed_letter: ", "X" }, TRAMMEL_ERROR_IMPOSSIBLE },
};

/* An approach of 50 mm wants the combs to begin 50 mm from the corner: 50 + 21 + 50 mm. */
START_TEST (refuses_what_does_not_work)
{
  g_autoptr (TrammelMachine) machine = rig ("XYZE", "100 mm", refusals[_i].key, refusals[_i].text, NULL);
  g_autoptr (GError) error = NULL;

  ck_assert_ptr_null (trammel_ladder_new (machine, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, refusals[_i].code), "%s", error->message);
  for (gsize i = 0; i < 3 && refusals[_i].words[i]; i++)
    ck_assert_msg (strstr (error->message, refusals[_i].words[i]) != NULL, "“%s” is not in “%s”", refusals[_i].words[i],
                   error->message);
}
END_TEST

START_TEST (the_machine_says_which_piece)
{
  g_autoptr (TrammelMachine) with_ladder = rig ("XYZE", "200 mm", NULL);
  g_autoptr (TrammelRecord) square
      = trammel_piece_of_kind (trammel_machine_piece (with_ladder), trammel_piece_kind ("square"));
  g_autoptr (TrammelMachine) with_square = trammel_machine_with_piece (with_ladder, square);
  g_autoptr (TrammelTestPiece) one = trammel_test_piece_new (with_ladder, NULL);
  g_autoptr (TrammelTestPiece) other = trammel_test_piece_new (with_square, NULL);
  gsize n;

  ck_assert (trammel_test_piece_ladder (one) && !trammel_test_piece_square (one));
  ck_assert (trammel_test_piece_square (other) && !trammel_test_piece_ladder (other));
  trammel_test_piece_features (one, &n);
  ck_assert_uint_eq (n, 2);
  trammel_test_piece_features (other, &n);
  ck_assert_uint_eq (n, 10);
  ck_assert_ptr_null (trammel_ladder_new (with_square, NULL));
  ck_assert_ptr_null (trammel_square_new (with_ladder, NULL));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("ladder");
  TCase *layout = tcase_create ("layout");
  TCase *program = tcase_create ("program");

  tcase_add_test (layout, lines_and_their_approaches);
  tcase_add_test (layout, plan_with_a_vernier);
  tcase_add_test (layout, plan_without_a_vernier);
  tcase_add_loop_test (layout, refuses_what_does_not_work, 0, G_N_ELEMENTS (refusals));
  tcase_add_test (layout, the_machine_says_which_piece);
  tcase_add_test (program, program_goes_to_each_line_from_its_side);
  tcase_add_test (program, program_of_a_pen);
  tcase_add_test (program, effort);
  suite_add_tcase (suite, layout);
  suite_add_tcase (suite, program);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
