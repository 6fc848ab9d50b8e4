/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adjustments against figures worked out by hand or published. */
#include "rows.h"

/* 95 %: of the normal distribution, and of Student's t with 1 and 34 degrees of freedom (any table of quantiles; R's
 * qnorm and qt give these digits). */
#define NORMAL_95 1.959963984540054
#define STUDENT_95_1 12.70620473617471
#define STUDENT_95_34 2.032244509317718

/* The five cases that the design works out, u = 0.03 mm, defaults stated, noise-free. */
#define DIAGONALS                                                                                                      \
  "outside X+Y 141.42135623730951 141.13851352483489 0.03\noutside X-Y 141.42135623730951 141.13851352483489 0.03\n"
#define OUTSIDES "outside X 100 99.8 0.03\noutside Y 100 99.8 0.03\n"
#define INSIDES "inside X 80 79.84 0.03\ninside Y 80 79.84 0.03\n"

static const struct
{
  const char *rows;
  double u_scale_x, u_skew, u_shrink;
} cases[] = {
  { "outside X 20 19.96 0.03\noutside Y 20 19.96 0.03", 0.0203, 0, 0.003 },
  { OUTSIDES, 0.0050, 0, 0.003 },
  { OUTSIDES INSIDES, 0.0030, 0, 0.003 },
  { OUTSIDES INSIDES DIAGONALS, 0.0030, 0.0003, 0.003 },
  { OUTSIDES INSIDES DIAGONALS "travel X 100 100 0.03", 0.0003, 0.0003, 0.0004 },
};

START_TEST (five_cases)
{
  g_autoptr (GArray) rows = rows_from_text (cases[_i].rows);
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->u, cases[_i].u_scale_x, 0.00005);
  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0, 1e-12);
  ck_assert_double_eq_tol (parameter (adjustment, "shrink")->u, cases[_i].u_shrink, 0.00005);
  ck_assert_double_eq_tol (parameter (adjustment, "shrink")->value, 0.002, 1e-12);
  if (cases[_i].u_skew > 0)
    ck_assert_double_eq_tol (parameter (adjustment, "skew.XY")->u, cases[_i].u_skew, 0.00005);
  else
    ck_assert_ptr_null (trammel_adjustment_parameter (adjustment, "skew.XY"));
  ck_assert_int_eq (warns_of (adjustment, "inside size along"), _i < 2);
  ck_assert_int_eq (warns_of (adjustment, "travel of the machine"), _i == 2 || _i == 3);
}
END_TEST

/* NIST Statistical Reference Datasets, linear regression, "Norris": certified values. */
START_TEST (certified_line)
{
  g_autofree char *path = g_build_filename (g_getenv ("TRAMMEL_TESTS"), "reference", "nist-norris.csv", NULL);
  g_autofree char *text = NULL;
  g_autoptr (GArray) rows = trammel_reading_array_new (36);

  ck_assert (g_file_get_contents (path, &text, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  for (char **line = lines; *line != NULL; line++)
    if (g_str_has_prefix (*line, "position"))
      add_row (rows, g_strdelimit (*line, ",", ' '));
  ck_assert_uint_eq (rows->len, 36);

  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelParameter *scale = parameter (adjustment, "scale.X");
  const TrammelParameter *datum = parameter (adjustment, "datum.X");

  ck_assert_double_eq_tol (scale->value / 0.00211681802045, 1, 1e-10);
  ck_assert_double_eq_tol (datum->value / -0.262323073774029, 1, 1e-10);
  ck_assert_double_eq_tol (scale->u / 0.429796848199937E-03, 1, 1e-10);
  ck_assert_double_eq_tol (datum->u / 0.232818234301152, 1, 1e-10);
  ck_assert_double_eq_tol (trammel_adjustment_sigma (adjustment) / 0.884796396144373, 1, 1e-10);
  ck_assert_int_eq (trammel_adjustment_dof (adjustment), 34);
  ck_assert_double_eq_tol (scale->high - scale->low, 2 * STUDENT_95_34 * 0.429796848199937E-03, 1e-12);
  ck_assert (trammel_adjustment_axis (adjustment, 'X')->significant);
  ck_assert (isnan (trammel_adjustment_p_value (adjustment)));
}
END_TEST

/* Two travels of 100 mm: e = 0.001 (u 0.001) and 0.003 (u 0.002). Weighted mean (1·0.001 + ¼·0.003)/(1¼) = 0.0014,
 * u = 0.001/√1.25; χ² = 0.4² + 0.8² = 0.8 with one degree of freedom: p = 0.3710934 (R: pchisq (0.8, 1, lower = F)). */
START_TEST (weighted_mean_by_hand)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.1 0.1\ntravel X 100 100.3 0.2");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelAxisScale *axis = trammel_adjustment_axis (adjustment, 'X');
  gsize n;
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n);

  ck_assert_double_eq_tol (axis->scale_error, 0.0014, 1e-14);
  ck_assert_double_eq_tol (axis->u, 0.001 / sqrt (1.25), 1e-15);
  ck_assert_double_eq_tol (axis->high, 0.0014 + NORMAL_95 * axis->u, 1e-9);
  ck_assert (!axis->significant);
  ck_assert_double_eq_tol (trammel_adjustment_chi2 (adjustment), 0.8, 1e-11);
  ck_assert_double_eq_tol (trammel_adjustment_p_value (adjustment), 0.3710934, 1e-7);
  ck_assert_int_eq (trammel_adjustment_dof (adjustment), 1);
  ck_assert_double_eq (trammel_adjustment_birge (adjustment), 1);
  ck_assert_uint_eq (n, 2);
  ck_assert_double_eq_tol (fitted[0].predicted, 100.14, 1e-11);
  ck_assert_double_eq_tol (fitted[0].residual, -0.04, 1e-11);
  /* Leverages 0.8 and 0.2: both standardized residuals are −0.4/√0.2 and 0.8/√0.8. */
  ck_assert_double_eq_tol (fitted[0].standardized, -0.894427191, 1e-8);
  ck_assert_double_eq_tol (fitted[1].standardized, 0.894427191, 1e-8);
  ck_assert (!warns_of (adjustment, "scatter"));
}
END_TEST

