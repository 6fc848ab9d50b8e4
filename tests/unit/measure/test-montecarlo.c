/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Trials against distributions that are known in closed form. */
#include "rows.h"

#include "measure/montecarlo.h"
#include "measure/trial-figures-private.h"

#define TRIALS 200000

static TrammelMonteCarloAxis
trials_of_x (const TrammelAdjustmentInput *input, gsize n, guint64 seed, guint n_threads)
{
  g_autoptr (TrammelAdjustment) adjustment = adjust (input);
  const TrammelMonteCarloOptions options = { .trials = n, .seed = seed, .n_threads = n_threads };
  g_autoptr (GError) error = NULL;
  g_autoptr (GArray) axes = trammel_monte_carlo (adjustment, input, &options, &error);

  ck_assert_msg (axes != NULL, "%s", error ? error->message : "");
  ck_assert_uint_ge (axes->len, 1);
  const TrammelMonteCarloAxis axis = g_array_index (axes, TrammelMonteCarloAxis, 0);
  ck_assert_int_eq (axis.letter, 'X');
  return axis;
}

/* One travel of 100 mm with u 0.05 mm: e is normal with u 0.0005. The 2.5 % quantile of 200,000 trials has itself a
 * standard deviation of √(0.025·0.975/200000)/0.0584 = 0.006 u; their standard deviation one of u/√400000. */
START_TEST (a_linear_model_gives_the_normal_distribution)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 99.6 0.05");
  const TrammelAdjustmentInput input = input_for (rows);
  const TrammelMonteCarloAxis axis = trials_of_x (&input, TRIALS, 1, 0);
  const double u = 0.0005, q = 1.959963984540054;
  guint counted = 0;

  ck_assert_double_eq_tol (axis.mean, -0.004, 0.01 * u);
  ck_assert_double_eq_tol (axis.u, u, 0.008 * u);
  ck_assert_double_eq_tol (axis.low, -0.004 - q * u, 0.03 * u);
  ck_assert_double_eq_tol (axis.high, -0.004 + q * u, 0.03 * u);
  for (int i = 0; i < TRAMMEL_MONTE_CARLO_BINS; i++)
    counted += axis.counts[i];
  ck_assert_uint_eq (counted, TRIALS);
  /* 60 bins over twice the interval, 4·1.959964 u: the middle ones of a normal distribution hold 0.3989·7.84/60 of all
   * each */
  ck_assert_double_eq_tol (axis.counts[30] / (double)TRIALS, 0.0521, 0.003);
  /* The standard deviation of the quantile, as above */
  ck_assert_double_eq_tol (axis.low_u, 0.006 * u, 0.0015 * u);
  ck_assert_double_eq_tol (axis.high_u, 0.006 * u, 0.0015 * u);
  /* φ(0) and φ(1) of any table */
  ck_assert (isinf (axis.freedom));
  ck_assert_double_eq_tol (trammel_monte_carlo_linear_density (&axis, -0.004), 0.39894228 / u, 1e-5 / u);
  ck_assert_double_eq_tol (trammel_monte_carlo_linear_density (&axis, -0.0045), 0.24197072 / u, 1e-5 / u);
}
END_TEST

/* X is read across a diagonal only, Y is known, and the skew g between them is stated as 0 ± 0.35 rad. The square of
 * the diagonal is 1 + w² − 2 w sin g in units of 100 mm, so w = s + √(1 + s²) with s = sin g: at the ends of the 95 %
 * interval of g, ± 0.685987 rad, s is ± 0.633431 and w is 1.817168 and 0.550306. The straight line through g = 0 would
 * give 1 ± 0.686. Worked by hand. */
START_TEST (a_bent_model_is_not_validated)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X+Y 141.42135623730951 141.42135623730951 0.001\n"
                                            "travel Y 100 100 0.001");
  TrammelStated skew = { .name = g_ref_string_new ("skew.XY"), .value = 0, .u = 0.35 };
  TrammelAdjustmentInput input = input_for (rows);

  input.stated = &skew;
  input.n_stated = 1;
  const TrammelMonteCarloAxis axis = trials_of_x (&input, TRIALS, 2, 0);
  g_ref_string_release (skew.name);
  ck_assert_double_eq_tol (axis.linear_high, 0.686, 0.001);
  ck_assert_double_eq_tol (axis.linear_low, -0.686, 0.001);
  ck_assert_double_eq_tol (axis.high, 0.817168, 0.012);
  ck_assert_double_eq_tol (axis.low, -0.449694, 0.008);
  ck_assert (!axis.validated);
  ck_assert (!trammel_monte_carlo_is_open (&axis));
}
END_TEST

/* Where the size of the errors is estimated from two degrees of freedom, e follows Student's t: three travels about a
 * mean of −0.004 with s 0.001; t of 0.975 with 2 degrees of freedom is 4.302653 (any table). */
