/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Whether the ways to learn lash agree, by hand and by simulation. Probabilities: scipy.stats, chi2.sf and f.sf. */
#include "rows.h"

#include <gsl/gsl_randist.h>
#include <gsl/gsl_rng.h>

static const TrammelLashAgreement *
only_axis (const TrammelAdjustment *adjustment)
{
  gsize n;
  const TrammelLashAgreement *agreements = trammel_adjustment_lash (adjustment, &n);

  ck_assert_uint_eq (n, 1);
  ck_assert_int_eq (agreements[0].letter, 'X');
  return agreements;
}

static void
assert_source (const TrammelLashAgreement *agreement, guint i, TrammelLashSource source, gsize n, double value,
               double u)
{
  ck_assert_uint_lt (i, agreement->n);
  ck_assert_int_eq (agreement->sources[i].source, source);
  ck_assert_uint_eq (agreement->sources[i].n_readings, n);
  ck_assert_double_eq_tol (agreement->sources[i].value, value, 1e-9);
  ck_assert_double_eq_tol (agreement->sources[i].u, u, 1e-9);
}

/* At the target 0 no scale enters, so that the three are independent: from positions 2.05 − 1.95 with variance
 * 2·0.02², from travel 100 − 99.85 with 0.01² + 0.03², from a reversal 0.16 with 0.03². Cochran's Q: the weighted mean
 * is (125 + 150 + 177.78)/(1250 + 1000 + 1111.1) = 0.134711, Q = Σ w (x − mean)² = 2.450413, p = 0.293697 with two
 * degrees of freedom. The stated lash, far off, is not asked. */
START_TEST (three_independent_sources)
{
  g_autoptr (GArray) rows
      = rows_from_text ("position X 0 1.95 0.02 +\nposition X 0 2.05 0.02 -\ntravel X 100 100 0.01\n"
                        "travel X 100 99.85 0.03 reversed\nreversal X 40 0.16 0.03");
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[1];
  if (_i == 1)
    state (&input, stated, "lash.X", 5, 0.001);
  if (_i == 2)
    state (&input, stated, "lash.X", 5, 0);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelLashAgreement *lash = only_axis (adjustment);

  ck_assert_uint_eq (lash->n, 3);
  assert_source (lash, 0, TRAMMEL_LASH_FROM_POSITIONS, 2, 0.10, 0.02 * G_SQRT2);
  assert_source (lash, 1, TRAMMEL_LASH_FROM_TRAVEL, 1, 0.15, sqrt (0.001));
  assert_source (lash, 2, TRAMMEL_LASH_FROM_REVERSALS, 1, 0.16, 0.03);
  ck_assert_double_eq_tol (lash->p_value, 0.293697, 1e-6);
  ck_assert (lash->agree);
  ck_assert (!warns_of (adjustment, "do not agree"));
}
END_TEST

/* One forward travel F = 100 (u 0.02) serves both: from positions, moving up at 0 and down at 100, A − F with
 * A = 102.10 − 2.00 (u 0.01 each); from travel F − B with B = 99.87 (u 0.01). Their difference 2F − A − B = 0.03 has
 * the variance 4·0.02² + 2·0.01² + 0.01² = 0.0019, p = 0.491297. */
START_TEST (sources_that_share_the_scale)
{
  g_autoptr (GArray) rows = rows_from_text ("position X 0 2 0.01 +\nposition X 100 102.1 0.01 -\n"
                                            "travel X 100 100 0.02\ntravel X 100 99.87 0.01 reversed");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelLashAgreement *lash = only_axis (adjustment);

  assert_source (lash, 0, TRAMMEL_LASH_FROM_POSITIONS, 2, 0.10, sqrt (0.0006));
  assert_source (lash, 1, TRAMMEL_LASH_FROM_TRAVEL, 1, 0.13, sqrt (0.0005));
  ck_assert_double_eq_tol (lash->p_value, 0.491297, 1e-6);
}
END_TEST

/* Means 0.12, 100 and 99.82, each of three that lie 0.02 apart: from reversals 0.12, from travel 0.18. The squares
 * within are 3·0.0008, with six degrees of freedom, so s = 0.02, and the difference has the variance 3·s²/3. As u 0.02
 * is believed, Q = 9, p = 0.0026998; where u 0.005 is not (χ² = 96, Birge ratio 4), or s is estimated, F = 9, p =
 * 0.0240082.
 */
static const struct
{
  const char *u;
  TrammelScatter scatter;
  double p_value, u_of_reversals;
} weighed[] = {
  { "0.02", TRAMMEL_SCATTER_STATED, 0.0026998, 0.02 },
  { "0.005", TRAMMEL_SCATTER_STATED, 0.0240082, 0.02 },
  { ".", TRAMMEL_SCATTER_ESTIMATED, 0.0240082, 0.02 },
};

