/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/codec.h"
#include "machine/drift.h"
#include "machine/explanations.h"
#include "machine/readings-csv.h"

#include <check.h>
#include <math.h>
#include <string.h>

/* Days from 2026-01-01 (20454 days from 1970-01-01, by hand: 56 years of 365 days and 14 leap days). */
#define FIRST_DAY 20454
#define Z_975 1.959963984540054

/* X counts 80 per mm: 200 × 16 on a 20-tooth 2 mm pulley (common practice, no source); A turns. */
#define AXES                                                                                                           \
  "\"axes\":[{\"letter\":\"X\",\"kind\":\"linear\",\"motor\":{\"type\":\"stepper\",\"full_steps\":200,"                \
  "\"microsteps\":16},\"output\":{\"type\":\"belt\",\"teeth\":20,\"pitch\":\"2 mm\"}},"                                \
  "{\"letter\":\"A\",\"kind\":\"rotary\",\"motor\":{\"type\":\"stepper\",\"full_steps\":200,\"microsteps\":16},"       \
  "\"output\":{\"type\":\"table\"}}]"

typedef struct
{
  int day;
  const char *members; /* of the change of X */
  const char *note;
} Entry;

static TrammelMachine *
machine_with_log (const Entry *entries, gsize n)
{
  g_autoptr (GString) text = g_string_new ("{\"format\":\"trammel-machine\",\"version\":1," AXES ",\"log\":[");
  g_autoptr (GDateTime) start = g_date_time_new_utc (2026, 1, 1, 0, 0, 0);
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GDateTime) day = g_date_time_add_days (start, entries[i].day);
      g_autofree char *time = g_date_time_format (day, "%Y-%m-%dT%H:%M:%SZ");
      g_autofree char *note = entries[i].note ? g_strdup_printf ("\"note\":\"%s\",", entries[i].note) : g_strdup ("");
      g_string_append_printf (text, "%s{\"time\":\"%s\",%s\"changes\":[{\"letter\":\"X\",%s}]}", i > 0 ? "," : "", time,
                              note, entries[i].members);
    }
  g_string_append (text, "]}");
  g_autoptr (GError) error = NULL;
  TrammelMachine *machine = trammel_codec_read (text->str, text->len, &error);
  ck_assert_msg (machine != NULL, "%s", error ? error->message : "");
  return machine;
}

static TrammelDrift *
drift_of (const Entry *entries, gsize n, double lash_tolerance)
{
  g_autoptr (TrammelMachine) machine = machine_with_log (entries, n);
  TrammelDrift *drift = trammel_drift_new (machine, 'X', TRAMMEL_DRIFT_TOLERANCE, lash_tolerance, NULL);
  ck_assert_ptr_nonnull (drift);
  return drift;
}

static const TrammelDriftCheck *
check_of (const TrammelDriftSeries *series, guint i)
{
  ck_assert_uint_lt (i, series->checks->len);
  return &g_array_index (series->checks, TrammelDriftCheck, i);
}

/* Two checks of u 0.003 and 0.004, 100 days apart: 0.01 more play in 100 days, u = 0.005/100. The line goes through
 * both, so that d days after the last it is 0.05 + d/10000 with u² = ((1 + d/100)·0.004)² + (d/100·0.003)². */
