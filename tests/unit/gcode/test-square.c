/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "gcode/square.h"

#include <check.h>
#include <math.h>
#include <string.h>

/* Every number here follows by hand from a square of 100 mm with a wall of 10 mm and steps of 20 mm: the step is 33 mm
 * wide (a third, to a whole mm), so that an arm is 33.5 mm long, and 10 mm deep. */
#define PARAMETERS                                                                                                     \
  "size", "100 mm", "wall", "10 mm", "step", "20 mm", "height", "6 mm", "step_height", "3 mm", "bead_width", "0.5 mm", \
      "layer_height", "0.2 mm", "speed", "30 mm/s", "travel_speed", "80 mm/s", "lift", "1 mm", "origin_x", "10 mm",    \
      "origin_y", "10 mm", "filament_diameter", "1.75 mm"

static TrammelMachine *
rig (const char *letters, const char *travel)
{
  TrammelMachine *machine = trammel_machine_new ();

  for (const char *letter = letters; *letter; letter++)
    {
      TrammelAxisKind kind = *letter == 'E'   ? TRAMMEL_AXIS_FEED
                             : *letter == 'A' ? TRAMMEL_AXIS_ROTARY
                                              : TRAMMEL_AXIS_LINEAR;
      g_autoptr (TrammelAxis) plain = trammel_axis_new (*letter, kind);
      g_autoptr (TrammelAxis) axis = kind == TRAMMEL_AXIS_LINEAR ? trammel_axis_with_travel (plain, travel, NULL, NULL)
                                                                 : trammel_axis_ref (plain);
      TrammelMachine *more = trammel_machine_with_axis_inserted (machine, trammel_machine_n_axes (machine), axis, NULL);

      ck_assert_ptr_nonnull (more);
      trammel_machine_unref (machine);
      machine = more;
    }
  return machine;
}

/* Sets fields of the piece: key, text, …, NULL. Takes @machine over. */
static TrammelMachine *
with_piece (TrammelMachine *machine, ...)
{
  g_autoptr (TrammelRecord) piece = trammel_record_ref (trammel_machine_piece (machine));
  TrammelMachine *changed;
  const char *key;
  va_list arguments;

  va_start (arguments, machine);
  while ((key = va_arg (arguments, const char *)))
    {
      TrammelRecord *set = trammel_record_with_text (piece, key, va_arg (arguments, const char *), NULL, NULL);

      ck_assert_msg (set != NULL, "%s", key);
      trammel_record_unref (piece);
      piece = set;
    }
  va_end (arguments);
  changed = trammel_machine_with_piece (machine, piece);
  trammel_machine_unref (machine);
  return changed;
}

static TrammelMachine *
plain_rig (void)
{
  return with_piece (rig ("XYZE", "200 mm"), PARAMETERS, NULL);
}

static TrammelMachine *
pen_rig (void)
{
  return with_piece (rig ("XY", "200 mm"), PARAMETERS, "feed", "none", "feed_on", "PEN DOWN", "feed_off", "PEN UP",
                     NULL);
}

/* Takes @machine over. */
static TrammelSquare *
square_of (TrammelMachine *machine)
{
  g_autoptr (GError) error = NULL;
  TrammelSquare *square = trammel_square_new (machine, &error);

  ck_assert_msg (square != NULL, "%s", error ? error->message : "no message");
  trammel_machine_unref (machine);
  return square;
}

/* Takes @machine over; the words that the message must hold end with NULL. */
static void
expect_refusal (TrammelMachine *machine, int code, ...)
{
  g_autoptr (GError) error = NULL;
  const char *word;
  va_list words;

  ck_assert_ptr_null (trammel_square_new (machine, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, code));
  va_start (words, code);
  while ((word = va_arg (words, const char *)))
    ck_assert_msg (strstr (error->message, word) != NULL, "“%s” is not in “%s”", word, error->message);
  va_end (words);
  trammel_machine_unref (machine);
}

static void
expect_feature (const TrammelFeature *feature, TrammelReadingKind kind, const char *along, double nominal)
{
  g_autofree char *found = trammel_direction_to_text (&feature->along);

  ck_assert_int_eq (feature->kind, kind);
  ck_assert_str_eq (found, along);
  ck_assert_double_eq_tol (feature->nominal, nominal, 1e-9);
  ck_assert_int_gt (strlen (feature->name), 0);
  if (kind != TRAMMEL_READING_HEIGHT)
    ck_assert_double_eq_tol (hypot (feature->to.x - feature->from.x, feature->to.y - feature->from.y), nominal, 1e-9);
}

