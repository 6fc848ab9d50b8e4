/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "measure/homing.h"
#include "measure/tolerance.h"

#include <check.h>
#include <math.h>
#include <string.h>

static TrammelHoming
analysed (const double *values, gsize n)
{
  g_autoptr (GError) error = NULL;
  TrammelHoming homing;
  ck_assert_msg (trammel_homing_analyse (values, NULL, n, &homing, &error), "%s", error ? error->message : "");
  return homing;
}

/* NIST Statistical Reference Datasets, univariate, NumAcc1 (public domain): certified mean 10000002, s 1. */
START_TEST (large_offset)
{
  const double values[] = { 10000001, 10000003, 10000002 };
  const TrammelHoming homing = analysed (values, 3);
  ck_assert_double_eq (homing.mean, 10000002);
  ck_assert_double_eq (homing.s, 1);
  ck_assert_double_eq (homing.range, 2);
}
END_TEST

/* NIST Statistical Reference Datasets, univariate, NumAcc2 to NumAcc4 (public domain), made as they are defined: 1.2,
 * then 1.1 and 1.3 in turn, 1001 of them; the same a million and ten million higher. Certified: mean 1.2, 1000000.2,
 * 10000000.2, s 0.1 each. What is allowed is what these decimals lose in a double. */
static const struct
{
  double offset, mean, allowed;
} accuracies[] = { { 0, 1.2, 1e-14 }, { 999999, 1000000.2, 1e-9 }, { 9999999, 10000000.2, 2e-8 } };

START_TEST (numerical_accuracy)
{
  const double offset = accuracies[_i].offset;
  double values[1001] = { offset == 0 ? 1.2 : offset + 1.2 };
  for (gsize i = 1; i < 1001; i += 2)
    {
      values[i] = offset + 1.1;
      values[i + 1] = offset + 1.3;
    }
  const TrammelHoming homing = analysed (values, 1001);
  ck_assert_double_eq_tol (homing.mean, accuracies[_i].mean, 4e-16 * accuracies[_i].mean);
  ck_assert_double_eq_tol (homing.s, 0.1, accuracies[_i].allowed);
}
END_TEST

/* 1, 2, 4, 5 by hand: mean 3, s² = (4 + 1 + 1 + 4)/3; slope (1.5·2 + 0.5·1)·2/5 = 1.4, residuals ∓0.1, ±0.3: rest 0.2,
 * u = √(0.2/2/5), t = 9.8995 with 2 degrees of freedom: p = 1 − t/√(2 + t²). t_{0.975, 3} = 3.182446305283709, and
 * √(1 + 1/4). */
START_TEST (by_hand)
{
  const double values[] = { 1, 2, 4, 5 };
  const double s = sqrt (10.0 / 3), u = sqrt (0.02), t = 1.4 / u;
  const TrammelHoming homing = analysed (values, 4);
  ck_assert_double_eq_tol (homing.mean, 3, 1e-15);
  ck_assert_double_eq_tol (homing.s, s, 1e-15);
  ck_assert_double_eq (homing.low, 1);
  ck_assert_double_eq (homing.high, 5);
  ck_assert_double_eq_tol (homing.drift.slope, 1.4, 1e-14);
  ck_assert_double_eq_tol (homing.drift.u, u, 1e-14);
  ck_assert_double_eq_tol (homing.drift.p_value, 1 - t / sqrt (2 + t * t), 1e-12);
  ck_assert_double_eq_tol (homing.prediction_high - 3, 3.182446305283709 * s * sqrt (1.25), 1e-9);
  ck_assert_double_eq_tol (3 - homing.prediction_low, 3.182446305283709 * s * sqrt (1.25), 1e-9);
}
END_TEST

