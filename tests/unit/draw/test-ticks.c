/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>

#include "draw/ticks.h"

/* Expected places are counted by hand. */

START_TEST (places_are_round_and_inside)
{
  TrammelTicks ticks = trammel_ticks_make (-0.27, 1.04, 8);

  /* a step of 0.1 would take 13 places, of 0.2 takes −0.2 … 1.0: 7 */
  ck_assert_int_eq (ticks.n, 7);
  ck_assert_double_eq_tol (ticks.step, 0.2, 1e-15);
  ck_assert_double_eq_tol (trammel_ticks_at (ticks, 0), -0.2, 1e-15);
  ck_assert_double_eq (trammel_ticks_at (ticks, 1), 0);
  ck_assert_double_eq_tol (trammel_ticks_at (ticks, 6), 1.0, 1e-15);
  ck_assert_int_eq (ticks.decimals, 1);
}
END_TEST

START_TEST (ends_of_the_range_count)
{
  TrammelTicks ticks = trammel_ticks_make (0, 0.3, 4);

  ck_assert_int_eq (ticks.n, 4);
  ck_assert_double_eq_tol (trammel_ticks_at (ticks, 3), 0.3, 1e-15);
}
END_TEST

START_TEST (large_and_small_ranges)
{
  TrammelTicks large = trammel_ticks_make (0, 48000, 5), small = trammel_ticks_make (1e-7, 9e-7, 5);

  ck_assert_double_eq (large.step, 10000);
  ck_assert_int_eq (large.decimals, 0);
  ck_assert_int_eq (large.n, 5);
  ck_assert_double_eq_tol (small.step, 2e-7, 1e-20);
  ck_assert_int_eq (small.decimals, 7);
  ck_assert_int_eq (small.n, 4);
}
END_TEST

START_TEST (never_more_than_asked_for)
{
  for (int most = 2; most < 12; most++)
    for (double high = 0.013; high < 1e6; high *= 1.37)
      {
        TrammelTicks ticks = trammel_ticks_make (-0.4 * high, high, most);
        ck_assert_int_le (ticks.n, most);
        ck_assert_int_ge (ticks.n, 1);
        ck_assert (trammel_ticks_at (ticks, 0) >= -0.4 * high * (1 + 1e-6));
        ck_assert (trammel_ticks_at (ticks, ticks.n - 1) <= high * (1 + 1e-6));
      }
}
END_TEST

START_TEST (rounds_down_to_one_two_five)
{
  ck_assert_double_eq_tol (trammel_ticks_round_down (1), 1, 1e-15);
  ck_assert_double_eq_tol (trammel_ticks_round_down (1.99), 1, 1e-15);
  ck_assert_double_eq_tol (trammel_ticks_round_down (4.9), 2, 1e-15);
  ck_assert_double_eq_tol (trammel_ticks_round_down (9.9), 5, 1e-15);
  ck_assert_double_eq_tol (trammel_ticks_round_down (1000), 1000, 1e-9);
  ck_assert_double_eq_tol (trammel_ticks_round_down (0.034), 0.02, 1e-15);
}
END_TEST

static Suite *
ticks_suite (void)
{
  Suite *suite = suite_create ("ticks");
  TCase *tests = tcase_create ("ticks");

  tcase_add_test (tests, places_are_round_and_inside);
  tcase_add_test (tests, ends_of_the_range_count);
  tcase_add_test (tests, large_and_small_ranges);
  tcase_add_test (tests, never_more_than_asked_for);
  tcase_add_test (tests, rounds_down_to_one_two_five);
  suite_add_tcase (suite, tests);
  return suite;
}

int
main (void)
{
  SRunner *runner = srunner_create (ticks_suite ());

  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
