/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/control-chart.h"

#include <check.h>
#include <math.h>

/* The range of two independent normal values is |x − y|: mean 2/√π σ, standard deviation √(2 − 4/π) σ. Tables give
 * 1.128 and 3.267. */
START_TEST (constants)
{
  const double d2 = 2 / sqrt (M_PI), d3 = sqrt (2 - 4 / M_PI);
  ck_assert_double_eq_tol (TRAMMEL_CONTROL_D2, d2, 5e-4);
  ck_assert_double_eq_tol (TRAMMEL_CONTROL_D4, 1 + 3 * d3 / d2, 5e-4);
}
END_TEST

/* NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2, flow rates of ten batches (from memory): center 50.81, mean
 * moving range 1.8778, limits 45.8159 and 55.8041. */
START_TEST (flow_rates)
{
  const double values[] = { 49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1 };
  TrammelControlChart chart;
  ck_assert (trammel_control_chart_make (values, G_N_ELEMENTS (values), &chart));
  ck_assert_double_eq_tol (chart.center, 50.81, 1e-12);
  ck_assert_double_eq_tol (chart.range, 1.8778, 5e-5);
  ck_assert_double_eq_tol (chart.low, 45.8159, 5e-5);
  ck_assert_double_eq_tol (chart.high, 55.8041, 5e-5);
  ck_assert_double_eq_tol (chart.range_high, 3.267 * 16.9 / 9, 1e-12);
  for (gsize i = 0; i < G_N_ELEMENTS (values); i++)
    ck_assert (!trammel_control_chart_is_outside (&chart, values[i]));
}
END_TEST

/* By hand: 1, 2, 1, 2 have mean 1.5 and moving ranges of 1: limits 1.5 ± 3/1.128, a jump is more than 3.267. */
START_TEST (on_and_beyond_the_limits)
{
  const double values[] = { 1, 2, 1, 2 };
  TrammelControlChart chart;
  ck_assert (trammel_control_chart_make (values, 4, &chart));
  ck_assert_double_eq_tol (chart.high, 1.5 + 3 / 1.128, 1e-15);
  ck_assert (!trammel_control_chart_is_outside (&chart, chart.high));
  ck_assert (!trammel_control_chart_is_outside (&chart, chart.low));
  ck_assert (trammel_control_chart_is_outside (&chart, chart.high + 1e-9));
  ck_assert (trammel_control_chart_is_outside (&chart, chart.low - 1e-9));
  ck_assert (!trammel_control_chart_is_jump (&chart, 1, 4.26));
  ck_assert (trammel_control_chart_is_jump (&chart, 1, 4.27));
  ck_assert (trammel_control_chart_is_jump (&chart, 4.27, 1));
}
END_TEST

START_TEST (two_that_are_alike)
{
  const double values[] = { 80, 80 };
  TrammelControlChart chart;
  ck_assert (trammel_control_chart_make (values, 2, &chart));
  ck_assert_double_eq (chart.low, 80);
  ck_assert_double_eq (chart.high, 80);
  ck_assert (!trammel_control_chart_is_outside (&chart, 80));
}
END_TEST

START_TEST (no_chart)
{
  const double values[] = { 1, NAN, 2 }, great[] = { 1e308, -1e308, 1e308 };
  TrammelControlChart chart;
  ck_assert (!trammel_control_chart_make (NULL, 0, &chart));
  ck_assert (!trammel_control_chart_make (values, 1, &chart));
  ck_assert (!trammel_control_chart_make (values, 3, &chart));
  ck_assert (!trammel_control_chart_make (great, 3, &chart));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("control-chart");
  TCase *tests = tcase_create ("control-chart");
  tcase_add_test (tests, constants);
  tcase_add_test (tests, flow_rates);
  tcase_add_test (tests, on_and_beyond_the_limits);
  tcase_add_test (tests, two_that_are_alike);
  tcase_add_test (tests, no_chart);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