/* e = 0.001 and 0.009, each u 0.001: mean 0.005, χ² = 4² + 4² = 32, Birge √32, u = 0.001/√2·√32 = 0.004. */
START_TEST (birge_ratio_by_hand)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.1 0.1\ntravel X 100 100.9 0.1");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelAxisScale *axis = trammel_adjustment_axis (adjustment, 'X');

  ck_assert_double_eq_tol (axis->scale_error, 0.005, 1e-14);
  ck_assert_double_eq_tol (trammel_adjustment_birge (adjustment), sqrt (32), 1e-9);
  ck_assert_double_eq_tol (axis->u, 0.004, 1e-12);
  ck_assert_double_eq_tol (axis->high, 0.005 + STUDENT_95_1 * 0.004, 1e-9);
  ck_assert (warns_of (adjustment, "scatter more"));
}
END_TEST

/* Lash and datum from positions approached both ways: y = d + (1+e)t ∓ lash/2 with e 0.001, lash 0.1, d 2 and −3. */
START_TEST (lash_and_datums_from_positions)
{
  g_autoptr (GArray) rows
      = rows_from_text ("position X 0 1.95 . + left\nposition X 0 2.05 . - left\nposition X 100 102.05 . + left\n"
                        "position X 100 102.15 . - left\nposition X 100 97.05 . +\nposition X -50 -53 . -\n"
                        "position X 10 7.01");
  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0.001, 1e-13);
  ck_assert_double_eq_tol (parameter (adjustment, "lash.X")->value, 0.1, 1e-12);
  ck_assert_double_eq_tol (parameter (adjustment, "datum.X.left")->value, 2, 1e-12);
  ck_assert_double_eq_tol (parameter (adjustment, "datum.X")->value, -3, 1e-12);
  ck_assert_int_eq (trammel_adjustment_dof (adjustment), 3);
}
END_TEST

START_TEST (lash_from_reversed_travel)
{
  g_autoptr (GArray) rows = rows_from_text ("travel A 90 90.09\ntravel A 90 89.84 . reversed\ntravel A 180 180.18");
  TrammelAdjustmentInput input = input_for (rows);
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (parameter (adjustment, "scale.A")->value, 0.001, 1e-13);
  ck_assert_double_eq_tol (parameter (adjustment, "lash.A")->value, 0.25, 1e-11);
}
END_TEST

/* Two lines 0.14 and 0.10 mm apart, u 0.02 and 0.01: weighted mean (0.14 + 4·0.10)/5 = 0.108, u = 0.01/√1.25, with lash
 * stated as good as unknown. No scale enters. Then a place reached from below that lies 0.12 mm short of the same place
 * reached from above, as in the definition of a reversal: the same lash. */
