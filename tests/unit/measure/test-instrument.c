/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Instruments beyond their u: resolution, scale and warmth; and repeated readings. Values by hand. */
#include "rows.h"

#include "measure/model-private.h"

static TrammelInstrument
instrument (const char *name, double u)
{
  return (TrammelInstrument){ .name = g_ref_string_new_intern (name), .u = u };
}

static const char *const every_kind
    = "outside X 100 1 . . . caliper\noutside X+Y 141 1 . . . caliper\noutside X+Y+Z 120 1 . . . caliper\n"
      "inside Y 80 1 . . . ruler\ncenter X-Z 60 1 . . . ruler\nheight Z 12 1 . . . caliper\n"
      "travel X 150 1 . reversed . caliper\ntravel E 55 1 . . . ruler\nposition X 70 1 . + . dial\n"
      "position Y -3 1 . - left dial\ntravel Y 90 1";

/* Central differences of second order: the step's square and the rounding over the step, each below 1e-7 here. */
static void
check_derivatives (const TrammelUnknowns *unknowns, double *values, const TrammelReading *reading)
{
  int datum = reading->kind == TRAMMEL_READING_POSITION ? trammel_unknowns_datum (unknowns, reading) : -1;
  TrammelModelRow row, above, below;

  trammel_model_evaluate (unknowns, values, reading, datum, &row);
  ck_assert (row.complete);
  for (guint i = 0; i < unknowns->n; i++)
    {
      const double kept = values[i], step = 1e-5;
      double analytic = 0;
      for (guint k = 0; k < row.n; k++)
        analytic += row.parameter[k] == (int)i ? row.derivative[k] : 0;
      values[i] = kept + step;
      trammel_model_evaluate (unknowns, values, reading, datum, &above);
      values[i] = kept - step;
      trammel_model_evaluate (unknowns, values, reading, datum, &below);
      values[i] = kept;
      ck_assert_double_eq_tol (analytic, (above.predicted - below.predicted) / (2 * step), 1e-6);
    }
}

START_TEST (derivatives_are_those_of_differences)
{
  g_autoptr (GArray) rows = rows_from_text (every_kind);
  TrammelInstrument instruments[] = { instrument ("caliper", 0.03), instrument ("ruler", 0.2), instrument ("dial", 1) };
  TrammelAdjustmentInput input = input_for (rows);
  TrammelUnknowns unknowns;

  instruments[0].scale_u = instruments[2].scale_u = 0.01;
  instruments[0].thermal = (TrammelThermal){ 1e-3, 400, TRUE };
  instruments[1].thermal = (TrammelThermal){ 5e-4, -80, TRUE };
  input.instruments = instruments;
  input.n_instruments = G_N_ELEMENTS (instruments);
  input.part = (TrammelThermal){ 2e-4, 120, TRUE };
  trammel_unknowns_init (&unknowns);
  trammel_unknowns_take_instruments (&unknowns, &input);
  for (guint i = 0; i < rows->len; i++)
    ck_assert (trammel_unknowns_touch (&unknowns, &g_array_index (rows, TrammelReading, i)));
  ck_assert (trammel_unknowns_arrange (&unknowns, &input, NULL));
  g_autofree double *values = g_new (double, unknowns.n);
  for (guint i = 0; i < unknowns.n; i++)
    values[i] = 0.01 + 0.003 * i;
  for (guint i = 0; i < rows->len; i++)
    check_derivatives (&unknowns, values, &g_array_index (rows, TrammelReading, i));
  trammel_unknowns_clear (&unknowns);
}
END_TEST

/* JCGM 100:2008, F.2.2.1: δx = 0.1 gives u = 0.29·0.1; here 0.01/√12 = 0.0028868. With u = 0.03: √(0.0009 + 1e-4/12).
 */
START_TEST (resolution_adds_to_u)
{
  g_autoptr (GArray) rows
      = rows_from_text ("travel X 100 100 . . . caliper\ntravel X 100 100 0.001 . . caliper\ntravel X 100 100");
  TrammelInstrument caliper = instrument ("caliper", 0.03);
  TrammelAdjustmentInput input = input_for (rows);

  caliper.resolution = 0.01;
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, NULL);
  ck_assert_double_eq_tol (trammel_resolution_u (0.1), 0.0288675134594813, 1e-15);
  ck_assert_double_eq_tol (fitted[0].u, sqrt (0.0009 + 1e-4 / 12), 1e-15);
  ck_assert_double_eq_tol (fitted[1].u, sqrt (1e-6 + 1e-4 / 12), 1e-15);
  ck_assert_double_eq (fitted[2].u, TRAMMEL_DEFAULT_U);
}
END_TEST

/* One travel of 100 read as 100.2 with a scale known to 0.001: 100 (1 + e)(1 + s) = 100.2, s = 0 as stated, e = 0.002.
 * u² of e: (0.03/100)² + (1.002·0.001)², to first order about the solution. */
