/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "measure/bead-task.h"

#include <check.h>
#include <math.h>

static void
expect (TrammelAmount found, double value, double u)
{
  ck_assert_double_eq_tol (found.value, value, 1e-9 * fabs (value));
  ck_assert_double_eq_tol (found.u, u, 1e-9 * fabs (u) + 1e-15);
}

/* By hand: (0.45 − 0.2)·0.2 + π·0.2²/4 = 0.05 + 0.0314159265358979; ∂/∂w = 0.2, ∂/∂h = 0.45 − 0.4 + 0.1 π =
 * 0.364159265358979; √((0.2·0.01)² + (0.364159265358979·0.005)²) = 0.00270477739749 */
START_TEST (section_of_a_bead)
{
  expect (trammel_bead_area ((TrammelAmount){ 0.45, 0 }, (TrammelAmount){ 0.2, 0 }), 0.0814159265358979, 0);
  expect (trammel_bead_area ((TrammelAmount){ 0.45, 0.01 }, (TrammelAmount){ 0.2, 0.005 }), 0.0814159265358979,
          sqrt (4e-6 + 3.3152992637e-6));
  /* As high as wide: a round wire */
  expect (trammel_bead_area ((TrammelAmount){ 0.4, 0 }, (TrammelAmount){ 0.4, 0 }), 0.125663706143592, 0);
}
END_TEST

/* The reverse of the section; ∂w/∂A = 1/0.2 = 5, ∂w/∂h = 1 − π/4 − 0.0814159265358979/0.04 = −1.8207963267949 */
START_TEST (width_of_a_section)
{
  expect (trammel_bead_width ((TrammelAmount){ 0.0814159265358979, 0.001 }, (TrammelAmount){ 0.2, 0.005 }), 0.45,
          sqrt (25e-6 + 82.8824815926e-6));
  expect (trammel_bead_width ((TrammelAmount){ 0.125663706143592, 0 }, (TrammelAmount){ 0.4 - 1e-12, 0 }), 0.4, 0);
}
END_TEST

/* π/4·1.75²·2 = 4.81056375...; relative u: 2·0.02/1.75 and 0.01/2 */
START_TEST (flow_in_three_ways)
{
  const TrammelAmount filament = { 1.75, 0.02 };
  const double flow = 4.810563750809281, relative = sqrt (0.00052244897959184 + 0.000025);
  expect (trammel_bead_flow_of_filament (filament, (TrammelAmount){ 2, 0.01 }), flow, flow * relative);
  /* 120 ± 0.6 mm in 60 s are the same 2 ± 0.01 mm/s */
  expect (trammel_bead_flow_of_length (filament, (TrammelAmount){ 120, 0.6 }, (TrammelAmount){ 60, 0 }), flow,
          flow * relative);
  /* 1.24 g of 1.24 g/cm³ in 50 s: 1000 mm³ in 50 s; 1 %, 2 % and 2 % together 3 % */
  expect (trammel_bead_flow_of_mass ((TrammelAmount){ 0.00124, 0.0000124 }, (TrammelAmount){ 1240, 24.8 },
                                     (TrammelAmount){ 50, 1 }),
          20, 0.6);
}
END_TEST

START_TEST (flow_section_speed_and_feed)
{
  /* 3 % and 4 % together 5 % */
  expect (trammel_bead_quotient ((TrammelAmount){ 5, 0.15 }, (TrammelAmount){ 0.1, 0.004 }), 50, 2.5);
  expect (trammel_bead_flow ((TrammelAmount){ 0.1, 0.004 }, (TrammelAmount){ 50, 1.5 }), 5, 0.25);
  /* π mm³/s through a wire of 2 mm (π mm²): 1 mm/s; 3 % and twice 2 % */
  expect (trammel_bead_feed ((TrammelAmount){ G_PI, 0.03 * G_PI }, (TrammelAmount){ 2, 0.04 }), 1, 0.05);
}
END_TEST

