/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adjustments of mis-read, missing, contradicting and absurd readings. */
#include "rows.h"

#include "base/error.h"

/* Ten travels within a few hundredths and one mis-read by 3 mm. */
static const char *const misread = "travel X 100 100.02\ntravel X 100 99.97\ntravel X 100 100.01\ntravel X 100 100.03\n"
                                   "travel X 100 99.99\ntravel X 100 97\ntravel X 100 99.96\ntravel X 100 100.0\n"
                                   "travel X 100 100.04\ntravel X 100 99.98\ntravel X 100 100.01";

static void
assert_only_suspect (const TrammelAdjustment *adjustment, gsize suspect)
{
  gsize n;
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n);

  for (gsize i = 0; i < n; i++)
    ck_assert_msg (fitted[i].suspect == (i == suspect), "reading %u", (guint)i);
}

START_TEST (suspects_the_misread_value)
{
  g_autoptr (GArray) rows = rows_from_text (misread);
  TrammelAdjustmentInput input = input_for (rows);

  input.scatter = _i == 0 ? TRAMMEL_SCATTER_STATED : TRAMMEL_SCATTER_ESTIMATED;
  g_autoptr (TrammelAdjustment) plain = adjust (&input);
  assert_only_suspect (plain, 5);
  ck_assert (warns_of (plain, "Row 6 (Travel X 100 mm, measured 97 mm)"));

  input.robust = TRUE;
  g_autoptr (TrammelAdjustment) robust = adjust (&input);
  assert_only_suspect (robust, 5);
  ck_assert (warns_of (robust, "Row 6"));
  const TrammelFitted *fitted = trammel_adjustment_fitted (robust, NULL);
  ck_assert_double_eq (fitted[5].weight, 0);
  ck_assert_double_gt (fitted[2].weight, 0.9);
  /* The ten others: mean 100.001. */
  ck_assert_double_eq_tol (parameter (robust, "scale.X")->value, 0.00001, 0.00005);
  ck_assert_double_gt (fabs (parameter (plain, "scale.X")->value), 0.002);
  ck_assert (trammel_adjustment_is_robust (robust));
}
END_TEST

/* Seven good travels in X give the scale; two in E contradict each other by 10 mm and neither can be trusted. */
START_TEST (contradicting_readings_leave_an_unknown_open)
{
  g_autoptr (GArray) rows = rows_from_text (
      "travel E 50 50\ntravel E 50 60\ntravel X 100 100.01\ntravel X 100 100.02\ntravel X 100 100.03\n"
      "travel X 100 100.04\ntravel X 100 100.05\ntravel X 100 100.06\ntravel X 100 100.07");
  TrammelAdjustmentInput input = input_for (rows);
  input.robust = TRUE;
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);

  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0.0004, 1e-9);
  ck_assert_double_lt (parameter (adjustment, "scale.X")->u, 0.0003);
  ck_assert_double_gt (parameter (adjustment, "scale.E")->u, 0.1);
  ck_assert (!trammel_adjustment_axis (adjustment, 'E')->significant);
  ck_assert (warns_of (adjustment, "contradict each other"));
}
END_TEST

/* What a damaged or absurd input may hold: an answer with finite numbers or a refusal, never anything else. */
static const char *const absurd[] = {
  "outside X 100 100 1e-9\noutside X 100 100 1e9",
  "position X 0 100\nposition X 1e-300 100",
  "position X 1e9 -1e9\nposition X -1e9 1e9\nposition X 0 0 1e-9",
  "travel X 1e-6 1e9\ntravel X 1e9 1e-6",
  "travel X+Y+Z 1 1000\ntravel X-Y 1e6 1\ntravel X 5 -5\ntravel Y 1 0",
  "outside XY@1e-9 100 100\ninside XY@89.9999999 100 100\nheight Z 1e-6 1e9",
};

START_TEST (absurd_readings_do_no_harm)
{
  g_autoptr (GArray) rows = rows_from_text (absurd[_i]);
  TrammelAdjustmentInput input = input_for (rows);
  TrammelStated stated[3];

  state (&input, stated, "bead", 1e8, 1e-200);
  state (&input, stated, "shrink", 0.4, 1e-11);
  state (&input, stated, "skew.XY", 0.5, 1e300);
  for (int way = 0; way < 4; way++)
    {
      g_autoptr (GError) error = NULL;
      gsize n;
      input.scatter = way & 1 ? TRAMMEL_SCATTER_ESTIMATED : TRAMMEL_SCATTER_STATED;
      input.robust = (way & 2) != 0;
      g_autoptr (TrammelAdjustment) adjustment = trammel_adjustment_new (&input, NULL, &error);
      ck_assert ((adjustment == NULL) == (error != NULL));
      if (adjustment == NULL)
        continue;
      const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
      for (gsize i = 0; i < n; i++)
        ck_assert_msg (isfinite (parameters[i].value) && isfinite (parameters[i].u), "%s", parameters[i].name);
    }
}
END_TEST

