/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts.h"

#include "drive/screw.h"
#include "drive/slender.h"

#include <math.h>

#define DEGREE (G_PI / 180)

/* Budynas & Nisbett, Shigley's Mechanical Engineering Design, power-screw example of chapter 8: square thread, major
 * diameter 32 mm, pitch 4 mm, two starts, f = f_c = 0.08, d_c = 40 mm, F = 6.4 kN: mean diameter 30 mm, lead 8 mm,
 * raising 26.18 N·m, lowering 9.77 N·m, e = 0.311 (from memory; follows from equations 8-1 to 8-6). */
static const TrammelScrew handbook
    = { .mean = 30, .lead = 8, .friction = 0.08, .collar_friction = 0.08, .collar_diameter = 40 };

START_TEST (the_handbook_screw)
{
  ck_assert_double_eq_tol (6400 * trammel_screw_raising (&handbook), 26.18, 0.005);
  ck_assert_double_eq_tol (6400 * trammel_screw_lowering (&handbook), 9.77, 0.005);
  ck_assert_double_eq_tol (trammel_screw_efficiency (&handbook), 0.311, 0.0005);
  /* 8-3: π·0.08·30 = 7.54 < 8: the thread alone would let go; the collar holds. */
  ck_assert (!trammel_screw_is_self_locking (&handbook));
}
END_TEST

/* The same by hand with flanks of 14.5°: f sec α = 0.08·1.0329 = 0.082632; raising
 * 15·(8 + 0.082632·94.2478)/(94.2478 − 0.082632·8) = 2.53047 and collar 1.6: 4.13047 N·mm per N; lowering
 * 15·(0.082632·94.2478 − 8)/(94.2478 + 0.082632·8) = −0.033524 and collar 1.6: 1.566476. */
START_TEST (slanted_flanks_rub_more)
{
  TrammelScrew acme = handbook;
  acme.half_angle = 14.5 * DEGREE;
  ck_assert_double_eq_tol (trammel_screw_raising (&acme), 4.13047e-3, 5e-8);
  ck_assert_double_eq_tol (trammel_screw_lowering (&acme), 1.566476e-3, 5e-9);
}
END_TEST

START_TEST (a_screw_without_friction_loses_nothing)
{
  const TrammelScrew screw = { .mean = 7, .lead = 8 };
  ck_assert_double_eq_tol (trammel_screw_efficiency (&screw), 1, 1e-14);
  ck_assert_double_eq_tol (trammel_screw_lowering (&screw), -8e-3 / (2 * G_PI), 1e-16);
}
END_TEST

START_TEST (a_steep_dry_screw_jams)
{
  const TrammelScrew screw = { .mean = 5, .lead = 40, .friction = 0.5 };
  ck_assert (isinf (trammel_screw_raising (&screw)));
  ck_assert_double_eq (trammel_screw_efficiency (&screw), 0);
}
END_TEST

/* d, p: pitch diameter d2 and d3. Tr of ISO 2904, M of ISO 724, Acme 1/2-10 of ASME B1.5 (from memory). */
static const struct
{
  const char *thread;
  double major, pitch, mean, root, tolerance;
} threads[] = {
  { "trapezoidal", 8, 1.5, 7.25, 6.2, 1e-9 }, { "trapezoidal", 10, 2, 9, 7.5, 1e-9 },
  { "trapezoidal", 16, 4, 14, 11.5, 1e-9 },   { "trapezoidal", 40, 7, 36.5, 32, 1e-9 },
  { "metric", 8, 1.25, 7.188, 6.466, 6e-4 },  { "metric", 10, 1.5, 9.026, 8.160, 6e-4 },
  { "acme", 12.7, 2.54, 11.43, 9.652, 1e-9 }, { "square", 32, 4, 30, 28, 1e-9 },
};

START_TEST (diameters_of_threads)
{
  const char *thread = threads[_i].thread;
  ck_assert_double_eq_tol (trammel_thread_mean_diameter (thread, threads[_i].major, threads[_i].pitch),
                           threads[_i].mean, threads[_i].tolerance);
  ck_assert_double_eq_tol (trammel_thread_root_diameter (thread, threads[_i].major, threads[_i].pitch),
                           threads[_i].root, threads[_i].tolerance);
}
END_TEST