START_TEST (drift_goes_by_the_run)
{
  const double values[] = { 5, 1, 4, 2 }, runs[] = { 4, 1, 3, 2 };
  TrammelHoming homing;
  ck_assert (trammel_homing_analyse (values, runs, 4, &homing, NULL));
  ck_assert_double_eq_tol (homing.drift.slope, 1.4, 1e-14);

  const double same[] = { 7, 7, 7, 7 };
  ck_assert (trammel_homing_analyse (values, same, 4, &homing, NULL));
  ck_assert (isnan (homing.drift.slope) && isnan (homing.drift.p_value));
}
END_TEST

START_TEST (nothing_scatters)
{
  const double values[] = { 0.1, 0.1, 0.1, 0.1 }, line[] = { 1, 2, 3 };
  const TrammelHoming homing = analysed (values, 4);
  ck_assert_double_eq (homing.mean, 0.1);
  ck_assert_double_eq (homing.s, 0);
  ck_assert_double_eq (homing.drift.slope, 0);
  ck_assert_double_eq (homing.drift.p_value, 1);
  ck_assert_double_eq (homing.tolerance_high, 0.1);
  g_autoptr (GArray) outliers = trammel_homing_outliers (values, 4);
  ck_assert_uint_eq (outliers->len, 0);

  const TrammelHoming drifting = analysed (line, 3);
  ck_assert_double_eq (drifting.drift.slope, 1);
  ck_assert_double_eq (drifting.drift.p_value, 0);
}
END_TEST

START_TEST (two_are_few)
{
  const double values[] = { 1, 2 };
  const TrammelHoming homing = analysed (values, 2);
  ck_assert (isnan (homing.drift.slope) && isnan (homing.drift.u) && isnan (homing.drift.p_value));
  /* t_{0.975, 1} = 12.7062047361747 */
  ck_assert_double_eq_tol (homing.prediction_high, 1.5 + 12.7062047361747 * sqrt (0.5) * sqrt (1.5), 1e-9);
  g_autoptr (GArray) outliers = trammel_homing_outliers (values, 2);
  ck_assert_uint_eq (outliers->len, 0);
}
END_TEST

START_TEST (what_cannot_be_analysed)
{
  const double one[] = { 1 }, bad[] = { 1, NAN }, far[] = { 1, HUGE_VAL }, good[] = { 1, 2 };
  const struct
  {
    const double *values, *runs;
    gsize n;
  } cases[] = { { one, NULL, 0 }, { one, NULL, 1 }, { bad, NULL, 2 }, { far, NULL, 2 }, { good, bad, 2 } };
  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      TrammelHoming homing;
      ck_assert (!trammel_homing_analyse (cases[i].values, cases[i].runs, cases[i].n, &homing, &error));
      ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
    }
}
END_TEST

/* Two-sided factors with 95 % confidence as tabled in ISO 16269-6:2014 and by Odeh and Owen; from memory. */
static const struct
{
  gsize n;
  double coverage, factor;
} factors[] = {
  { 2, 0.95, 36.519 }, { 2, 0.99, 46.944 }, { 3, 0.99, 12.647 }, { 4, 0.99, 8.221 },
  { 5, 0.90, 4.291 },  { 5, 0.95, 5.077 },  { 5, 0.99, 6.598 },  { 10, 0.95, 3.393 },
  { 10, 0.99, 4.437 }, { 20, 0.99, 3.621 }, { 30, 0.99, 3.355 }, { 50, 0.99, 3.129 },
};

START_TEST (tolerance_factors)
{
  ck_assert_double_eq_tol (trammel_tolerance_factor (factors[_i].n, factors[_i].coverage, 0.95), factors[_i].factor,
                           1e-3);
}
END_TEST

/* NIST/SEMATECH e-Handbook of Statistical Methods, 7.2.6.3: 43 values, 90 % of all with 99 % confidence: 2.217 (from
 * memory). */
START_TEST (tolerance_factor_of_howe)
{
  ck_assert_double_eq_tol (trammel_tolerance_factor_howe (43, 0.90, 0.99), 2.217, 1e-3);
}
END_TEST