START_TEST (nobody_knows_better_than_the_ruler)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.2 . . . caliper");
  TrammelInstrument caliper = instrument ("caliper", 0.03);
  TrammelAdjustmentInput input = input_for (rows);

  caliper.scale_u = 0.001;
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelParameter *scale = parameter (adjustment, "scale.X");
  const TrammelParameter *own = parameter (adjustment, "instrument.caliper");
  ck_assert_double_eq_tol (scale->value, 0.002, 1e-13);
  ck_assert_double_eq_tol (scale->u, hypot (0.0003, 0.001002), 1e-12);
  ck_assert_double_eq_tol (own->value, 0, 1e-13);
  ck_assert_double_eq_tol (own->u, 0.001, 1e-13);
  ck_assert_double_eq_tol (own->learned, 0, 1e-9);
  ck_assert (own->has_stated && !own->stated_is_default && own->kind == TRAMMEL_PARAMETER_INSTRUMENT);
  ck_assert_ptr_nonnull (strstr (trammel_adjustment_warnings (adjustment)[0], "caliper"));
  ck_assert_ptr_nonnull (strstr (trammel_adjustment_warnings (adjustment)[0], "0.1 %"));
}
END_TEST

/* A thousand readings narrow u to that of the scale and no further; a second instrument without fault tells. */
START_TEST (many_readings_do_not_help)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.2 . . . caliper");
  TrammelInstrument caliper = instrument ("caliper", 0.03);
  TrammelAdjustmentInput input;

  for (int i = 0; i < 999; i++)
    add_row (rows, "travel X 100 100.2 . . . caliper");
  caliper.scale_u = 0.001;
  input = input_for (rows);
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  ck_assert_double_gt (parameter (adjustment, "scale.X")->u, 0.001);
  ck_assert_double_lt (parameter (adjustment, "scale.X")->u, 0.00101);

  add_row (rows, "travel X 100 100.0 0.001");
  input = input_for (rows);
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) better = adjust (&input);
  ck_assert_double_lt (parameter (better, "scale.X")->u, 0.0001);
  ck_assert_double_eq_tol (parameter (better, "instrument.caliper")->value, 0.002, 1e-4);
}
END_TEST

/* A steel rule (1.15e-5 per °C, common practice) at 30 °C is 1.000115 times as long, so it shows 1/1.000115 of a
 * length; a part with 7e-5 per °C at 25 °C is 1.00035 times as long as at 20 °C. */
START_TEST (readings_are_corrected_to_20_degrees)
{
  g_autoptr (GArray) rows
      = rows_from_text ("travel X 100 99.98850132234791 0.01 . . rule\ncenter X 100 99.82345851275048 0.01 . . "
                        "rule\ncenter X 100 99.83494222978041 0.01");
  TrammelInstrument rule = instrument ("rule", 0.03);
  TrammelStated shrink = { g_ref_string_new_intern ("shrink"), 0.002, 0 };
  TrammelAdjustmentInput input = input_for (rows);

  rule.thermal = (TrammelThermal){ 1.15e-5, 30, TRUE };
  input.part = (TrammelThermal){ 7e-5, 25, TRUE };
  input.instruments = &rule;
  input.n_instruments = 1;
  input.stated = &shrink;
  input.n_stated = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, NULL);
  /* 100/1.000115; 99.8/(1 + 0.000115 − 0.00035); 99.8/(1 − 0.00035) */
  ck_assert_double_eq_tol (fitted[0].predicted, 99.98850132234791, 1e-9);
  ck_assert_double_eq_tol (fitted[1].predicted, 99.82345851275048, 1e-9);
  ck_assert_double_eq_tol (fitted[2].predicted, 99.83494222978041, 1e-9);
  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0, 1e-11);
}
END_TEST

/* Nothing that is not given changes anything, not even the last bit. */
START_TEST (without_details_nothing_changes)
{
  g_autoptr (GArray) rows = rows_from_text ("outside X 100 99.71 . . . caliper\noutside Y 100 100.2 . . . caliper\n"
                                            "inside X 80 79.3 . . . caliper\ninside Y 80 80.1 0.02 . . caliper");
  TrammelInstrument caliper = instrument ("caliper", 0.03);
  TrammelAdjustmentInput input = input_for (rows);
  gsize n, n_again;

  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  caliper.thermal.expansion = 1e-5; /* no temperature: nothing to correct */
  input.part.has_temperature = TRUE;
  input.part.temperature = 35;
  g_autoptr (TrammelAdjustment) again = adjust (&input);
  const TrammelParameter *before = trammel_adjustment_parameters (adjustment, &n);
  const TrammelParameter *after = trammel_adjustment_parameters (again, &n_again);
  ck_assert_uint_eq (n, n_again);
  for (gsize i = 0; i < n; i++)
    {
      ck_assert_double_eq (before[i].value, after[i].value);
      ck_assert_double_eq (before[i].u, after[i].u);
    }
}
END_TEST