START_TEST (features_and_their_sizes)
{
  g_autoptr (TrammelSquare) square = square_of (plain_rig ());
  const GArray *array = trammel_square_features (square);
  const TrammelFeature *features = (const TrammelFeature *)(gpointer)array->data;

  ck_assert_uint_eq (array->len, 10);
  expect_feature (&features[0], TRAMMEL_READING_OUTSIDE, "X", 100);
  expect_feature (&features[1], TRAMMEL_READING_OUTSIDE, "X", 80);
  expect_feature (&features[2], TRAMMEL_READING_INSIDE, "X", 80);
  expect_feature (&features[3], TRAMMEL_READING_OUTSIDE, "Y", 100);
  expect_feature (&features[4], TRAMMEL_READING_OUTSIDE, "Y", 80);
  expect_feature (&features[5], TRAMMEL_READING_INSIDE, "Y", 80);
  expect_feature (&features[6], TRAMMEL_READING_OUTSIDE, "X+Y", 141.4213562373095);
  expect_feature (&features[7], TRAMMEL_READING_OUTSIDE, "X-Y", 141.4213562373095);
  expect_feature (&features[8], TRAMMEL_READING_HEIGHT, "Z", 3);
  expect_feature (&features[9], TRAMMEL_READING_HEIGHT, "Z", 6);
  /* The step is measured where it is: in the middle; the long size where an arm is */
  ck_assert_double_eq_tol (features[1].from.x, 10, 1e-9);
  ck_assert_double_eq_tol (features[1].from.y, 50, 1e-9);
  ck_assert_double_eq_tol (features[0].from.y, 21.75, 1e-9);
  ck_assert_double_eq_tol (features[3].from.x, 21.75, 1e-9);
  ck_assert_double_eq_tol (features[3].to.y, 100, 1e-9);
}
END_TEST

/* Twice the area, positive counter-clockwise. */
static double
shoelace (const TrammelOutline *outline)
{
  double sum = 0;

  for (gsize i = 0; i < outline->n_points; i++)
    {
      TrammelPoint a = outline->points[i], b = outline->points[(i + 1) % outline->n_points];

      sum += a.x * b.y - b.x * a.y;
    }
  return sum;
}

START_TEST (outlines_enclose_the_areas)
{
  g_autoptr (TrammelSquare) square = square_of (plain_rig ());
  gsize n;
  const TrammelOutline *outlines = trammel_square_outlines (square, &n);

  ck_assert_uint_eq (n, 6);
  /* 100² less four steps of 33 × 10 */
  ck_assert_double_eq_tol (shoelace (&outlines[0]) / 2, 8680, 1e-9);
  ck_assert (!outlines[0].hole);
  /* 80² less four of 53 × 10: the step's inner outline is wider by a wall on either side */
  ck_assert_double_eq_tol (shoelace (&outlines[1]) / 2, -4280, 1e-9);
  ck_assert (outlines[1].hole);
  ck_assert_double_eq (outlines[1].z_high, 3);
  for (gsize i = 2; i < n; i++)
    {
      /* An L with arms of 33.5, 10 wide */
      ck_assert_double_eq_tol (shoelace (&outlines[i]) / 2, 570, 1e-9);
      ck_assert (!outlines[i].hole);
      ck_assert_double_eq (outlines[i].z_low, 3);
      ck_assert_double_eq (outlines[i].z_high, 6);
    }
}
END_TEST

START_TEST (plan_waits_for_measured)
{
  g_autoptr (TrammelSquare) square = square_of (plain_rig ());
  g_autoptr (TrammelReadings) plan = trammel_feature_plan (trammel_square_features (square));

  ck_assert_uint_eq (trammel_readings_length (plan), 10);
  for (gsize i = 0; i < 10; i++)
    {
      const TrammelReading *row = trammel_readings_get (plan, i);

      ck_assert (row->has_along && isfinite (row->nominal) && isnan (row->measured));
      ck_assert (!trammel_reading_is_complete (row));
      ck_assert_ptr_nonnull (trammel_feature_find (trammel_square_features (square), row));
    }
}
END_TEST

START_TEST (find_goes_by_kind_direction_and_size)
{
  g_autoptr (TrammelSquare) square = square_of (plain_rig ());
  TrammelReading reading;

  trammel_reading_init (&reading);
  ck_assert_ptr_null (trammel_feature_find (trammel_square_features (square), &reading));
  ck_assert (trammel_reading_set_text (&reading, TRAMMEL_COLUMN_KIND, "inside", 1, NULL));
  ck_assert (trammel_reading_set_text (&reading, TRAMMEL_COLUMN_ALONG, "Y", 1, NULL));
  ck_assert (trammel_reading_set_text (&reading, TRAMMEL_COLUMN_NOMINAL, "80.0005", 1, NULL));
  expect_feature (trammel_feature_find (trammel_square_features (square), &reading), TRAMMEL_READING_INSIDE, "Y", 80);
  ck_assert (trammel_reading_set_text (&reading, TRAMMEL_COLUMN_NOMINAL, "80.01", 1, NULL));
  ck_assert_ptr_null (trammel_feature_find (trammel_square_features (square), &reading));
  trammel_reading_clear (&reading);
}
END_TEST