START_TEST (lash_from_reversals)
{
  g_autoptr (GArray) rows = rows_from_text ("reversal X 30 0.14 0.02\nreversal X . 0.1 0.01");
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[1];
  state (&input, stated, "lash.X", 0, 1e6);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (parameter (adjustment, "lash.X")->value, 0.108, 1e-12);
  ck_assert_double_eq_tol (parameter (adjustment, "lash.X")->u, 0.01 / sqrt (1.25), 1e-12);
  ck_assert_ptr_null (trammel_adjustment_axis (adjustment, 'X'));

  g_autoptr (GArray) both
      = rows_from_text ("position X 0 1.94 . +\nposition X 0 2.06 . -\nposition X 50 52 . \nreversal X . 0.12");
  TrammelAdjustmentInput consistent = input_for (both);
  consistent.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) agreed = adjust (&consistent);
  ck_assert_double_eq_tol (parameter (agreed, "lash.X")->value, 0.12, 1e-12);
  ck_assert_double_eq_tol (trammel_adjustment_sigma (agreed), 0, 1e-12);
}
END_TEST

/* With shrink and bead fixed one outside size tells the scale: u = 0.03/(100·0.998). */
START_TEST (fixed_values_have_no_uncertainty)
{
  g_autoptr (GArray) rows = rows_from_text ("outside X 100 100.3 0.03");
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[3];
  state (&input, stated, "shrink", 0.1, 0);
  state (&input, stated, "bead", 0.05, 0);
  state (&input, stated, "shrink", 0.002, 0); /* the later one wins */
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelParameter *bead = parameter (adjustment, "bead");

  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, (100.3 - 0.1) / 99.8 - 1, 1e-14);
  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->u, 0.03 / 99.8, 1e-15);
  ck_assert_double_eq (bead->value, 0.05);
  ck_assert_double_eq (bead->u, 0);
  ck_assert_double_eq (bead->learned, 0);
  ck_assert (bead->has_stated && !bead->stated_is_default);
  ck_assert_int_eq (trammel_adjustment_dof (adjustment), 0);
  ck_assert (isnan (trammel_adjustment_p_value (adjustment)));
}
END_TEST

/* One center size of 100 mm: shrink stated 0 ± 0.004, and a travel that tells the scale to 0.003 (0.3 mm in 100). The
 * center size, 0.0 mm u 0.5, tells e − shrink to 0.005: u(shrink)⁻² = 0.004⁻² + (0.003² + 0.005²)⁻². */
START_TEST (learned_by_hand)
{
  g_autoptr (GArray) rows = rows_from_text ("center X 100 100 0.5\ntravel X 100 100 0.3");
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[1];
  state (&input, stated, "shrink", 0, 0.004);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelParameter *shrink = parameter (adjustment, "shrink");
  double variance = 1 / (1 / 16e-6 + 1 / 34e-6);

  ck_assert_double_eq_tol (shrink->u, sqrt (variance), 1e-14);
  ck_assert_double_eq_tol (shrink->learned, 1 - variance / 16e-6, 1e-12);
  ck_assert_double_eq (parameter (adjustment, "scale.X")->learned, 1);
  ck_assert (!parameter (adjustment, "scale.X")->has_stated);
}
END_TEST

/* Two travels 0.6 mm apart, u 0.1: χ² 18 of 2 readings, 1 unknown, so every u is 3√2 of what it was. A center size
 * whose u of 1000 mm tells nothing brings shrink in, u 0.003 as stated; χ² stays, ν is 2, the factor √(18/2) = 3. */
START_TEST (less_is_known_than_was_stated)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.3 0.1\ntravel X 100 99.7 0.1\ncenter X 100 99.8 1000");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelParameter *shrink = parameter (adjustment, "shrink");

  ck_assert_double_eq_tol (trammel_adjustment_birge (adjustment), 3, 1e-6);
  ck_assert_double_eq_tol (shrink->u, 0.009, 1e-8);
  ck_assert_double_eq_tol (shrink->learned, 1 - 9, 1e-5);
}
END_TEST

/* u: the row's, else its instrument's, else 0.05: two travels of the same value, weights 1/u². */
START_TEST (u_comes_from_row_instrument_or_default)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100 0.01 . . caliper\ntravel X 100 100 . . . caliper\n"
                                            "travel X 100 100\ntravel X 100 100 . . . ruler");
  TrammelInstrument caliper = { g_ref_string_new_intern ("caliper"), 0.03 };
  TrammelAdjustmentInput input = input_for (rows);
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, NULL);

  ck_assert_double_eq (fitted[0].u, 0.01);
  ck_assert_double_eq (fitted[1].u, 0.03);
  ck_assert_double_eq (fitted[2].u, 0.05);
  ck_assert_double_eq (fitted[3].u, 0.05);
  ck_assert (warns_of (adjustment, "ruler"));
  ck_assert (!warns_of (adjustment, "caliper"));
}
END_TEST

