/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The position test against figures worked out on paper from the formulas of ISO 230-2:2014, clause 3, with the cases
 * that the standard does not know: one run only, a target seen from one side, one direction, rows that do not say how
 * they were approached. */
#include "base/error.h"
#include "measure/positions.h"
#include "rows.h"

#define EXACT 1e-12

static TrammelPositions *
positions_of (const char *text, char axis, const char *set)
{
  g_autoptr (GArray) rows = rows_from_text (text);
  g_autoptr (GError) error = NULL;
  TrammelPositions *positions
      = trammel_positions_new ((const TrammelReading *)(gpointer)rows->data, rows->len, axis, set, &error);

  ck_assert_msg (positions != NULL, "%s", error ? error->message : "");
  return positions;
}

static gboolean
notes_of (const TrammelPositions *positions, const char *words)
{
  for (const char *const *note = trammel_positions_notes (positions); *note != NULL; note++)
    if (strstr (*note, words) != NULL)
      return TRUE;
  return FALSE;
}

/* Deviations in hundredths of a millimeter: at 0, up 1 3, down 2 4; at 100, up 5 5, down 9 5. So x̄↑ 2 5, x̄↓ 3 7,
 * s↑ √2 0, s↓ √2 2√2, B −1 −2. */
static const char *const two_sides
    = "position X 0 0.01 . +\nposition X 0 0.03 . +\nposition X 100 100.05 . +\nposition X 100 100.05 . +\n"
      "position X 100 100.09 . -\nposition X 100 100.05 . -\nposition X 0 0.02 . -\nposition X 0 0.04 . -";

START_TEST (two_sides_by_hand)
{
  g_autoptr (TrammelPositions) positions = positions_of (two_sides, 'X', NULL);
  const double s = G_SQRT2 / 100; /* of two values 0.02 apart */
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, &n);
  const TrammelPositionFigures figures = trammel_positions_before (positions);

  ck_assert_uint_eq (n, 2);
  ck_assert_double_eq (targets[0].target, 0);
  ck_assert_double_eq_tol (targets[0].up.mean, 0.02, EXACT);
  ck_assert_double_eq_tol (targets[0].down.mean, 0.03, EXACT);
  ck_assert_double_eq_tol (targets[0].up.s, s, EXACT);
  ck_assert_double_eq_tol (targets[0].mean, 0.025, EXACT);
  ck_assert_double_eq_tol (targets[0].reversal, -0.01, EXACT);
  ck_assert_double_eq_tol (targets[0].repeatability, 4 * s + 0.01, EXACT); /* 2 s↑ + 2 s↓ + |B|, more than 4 s */
  ck_assert_double_eq_tol (targets[1].up.s, 0, EXACT);
  ck_assert_double_eq_tol (targets[1].down.s, 2 * s, EXACT);
  ck_assert_double_eq_tol (targets[1].repeatability, 8 * s, EXACT); /* R↓ = 4·2s, more than 2·2s + 0.02 */

  ck_assert_double_eq_tol (figures.b, 0.02, EXACT);
  ck_assert_double_eq_tol (figures.b_mean, -0.015, EXACT);
  ck_assert_double_eq_tol (figures.r_up, 4 * s, EXACT);
  ck_assert_double_eq_tol (figures.r_down, 8 * s, EXACT);
  ck_assert_double_eq_tol (figures.r, 8 * s, EXACT);
  ck_assert_double_eq_tol (figures.e_up, 0.03, EXACT);
  ck_assert_double_eq_tol (figures.e_down, 0.04, EXACT);
  ck_assert_double_eq_tol (figures.e, 0.05, EXACT); /* from x̄↑ at 0 to x̄↓ at 100 */
  ck_assert_double_eq_tol (figures.m, 0.035, EXACT);
  ck_assert_double_eq_tol (figures.a_up, 0.05 - (0.02 - 2 * s), EXACT);
  ck_assert_double_eq_tol (figures.a_down, (0.07 + 4 * s) - MIN (0.03 - 2 * s, 0.07 - 4 * s), EXACT);
  ck_assert_double_eq_tol (figures.a, (0.07 + 4 * s) - (0.02 - 2 * s), EXACT);
}
END_TEST

/* The same rows; every run weighs the same, so the line goes through the means of means: slope (0.06 − 0.025)/100, lash
 * the other sign of the mean B, datum 0.025. Eight readings, three unknowns. */