START_TEST (scatter_believed_or_estimated)
{
  static const char *const lines[] = { "reversal X 0 0.10 %s",          "reversal X 0 0.12 %s",
                                       "reversal X 0 0.14 %s",          "travel X 100 99.98 %s",
                                       "travel X 100 100 %s",           "travel X 100 100.02 %s",
                                       "travel X 100 99.8 %s reversed", "travel X 100 99.82 %s reversed",
                                       "travel X 100 99.84 %s reversed" };
  g_autoptr (GArray) rows = trammel_reading_array_new (0);

  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    {
      g_auto (GStrv) around = g_strsplit (lines[i], "%s", 2);
      g_autofree char *line = g_strconcat (around[0], weighed[_i].u, around[1], NULL);
      add_row (rows, line);
    }
  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = weighed[_i].scatter;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelLashAgreement *lash = only_axis (adjustment);

  assert_source (lash, 0, TRAMMEL_LASH_FROM_TRAVEL, 3, 0.18, weighed[_i].u_of_reversals * sqrt (2.0 / 3));
  assert_source (lash, 1, TRAMMEL_LASH_FROM_REVERSALS, 3, 0.12, weighed[_i].u_of_reversals / sqrt (3));
  ck_assert_double_eq_tol (lash->p_value, weighed[_i].p_value, 1e-7);
  ck_assert (!lash->agree);
  ck_assert (warns_of (adjustment, "0.18 mm by reversed travel, 0.12 mm by reversals"));
}
END_TEST

/* Positions from one side only move the datum; a reversed travel without another tells nothing apart from the scale. */
static const struct
{
  const char *rows;
  guint n, untold;
} silent[] = {
  { "position X 0 1 . +\nposition X 90 91 . +\nreversal X . 0.1", 2, 0 },
  { "travel X 100 99.9 . reversed\nreversal X . 0.1", 2, 0 },
  { "position X 0 1 . +\nposition X 90 91 . +\ntravel X 50 49.9 . reversed", 2, 0 },
};

START_TEST (what_one_source_alone_cannot_tell)
{
  g_autoptr (GArray) rows = rows_from_text (silent[_i].rows);
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelLashAgreement *lash = only_axis (adjustment);
  const gboolean other_is_told = _i < 2;

  ck_assert_uint_eq (lash->n, silent[_i].n);
  ck_assert (isnan (lash->sources[silent[_i].untold].value) && isnan (lash->sources[silent[_i].untold].u));
  if (other_is_told)
    assert_source (lash, 1, TRAMMEL_LASH_FROM_REVERSALS, 1, 0.1, 0.05);
  ck_assert (isnan (lash->p_value));
  ck_assert (lash->agree);
}
END_TEST

START_TEST (one_source_is_not_compared)
{
  g_autoptr (GArray) rows = rows_from_text ("reversal X . 0.1\nreversal X . 0.2\ntravel Y 100 99.8 . reversed\n"
                                            "travel Y 100 100\nposition X 0 1\nposition X 10 11");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  gsize n;

  ck_assert_ptr_null (trammel_adjustment_lash (adjustment, &n));
  ck_assert_uint_eq (n, 0);
}
END_TEST

/* Without any scatter to go by, a difference is one and rounding is none. */
START_TEST (without_scatter)
{
  static const char *const reversals[] = { "0.25", "0.3" };
  g_autofree char *text = g_strdup_printf ("travel X 90 90.09\ntravel X 90 89.84 . reversed\ntravel X 180 180.18\n"
                                           "reversal X 3 %s\nreversal X 4 %s",
                                           reversals[_i], reversals[_i]);
  g_autoptr (GArray) rows = rows_from_text (text);
  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_int_eq (only_axis (adjustment)->agree, _i == 0);
}
END_TEST

/* A line misread by a millimeter among five. */
START_TEST (robust_sources_pass_over_a_misreading)
{
  g_autoptr (GArray) rows
      = rows_from_text ("travel X 90 90 0.02\ntravel X 90 89.9 0.02 reversed\ntravel X 180 180.01 0.02\n"
                        "travel X 180 179.89 0.02 reversed\nreversal X . 0.1 0.02\nreversal X . 0.09 0.02\n"
                        "reversal X . 0.11 0.02\nreversal X . 0.12 0.02\nreversal X . 1.1 0.02");
  TrammelAdjustmentInput input = input_for (rows);
  input.robust = TRUE;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelLashAgreement *lash = only_axis (adjustment);

  ck_assert_double_eq_tol (lash->sources[0].value, 0.11, 0.02);
  ck_assert_double_eq_tol (lash->sources[1].value, 0.105, 0.02);
  ck_assert (lash->agree);
}
END_TEST