START_TEST (tolerance_factors_of_nothing)
{
  const struct
  {
    gsize n;
    double coverage, confidence;
  } bad[] = { { 1, 0.9, 0.9 }, { 5, 0, 0.9 }, { 5, 0.4, 0.9 }, { 5, 1, 0.9 },
              { 5, 0.9, 0 },   { 5, 0.9, 1 }, { 5, NAN, 0.9 }, { 5, 0.9, NAN } };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      ck_assert (isnan (trammel_tolerance_factor (bad[i].n, bad[i].coverage, bad[i].confidence)));
      ck_assert (isnan (trammel_tolerance_factor_howe (bad[i].n, bad[i].coverage, bad[i].confidence)));
    }
}
END_TEST

/* G. L. Tietjen, R. H. Moore, Technometrics 14 (1972) 583, as in the NIST/SEMATECH e-Handbook, 1.3.5.17.1: g = 2.4687
 * (from memory). The two-sided limit of 8 values is 2.126 (F. E. Grubbs, G. Beck, Technometrics 14 (1972) 847, from
 * memory). */
START_TEST (an_outlier)
{
  const double values[] = { 199.31, 199.53, 200.19, 200.82, 201.92, 201.95, 202.18, 245.57 };
  g_autoptr (GArray) outliers = trammel_homing_outliers (values, 8);
  ck_assert_uint_eq (outliers->len, 1);
  const TrammelHomingOutlier *outlier = &g_array_index (outliers, TrammelHomingOutlier, 0);
  ck_assert_uint_eq (outlier->index, 7);
  ck_assert_double_eq_tol (outlier->g, 2.4687, 1e-4);
  ck_assert_double_eq_tol (outlier->critical, 2.126, 1e-3);
  ck_assert_double_eq_tol (trammel_homing_grubbs_critical (10, 0.05), 2.290, 1e-3);
  ck_assert (isnan (trammel_homing_grubbs_critical (2, 0.05)));
}
END_TEST

START_TEST (one_after_the_other)
{
  double values[30];
  for (gsize i = 0; i < 30; i++)
    values[i] = (double)(i % 5);
  values[4] = 40;
  values[20] = -1000;
  g_autoptr (GArray) outliers = trammel_homing_outliers (values, 30);
  ck_assert_uint_eq (outliers->len, 2);
  ck_assert_uint_eq (g_array_index (outliers, TrammelHomingOutlier, 0).index, 20);
  ck_assert_uint_eq (g_array_index (outliers, TrammelHomingOutlier, 1).index, 4);
}
END_TEST

START_TEST (two_approaches)
{
  const double a[] = { 1, 2, 4, 5 };
  const TrammelHoming first = analysed (a, 4);
  const TrammelHomingComparison equal = trammel_homing_compare (&first, &first);
  ck_assert_double_eq (equal.ratio, 1);
  ck_assert_double_eq_tol (equal.f_p, 1, 1e-12);
  ck_assert_double_eq (equal.difference, 0);
  ck_assert_double_eq_tol (equal.t_p, 1, 1e-12);
  ck_assert_double_eq_tol (equal.freedom, 6, 1e-12);
}
END_TEST

/* By hand: where one of the two reads all alike, its variance is 0 and Welch's formula leaves u = s_a/√n_a with n_a − 1
 * degrees of freedom; an F of 0 or ∞ would claim certainty for what the step of the instrument hides. */
START_TEST (one_reads_all_alike)
{
  const double a[] = { 1, 2, 4, 5 }, same[] = { 2, 2, 2 };
  const TrammelHoming first = analysed (a, 4), second = analysed (same, 3);
  const TrammelHomingComparison one = trammel_homing_compare (&first, &second);
  ck_assert (isnan (one.ratio) && isnan (one.f_p));
  ck_assert_double_eq_tol (one.u, sqrt (10.0 / 12), 1e-15);
  ck_assert_double_eq_tol (one.freedom, 3, 1e-12);
  ck_assert_double_eq_tol (one.t, 1 / sqrt (10.0 / 12), 1e-14);
  const TrammelHomingComparison other = trammel_homing_compare (&second, &first);
  ck_assert_double_eq (other.ratio, 0);
  ck_assert (isnan (other.f_p));
  ck_assert_double_eq (other.t_p, one.t_p);
}
END_TEST