START_TEST (a_screw_from_its_part)
{
  TrammelScrew screw;
  g_autoptr (TrammelRecord) bare = make_part (trammel_output_kind, "screw pitch=2 mm;starts=4");
  ck_assert (!trammel_screw_from_output (bare, &screw));
  ck_assert (isnan (trammel_screw_root_of_output (bare)));
  ck_assert (isnan (trammel_output_efficiency (bare).forward));

  g_autoptr (TrammelRecord) part = make_part (
      trammel_output_kind, "screw pitch=4 mm;starts=2;major=32 mm;thread=square;friction=0.08;collar_diameter=40 mm");
  ck_assert (trammel_screw_from_output (part, &screw));
  ck_assert_double_eq (screw.mean, 30);
  ck_assert_double_eq (screw.lead, 8);
  ck_assert_double_eq (screw.collar_friction, 0.08);
  ck_assert_double_eq (trammel_screw_root_of_output (part), 28);
  const TrammelEfficiency efficiency = trammel_output_efficiency (part);
  ck_assert_double_eq_tol (efficiency.forward, 0.311, 0.0005);
  /* The load cannot drive it: lowering takes 9.77 of the 8.149 N·m that 8 mm of lead ask for without friction. */
  ck_assert_double_eq_tol (efficiency.backward, -9.77 / 8.149, 0.001);
  ck_assert (!efficiency.given);

  g_autoptr (TrammelRecord) ball = make_part (trammel_output_kind, "screw pitch=5 mm;starts=1;efficiency=90 %");
  ck_assert_double_eq_tol (trammel_output_efficiency (ball).forward, 0.9, 1e-15);
  ck_assert_double_eq_tol (trammel_output_efficiency (ball).backward, 2 - 1 / 0.9, 1e-15);
  ck_assert (trammel_output_efficiency (ball).given);
}
END_TEST

/* By hand, Tr of 5 mm lead and 16 mm: mean 16 − 5/2 = 13.5, slope t = 5/(13.5π) = 0.1178926. Equations 8-4 and 8-1 for
 * f sec 15°: t(1 − e)/(e + t²), e 0.9: 0.0129000; e 0.3: 0.262903. The way back of the first, with the friction turned
 * round: (t − f sec α)/(1 + t f sec α)/t = 0.104993/1.0015208/0.1178926. */
START_TEST (a_screw_told_by_its_efficiency)
{
  TrammelScrew screw;
  g_autoptr (TrammelRecord) ball
      = make_part (trammel_output_kind, "screw pitch=5 mm;starts=1;major=16 mm;efficiency=0.9");
  ck_assert (trammel_screw_from_output (ball, &screw));
  ck_assert (trammel_screw_is_told_by_efficiency (ball));
  ck_assert_double_eq_tol (trammel_screw_efficiency (&screw), 0.9, 1e-14);
  ck_assert_double_eq_tol (trammel_screw_raising (&screw), 5e-3 / (2 * G_PI * 0.9), 1e-17);
  ck_assert (!trammel_screw_is_self_locking (&screw));
  ck_assert_double_eq_tol (screw.friction, 0.0129000 * 0.9659258, 1e-7);
  const TrammelEfficiency efficiency = trammel_output_efficiency (ball);
  ck_assert_double_eq_tol (efficiency.forward, 0.9, 1e-15);
  ck_assert_double_eq_tol (efficiency.backward, 0.889226, 1e-6);
  ck_assert (efficiency.given);

  g_autoptr (TrammelRecord) slow = with_values (trammel_record_ref (ball), "efficiency=30 %");
  ck_assert (trammel_screw_from_output (slow, &screw));
  ck_assert_double_eq_tol (trammel_screw_efficiency (&screw), 0.3, 1e-14);
  ck_assert_double_eq_tol (screw.friction, 0.262903 * 0.9659258, 1e-6);
  ck_assert (trammel_screw_is_self_locking (&screw));
  ck_assert_double_lt (trammel_output_efficiency (slow).backward, 0);
}
END_TEST

/* The handbook's screw again: its efficiency of 0.311 and its collar give back the friction of its thread; a collar
 * that alone loses more than that leaves none for the thread. */
START_TEST (the_collar_is_part_of_the_efficiency)
{
  const double thread_and_collar = 8 / (2 * G_PI * 26.18 / 6.4);
  ck_assert_double_eq_tol (trammel_screw_friction_of_efficiency (&handbook, thread_and_collar), 0.08, 8e-5);
  ck_assert_double_eq (trammel_screw_friction_of_efficiency (&handbook, 0.9), 0);
}
END_TEST

/* Both given, by hand with the handbook's thread alone: t = 8/30π = 0.0848826; e = t(1 − 0.08t)/(t + 0.08) = 0.511311,
 * back (t − 0.08)/(1 + 0.08t)/t = 0.0571342. What 0.4 says is lost besides is lost both ways: 0.0571342·0.4/0.511311. A
 * thread that holds still holds. */
START_TEST (friction_and_efficiency_beside_each_other)
{
  g_autoptr (TrammelRecord) both = make_part (
      trammel_output_kind, "screw pitch=4 mm;starts=2;major=32 mm;thread=square;friction=0.08;efficiency=0.4");
  ck_assert (!trammel_screw_is_told_by_efficiency (both));
  const TrammelEfficiency whole = trammel_output_efficiency (both);
  ck_assert_double_eq_tol (whole.forward, 0.4, 1e-15);
  ck_assert_double_eq_tol (whole.backward, 0.0446962, 2e-7);

  g_autoptr (TrammelRecord) dry = with_values (trammel_record_ref (both), "friction=0.1;efficiency=0.9");
  ck_assert_double_lt (trammel_output_efficiency (dry).backward, 0);
}
END_TEST

