/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/budget.h"
#include "measure/next.h"
#include "measure/plan.h"

#include "rows.h"

static const double TRAVELS[] = { 180, 160, NAN, NAN, 360 }; /* of "XYZEA" */

static const TrammelBudgetLine *
find_line (const GArray *budget, char letter, const char *key)
{
  for (guint i = 0; i < budget->len; i++)
    {
      const TrammelBudgetLine *line = &g_array_index (budget, TrammelBudgetLine, i);
      g_autofree char *own = trammel_budget_line_key (line);
      if (line->letter == letter && g_str_equal (own, key))
        return line;
    }
  ck_abort_msg ("no line %c %s", letter, key);
  return NULL;
}

static double
after (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input, const char *row, char letter)
{
  g_autoptr (GArray) rows = rows_from_text (row);
  return trammel_next_after (adjustment, input, &g_array_index (rows, TrammelReading, 0), letter, NULL);
}

START_TEST (budget_of_one_outside_by_hand)
{
  /* 100(1+e)(1−s) + 2b with s 0.002 ± 0.003, b 0 ± 0.2, read ± 0.03: e takes all of it, so that
   * u²(e)·99.8² = 0.03² + (100·0.003)² + (2·0.2)² = 0.0009 + 0.09 + 0.16 */
  g_autoptr (GArray) rows = rows_from_text ("outside X 100 99.8 0.03 . . caliper\n");
  const TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  g_autoptr (GArray) budget = trammel_budget (adjustment, &input);

  ck_assert_uint_eq (budget->len, 3);
  ck_assert_double_eq_tol (find_line (budget, 'X', "outside.caliper")->share, 0.0009 / 0.2509, 1e-12);
  ck_assert_double_eq_tol (find_line (budget, 'X', "shrink")->share, 0.09 / 0.2509, 1e-12);
  ck_assert_double_eq_tol (find_line (budget, 'X', "bead")->share, 0.16 / 0.2509, 1e-12);
  ck_assert_double_eq_tol (find_line (budget, 'X', "bead")->u, 0.4 / 99.8, 1e-12);
  /* The largest first */
  ck_assert_str_eq (g_array_index (budget, TrammelBudgetLine, 0).parameter, "bead");
}
END_TEST

START_TEST (budget_of_two_instruments_by_hand)
{
  /* 100 mm read with u 0.03 and 50 mm with u 0.01: weights (100/0.03)² and (50/0.01)², shares as those */
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100 0.03 . . caliper\n"
                                            "travel X 50 50 0.01 . . dial\n"
                                            "travel Y 50 50 0.01\n");
  const TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  g_autoptr (GArray) budget = trammel_budget (adjustment, &input);
  const double caliper = 1e4 / 9e-4, dial = 2.5e3 / 1e-4;

  ck_assert_uint_eq (budget->len, 3);
  ck_assert_double_eq_tol (find_line (budget, 'X', "travel.caliper")->share, caliper / (caliper + dial), 1e-12);
  ck_assert_double_eq_tol (find_line (budget, 'X', "travel.dial")->share, dial / (caliper + dial), 1e-12);
  ck_assert_double_eq (find_line (budget, 'Y', "travel")->share, 1);
}
END_TEST

START_TEST (a_fixed_value_has_no_share)
{
  g_autoptr (GArray) rows = rows_from_text ("outside X 100 99.8 0.03\n");
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[2];
  state (&input, stated, "bead", 0, 0);
  state (&input, stated, "shrink", 0.002, 0);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  g_autoptr (GArray) budget = trammel_budget (adjustment, &input);

  ck_assert_uint_eq (budget->len, 1);
  ck_assert_double_eq (find_line (budget, 'X', "outside")->share, 1);
}
END_TEST

START_TEST (one_more_travel_by_hand)
{
  /* u(e) = 0.03/100; with 200 mm beside it 0.03/√(100² + 200²) */
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 99.5 0.03\n");
  const TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (after (adjustment, &input, "travel X 200 . 0.03", 'X'), 0.03 / sqrt (50000), 1e-15);
  /* Without its own u: 0.05 mm */
  ck_assert_double_eq_tol (after (adjustment, &input, "travel X 200 .", 'X'), 1 / sqrt (1e4 / 9e-4 + 4e4 / 25e-4),
                           1e-15);
  /* Another axis tells nothing of this one, and everything of itself */
  ck_assert_double_eq_tol (after (adjustment, &input, "travel Y 200 . 0.05", 'X'), 0.0003, 1e-15);
  ck_assert_double_eq_tol (after (adjustment, &input, "travel Y 200 . 0.05", 'Y'), 0.00025, 1e-15);
  ck_assert_double_nan (after (adjustment, &input, "travel X 200 . 0.05", 'Y'));
  /* Lash 0 ± 1 mm comes in: 200 mm read with √(0.05² + 1²) */
  ck_assert_double_eq_tol (after (adjustment, &input, "travel X 200 . 0.05 reversed", 'X'),
                           1 / sqrt (1e4 / 9e-4 + 4e4 / 1.0025), 1e-15);
  /* A set of positions of its own has a datum of its own: one place tells nothing. */
  ck_assert_double_eq_tol (after (adjustment, &input, "position X 200 . 0.01", 'X'), 0.0003, 1e-15);
}
END_TEST