static const char *const mixed_rows
    = "outside X 100 99.62 0.03\noutside Y 100 100.05 0.02\ninside X 80 79.31 0.04\ninside Y 80 79.66 0.03\n"
      "outside X+Y 141.4213562373095 141.25 0.03\noutside X-Y 141.4213562373095 141.02 0.05\nheight Z 10 10.05 0.02\n"
      "height Z 40 39.99 0.02\ntravel X 150 149.62 0.02\ntravel X 150 149.41 0.02 reversed\ntravel Y 120 120.22 0.02\n"
      "position Y 10 10.45 0.01 + a\nposition Y 90 90.55 0.01 + a\nposition Y 90 90.71 0.01 - a\n"
      "center XZ@40 60 59.9 0.05\ntravel E 50 50.6 0.1";

START_TEST (order_of_readings_does_not_matter)
{
  g_autoptr (GArray) rows = rows_from_text (mixed_rows);
  g_autoptr (GArray) shuffled = trammel_reading_array_new (rows->len);
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  gsize n;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);

  g_array_set_size (shuffled, rows->len);
  for (guint i = 0; i < rows->len; i++)
    trammel_reading_copy (&g_array_index (rows, TrammelReading, (i * 7 + 3) % rows->len),
                          &g_array_index (shuffled, TrammelReading, i));
  TrammelAdjustmentInput other = input_for (shuffled);
  g_autoptr (TrammelAdjustment) again = adjust (&other);

  ck_assert_uint_eq (n, 12);
  for (gsize i = 0; i < n; i++)
    {
      const TrammelParameter *same = parameter (again, parameters[i].name);
      ck_assert_double_eq_tol (same->value, parameters[i].value, 1e-9 * parameters[i].u);
      ck_assert_double_eq_tol (same->u / parameters[i].u, 1, 1e-10);
    }
  ck_assert_double_eq_tol (trammel_adjustment_chi2 (again), trammel_adjustment_chi2 (adjustment), 1e-9);
}
END_TEST

static gboolean
is_length (TrammelParameterKind kind)
{
  return kind == TRAMMEL_PARAMETER_BEAD || kind == TRAMMEL_PARAMETER_FOOT || kind == TRAMMEL_PARAMETER_LASH
         || kind == TRAMMEL_PARAMETER_DATUM;
}

/* Everything in inches: fractions and angles stay, lengths shrink by 25.4. */
START_TEST (unit_of_length_does_not_matter)
{
  static const char *const lengths[] = { "bead", "foot", "lash.X", "lash.Y" };
  static const double defaults[] = { 0.2, 0.2, 1, 1 };
  g_autoptr (GArray) rows = rows_from_text (mixed_rows);
  g_autoptr (GArray) inches = rows_from_text (mixed_rows);
  TrammelAdjustmentInput input = input_for (rows);
  TrammelAdjustmentInput other = input_for (inches);
  TrammelStated stated[G_N_ELEMENTS (lengths)];
  gsize n;

  for (guint i = 0; i < inches->len; i++)
    {
      TrammelReading *reading = &g_array_index (inches, TrammelReading, i);
      reading->nominal /= 25.4;
      reading->measured /= 25.4;
      reading->u /= 25.4;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (lengths); i++)
    state (&other, stated, lengths[i], 0, defaults[i] / 25.4);

  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  g_autoptr (TrammelAdjustment) in_inches = adjust (&other);
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
  for (gsize i = 0; i < n; i++)
    {
      double factor = is_length (parameters[i].kind) ? 25.4 : 1;
      const TrammelParameter *same = parameter (in_inches, parameters[i].name);
      ck_assert_double_eq_tol (same->value * factor, parameters[i].value, 1e-8 * parameters[i].u);
      ck_assert_double_eq_tol (same->u * factor / parameters[i].u, 1, 1e-9);
    }
}
END_TEST

START_TEST (predicts_with_uncertainty)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.1 0.02");
  g_autoptr (GArray) asked
      = rows_from_text ("travel X 250 .\ntravel Y 100 .\ntravel X 100 . . reversed\noutside X 100 .\n"
                        "position X 5 .\ntravel X . .");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  double u;

  ck_assert_double_eq_tol (trammel_adjustment_predict (adjustment, &g_array_index (asked, TrammelReading, 0), &u),
                           250.25, 1e-11);
  ck_assert_double_eq_tol (u, 0.05, 1e-13);
  for (guint i = 1; i < asked->len; i++)
    {
      ck_assert (isnan (trammel_adjustment_predict (adjustment, &g_array_index (asked, TrammelReading, i), &u)));
      ck_assert (isnan (u));
    }
}
END_TEST