START_TEST (rounding_is_never_suspect)
{
  g_autoptr (GArray) rows = trammel_reading_array_new (0);

  for (int i = 1; i <= 40; i++)
    {
      g_autofree char *line = g_strdup_printf ("travel X %d %.17g", i * 3, i * 3 * 1.0007);
      add_row (rows, line);
    }
  TrammelAdjustmentInput input = input_for (rows);
  g_array_index (rows, TrammelReading, 7).measured += 1e-12;
  for (int way = 0; way < 4; way++)
    {
      input.scatter = way & 1 ? TRAMMEL_SCATTER_ESTIMATED : TRAMMEL_SCATTER_STATED;
      input.robust = (way & 2) != 0;
      g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
      assert_only_suspect (adjustment, G_MAXSIZE);
      ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0.0007, 1e-13);
    }
}
END_TEST

START_TEST (incomplete_rows_are_left_out)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100.1\ntravel X 100 .\noutside Y 100 .\ntravel X . 3");
  TrammelAdjustmentInput input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, NULL);

  ck_assert_uint_eq (trammel_adjustment_n_used (adjustment), 1);
  ck_assert_uint_eq (trammel_adjustment_n_skipped (adjustment), 3);
  ck_assert (isnan (fitted[1].predicted) && isnan (fitted[3].predicted));
  ck_assert_ptr_null (trammel_adjustment_parameter (adjustment, "scale.Y"));
  ck_assert_ptr_null (trammel_adjustment_axis (adjustment, 'Y'));
  ck_assert (warns_of (adjustment, "3 rows are not complete"));
}
END_TEST

/* Home readings, good, waiting, along a diagonal or an axis that is not there, change nothing and count as nothing. */
START_TEST (homes_take_no_part)
{
  static const char sizes[] = "outside X 100 99.8 0.03\ninside X 80 79.7 0.03\ntravel X 100 99.9 0.02\n"
                              "travel X 100 99.93 0.02 reversed\nposition Y 0 0.1 0.01 +\nposition Y 50 50.2 0.01 +\n";
  g_autoptr (GArray) without = rows_from_text (sizes);
  g_autoptr (GArray) with = rows_from_text (sizes);
  gsize n, n_with;

  add_row (with, "home X . 0.02 . - fast");
  add_row (with, "home X 0 0.03 0.001 - fast dial");
  add_row (with, "home Z . .");
  add_row (with, "home X+Y . 0.02");
  add_row (with, "home Q . 0.02");
  for (int way = 0; way < 2; way++)
    {
      TrammelAdjustmentInput input = input_for (without), more = input_for (with);
      TrammelStated stated[2], stated_more[2];
      input.robust = more.robust = way == 1;
      state (&input, stated, "shrink", 0.002, 0.003);
      state (&more, stated_more, "shrink", 0.002, 0.003);
      g_autoptr (TrammelAdjustment) plain = adjust (&input);
      g_autoptr (TrammelAdjustment) same = adjust (&more);
      const TrammelParameter *wanted = trammel_adjustment_parameters (plain, &n);
      const TrammelParameter *found = trammel_adjustment_parameters (same, &n_with);
      ck_assert_uint_eq (n, n_with);
      for (gsize i = 0; i < n; i++)
        {
          ck_assert_str_eq (found[i].name, wanted[i].name);
          ck_assert_double_eq (found[i].value, wanted[i].value);
          ck_assert_double_eq (found[i].u, wanted[i].u);
        }
      ck_assert_uint_eq (trammel_adjustment_n_used (same), 6);
      ck_assert_uint_eq (trammel_adjustment_n_skipped (same), 0);
      ck_assert (!warns_of (same, "not complete") && !warns_of (same, "dial"));
      const TrammelFitted *fitted = trammel_adjustment_fitted (same, &n);
      ck_assert_uint_eq (n, 11);
      ck_assert (isnan (fitted[6].predicted) && isnan (fitted[6].residual) && !fitted[6].suspect);
      ck_assert (isnan (trammel_adjustment_predict (same, &g_array_index (with, TrammelReading, 6), NULL)));
      ck_assert (isnan (trammel_adjustment_predict_corrected (same, &g_array_index (with, TrammelReading, 7))));
    }
}
END_TEST