/* Ball-screw makers give the highest speed as f·d/L²·10⁷ rev/min and the greatest push as m·d⁴/L²·10⁴ N, with margins
 * of 0.8 and 0.5 in them, for steel of 206 GPa and 7850 kg/m³: f 3.4, 9.7, 15.1, 21.9 and m 1.3, 5.1, 10.2, 20.3
 * (common practice, no source). */
static const struct
{
  TrammelFixity fixity;
  double whirl, buckling;
} makers[] = {
  { TRAMMEL_FIXITY_FIXED_FREE, 3.4, 1.3 },
  { TRAMMEL_FIXITY_SUPPORTED_SUPPORTED, 9.7, 5.1 },
  { TRAMMEL_FIXITY_FIXED_SUPPORTED, 15.1, 10.2 },
  { TRAMMEL_FIXITY_FIXED_FIXED, 21.9, 20.3 },
};

START_TEST (whirl_and_buckling_as_makers_tell_them)
{
  const TrammelBar bar = { 10, 1000, makers[_i].fixity, 206e3, 7850, 400 };
  const double rpm = 0.8 * trammel_bar_whirl (&bar) * 30 / G_PI, push = 0.5 * trammel_bar_buckling (&bar);
  ck_assert_double_eq_tol (rpm / (makers[_i].whirl * 10 / 1e6 * 1e7), 1, 0.013);
  ck_assert_double_eq_tol (push / (makers[_i].buckling * 1e4 / 1e6 * 1e4), 1, 0.045);
}
END_TEST

/* By hand: d = 10 mm, l = 1000 mm, supported: k = 2.5 mm, l/k = 400; ω = π²·2.5 mm/(1 m)²·√(206e9/7850) = 126.398
 * rad/s; P = π²·206000·78.5398/400² = 998.0 N. */
START_TEST (a_bar_by_hand)
{
  const TrammelBar bar = { 10, 1000, TRAMMEL_FIXITY_SUPPORTED_SUPPORTED, 206e3, 7850, 210 };
  ck_assert_double_eq_tol (trammel_bar_whirl (&bar), 126.398, 0.005);
  ck_assert_double_eq (trammel_bar_slenderness (&bar), 400);
  ck_assert_double_eq_tol (trammel_bar_buckling (&bar), 998.0, 0.1);
}
END_TEST

/* Euler and Johnson meet, with one tangent, at half the yield strength (Budynas & Nisbett, section 4-13). */
START_TEST (short_columns_squash)
{
  TrammelBar bar = { 10, 0, TRAMMEL_FIXITY_FIXED_FIXED, 206e3, 7850, 210 };
  const double limit = trammel_bar_slenderness_limit (&bar), area = G_PI * 25;
  bar.length = limit * 2.5 * 0.999999;
  ck_assert_double_eq_tol (trammel_bar_buckling (&bar), area * 105, 0.1);
  bar.length = limit * 2.5 * 1.000001;
  ck_assert_double_eq_tol (trammel_bar_buckling (&bar), area * 105, 0.1);
  bar.length = 1e-6;
  ck_assert_double_eq_tol (trammel_bar_buckling (&bar), area * 210, 1e-3);
}
END_TEST

START_TEST (a_bar_from_its_part)
{
  TrammelBar bar;
  g_autoptr (TrammelRecord) bare = make_part (trammel_output_kind, "screw pitch=2 mm;starts=4;length=300 mm");
  ck_assert (!trammel_bar_from_output (bare, &bar));
  g_autoptr (TrammelRecord) part
      = make_part (trammel_output_kind, "screw pitch=2 mm;starts=4;major=8 mm;length=300 mm;fixity=fixed-fixed");
  ck_assert (trammel_bar_from_output (part, &bar));
  ck_assert_double_eq_tol (bar.diameter, 5.5, 1e-12);
  ck_assert_int_eq (bar.fixity, TRAMMEL_FIXITY_FIXED_FIXED);
  ck_assert_double_eq (bar.density, 7850);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("screw");
  TCase *screws = tcase_create ("screws"), *bars = tcase_create ("bars");
  tcase_add_test (screws, the_handbook_screw);
  tcase_add_test (screws, slanted_flanks_rub_more);
  tcase_add_test (screws, a_screw_without_friction_loses_nothing);
  tcase_add_test (screws, a_steep_dry_screw_jams);
  tcase_add_loop_test (screws, diameters_of_threads, 0, G_N_ELEMENTS (threads));
  tcase_add_test (screws, a_screw_from_its_part);
  tcase_add_test (screws, a_screw_told_by_its_efficiency);
  tcase_add_test (screws, the_collar_is_part_of_the_efficiency);
  tcase_add_test (screws, friction_and_efficiency_beside_each_other);
  tcase_add_loop_test (bars, whirl_and_buckling_as_makers_tell_them, 0, G_N_ELEMENTS (makers));
  tcase_add_test (bars, a_bar_by_hand);
  tcase_add_test (bars, short_columns_squash);
  tcase_add_test (bars, a_bar_from_its_part);
  suite_add_tcase (suite, screws);
  suite_add_tcase (suite, bars);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