START_TEST (line_by_hand)
{
  g_autoptr (TrammelPositions) positions = positions_of (two_sides, 'X', NULL);
  const TrammelPositionLine line = trammel_positions_line (positions);
  const TrammelPositionFigures after = trammel_positions_after (positions);
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets_after (positions, &n);

  ck_assert_double_eq_tol (line.scale_error, 0.00035, EXACT);
  ck_assert_double_eq_tol (line.lash, 0.015, EXACT);
  ck_assert_double_eq_tol (line.datum, 0.025, EXACT);
  ck_assert_int_eq (line.dof, 5);
  /* Each mean is off that by 0.0025, twice over; within the groups the squares are 2·0.01², 2·0.01², 0 and 2·0.02². */
  ck_assert_double_eq_tol (line.sigma, sqrt ((8 * 6.25e-6 + 12e-4) / 5), EXACT);
  ck_assert_double_eq_tol (line.u_lash, 2 * line.sigma / sqrt (8), EXACT);
  ck_assert_double_eq_tol (line.u_scale_error, line.sigma / sqrt (8 * 2500), EXACT);
  /* Taken out: both targets at 0.025, B −1 + 1.5 and −2 + 1.5 hundredths; what scatters stays. */
  ck_assert_double_eq_tol (targets[0].reversal, 0.005, EXACT);
  ck_assert_double_eq_tol (targets[1].reversal, -0.005, EXACT);
  ck_assert_double_eq_tol (targets[1].down.s, 2 * G_SQRT2 / 100, EXACT);
  ck_assert_double_eq_tol (after.m, 0, EXACT);
  ck_assert_double_eq_tol (after.b, 0.005, EXACT);
  ck_assert_double_eq_tol (after.b_mean, 0, EXACT);
  ck_assert_double_eq_tol (after.r_down, trammel_positions_before (positions).r_down, EXACT);
}
END_TEST

START_TEST (one_run_tells_no_scatter)
{
  g_autoptr (TrammelPositions) positions = positions_of (
      "position X 0 0.01 . +\nposition X 50 50.04 . +\nposition X 50 50.01 . -\nposition X 0 0 . -", 'X', NULL);
  const TrammelPositionFigures figures = trammel_positions_before (positions);

  ck_assert_uint_eq (trammel_positions_fewest_runs (positions), 1);
  ck_assert (isnan (trammel_positions_targets (positions, NULL)[0].up.s));
  ck_assert (isnan (figures.r) && isnan (figures.r_up) && isnan (figures.a) && isnan (figures.a_down));
  ck_assert_double_eq_tol (figures.b, 0.03, EXACT);
  ck_assert_double_eq_tol (figures.b_mean, 0.02, EXACT);
  ck_assert_double_eq_tol (figures.e, 0.04, EXACT);
  ck_assert_double_eq_tol (figures.m, 0.02, EXACT);
  ck_assert (notes_of (positions, "only 1 run from a side"));
  ck_assert (notes_of (positions, "Repeatability and accuracy need two runs"));
  ck_assert (notes_of (positions, "Only 2 targets"));
}
END_TEST

/* 50 is approached moving up only: it counts for that side, and for E and A, but has no reversal. */
START_TEST (a_target_seen_from_one_side)
{
  g_autoptr (TrammelPositions) positions
      = positions_of ("position X 0 0.01 . +\nposition X 0 0.01 . +\nposition X 0 0.02 . -\nposition X 0 0.02 . -\n"
                      "position X 50 50.08 . +\nposition X 50 50.08 . +",
                      'X', NULL);
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, NULL);
  const TrammelPositionFigures figures = trammel_positions_before (positions);

  ck_assert_uint_eq (targets[1].down.n, 0);
  ck_assert (isnan (targets[1].down.mean) && isnan (targets[1].reversal) && isnan (targets[1].repeatability));
  ck_assert_double_eq_tol (targets[1].mean, 0.08, EXACT);
  ck_assert (!trammel_positions_is_one_direction (positions));
  ck_assert_double_eq_tol (figures.b, 0.01, EXACT);
  ck_assert_double_eq_tol (figures.m, 0, EXACT); /* of the one target with both */
  ck_assert_double_eq_tol (figures.e, 0.07, EXACT);
  ck_assert_double_eq_tol (figures.e_down, 0, EXACT);
  ck_assert_double_eq_tol (figures.a, 0.07, EXACT); /* nothing scatters */
}
END_TEST