START_TEST (nothing_sensible)
{
  const TrammelAmount one = { 1, 0 }, zero = { 0, 0 }, minus = { -1, 0 }, none = { NAN, NAN }, far = { HUGE_VAL, 0 };
  const TrammelAmount bad[] = { zero, minus, none, far };
  ck_assert (isnan (trammel_bead_area ((TrammelAmount){ 0.2, 0 }, (TrammelAmount){ 0.3, 0 }).value));
  ck_assert (isnan (trammel_bead_width ((TrammelAmount){ 0.01, 0 }, (TrammelAmount){ 0.2, 0 }).value));
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      ck_assert (isnan (trammel_bead_area (bad[i], one).value));
      ck_assert (isnan (trammel_bead_width (one, bad[i]).value));
      ck_assert (isnan (trammel_bead_flow (bad[i], one).value));
      ck_assert (isnan (trammel_bead_quotient (one, bad[i]).value));
      ck_assert (isnan (trammel_bead_quotient (one, bad[i]).u));
      ck_assert (isnan (trammel_bead_feed (one, bad[i]).value));
      ck_assert (isnan (trammel_bead_flow_of_filament (bad[i], one).value));
      ck_assert (isnan (trammel_bead_flow_of_length (one, one, bad[i]).value));
      ck_assert (isnan (trammel_bead_flow_of_mass (one, bad[i], one).value));
    }
}
END_TEST

static void
give (TrammelBead *bead, TrammelBeadGiven which, double value, double u)
{
  bead->given[which] = (TrammelAmount){ value, u };
}

/* A bead 0.45 mm wide and 0.2 mm high has 0.0814159265358979 mm² (above); filament of 1.75 mm fed at 2 mm/s flows at
 * 4.810563750809281 mm³/s (above): 59.08628040 mm/s, with twice 1 % and 2 % of uncertainty. */
START_TEST (of_two_follows_the_third)
{
  const double flow = 4.810563750809281, area = 0.0814159265358979;
  TrammelBead bead;

  trammel_bead_init (&bead);
  give (&bead, TRAMMEL_BEAD_HEIGHT, 0.2, 0);
  give (&bead, TRAMMEL_BEAD_FILAMENT, 1.75, 0.0175);
  give (&bead, TRAMMEL_BEAD_FEED, 2, 0.04);
  give (&bead, TRAMMEL_BEAD_WIDTH, 0.45, 0);
  ck_assert (trammel_bead_solve (&bead, NULL));
  expect (bead.speed, flow / area, flow / area * sqrt (8e-4));
  expect (bead.area, area, 0);
  expect (bead.feed, 2, 0.04);

  give (&bead, TRAMMEL_BEAD_WIDTH, NAN, NAN);
  give (&bead, TRAMMEL_BEAD_SPEED, flow / area, 0);
  ck_assert (trammel_bead_solve (&bead, NULL));
  ck_assert_double_eq_tol (bead.width.value, 0.45, 1e-12);

  /* The feed that is asked hangs on the filament: twice 1 % */
  give (&bead, TRAMMEL_BEAD_WIDTH, 0.45, 0);
  give (&bead, TRAMMEL_BEAD_FEED, NAN, NAN);
  ck_assert (trammel_bead_solve (&bead, NULL));
  expect (bead.flow, flow, 0);
  expect (bead.feed, 2, 0.04);
}
END_TEST

START_TEST (a_task_that_is_none)
{
  TrammelBead bead;
  g_autoptr (GError) error = NULL;

  trammel_bead_init (&bead);
  give (&bead, TRAMMEL_BEAD_WIDTH, 0.4, 0);
  give (&bead, TRAMMEL_BEAD_SPEED, 40, 0);
  ck_assert (!trammel_bead_solve (&bead, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
  g_clear_error (&error);
  give (&bead, TRAMMEL_BEAD_HEIGHT, 0.5, 0);
  ck_assert (!trammel_bead_solve (&bead, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE));
  g_clear_error (&error);
  give (&bead, TRAMMEL_BEAD_HEIGHT, 0, 0);
  ck_assert (!trammel_bead_solve (&bead, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
  g_clear_error (&error);
  give (&bead, TRAMMEL_BEAD_HEIGHT, 0.2, 0);
  give (&bead, TRAMMEL_BEAD_FILAMENT, 1.75, 0);
  give (&bead, TRAMMEL_BEAD_FEED, 2, 0);
  ck_assert (!trammel_bead_solve (&bead, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("bead");
  TCase *tests = tcase_create ("bead");
  tcase_add_test (tests, section_of_a_bead);
  tcase_add_test (tests, width_of_a_section);
  tcase_add_test (tests, flow_in_three_ways);
  tcase_add_test (tests, flow_section_speed_and_feed);
  tcase_add_test (tests, nothing_sensible);
  tcase_add_test (tests, of_two_follows_the_third);
  tcase_add_test (tests, a_task_that_is_none);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