START_TEST (both_read_all_alike)
{
  const double a[] = { 1, 1, 1, 1 }, b[] = { 1, 1, 1 }, c[] = { 1.01, 1.01 };
  const TrammelHoming first = analysed (a, 4), second = analysed (b, 3), third = analysed (c, 2);
  const TrammelHomingComparison same = trammel_homing_compare (&first, &second);
  ck_assert_double_eq (same.f_p, 1);
  ck_assert_double_eq (same.freedom, 5);
  ck_assert_double_eq (same.t, 0);
  ck_assert_double_eq (same.t_p, 1);
  const TrammelHomingComparison apart = trammel_homing_compare (&first, &third);
  ck_assert_double_eq_tol (apart.difference, -0.01, 1e-15);
  ck_assert_double_eq (apart.u, 0);
  ck_assert_double_eq (apart.freedom, 4);
  ck_assert (isnan (apart.t) && isnan (apart.t_p));
}
END_TEST

START_TEST (floor_of_polling)
{
  const TrammelHomingFloor least = trammel_homing_floor (6, 0.002);
  ck_assert_double_eq_tol (least.range, 0.012, 1e-17);
  ck_assert_double_eq_tol (least.s, 0.0034641016151377544, 1e-17); /* 0.012/√12 = 0.002·√3 */
}
END_TEST

static TrammelHoming
homing_of (double s, gsize n)
{
  return (TrammelHoming){ .n = n, .s = s };
}

/* By hand; t of 97.5 % with 2, 6 and 7 degrees of freedom from tables: 4.3027, 2.4469, 2.3646. */
START_TEST (offset_by_touches)
{
  const double touches[] = { 1.5, 1.7, 1.9 };
  const TrammelHoming fine = homing_of (0.1, 5), coarse = homing_of (0.4, 5);
  /* s = 0.2, more than 0.1 of homing: 0.2/√3 with 2 degrees of freedom */
  const TrammelHomingOffset plain = trammel_homing_offset (touches, 3, &fine, 0.1, 0);
  ck_assert_double_eq_tol (plain.value, 1.6, 1e-15);
  ck_assert_double_eq_tol (plain.u, 0.2 / sqrt (3), 1e-15);
  ck_assert_double_eq_tol (plain.freedom, 2, 1e-12);
  ck_assert_double_eq_tol ((plain.high - 1.6) / plain.u, 4.3027, 1e-4);
  ck_assert_double_eq_tol (1.6 - plain.low, plain.high - 1.6, 1e-14);
  /* and 0.1 of the gauge: u² = 0.04/3 + 0.01 = 7/300, freedom 2 (7/4)² = 6.125 (GUM, G.4.1) */
  const TrammelHomingOffset gauged = trammel_homing_offset (touches, 3, &fine, 0.1, 0.1);
  ck_assert_double_eq_tol (gauged.u, sqrt (7.0 / 300), 1e-15);
  ck_assert_double_eq_tol (gauged.freedom, 6.125, 1e-12);
  ck_assert_double_eq_tol ((gauged.high - 1.6) / gauged.u, 2.4469 - 0.125 * (2.4469 - 2.3646), 2e-3);
  /* Less than 0.4 of homing: pooled, (2·0.04 + 4·0.16)/6 = 0.12, 0.12/3 = 0.04 with 6 */
  const TrammelHomingOffset pooled = trammel_homing_offset (touches, 3, &coarse, 0.1, 0);
  ck_assert_double_eq_tol (pooled.u, 0.2, 1e-15);
  ck_assert_double_eq_tol (pooled.freedom, 6, 1e-12);
  ck_assert_double_eq_tol ((pooled.high - 1.6) / pooled.u, 2.4469, 1e-4);
}
END_TEST

