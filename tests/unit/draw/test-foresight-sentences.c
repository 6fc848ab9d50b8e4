/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/budget-bar.h"
#include "draw/foresight-sentences.h"

#include <check.h>
#include <math.h>
#include <stdlib.h>

#include "pixels.h"

static TrammelBudgetLine
line_of_kind (TrammelReadingKind kind, const char *instrument, double share)
{
  return (TrammelBudgetLine){ .letter = 'Y',
                              .kind = kind,
                              .instrument = instrument != NULL ? g_ref_string_new_intern (instrument) : NULL,
                              .share = share };
}

START_TEST (sources_in_words)
{
  char bead[] = "bead";
  const TrammelBudgetLine stated = { .letter = 'Y', .is_stated = TRUE, .parameter = bead, .share = 0.3 };
  const TrammelBudgetLine lines[] = { line_of_kind (TRAMMEL_READING_OUTSIDE, "caliper", 0.697), stated,
                                      line_of_kind (TRAMMEL_READING_TRAVEL, NULL, 0.003) };
  g_autofree char *several = trammel_sentences_budget (lines, G_N_ELEMENTS (lines));
  ck_assert_str_eq (several, "1 Outside, caliper 70 %   2 Bead, as stated 30 %");

  const TrammelBudgetLine alone[] = { line_of_kind (TRAMMEL_READING_TRAVEL, NULL, 0.998),
                                      line_of_kind (TRAMMEL_READING_OUTSIDE, "caliper", 0.002) };
  g_autofree char *one = trammel_sentences_budget (alone, G_N_ELEMENTS (alone));
  ck_assert_str_eq (one, "Travel 100 %");
}
END_TEST

START_TEST (segments_lie_where_their_shares_say)
{
  /* 200 wide: 60 % to 120, 30 % to 180, and 10 % of sources too small to show */
  const TrammelBudgetLine lines[]
      = { line_of_kind (TRAMMEL_READING_TRAVEL, NULL, 0.6), line_of_kind (TRAMMEL_READING_OUTSIDE, NULL, 0.3),
          line_of_kind (TRAMMEL_READING_INSIDE, NULL, 0.004) };
  ck_assert_uint_eq (trammel_budget_bar_segments (lines, G_N_ELEMENTS (lines)), 2);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 200, 18);
  cairo_t *cr = cairo_create (surface);
  trammel_budget_bar_paint (cr, 200, 18, lines, G_N_ELEMENTS (lines), trammel_palette (FALSE), NULL);
  cairo_destroy (cr);
  cairo_surface_flush (surface);

  const guint32 first = pixel_at (surface, 5, 2), second = pixel_at (surface, 150, 2),
                rest = pixel_at (surface, 190, 2);
  ck_assert_uint_eq (first, 0xffd55e00); /* Okabe–Ito vermilion, of Y */
  ck_assert_uint_ne (second, first);
  ck_assert_uint_ne (second, rest);
  ck_assert_uint_eq (pixel_at (surface, 117, 2), first);
  ck_assert_uint_eq (pixel_at (surface, 121, 2), second);
  ck_assert_uint_eq (pixel_at (surface, 178, 2), second);
  ck_assert_uint_eq (pixel_at (surface, 182, 2), rest);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (next_in_words)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelMachine) machine = trammel_machine_with_axis_inserted (empty, 0, axis, NULL);
  TrammelNext next = { .letter = 'X', .u_now = 0.01, .u_after = 0.001 };
  trammel_reading_init (&next.reading);
  ck_assert (trammel_reading_set_text (&next.reading, TRAMMEL_COLUMN_KIND, "travel", 1, NULL));
  ck_assert (trammel_reading_set_text (&next.reading, TRAMMEL_COLUMN_ALONG, "X", 1, NULL));
  ck_assert (trammel_reading_set_text (&next.reading, TRAMMEL_COLUMN_NOMINAL, "150", 1, NULL));
  g_autofree char *act = trammel_sentences_next_act (machine, &next);
  ck_assert_str_eq (act, "tell X to move 150 mm and measure how far it went");

  /* 95 %: 1.96 u */
  TrammelReading row;
  trammel_reading_copy (&next.reading, &row);
  row.measured = 150;
  const TrammelAdjustmentInput input = { .axes = "X", .readings = &row, .n_readings = 1 };
  g_autoptr (TrammelAdjustment) adjustment = trammel_adjustment_new (&input, NULL, NULL);
  g_autofree char *known = trammel_sentences_next (machine, adjustment, &next);
  ck_assert_str_eq (known, "X is known to ± 2 %. Tell X to move 150 mm and measure how far it went: then ± 0.2 %.");
  next.u_now = NAN;
  g_autofree char *unknown = trammel_sentences_next (machine, adjustment, &next);
  ck_assert_str_eq (unknown, "Nothing is known of X. Tell X to move 150 mm and measure how far it went: then ± 0.2 %.");
  trammel_reading_clear (&row);
  trammel_reading_clear (&next.reading);
}
END_TEST