/* Nothing says how places were approached: all count as moving up. */
START_TEST (one_direction)
{
  g_autoptr (TrammelPositions) positions
      = positions_of ("position Y 0 0\nposition Y 0 0.02\nposition Y 100 100.05\nposition Y 100 100.07", 'Y', NULL);
  const TrammelPositionFigures figures = trammel_positions_before (positions);
  const TrammelPositionLine line = trammel_positions_line (positions);

  ck_assert (trammel_positions_is_one_direction (positions));
  ck_assert_double_eq_tol (figures.e_up, 0.05, EXACT);
  ck_assert_double_eq_tol (figures.r_up, 4 * G_SQRT2 / 100, EXACT);
  ck_assert_double_eq_tol (figures.a_up, 0.05 + 4 * G_SQRT2 / 100, EXACT);
  ck_assert (isnan (figures.a) && isnan (figures.e) && isnan (figures.r) && isnan (figures.b) && isnan (figures.m));
  ck_assert (isnan (figures.e_down) && isnan (figures.b_mean));
  ck_assert_double_eq_tol (line.scale_error, 0.0005, EXACT);
  ck_assert (isnan (line.lash) && isnan (line.u_lash));
  ck_assert_int_eq (line.dof, 2);
  ck_assert (notes_of (positions, "one side only"));
}
END_TEST

START_TEST (rows_that_do_not_say_are_left_out_where_others_do)
{
  g_autoptr (TrammelPositions) positions
      = positions_of ("position X 0 5\nposition X 0 0.01 . +\nposition X 50 50.03 . +\nposition X 50 50", 'X', NULL);

  ck_assert_uint_eq (trammel_positions_n_used (positions), 2);
  ck_assert_uint_eq (trammel_positions_n_left_out (positions), 2);
  ck_assert_double_eq_tol (trammel_positions_before (positions).e_up, 0.02, EXACT);
  ck_assert (notes_of (positions, "2 rows do not say"));
}
END_TEST

START_TEST (sets_are_kept_apart)
{
  g_autoptr (GArray) rows = rows_from_text ("position Y 0 0 . + cold\nposition X 0 0\ntravel X 5 5\nposition X 9 9\n"
                                            "position Y 1 . . + cold\nposition Y 1 1 . + warm");
  const TrammelReading *readings = (const TrammelReading *)(gpointer)rows->data;
  g_autoptr (GArray) sets = trammel_position_sets (readings, rows->len);
  const TrammelPositionSet *set = (const TrammelPositionSet *)(gpointer)sets->data;
  g_autoptr (GError) error = NULL;

  ck_assert_uint_eq (sets->len, 3);
  ck_assert (set[0].axis == 'Y' && strcmp (set[0].set, "cold") == 0 && set[0].n == 1); /* one waits to be measured */
  ck_assert (set[1].axis == 'X' && set[1].set == NULL && set[1].n == 2);
  ck_assert (set[2].axis == 'Y' && strcmp (set[2].set, "warm") == 0 && set[2].n == 1);
  ck_assert_ptr_null (trammel_positions_new (readings, rows->len, 'Y', NULL, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
  ck_assert_ptr_nonnull (strstr (error->message, "no measured position along Y"));
}
END_TEST

/* A large common offset costs no digits: deviations of 1e-5 about 1e6. */
START_TEST (an_offset_costs_no_digits)
{
  g_autoptr (TrammelPositions) positions
      = positions_of ("position X 0 1000000.00001 . +\nposition X 0 1000000.00003 . +", 'X', NULL);

  ck_assert_double_eq_tol (trammel_positions_targets (positions, NULL)[0].up.s, G_SQRT2 * 1e-5, 2e-10);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("positions");
  TCase *tests = tcase_create ("positions");
  tcase_add_test (tests, two_sides_by_hand);
  tcase_add_test (tests, line_by_hand);
  tcase_add_test (tests, one_run_tells_no_scatter);
  tcase_add_test (tests, a_target_seen_from_one_side);
  tcase_add_test (tests, one_direction);
  tcase_add_test (tests, rows_that_do_not_say_are_left_out_where_others_do);
  tcase_add_test (tests, sets_are_kept_apart);
  tcase_add_test (tests, an_offset_costs_no_digits);
  suite_add_tcase (suite, tests);
  return run_suite (suite);
}