/* Touches all alike are not certain: the homes before them scattered. By hand: 4·0.09/(2 + 4) = 0.06, over 3. */
START_TEST (offset_by_touches_all_alike)
{
  const double touches[] = { 1.5, 1.5, 1.5 };
  const TrammelHoming homing = homing_of (0.3, 5), still = homing_of (0, 5);
  const TrammelHomingOffset offset = trammel_homing_offset (touches, 3, &homing, 0.5, 0);
  ck_assert_double_eq (offset.value, 1);
  ck_assert_double_eq_tol (offset.u, sqrt (0.02), 1e-15);
  ck_assert_double_eq_tol (offset.freedom, 6, 1e-12);
  ck_assert_double_eq_tol ((offset.high - 1) / offset.u, 2.4469, 1e-4);
  /* One touch has the scatter of homing, 4 degrees of freedom: t = 2.7764 (tables) */
  const TrammelHomingOffset single = trammel_homing_offset (touches, 1, &homing, 0.5, 0.4);
  ck_assert_double_eq_tol (single.u, 0.5, 1e-15);
  ck_assert_double_eq_tol (single.freedom, 4 * pow (5.0 / 3, 4), 1e-10);
  const TrammelHomingOffset bare = trammel_homing_offset (touches, 1, &homing, 0.5, 0);
  ck_assert_double_eq_tol ((bare.high - 1) / 0.3, 2.7764, 1e-4);
  /* Nothing scatters anywhere: the gauge is all there is, and it is believed (1.96 of it) */
  const TrammelHomingOffset gauged = trammel_homing_offset (touches, 3, &still, 0.5, 0.1);
  ck_assert_double_eq_tol (gauged.u, 0.1, 1e-15);
  ck_assert (isinf (gauged.freedom));
  ck_assert_double_eq_tol (gauged.high - 1, 0.1959964, 1e-7);
  const TrammelHomingOffset exact = trammel_homing_offset (touches, 3, &still, 0.5, 0);
  ck_assert_double_eq (exact.u, 0);
  ck_assert_double_eq (exact.low, 1);
  ck_assert_double_eq (exact.high, 1);
}
END_TEST

/* The words change at a tenth and at a quarter of the layer. */
START_TEST (meaning_for_a_layer)
{
  TrammelHoming homing = { .tolerance_low = -0.019, .tolerance_high = 0.019 };
  g_autofree char *fine = trammel_homing_meaning (&homing, 0.2);
  homing.tolerance_low = -(homing.tolerance_high = 0.03);
  g_autofree char *fair = trammel_homing_meaning (&homing, 0.2);
  homing.tolerance_low = -(homing.tolerance_high = 0.06);
  g_autofree char *poor = trammel_homing_meaning (&homing, 0.2);
  ck_assert (strstr (fine, "same every time") != NULL);
  ck_assert (strstr (fair, "still stick") != NULL);
  ck_assert (strstr (poor, "scrape") != NULL);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("homing");
  TCase *tests = tcase_create ("homing");
  tcase_add_test (tests, large_offset);
  tcase_add_loop_test (tests, numerical_accuracy, 0, G_N_ELEMENTS (accuracies));
  tcase_add_test (tests, by_hand);
  tcase_add_test (tests, drift_goes_by_the_run);
  tcase_add_test (tests, nothing_scatters);
  tcase_add_test (tests, two_are_few);
  tcase_add_test (tests, what_cannot_be_analysed);
  tcase_add_loop_test (tests, tolerance_factors, 0, G_N_ELEMENTS (factors));
  tcase_add_test (tests, tolerance_factor_of_howe);
  tcase_add_test (tests, tolerance_factors_of_nothing);
  tcase_add_test (tests, an_outlier);
  tcase_add_test (tests, one_after_the_other);
  tcase_add_test (tests, two_approaches);
  tcase_add_test (tests, one_reads_all_alike);
  tcase_add_test (tests, both_read_all_alike);
  tcase_add_test (tests, floor_of_polling);
  tcase_add_test (tests, offset_by_touches);
  tcase_add_test (tests, offset_by_touches_all_alike);
  tcase_add_test (tests, meaning_for_a_layer);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