START_TEST (lash_of_two_checks)
{
  static const Entry entries[]
      = { { 0, "\"after\":80,\"after_u\":0.1,\"lash\":{\"value\":0.04,\"u\":0.003}", NULL },
          { 50, "\"after\":80.1,\"after_u\":0.1", NULL },
          { 100, "\"after\":80,\"after_u\":0.1,\"lash\":{\"value\":0.05,\"u\":0.004}", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 3, 0.1);
  const TrammelDriftSeries *lash = &drift->series[TRAMMEL_DRIFT_LASH];
  ck_assert_uint_eq (drift->series[TRAMMEL_DRIFT_COUNTS].checks->len, 3);
  ck_assert_uint_eq (lash->checks->len, 2);
  ck_assert_uint_eq (check_of (lash, 1)->entry, 2);
  ck_assert_double_eq (check_of (lash, 0)->day, FIRST_DAY);
  ck_assert_double_eq_tol (check_of (lash, 1)->moving_range, 0.01, 1e-15);
  ck_assert (lash->has_trend && lash->is_significant);
  ck_assert_double_eq_tol (lash->slope, 1e-4, 1e-15);
  ck_assert_double_eq_tol (lash->slope_u, 5e-5, 1e-15);
  ck_assert_double_eq_tol (lash->slope_low, 1e-4 - Z_975 * 5e-5, 1e-14);
  ck_assert_double_eq (lash->birge, 1);
  const double d = lash->due - (FIRST_DAY + 100);
  ck_assert_double_gt (d, 0);
  ck_assert_double_eq_tol (0.05 + d * 1e-4 + Z_975 * hypot ((1 + d / 100) * 0.004, d / 100 * 0.003), 0.1, 1e-7);
  double value, half_width;
  ck_assert (trammel_drift_series_trend_at (lash, FIRST_DAY + 200, &value, &half_width));
  ck_assert_double_eq_tol (value, 0.06, 1e-12);
  ck_assert_double_eq_tol (half_width, Z_975 * hypot (0.008, 0.003), 1e-12);

  g_autoptr (TrammelDrift) without = drift_of (entries, 3, NAN);
  ck_assert (isnan (without->series[TRAMMEL_DRIFT_LASH].due));
  ck_assert (!without->series[TRAMMEL_DRIFT_LASH].is_due_at_once);
  /* 0.05 + 1.96·0.004 = 0.0578 may be there already. */
  g_autoptr (TrammelDrift) strict = drift_of (entries, 3, 0.057);
  ck_assert (strict->series[TRAMMEL_DRIFT_LASH].is_due_at_once);
  g_autoptr (TrammelDrift) enough = drift_of (entries, 3, 0.058);
  ck_assert (!enough->series[TRAMMEL_DRIFT_LASH].is_due_at_once);
}
END_TEST

/* In relative terms, but told in counts: through both, and so 80.04 halfway, known to 0.008/√2 there. */
START_TEST (the_trend_of_counts)
{
  static const Entry entries[]
      = { { 0, "\"after\":80,\"after_u\":0.008", NULL }, { 100, "\"after\":80.08,\"after_u\":0.008", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 2, NAN);
  double value, half_width;

  ck_assert (drift->series[TRAMMEL_DRIFT_COUNTS].is_relative && !drift->series[TRAMMEL_DRIFT_LASH].is_relative);
  ck_assert (trammel_drift_series_trend_at (&drift->series[TRAMMEL_DRIFT_COUNTS], FIRST_DAY + 50, &value, &half_width));
  ck_assert_double_eq_tol (value, 80.04, 1e-9);
  ck_assert_double_eq_tol (half_width, Z_975 * 0.008 / sqrt (2), 1e-9);
  ck_assert (!trammel_drift_series_trend_at (&drift->series[TRAMMEL_DRIFT_LASH], FIRST_DAY, &value, &half_width));
}
END_TEST

/* Weighted by hand: u 1, 1 and 0.5 on days 0, 1 and 3, values 0, 1 and 2: weights 1, 1, 4; center 13/6, level 1.5;
 * Σ w d² = (169 + 49 + 4·25)/36 = 53/6; Σ w d y = (0 − 7/6 + 4·(5/6)·2) − 0 = 5.5, less level·Σ w d = 0: slope 33/53.
 */
START_TEST (a_weighted_line)
{
  static const Entry entries[] = { { 0, "\"lash\":{\"value\":0,\"u\":1}", NULL },
                                   { 1, "\"lash\":{\"value\":1,\"u\":1}", NULL },
                                   { 3, "\"lash\":{\"value\":2,\"u\":0.5}", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 3, NAN);
  const TrammelDriftSeries *lash = &drift->series[TRAMMEL_DRIFT_LASH];
  ck_assert_double_eq_tol (lash->slope, 33.0 / 53, 1e-12);
  ck_assert_double_eq_tol (lash->slope_u, sqrt (6.0 / 53), 1e-12);
  ck_assert (!lash->is_significant);
  ck_assert_uint_eq (drift->series[TRAMMEL_DRIFT_COUNTS].checks->len, 0);
}
END_TEST

/* By hand: s 0.002, 0.004, 0.006 with 8 degrees of freedom each: u = s/4; pooled s² = 56/3·10⁻⁶, of which each counts
 * with a quarter in the trend: slope 0.004/20, its u √(56/3)·10⁻³/4/√200. Mean 0.004, moving ranges of 0.002; the lower
 * limit, 0.004 − 3·0.002/1.128, would be below 0. */
START_TEST (homing)
{
  static const Entry entries[] = { { 0, "\"home\":{\"s\":0.002,\"n\":9}", NULL },
                                   { 10, "\"home\":{\"s\":0.004,\"n\":10,\"dof\":8}", NULL },
                                   { 20, "\"home\":{\"s\":0.006,\"n\":9}", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 3, 0.1);
  const TrammelDriftSeries *home = &drift->series[TRAMMEL_DRIFT_HOME];
  ck_assert_uint_eq (home->checks->len, 3);
  ck_assert_double_eq_tol (check_of (home, 0)->u, 0.0005, 1e-16);
  ck_assert_double_eq_tol (check_of (home, 1)->u, 0.001, 1e-16);
  ck_assert_double_eq (check_of (home, 1)->freedom, 8);
  const double pooled = sqrt (56.0 / 3) * 1e-3;
  ck_assert_double_eq_tol (check_of (home, 2)->u_in_trend, pooled / 4, 1e-15);
  ck_assert_double_eq_tol (home->slope, 0.0002, 1e-12);
  ck_assert_double_eq_tol (home->slope_u, pooled / 4 / sqrt (200), 1e-12);
  ck_assert_double_eq_tol (home->chart.center, 0.004, 1e-15);
  ck_assert_double_eq (home->chart.low, 0);
  ck_assert_double_eq_tol (home->chart.high, 0.004 + 3 * 0.002 / 1.128, 1e-15);
  ck_assert (isnan (home->due) && !home->is_due_at_once);
}
END_TEST

/* Switches that always fire at the same place, as far as can be read. */
START_TEST (homing_that_never_scatters)
{
  static const Entry entries[] = { { 0, "\"home\":{\"s\":0,\"n\":9}", NULL },
                                   { 10, "\"home\":{\"s\":0,\"n\":9}", NULL },
                                   { 20, "\"home\":{\"s\":0,\"n\":9}", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 3, NAN);
  const TrammelDriftSeries *home = &drift->series[TRAMMEL_DRIFT_HOME];
  ck_assert (home->has_trend && !home->is_significant);
  ck_assert_double_eq (home->slope, 0);
  ck_assert_double_eq (home->slope_u, 0);
  ck_assert_double_eq (home->chart.high, 0);
}
END_TEST

/* An entry put right puts an exact nominal in force: the series begins anew and keeps its weights. By hand: 160.2 and
 * 160.4 with u 0.06 and 0.08, 10 days apart: slope 0.2/160.4/10 per day, u = 0.1/160.4/10. */
START_TEST (put_right_begins_anew)
{
  static const Entry entries[] = {
    { 0, "\"after\":80.3,\"after_u\":0.1,\"nominal\":80,\"lash\":{\"value\":0.3,\"u\":0.1}", NULL },
    { 1, "\"after\":160,\"after_u\":0,\"nominal\":160,\"lash\":{\"value\":0.2,\"u\":0.1}",
      "motor: microsteps 16 → 32" },
    { 2, "\"after\":160.2,\"after_u\":0.06,\"nominal\":160", NULL },
    { 12, "\"after\":160.4,\"after_u\":0.08,\"nominal\":160,\"lash\":{\"value\":0.1,\"u\":0.1}", NULL },
  };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 4, NAN);
  const TrammelDriftSeries *counts = &drift->series[TRAMMEL_DRIFT_COUNTS];
  const TrammelDriftSeries *lash = &drift->series[TRAMMEL_DRIFT_LASH];
  ck_assert_double_eq (drift->since, FIRST_DAY + 1);
  ck_assert_uint_eq (counts->checks->len, 2);
  ck_assert_uint_eq (counts->n_set_aside, 1);
  ck_assert_double_eq_tol (counts->slope, 0.02 / 160.4, 1e-12);
  ck_assert_double_eq_tol (counts->slope_u, 0.01 / 160.4, 1e-12);
  ck_assert_double_eq (counts->birge, 1);
  /* What was found besides, with the entry still wrong in the file, is found all the same. */
  ck_assert_uint_eq (lash->checks->len, 2);
  ck_assert_double_eq (check_of (lash, 0)->value, 0.2);
  ck_assert_uint_eq (lash->n_set_aside, 1);

  g_autoptr (TrammelDrift) only = drift_of (entries, 2, NAN);
  ck_assert_uint_eq (only->series[TRAMMEL_DRIFT_COUNTS].checks->len, 0);
  ck_assert (!only->series[TRAMMEL_DRIFT_COUNTS].has_chart && !only->series[TRAMMEL_DRIFT_COUNTS].has_trend);
}
END_TEST

/* Logs from before they held the nominal: an entry with a note and no u. */
START_TEST (put_right_without_nominals)
{
  static const Entry entries[] = { { 0, "\"after\":80.3,\"after_u\":0.1", NULL },
                                   { 1, "\"after\":81,\"after_u\":0", "stage 1: driver 12 → 13" },
                                   { 2, "\"after\":81.2,\"after_u\":0.06", NULL },
                                   { 3, "\"after\":81.1,\"after_u\":0.06", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 4, NAN);
  ck_assert_double_eq (drift->since, FIRST_DAY + 1);
  ck_assert_uint_eq (drift->series[TRAMMEL_DRIFT_COUNTS].checks->len, 2);
  ck_assert (drift->series[TRAMMEL_DRIFT_COUNTS].has_trend);
}
END_TEST

/* What begins a new series, by nominal and value of three checks. */
static const struct
{
  const char *changes[3];
  guint left;
} trains[] = {
  /* 60 teeth for 61: less than 5 %, but another train */
  { { "\"after\":80,\"after_u\":1,\"nominal\":80", "\"after\":81.3,\"after_u\":1,\"nominal\":81.33333333333333",
      "\"after\":81.4,\"after_u\":1,\"nominal\":81.33333333333333" },
    2 },
  { { "\"after\":80,\"after_u\":1,\"nominal\":80", "\"after\":80.1,\"after_u\":1,\"nominal\":80",
      "\"after\":80.2,\"after_u\":1,\"nominal\":80.00000000000001" },
    3 },
  { { "\"after\":80,\"after_u\":1,\"nominal\":80", "\"after\":80.1,\"after_u\":1",
      "\"after\":80.2,\"after_u\":1,\"nominal\":80" },
    3 },
  { { "\"after\":80,\"after_u\":1,\"nominal\":80", "\"after\":80.1,\"after_u\":1",
      "\"after\":80.2,\"after_u\":1,\"nominal\":79" },
    1 },
  { { "\"after\":80,\"after_u\":1", "\"after\":84.1,\"after_u\":1", "\"after\":80,\"after_u\":1" }, 3 - 1 },
  { { "\"after\":80,\"after_u\":1", "\"after\":83.9,\"after_u\":1", "\"after\":80,\"after_u\":1" }, 3 },
  /* Adopted without u, and never put right: no note, or not the nominal */
  { { "\"after\":80,\"after_u\":0", "\"after\":80.1,\"after_u\":0", "\"after\":80.2,\"after_u\":0" }, 3 },
  { { "\"after\":80.1,\"after_u\":0,\"nominal\":80", "\"after\":80.1,\"after_u\":0,\"nominal\":80",
      "\"after\":80.2,\"after_u\":0,\"nominal\":80" },
    3 },
};

START_TEST (another_train_begins_anew)
{
  Entry entries[3];
  for (int i = 0; i < 3; i++)
    entries[i] = (Entry){ i, trains[_i].changes[i], NULL };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 3, NAN);
  const TrammelDriftSeries *counts = &drift->series[TRAMMEL_DRIFT_COUNTS];
  ck_assert_uint_eq (counts->checks->len, trains[_i].left);
  ck_assert_uint_eq (counts->n_set_aside, 3 - trains[_i].left);
  ck_assert_int_eq (isnan (drift->since), trains[_i].left == 3);
}
END_TEST

START_TEST (in_the_order_of_time)
{
  static const Entry entries[] = { { 20, "\"after\":80.3,\"after_u\":0.1", NULL },
                                   { 0, "\"after\":80.1,\"after_u\":0.1", NULL },
                                   { 10, "\"after\":80.2,\"after_u\":0.1", NULL } };
  g_autoptr (TrammelDrift) drift = drift_of (entries, 3, NAN);
  const TrammelDriftSeries *counts = &drift->series[TRAMMEL_DRIFT_COUNTS];
  ck_assert_uint_eq (check_of (counts, 0)->entry, 1);
  ck_assert_uint_eq (check_of (counts, 2)->entry, 0);
  ck_assert_double_eq_tol (counts->slope, 0.01 / 80.3, 1e-12);
}
END_TEST

static TrammelMachine *
with_readings (const TrammelMachine *machine, const char *csv)
{
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_read (csv, strlen (csv), "test.csv", NULL, NULL);
  ck_assert_ptr_nonnull (readings);
  return trammel_machine_with_readings (machine, readings);
}

/* The whole way: half as far as wanted, so that the microsteps are put right; measured again and adopted. */
START_TEST (from_readings_to_the_chart)
{
  g_autoptr (TrammelMachine) bare = machine_with_log (NULL, 0);
  g_autoptr (TrammelMachine) half = with_readings (bare, "kind,along,nominal,measured,u\ntravel,X,100,50,0.01\n");
  g_autoptr (TrammelAdjustment) adjustment = trammel_machine_adjust (half, NULL, NULL, NULL);
  g_autoptr (GPtrArray) explanations = trammel_machine_explain (half, adjustment);
  ck_assert_uint_gt (explanations->len, 0);
  g_autoptr (TrammelMachine) right = trammel_machine_put_right (half, adjustment, trammel_machine_readings (half),
                                                                explanations->pdata[0], "2026-01-01T00:00:00Z", NULL);
  g_autoptr (TrammelMachine) again
      = with_readings (right, "kind,along,nominal,measured,u,approach\ntravel,X,100,99.9,0.01,\n"
                              "travel,X,100,99.8,0.01,reversed\nhome,X,,0.01,,-\nhome,X,,0.03,,-\n");
  g_autoptr (TrammelAdjustment) second = trammel_machine_adjust (again, NULL, NULL, NULL);
  g_autoptr (TrammelMachine) adopted
      = trammel_machine_adopt (again, second, trammel_machine_readings (again), NULL, "2026-01-08T00:00:00Z", NULL);
  ck_assert_ptr_nonnull (adopted);
  g_autoptr (TrammelDrift) drift = trammel_drift_new (adopted, 'X', TRAMMEL_DRIFT_TOLERANCE, NAN, NULL);
  ck_assert_double_eq (drift->since, FIRST_DAY);
  const TrammelDriftSeries *counts = &drift->series[TRAMMEL_DRIFT_COUNTS];
  ck_assert_uint_eq (counts->checks->len, 1);
  /* The readings are 0.1 ± √0.0002 apart, of which the stated 0 ± 1 takes 0.0002 of 1.0002 parts; of these the two
   * travels bear half each. */
  const double lash = 0.1 / 1.0002, travel = 99.9 - (0.1 - lash) / 2;
  ck_assert_double_eq_tol (check_of (counts, 0)->value, 160 / (travel / 100), 1e-9);
  ck_assert_double_gt (check_of (counts, 0)->u, 0);
  ck_assert_double_eq_tol (check_of (&drift->series[TRAMMEL_DRIFT_LASH], 0)->value, lash, 1e-9);
  ck_assert_double_eq_tol (check_of (&drift->series[TRAMMEL_DRIFT_HOME], 0)->value, sqrt (0.0002), 1e-12);
}
END_TEST

START_TEST (an_axis_that_is_not_there)
{
  g_autoptr (TrammelMachine) machine = machine_with_log (NULL, 0);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_drift_new (machine, 'Q', 0.001, NAN, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
  g_autoptr (TrammelDrift) empty = trammel_drift_new (machine, 'A', 0.001, NAN, NULL);
  ck_assert (isnan (empty->since));
  ck_assert_uint_eq (empty->series[TRAMMEL_DRIFT_COUNTS].checks->len, 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("drift");
  TCase *tests = tcase_create ("drift");
  tcase_add_test (tests, lash_of_two_checks);
  tcase_add_test (tests, the_trend_of_counts);
  tcase_add_test (tests, a_weighted_line);
  tcase_add_test (tests, homing);
  tcase_add_test (tests, homing_that_never_scatters);
  tcase_add_test (tests, put_right_begins_anew);
  tcase_add_test (tests, put_right_without_nominals);
  tcase_add_loop_test (tests, another_train_begins_anew, 0, G_N_ELEMENTS (trains));
  tcase_add_test (tests, in_the_order_of_time);
  tcase_add_test (tests, from_readings_to_the_chart);
  tcase_add_test (tests, an_axis_that_is_not_there);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