/* e 0.001, lash 0.2, datum 2, bead 0.1, shrink 0.002 fixed: what remains after correction. */
START_TEST (predicts_the_corrected_machine)
{
  g_autoptr (GArray) rows
      = rows_from_text ("position X 0 1.9 . +\nposition X 100 102 . +\nposition X 0 2.1 . -\noutside X 100 100.0998\n"
                        "outside X 50 50.1499\ntravel X 100 100.1");
  g_autoptr (GArray) asked = rows_from_text ("position X 50 . . +\noutside X 100 .\ntravel X 70 . . reversed\n"
                                             "travel Y 70 .\nheight Z 10 .\nposition X 50 . . . b");
  static const double wanted[] = { 52, 100, 70, 70, NAN, NAN };
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[2];
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  state (&input, stated, "shrink", 0.002, 0);
  state (&input, stated, "bead", 0.1, 0);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0.001, 1e-6);
  for (guint i = 0; i < asked->len; i++)
    {
      double found = trammel_adjustment_predict_corrected (adjustment, &g_array_index (asked, TrammelReading, i));
      if (isnan (wanted[i]))
        ck_assert (isnan (found));
      else
        ck_assert_double_eq_tol (found, wanted[i], 1e-3);
    }
}
END_TEST

/* Estimated with a stated value of small u is the same as with it fixed; of great u, the same as without it. */
START_TEST (stated_values_join_an_estimated_fit)
{
  g_autoptr (GArray) rows
      = rows_from_text ("travel X 100 100.12\ntravel X 100 99.83 . reversed\ntravel X 150 150.1\ntravel X 150 149.93 . "
                        "reversed\ntravel X 80 80.07\ntravel X 80 79.88 . reversed");
  TrammelStated narrow[1], fixed[1], wide[1];
  TrammelAdjustmentInput plain = input_for (rows);
  plain.scatter = TRAMMEL_SCATTER_ESTIMATED;
  TrammelAdjustmentInput with_narrow = plain, with_fixed = plain, with_wide = plain;
  state (&with_narrow, narrow, "lash.X", 0.3, 1e-8);
  state (&with_fixed, fixed, "lash.X", 0.3, 0);
  state (&with_wide, wide, "lash.X", 0.3, 1e6);
  g_autoptr (TrammelAdjustment) a = adjust (&plain);
  g_autoptr (TrammelAdjustment) b = adjust (&with_wide);
  g_autoptr (TrammelAdjustment) c = adjust (&with_narrow);
  g_autoptr (TrammelAdjustment) d = adjust (&with_fixed);

  ck_assert_double_eq_tol (parameter (b, "scale.X")->value, parameter (a, "scale.X")->value, 1e-12);
  ck_assert_double_eq_tol (parameter (b, "scale.X")->u / parameter (a, "scale.X")->u, 1, 1e-8);
  ck_assert_double_eq_tol (parameter (b, "scale.X")->high, parameter (a, "scale.X")->high, 1e-10);
  ck_assert_double_eq_tol (parameter (c, "scale.X")->value, parameter (d, "scale.X")->value, 1e-10);
  ck_assert_double_eq_tol (parameter (c, "scale.X")->u / parameter (d, "scale.X")->u, 1, 1e-8);
  ck_assert_int_eq (trammel_adjustment_dof (a), 4);
  ck_assert_int_eq (trammel_adjustment_dof (d), 5);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("adjustment");
  TCase *values = tcase_create ("values");
  TCase *ways = tcase_create ("ways");

  tcase_add_loop_test (values, five_cases, 0, G_N_ELEMENTS (cases));
  tcase_add_test (values, certified_line);
  tcase_add_test (values, weighted_mean_by_hand);
  tcase_add_test (values, birge_ratio_by_hand);
  tcase_add_test (values, lash_and_datums_from_positions);
  tcase_add_test (values, lash_from_reversed_travel);
  tcase_add_test (values, lash_from_reversals);
  tcase_add_test (values, fixed_values_have_no_uncertainty);
  tcase_add_test (values, learned_by_hand);
  tcase_add_test (values, less_is_known_than_was_stated);
  tcase_add_test (values, u_comes_from_row_instrument_or_default);
  tcase_add_test (values, predicts_with_uncertainty);
  tcase_add_test (values, predicts_the_corrected_machine);
  tcase_add_test (ways, order_of_readings_does_not_matter);
  tcase_add_test (ways, unit_of_length_does_not_matter);
  tcase_add_test (ways, stated_values_join_an_estimated_fit);
  suite_add_tcase (suite, values);
  suite_add_tcase (suite, ways);
  return run_suite (suite);
}