/* ——— By simulation ——— */

static void
add_measured (GArray *rows, gsl_rng *rng, TrammelReadingKind kind, double nominal, TrammelApproach approach,
              double exact, double u, gboolean tells_u)
{
  TrammelReading reading;

  trammel_reading_init (&reading);
  reading.kind = (guint8)kind;
  reading.approach = (guint8)approach;
  reading.has_along = trammel_direction_parse ("X", &reading.along, NULL);
  reading.nominal = nominal;
  reading.measured = exact + gsl_ran_gaussian (rng, u);
  if (tells_u)
    reading.u = u;
  g_array_append_val (rows, reading);
}

/* A machine of lash 0.15 mm with readings of all three sources; reversals show @more. p. */
static double
p_of_a_machine (gsl_rng *rng, TrammelScatter scatter, double more)
{
  const double lash = 0.15, scale = 1 + gsl_ran_gaussian (rng, 0.01);
  const gboolean stated = scatter == TRAMMEL_SCATTER_STATED;
  g_autoptr (GArray) rows = trammel_reading_array_new (0);

  for (int i = 0; i < 4; i++)
    {
      const double at = 50 * i, u = stated ? 0.01 + 0.01 * i : 0.02;
      add_measured (rows, rng, TRAMMEL_READING_POSITION, at, TRAMMEL_APPROACH_UP, 3 + scale * at - lash / 2, u, stated);
      add_measured (rows, rng, TRAMMEL_READING_POSITION, at + 7, TRAMMEL_APPROACH_DOWN, 3 + scale * (at + 7) + lash / 2,
                    u, stated);
      add_measured (rows, rng, TRAMMEL_READING_TRAVEL, at + 20, TRAMMEL_APPROACH_REVERSED, scale * (at + 20) - lash, u,
                    stated);
      add_measured (rows, rng, TRAMMEL_READING_REVERSAL, at, TRAMMEL_APPROACH_NONE, lash + more, u, stated);
    }
  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = scatter;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  return only_axis (adjustment)->p_value;
}

/* Of 2,000 machines whose lash is one, 5 % are doubted (standard deviation 0.49 %, within three of which 19 of 20 times
 * 20 lie), and half have a p below a half (standard deviation 1.1 %). In the stated way, the 5 % whose χ² chances to be
 * too great are judged by F, which doubts a little less. */
START_TEST (doubts_as_often_as_it_says)
{
  gsl_rng *rng = gsl_rng_alloc (gsl_rng_mt19937);
  int doubted = 0, below_half = 0, found_out = 0;

  gsl_rng_set (rng, 7);
  for (int i = 0; i < 2000; i++)
    {
      const double p = p_of_a_machine (rng, (TrammelScatter)_i, 0);
      doubted += p < TRAMMEL_LASH_SIGNIFICANCE;
      below_half += p < 0.5;
    }
  for (int i = 0; i < 200; i++)
    found_out += p_of_a_machine (rng, (TrammelScatter)_i, 0.1) < TRAMMEL_LASH_SIGNIFICANCE;
  gsl_rng_free (rng);
  ck_assert_int_ge (doubted, 70);
  ck_assert_int_le (doubted, 130);
  ck_assert_int_ge (below_half, 930);
  ck_assert_int_le (below_half, 1070);
  /* 0.1 mm, six or more standard deviations of the difference */
  ck_assert_int_ge (found_out, 190);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("lash");
  TCase *hand = tcase_create ("by hand");
  TCase *simulated = tcase_create ("simulated");

  tcase_add_loop_test (hand, three_independent_sources, 0, 3);
  tcase_add_test (hand, sources_that_share_the_scale);
  tcase_add_loop_test (hand, scatter_believed_or_estimated, 0, G_N_ELEMENTS (weighed));
  tcase_add_loop_test (hand, what_one_source_alone_cannot_tell, 0, G_N_ELEMENTS (silent));
  tcase_add_test (hand, one_source_is_not_compared);
  tcase_add_loop_test (hand, without_scatter, 0, 2);
  tcase_add_test (hand, robust_sources_pass_over_a_misreading);
  tcase_add_loop_test (simulated, doubts_as_often_as_it_says, TRAMMEL_SCATTER_STATED, TRAMMEL_SCATTER_ESTIMATED + 1);
  tcase_set_timeout (simulated, 60);
  suite_add_tcase (suite, hand);
  suite_add_tcase (suite, simulated);
  return run_suite (suite);
}