START_TEST (what_makes_no_sense_is_not_used)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100 . . . caliper");
  TrammelInstrument caliper = instrument ("caliper", 0.03);
  TrammelAdjustmentInput input = input_for (rows);

  caliper.scale_u = NAN;
  caliper.resolution = 1;
  input.part.expansion = -1;
  input.instruments = &caliper;
  input.n_instruments = 1;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  ck_assert_ptr_null (trammel_adjustment_parameter (adjustment, "instrument.caliper"));
  ck_assert_double_eq (trammel_adjustment_fitted (adjustment, NULL)[0].u, 0.03);
  ck_assert (!trammel_thermal_is_usable (&(TrammelThermal){ 1e-5, NAN, TRUE }));
  ck_assert (!trammel_thermal_is_usable (&(TrammelThermal){ 0.1, 0, FALSE }));
  ck_assert (trammel_thermal_is_usable (&(TrammelThermal){ 0 }));
}
END_TEST

/* Means 1.1, 2.5, 3.1 at 1, 2, 3; slope 1; lack of fit 2 (4² + 8² + 4²)/30² = 192/900 = 0.213333 with 1 degree
 * of freedom, pure error 6·0.01 = 0.06 with 3: F = 32/3. p from Student's t with 3 degrees in closed form:
 * 1 − 2/π (θ + sin θ cos θ), tan θ = √(F/3). */
START_TEST (pure_error_and_lack_of_fit_by_hand)
{
  g_autoptr (GArray) rows = rows_from_text ("position X 1 1.0\nposition X 2 2.6\nposition X 3 3.0\n"
                                            "position X 3 3.2\nposition X 2 2.4\nposition X 1 1.2");
  TrammelAdjustmentInput input = input_for (rows);

  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelRepeats *repeats = trammel_adjustment_repeats (adjustment);
  const double angle = atan (sqrt (32.0 / 9));
  ck_assert_ptr_nonnull (repeats);
  ck_assert_uint_eq (repeats->n_groups, 3);
  ck_assert_int_eq (repeats->pure_error_dof, 3);
  ck_assert_double_eq_tol (repeats->pure_error_ss, 0.06, 1e-13);
  ck_assert_double_eq_tol (repeats->lack_of_fit_dof, 1, 1e-12);
  ck_assert_double_eq_tol (repeats->lack_of_fit_ss, 192.0 / 900, 1e-13);
  ck_assert_double_eq_tol (repeats->f, 32.0 / 3, 1e-10);
  ck_assert_double_eq_tol (repeats->p_value, 1 - 2 / G_PI * (angle + sin (angle) * cos (angle)), 1e-12);
  ck_assert_ptr_nonnull (strstr (trammel_adjustment_warnings (adjustment)[0], "10.7"));
}
END_TEST

START_TEST (only_the_same_thing_is_a_repeat)
{
  g_autoptr (GArray) rows
      = rows_from_text ("position X 1 1 . +\nposition X 1 1.1 . -\nposition X 1 1.2 . + other\nposition X 1 1.3 . + . "
                        "dial\nposition X 9 9 . +\nposition X 9 9 . -\nposition Y 1 1\nposition Y 2 2\noutside X 1 1\n"
                        "inside X 1 1");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_ptr_null (trammel_adjustment_repeats (adjustment));
  add_row (rows, "position X 1 1.3 . + . dial");
  input = input_for (rows);
  g_autoptr (TrammelAdjustment) repeated = adjust (&input);
  ck_assert_int_eq (trammel_adjustment_repeats (repeated)->pure_error_dof, 1);
  ck_assert_double_eq (trammel_adjustment_repeats (repeated)->pure_error_ss, 0);
  ck_assert (isnan (trammel_adjustment_repeats (repeated)->f));
  input.robust = TRUE;
  g_autoptr (TrammelAdjustment) robust = adjust (&input);
  ck_assert_ptr_null (trammel_adjustment_repeats (robust));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("instrument");
  TCase *cases = tcase_create ("instrument");

  tcase_add_test (cases, derivatives_are_those_of_differences);
  tcase_add_test (cases, resolution_adds_to_u);
  tcase_add_test (cases, nobody_knows_better_than_the_ruler);
  tcase_add_test (cases, many_readings_do_not_help);
  tcase_add_test (cases, readings_are_corrected_to_20_degrees);
  tcase_add_test (cases, without_details_nothing_changes);
  tcase_add_test (cases, what_makes_no_sense_is_not_used);
  tcase_add_test (cases, pure_error_and_lack_of_fit_by_hand);
  tcase_add_test (cases, only_the_same_thing_is_a_repeat);
  suite_add_tcase (suite, cases);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed > 0;
}