START_TEST (factors_on_u_stay)
{
  /* 100.5 and 99.5 with u 0.1 each: χ² 2·25 = 50 of 1 degree of freedom, so that the Birge ratio is √50, and
   * u = √50·0.1/√(2·100²); a third of 100 mm leaves √50·0.1/√(3·100²). */
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.5 0.1\ntravel X 100 99.5 0.1\n");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  ck_assert_double_eq_tol (after (adjustment, &input, "travel X 100 . 0.1", 'X'), sqrt (50) * 0.1 / sqrt (3e4), 1e-12);

  /* Estimated: s² = 0.5, whatever u is; a third leaves s/√(3·100²). */
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) estimated = adjust (&input);
  ck_assert_double_eq_tol (after (estimated, &input, "travel X 100 . 0.1", 'X'), sqrt (0.5 / 3) / 100, 1e-12);
}
END_TEST

START_TEST (the_longest_travel_comes_first)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 20 20 . . . caliper\ntravel Y 100 100 0.01 . . dial\n");
  TrammelAdjustmentInput input = input_for (rows);
  char name[] = "caliper";
  const TrammelInstrument caliper = { name, 0.03 };
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  ck_assert_int_eq (trammel_next_worst_axis (adjustment), 'X');
  g_autoptr (GArray) ranked = trammel_next_rank (adjustment, &input, TRAVELS, '\0', 4);

  ck_assert_uint_ge (ranked->len, 1);
  ck_assert_uint_le (ranked->len, 4);
  const TrammelNext *first = &g_array_index (ranked, TrammelNext, 0);
  ck_assert_int_eq (first->letter, 'X');
  ck_assert_uint_eq (first->reading.kind, TRAMMEL_READING_TRAVEL);
  ck_assert_int_eq (first->reading.along.axes[0], 'X');
  ck_assert_double_eq (first->reading.nominal, 180);
  ck_assert_str_eq (first->reading.instrument, "caliper");
  ck_assert_double_eq (first->u, 0.03);
  ck_assert_double_eq_tol (first->u_now, 0.0015, 1e-15);
  ck_assert_double_eq_tol (first->u_after, 0.03 / sqrt (20 * 20 + 180 * 180), 1e-15);
  for (guint i = 1; i < ranked->len; i++)
    {
      const TrammelNext *next = &g_array_index (ranked, TrammelNext, i);
      ck_assert_double_ge (next->u_after, g_array_index (ranked, TrammelNext, i - 1).u_after);
      ck_assert_double_le (next->u_after, 0.98 * next->u_now);
    }
}
END_TEST

START_TEST (an_axis_that_was_never_measured)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 20 20 0.03\n");
  const TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  g_autoptr (GArray) ranked = trammel_next_rank (adjustment, &input, TRAVELS, 'A', 3);

  ck_assert_uint_eq (ranked->len, 1);
  const TrammelNext *first = &g_array_index (ranked, TrammelNext, 0);
  ck_assert_double_eq (first->reading.nominal, 360);
  ck_assert_double_nan (first->u_now);
  ck_assert_double_eq_tol (first->u_after, 0.03 / 360, 1e-15);
}
END_TEST

START_TEST (nothing_is_left_to_learn)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 180 180 0.000001\n");
  const TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  TrammelAdjustmentInput other = input;
  other.n_readings = 0; /* so that candidates have u 0.05 */
  g_autoptr (GArray) ranked = trammel_next_rank (adjustment, &other, TRAVELS, 'X', 3);
  ck_assert_uint_eq (ranked->len, 0);
}
END_TEST

START_TEST (a_plan_tells_as_much_as_its_readings_will)
{
  /* As in the table of scale uncertainties: outside 100 and inside 80 in X and in Y, u 0.03, default stated values. */
  g_autoptr (GArray) rows = rows_from_text ("outside X 100 . 0.03\ninside X 80 . 0.03\n"
                                            "outside Y 100 . 0.03\ninside Y 80 77 0.03\n");
  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) plan = trammel_plan_adjustment (&input, NULL);
  ck_assert_ptr_nonnull (plan);
  ck_assert_double_eq_tol (parameter (plan, "scale.X")->u, 0.0030, 0.00005);
  ck_assert_double_eq_tol (parameter (plan, "scale.Y")->u, parameter (plan, "scale.X")->u, 1e-12);
  ck_assert_double_eq_tol (parameter (plan, "scale.Y")->value, 0, 1e-12);
  ck_assert_double_eq (trammel_adjustment_birge (plan), 1);
  ck_assert_uint_eq (trammel_adjustment_n_used (plan), 4);
}
END_TEST

START_TEST (a_plan_without_rows)
{
  g_autoptr (GArray) rows = trammel_reading_array_new (0);
  const TrammelAdjustmentInput input = { .axes = "X", .readings = (const TrammelReading *)(gpointer)rows->data };
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_plan_adjustment (&input, &error));
  ck_assert_ptr_nonnull (error);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("foresight");
  TCase *tests = tcase_create ("foresight");
  tcase_add_test (tests, budget_of_one_outside_by_hand);
  tcase_add_test (tests, budget_of_two_instruments_by_hand);
  tcase_add_test (tests, a_fixed_value_has_no_share);
  tcase_add_test (tests, one_more_travel_by_hand);
  tcase_add_test (tests, factors_on_u_stay);
  tcase_add_test (tests, the_longest_travel_comes_first);
  tcase_add_test (tests, an_axis_that_was_never_measured);
  tcase_add_test (tests, nothing_is_left_to_learn);
  tcase_add_test (tests, a_plan_tells_as_much_as_its_readings_will);
  tcase_add_test (tests, a_plan_without_rows);
  suite_add_tcase (suite, tests);
  return run_suite (suite);
}