START_TEST (a_pen_draws_no_heights)
{
  g_autoptr (TrammelSquare) square = square_of (pen_rig ());
  gsize n;
  double length, seconds, filament;

  trammel_square_outlines (square, &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_uint_eq (trammel_square_features (square)->len, 8);
  trammel_square_effort (square, &length, &seconds, &filament);
  /* Outer line, 0.25 mm inside: 4·99.5 + 8·10; inner line, 9.75 mm inside: 4·80.5 + 8·10. Between them √2·9.5 */
  ck_assert_double_eq_tol (length, 478 + 402, 1e-9);
  ck_assert_double_eq_tol (seconds, 880 / 30.0 + 9.5 * G_SQRT2 / 80, 1e-9);
  ck_assert_double_eq (filament, 0);
}
END_TEST

START_TEST (effort_of_a_printed_square)
{
  g_autoptr (TrammelSquare) square = square_of (plain_rig ());
  double length, filament;
  /* Material: the frame 8680 − 4280 = 4400 mm² over 3 mm, and four Ls of 570 mm² over 3 mm */
  double volume = 3 * 4400 + 3 * 4 * 570.0;
  double area = 0.2 * 0.3 + G_PI * 0.01;

  trammel_square_effort (square, &length, NULL, &filament);
  ck_assert_double_eq_tol (length * area / volume, 1, 0.02);
  ck_assert_double_eq_tol (filament, length * area / (G_PI * 0.875 * 0.875), 1e-9);
}
END_TEST

START_TEST (program_opens_with_cautions)
{
  g_autoptr (TrammelSquare) square = square_of (plain_rig ());
  g_autofree char *program = trammel_square_program (square);

  ck_assert (g_str_has_prefix (program, "(CAUTION"));
  ck_assert_ptr_nonnull (strstr (program, "hot tip and fresh plastic burn"));
  ck_assert_ptr_nonnull (strstr (program, "\nG21\nG90\n"));
  ck_assert (g_str_has_suffix (program, "\nM2\n"));
  /* The first bead starts a quarter of a millimeter inside the corner, on the first layer */
  ck_assert_ptr_nonnull (
      strstr (program, "G0 X10.2500 Y10.2500 F4800.000\nG0 Z0.2000 F4800.000\nG1 X43.2500 Y10.2500 "));
}
END_TEST

START_TEST (pen_program)
{
  g_autoptr (TrammelSquare) square = square_of (pen_rig ());
  g_autofree char *program = trammel_square_program (square);

  /* 478 mm at 30 mm/s */
  ck_assert_ptr_nonnull (strstr (program, "(Longest time held on: 16 s)"));
  ck_assert_ptr_nonnull (strstr (program, "overheats"));
  ck_assert_ptr_nonnull (
      strstr (program, "G0 X10.2500 Y10.2500 F4800.000\nPEN DOWN\nG1 X43.2500 Y10.2500 F1800.000\n"));
  ck_assert_ptr_null (strstr (program, " Z"));
  ck_assert_ptr_null (strstr (program, " E"));
}
END_TEST

START_TEST (refuses_what_does_not_fit)
{
  expect_refusal (with_piece (rig ("XYZ", "100 mm"), PARAMETERS, NULL), TRAMMEL_ERROR_TOO_LARGE, "110 mm", "X",
                  "10 mm origin", "100 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "origin_y", "150 mm", NULL), TRAMMEL_ERROR_TOO_LARGE, "250 mm", "Y",
                  "200 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "lift", "195 mm", NULL), TRAMMEL_ERROR_TOO_LARGE, "201 mm", "Z", "195 mm",
                  "6 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "origin_x", "-1 mm", NULL), TRAMMEL_ERROR_IMPOSSIBLE, "origin_x: ", "-1",
                  NULL);
  expect_refusal (
      with_piece (plain_rig (), "bead_width", "0.02 mm", "layer_height", "0.01 mm", "height", "150 mm", NULL),
      TRAMMEL_ERROR_TOO_LARGE, "15000 layers", NULL);
  trammel_square_free (square_of (with_piece (rig ("XYZ", "110 mm"), PARAMETERS, NULL)));
}
END_TEST

START_TEST (refuses_what_does_not_go_together)
{
  const int code = TRAMMEL_ERROR_IMPOSSIBLE;

  expect_refusal (with_piece (plain_rig (), "wall", "0.9 mm", NULL), code, "wall: ", "0.9 mm", "1 mm", NULL);
  /* An arm must be 2·10 + 10 + 0.5 mm long: (91 − 30)/2, where 30 is the third to a whole mm */
  expect_refusal (with_piece (plain_rig (), "size", "60 mm", NULL), code, "size: ", "60 mm", "at least 91 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "height", "3 mm", NULL), code, "height: ", "3 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "height", "6.1 mm", NULL), code, "height: 6.1 mm", "0.2 mm", "6 mm",
                  "6.2 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "step_height", "0.05 mm", NULL), code, "step_height: ", "0.05 mm", NULL);
  expect_refusal (with_piece (plain_rig (), "layer_height", "0.6 mm", NULL), code, "layer_height: ", "0.6 mm", NULL);
  /* Beads fill at (0.2·0.3 + π·0.01)/0.2 = 0.45708 mm: one gap makes 0.957 mm, two make 1.414 mm */
  expect_refusal (with_piece (plain_rig (), "wall", "1.2 mm", NULL), code, "wall: ", "0.957 mm", "1.414 mm", NULL);
}
END_TEST

START_TEST (refuses_axes_that_cannot)
{
  const int code = TRAMMEL_ERROR_IMPOSSIBLE;

  expect_refusal (with_piece (rig ("XY", "200 mm"), PARAMETERS, NULL), code, "axis Z", NULL);
  expect_refusal (with_piece (rig ("XZ", "200 mm"), PARAMETERS, NULL), code, "axis Y", NULL);
  expect_refusal (with_piece (plain_rig (), "feed_letter", "e", NULL), code, "feed_letter: ", NULL);
  expect_refusal (with_piece (plain_rig (), "feed_letter", "EE", NULL), code, "feed_letter: ", NULL);
  expect_refusal (with_piece (plain_rig (), "feed_letter", "X", NULL), code, "feed_letter: ", NULL);
  expect_refusal (with_piece (rig ("XYZA", "200 mm"), PARAMETERS, "feed_letter", "A", NULL), code, "feed_letter: ", "A",
                  NULL);
}
END_TEST

START_TEST (refuses_a_pen_that_stays_down)
{
  const int code = TRAMMEL_ERROR_IMPOSSIBLE;

  expect_refusal (with_piece (pen_rig (), "feed_on", "", "feed_off", "", NULL), code, "feed_on: ", NULL);
  expect_refusal (with_piece (pen_rig (), "feed_off", "", NULL), code, "feed_off: ", NULL);
  expect_refusal (with_piece (pen_rig (), "lower_lines", "DOWN", NULL), code, "lift_lines: ", NULL);
}
END_TEST

START_TEST (no_axis_is_asked_for_more_than_its_drive_can)
{
  g_autoptr (TrammelMachine) machine = plain_rig ();
  const TrammelTrain *train = trammel_axis_train (trammel_machine_axis (machine, 1));
  /* A new axis moves 8 mm per turn: 60 rev/min are 8 mm/s, F480 */
  g_autoptr (TrammelRecord) motor
      = trammel_record_with_text (trammel_train_motor (train), "max_speed", "60 rpm", NULL, NULL);
  g_autoptr (TrammelTrain) slow = trammel_train_with_motor (train, motor);
  g_autoptr (TrammelSquare) square = square_of (trammel_machine_with_train (machine, 1, slow));
  g_autofree char *program = trammel_square_program (square);

  ck_assert_ptr_nonnull (strstr (program, "G0 X10.2500 Y10.2500 F480.000\n"));
  ck_assert_ptr_null (strstr (program, "F1800"));
  ck_assert_ptr_null (strstr (program, "F4800"));
}
END_TEST

static Suite *
square_suite (void)
{
  Suite *suite = suite_create ("square");
  TCase *layout = tcase_create ("layout");
  TCase *program = tcase_create ("program");
  TCase *refusals = tcase_create ("refusals");

  tcase_add_test (layout, features_and_their_sizes);
  tcase_add_test (layout, outlines_enclose_the_areas);
  tcase_add_test (layout, plan_waits_for_measured);
  tcase_add_test (layout, find_goes_by_kind_direction_and_size);
  tcase_add_test (layout, a_pen_draws_no_heights);
  tcase_add_test (layout, effort_of_a_printed_square);
  tcase_add_test (program, program_opens_with_cautions);
  tcase_add_test (program, pen_program);
  tcase_add_test (program, no_axis_is_asked_for_more_than_its_drive_can);
  tcase_add_test (refusals, refuses_what_does_not_fit);
  tcase_add_test (refusals, refuses_what_does_not_go_together);
  tcase_add_test (refusals, refuses_axes_that_cannot);
  tcase_add_test (refusals, refuses_a_pen_that_stays_down);
  suite_add_tcase (suite, layout);
  suite_add_tcase (suite, program);
  suite_add_tcase (suite, refusals);
  return suite;
}

int
main (void)
{
  SRunner *runner = srunner_create (square_suite ());
  int failed;

  srunner_run_all (runner, CK_ENV);
  failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