START_TEST (plan_in_words)
{
  /* Outside 100 mm alone, default stated values, u 0.05: u = √(0.05² + 0.3² + 0.4²)/99.8 = 0.005035; 1.96 u = 0.99 % */
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelMachine) machine = trammel_machine_with_axis_inserted (empty, 0, axis, NULL);
  GArray *rows = trammel_reading_array_new (1);
  TrammelReading row;
  trammel_reading_init (&row);
  ck_assert (trammel_reading_set_text (&row, TRAMMEL_COLUMN_KIND, "outside", 1, NULL));
  ck_assert (trammel_reading_set_text (&row, TRAMMEL_COLUMN_ALONG, "X", 1, NULL));
  ck_assert (trammel_reading_set_text (&row, TRAMMEL_COLUMN_NOMINAL, "100", 1, NULL));
  g_array_append_val (rows, row);
  g_autoptr (TrammelReadings) planned = trammel_readings_take (rows);
  g_autoptr (TrammelAdjustment) plan = trammel_machine_plan (machine, planned, NULL);
  ck_assert_ptr_nonnull (plan);
  g_autofree char *words = trammel_sentences_plan (machine, planned, plan);
  ck_assert_str_eq (words, "Measured with u 0.05 mm, this piece will tell X to ± 0.99 %.");

  const TrammelInstrument caliper = { g_ref_string_new_intern ("caliper"), 0.03 };
  g_autoptr (TrammelMachine) equipped = trammel_machine_with_instruments (machine, &caliper, 1);
  g_ref_string_release (caliper.name);
  g_autoptr (TrammelAdjustment) finer = trammel_machine_plan (equipped, planned, NULL);
  g_autofree char *with_caliper = trammel_sentences_plan (equipped, planned, finer);
  ck_assert_str_eq (with_caliper, "Measured with the caliper (u 0.03 mm), this piece will tell X to ± 0.98 %.");
  ck_assert_double_eq_tol (trammel_adjustment_axis (finer, 'X')->u, sqrt (0.2509) / 99.8, 1e-9);
}
END_TEST

/* A line at both ends of a gap that the vernier tells to 0.0144 mm, beside a lash stated as 0 ± 1 mm: u is
 * 0.0144/√(1 + 0.0144²) = 0.0143985 mm, times 1.96 is 0.02822 mm, 0.001111 in. */
START_TEST (plan_of_play_in_words)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelAxis) axis = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelMachine) machine = trammel_machine_with_axis_inserted (empty, 0, axis, NULL);
  g_autoptr (TrammelMachine) inch
      = trammel_machine_with_display_unit (machine, trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in"));
  GArray *rows = trammel_reading_array_new (1);
  TrammelReading row;
  trammel_reading_init (&row);
  ck_assert (trammel_reading_set_text (&row, TRAMMEL_COLUMN_KIND, "reversal", 1, NULL));
  ck_assert (trammel_reading_set_text (&row, TRAMMEL_COLUMN_ALONG, "X", 1, NULL));
  ck_assert (trammel_reading_set_text (&row, TRAMMEL_COLUMN_U, "0.0144", 1, NULL));
  g_array_append_val (rows, row);
  g_autoptr (TrammelReadings) planned = trammel_readings_take (rows);
  g_autoptr (TrammelAdjustment) plan = trammel_machine_plan (machine, planned, NULL);
  ck_assert_ptr_nonnull (plan);
  g_autofree char *words = trammel_sentences_plan (machine, planned, plan);
  ck_assert_str_eq (words, "Read off the lines (u 0.014 mm), this piece will tell the lash of X to ± 0.028 mm.");
  g_autofree char *in_inches = trammel_sentences_plan (inch, planned, plan);
  ck_assert_str_eq (in_inches, "Read off the lines (u 0.00057 in), this piece will tell the lash of X to ± 0.0011 in.");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("foresight-sentences");
  TCase *tests = tcase_create ("foresight-sentences");
  tcase_add_test (tests, sources_in_words);
  tcase_add_test (tests, segments_lie_where_their_shares_say);
  tcase_add_test (tests, next_in_words);
  tcase_add_test (tests, plan_in_words);
  tcase_add_test (tests, plan_of_play_in_words);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