static const struct
{
  const char *rows;
  TrammelScatter scatter;
  int code;
  const char *words;
} refusals[] = {
  { "", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_DATA, "no complete reading" },
  { "travel X 100 .", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_DATA, "no complete reading" },
  { "home X . 0.1\nhome X . 0.11", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_DATA, "no complete reading" },
  { "travel X 100 100\ntravel Q 100 100", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_DATA,
    "readings[1]: there is no axis Q" },
  { "travel X 100 100\nheight X 100 100", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_DATA,
    "readings[1]: found X; a height" },
  { "travel X 100 1e300", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_DATA, "readings[0]: " },
  { "position X 100 100", TRAMMEL_SCATTER_STATED, TRAMMEL_ERROR_UNSEPARABLE, "scale.X, datum.X" },
  { "position X 100 100\nposition X 100 101\nposition X 100 99", TRAMMEL_SCATTER_ESTIMATED, TRAMMEL_ERROR_UNSEPARABLE,
    "scale.X, datum.X" },
  { "outside X 100 100\noutside X 50 50.1\noutside X 70 70.1\ntravel Y 5 5", TRAMMEL_SCATTER_ESTIMATED,
    TRAMMEL_ERROR_UNSEPARABLE, "scale.X, shrink" },
  { "travel X+Y 100 100\ntravel X-Y 100 100\ntravel X+Y 90 90\ntravel X-Y 50 50", TRAMMEL_SCATTER_ESTIMATED,
    TRAMMEL_ERROR_UNSEPARABLE, "scale.X, scale.Y" },
  { "travel X 100 100", TRAMMEL_SCATTER_ESTIMATED, TRAMMEL_ERROR_DATA, "too few" },
};

START_TEST (refuses_what_it_cannot_fit)
{
  g_autoptr (GArray) rows = rows_from_text (refusals[_i].rows);
  g_autoptr (GError) error = NULL;
  TrammelAdjustmentInput input = input_for (rows);

  input.scatter = refusals[_i].scatter;
  ck_assert_ptr_null (trammel_adjustment_new (&input, NULL, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, refusals[_i].code), "%s", error->message);
  ck_assert_msg (strstr (error->message, refusals[_i].words) != NULL, "%s", error->message);
}
END_TEST

START_TEST (names_only_what_cannot_be_told_apart)
{
  g_autoptr (GArray) rows
      = rows_from_text ("outside X 100 100\noutside X 50 50.1\noutside X 70 70.1\ntravel Y 5 5\ntravel Y 15 15.2");
  g_autoptr (GError) error = NULL;
  TrammelAdjustmentInput input = input_for (rows);

  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  ck_assert_ptr_null (trammel_adjustment_new (&input, NULL, &error));
  ck_assert_ptr_null (strstr (error->message, "scale.Y"));
  ck_assert_ptr_null (strstr (error->message, "bead"));
}
END_TEST

START_TEST (refuses_more_unknowns_than_it_can_hold)
{
  g_autoptr (GArray) rows = trammel_reading_array_new (0);
  g_autoptr (GError) error = NULL;

  for (int i = 0; i <= TRAMMEL_MAX_PARAMETERS; i++)
    {
      g_autofree char *line = g_strdup_printf ("position X %d %d . . set%d", i, i, i);
      add_row (rows, line);
    }
  TrammelAdjustmentInput input = input_for (rows);
  ck_assert_ptr_null (trammel_adjustment_new (&input, NULL, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));

  /* As many as it can hold, each set with two places. */
  g_array_set_size (rows, TRAMMEL_MAX_PARAMETERS - 1);
  for (int i = 0; i < TRAMMEL_MAX_PARAMETERS - 1; i++)
    {
      g_autofree char *line = g_strdup_printf ("position X %d %d . . set%d", i + 500, i + 501, i);
      add_row (rows, line);
    }
  input = input_for (rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (&input);
  ck_assert_double_eq_tol (parameter (adjustment, "scale.X")->value, 0.002, 1e-12);
}
END_TEST

START_TEST (can_be_cancelled)
{
  g_autoptr (GArray) rows = rows_from_text ("travel X 100 100");
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  TrammelAdjustmentInput input = input_for (rows);

  g_cancellable_cancel (cancellable);
  ck_assert_ptr_null (trammel_adjustment_new (&input, cancellable, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("bad-readings");
  TCase *bad = tcase_create ("bad");

  tcase_add_loop_test (bad, suspects_the_misread_value, 0, 2);
  tcase_add_test (bad, contradicting_readings_leave_an_unknown_open);
  tcase_add_loop_test (bad, absurd_readings_do_no_harm, 0, G_N_ELEMENTS (absurd));
  tcase_add_test (bad, rounding_is_never_suspect);
  tcase_add_test (bad, incomplete_rows_are_left_out);
  tcase_add_test (bad, homes_take_no_part);
  tcase_add_loop_test (bad, refuses_what_it_cannot_fit, 0, G_N_ELEMENTS (refusals));
  tcase_add_test (bad, names_only_what_cannot_be_told_apart);
  tcase_add_test (bad, refuses_more_unknowns_than_it_can_hold);
  tcase_add_test (bad, can_be_cancelled);
  tcase_set_timeout (bad, 60);
  suite_add_tcase (suite, bad);
  return run_suite (suite);
}