START_TEST (an_estimated_size_gives_students_t)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 99.5 .\ntravel X 100 99.6 .\ntravel X 100 99.7 .");
  TrammelAdjustmentInput input = input_for (rows);

  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  const TrammelMonteCarloAxis axis = trials_of_x (&input, TRIALS, 3, 0);
  const double u = 0.001 / sqrt (3);
  ck_assert_double_eq_tol (axis.linear_u, u, 1e-9);
  ck_assert_double_eq_tol (axis.high, -0.004 + 4.302653 * u, 0.1 * u);
  ck_assert_double_eq_tol (axis.low, -0.004 - 4.302653 * u, 0.1 * u);
  /* The density of t with 2 degrees of freedom is (2 + t²)^−1.5: 2^−1.5 and 3^−1.5 */
  ck_assert_double_eq (axis.freedom, 2);
  ck_assert_double_eq_tol (trammel_monte_carlo_linear_density (&axis, -0.004), 0.35355339 / u, 1e-5 / u);
  ck_assert_double_eq_tol (trammel_monte_carlo_linear_density (&axis, -0.004 + u), 0.19245009 / u, 1e-5 / u);
}
END_TEST

START_TEST (a_seed_gives_the_same_on_any_number_of_cores)
{
  g_autoptr (GArray) rows = rows_from_text ("outside X 100 99.6 0.05\ninside X 80 79.5 0.05\ntravel X 100 99.8 0.05");
  const TrammelAdjustmentInput input = input_for (rows);
  const TrammelMonteCarloAxis one = trials_of_x (&input, 20011, 7, 1), three = trials_of_x (&input, 20011, 7, 3),
                              other = trials_of_x (&input, 20011, 8, 1);

  ck_assert (one.low == three.low && one.high == three.high && one.mean == three.mean && one.u == three.u);
  ck_assert (one.low != other.low);
}
END_TEST

/* JCGM 101:2008, 7.9.2: a mass of 100.02147 g with u 0.00035 g has, of two digits, a tolerance of 0.000005 g (from
 * memory). The others by the rule. */
START_TEST (tolerances)
{
  ck_assert_double_eq_tol (trammel_trial_tolerance (0.00035), 0.000005, 1e-15);
  ck_assert_double_eq_tol (trammel_trial_tolerance (0.0030), 0.00005, 1e-14);
  ck_assert_double_eq_tol (trammel_trial_tolerance (41), 0.5, 1e-12);
  ck_assert_double_eq_tol (trammel_trial_tolerance (0.00099999), 0.00005, 1e-14);
}
END_TEST

/* Of two or of 98 in a hundred of 1000 trials little is known: the ends may differ by more than the tolerance by
 * chance. That of u 0.0005 is 0.000005, a hundredth of u; the ends of so few are known to 0.084 u
 * (√(0.025·0.975/1000)/0.0584).
 */
START_TEST (few_trials_leave_it_open)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 99.6 0.05");
  const TrammelAdjustmentInput input = input_for (rows);
  guint open = 0;

  for (guint64 seed = 0; seed < 20; seed++)
    {
      const TrammelMonteCarloAxis axis = trials_of_x (&input, 1000, seed, 1);
      ck_assert_double_eq_tol (axis.tolerance, 0.000005, 1e-12);
      open += trammel_monte_carlo_is_open (&axis);
    }
  ck_assert_uint_ge (open, 16);
}
END_TEST

static void
count_done (gsize done, gpointer data)
{
  g_cancellable_cancel (data);
}

START_TEST (is_told_and_can_be_cancelled)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 99.6 0.05");
  const TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  const TrammelMonteCarloOptions options
      = { .trials = 1000000, .cancellable = cancellable, .progress = count_done, .data = cancellable };

  ck_assert_ptr_null (trammel_monte_carlo (adjustment, &input, &options, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

START_TEST (a_robust_fit_is_refused)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 99.6 0.05\ntravel X 100 99.7 0.05\ntravel X 50 49.8 0.05");
  TrammelAdjustmentInput input = input_for (rows);
  const TrammelMonteCarloOptions options = { .trials = 1000 };
  g_autoptr (GError) error = NULL;

  input.robust = TRUE;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  ck_assert_ptr_null (trammel_monte_carlo (adjustment, &input, &options, &error));
  ck_assert_ptr_nonnull (strstr (error->message, "robust"));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("montecarlo");
  TCase *tests = tcase_create ("montecarlo");
  tcase_add_test (tests, a_linear_model_gives_the_normal_distribution);
  tcase_add_test (tests, a_bent_model_is_not_validated);
  tcase_add_test (tests, an_estimated_size_gives_students_t);
  tcase_add_test (tests, a_seed_gives_the_same_on_any_number_of_cores);
  tcase_add_test (tests, few_trials_leave_it_open);
  tcase_add_test (tests, tolerances);
  tcase_add_test (tests, is_told_and_can_be_cancelled);
  tcase_add_test (tests, a_robust_fit_is_refused);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
