/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/trial-histogram.h"
#include "draw/trial-sentences.h"

#include <stdlib.h>
#include <string.h>

#include "pixels.h"

#define WIDTH 700
#define HEIGHT 260

/* 60 bins from −0.6 % to 0 %, 0.01 % each; bin 10 (−0.50 to −0.49 %) holds a quarter of 4000 trials, bin 40 (−0.20 to
 * −0.19 %) three quarters. u is so great that the curve stays low: its peak is 0.399/1 per percent. */
static TrammelMonteCarloAxis
two_bars (void)
{
  TrammelMonteCarloAxis axis = { .letter = 'X',
                                 .low = -0.0050,
                                 .high = -0.0020,
                                 .linear_value = -0.003,
                                 .linear_u = 0.01,
                                 .linear_low = -0.0055,
                                 .linear_high = -0.0005,
                                 .freedom = HUGE_VAL,
                                 .tolerance = 0.00005,
                                 .d_low = 0.0005,
                                 .d_high = 0.0015,
                                 .low_u = 0.00001,
                                 .high_u = 0.00001,
                                 .bin_low = -0.006,
                                 .bin_width = 0.0001 };
  axis.counts[10] = 1000;
  axis.counts[40] = 3000;
  return axis;
}

static cairo_surface_t *
painted (const TrammelMonteCarloAxis *axis, TrammelPlotField *field)
{
  const TrammelTrialHistogram histogram = { axis, NULL };
  cairo_surface_t *surface = surface_new (WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);

  *field = trammel_trial_histogram_field (&histogram, cr, WIDTH, HEIGHT);
  trammel_trial_histogram_paint (&histogram, cr, WIDTH, HEIGHT, trammel_palette (FALSE));
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* The field spans −0.6 to 0 %; the taller bar is 0.75/0.01 % = 75 per percent high, with 6 % above it. */
START_TEST (bars_stand_where_and_as_high_as_they_should)
{
  const TrammelMonteCarloAxis axis = two_bars ();
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&axis, &field);
  const double width = field.right - field.left, height = field.bottom - field.top;
  const int first = (int)(field.left + width * 10.5 / 60), second = (int)(field.left + width * 40.5 / 60),
            between = (int)(field.left + width * 25.5 / 60);
  const int top_of_second = (int)lround (field.bottom - height / 1.06),
            top_of_first = (int)lround (field.bottom - height / 3 / 1.06), low = (int)field.bottom - 20;
  const guint32 ground = pixel_of (trammel_palette (FALSE)->ground), bar = pixel_at (surface, second, low);

  ck_assert_double_eq_tol (field.low_x, -0.6, 1e-12);
  ck_assert_double_eq_tol (field.high_x, 0, 1e-12);
  ck_assert_double_eq_tol (field.high_y, 1.06 * 75, 1e-9);
  ck_assert_uint_ne (bar, ground);
  ck_assert_uint_eq (pixel_at (surface, first, low), bar);
  ck_assert_uint_eq (pixel_at (surface, between, low), ground);
  ck_assert_uint_eq (pixel_at (surface, second, top_of_second + 3), bar);
  ck_assert_uint_eq (pixel_at (surface, second, top_of_second - 3), ground);
  ck_assert_uint_eq (pixel_at (surface, first, top_of_first + 3), bar);
  ck_assert_uint_eq (pixel_at (surface, first, top_of_first - 3), ground);
  cairo_surface_destroy (surface);
}
END_TEST

/* Above the bars: the trials' from −0.50 to −0.20 % in blue (Okabe–Ito, of X), the fit's from −0.55 to −0.05 % in ink.
 * Each is the only thing of its color in a row of pixels, up to where it ends. */
static void
find_extent (cairo_surface_t *surface, const TrammelPlotField *field, guint32 color, double *first, double *last)
{
  *first = *last = -1;
  for (int y = 20; y < field->top; y++)
    for (int x = (int)field->left; x < WIDTH; x++)
      if (pixel_at (surface, x, y) == color)
        {
          *first = *first < 0 ? x : fmin (*first, x);
          *last = fmax (*last, x);
        }
}

START_TEST (intervals_end_where_they_should)
{
  const TrammelMonteCarloAxis axis = two_bars ();
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&axis, &field);
  const double width = field.right - field.left;
  double first, last;

  find_extent (surface, &field, 0xff0072b2, &first, &last);
  ck_assert_double_eq_tol (first, field.left + width * 10 / 60, 1.5);
  ck_assert_double_eq_tol (last, field.left + width * 40 / 60, 1.5);
  find_extent (surface, &field, pixel_of (trammel_palette (FALSE)->ink), &first, &last);
  ck_assert_double_eq_tol (first, field.left + width * 5 / 60, 1.5);
  ck_assert_double_eq_tol (last, field.left + width * 55 / 60, 1.5);
  cairo_surface_destroy (surface);
}
END_TEST

/* The peak of the normal curve of u 0.1 % is 3.989423 per percent, that of Student's t with 2 degrees of freedom
 * 3.535534 (any table). */
START_TEST (the_curve_is_the_fits)
{
  TrammelMonteCarloAxis axis = two_bars ();
  const TrammelTrialHistogram histogram = { &axis, NULL };
  cairo_surface_t *surface = surface_new (WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);

  axis.linear_u = 0.001;
  memset (axis.counts, 0, sizeof axis.counts);
  axis.counts[0] = axis.counts[1] = 1;
  axis.bin_width = 0.01; /* bars 0.5 per percent high, below the curve */
  ck_assert_double_eq_tol (trammel_trial_histogram_field (&histogram, cr, WIDTH, HEIGHT).high_y, 1.06 * 3.989423, 1e-5);
  axis.freedom = 2;
  ck_assert_double_eq_tol (trammel_trial_histogram_field (&histogram, cr, WIDTH, HEIGHT).high_y, 1.06 * 3.535534, 1e-5);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (what_does_not_scatter_and_any_size_can_be_painted)
{
  TrammelMonteCarloAxis axis = two_bars ();
  TrammelPlotField field;
  const TrammelTrialHistogram histogram = { &axis, "Sans 14px" };

  for (int size = 1; size <= 1600; size *= 3)
    {
      cairo_surface_t *surface = surface_new (size, MAX (size / 2, 1));
      cairo_t *cr = cairo_create (surface);
      trammel_trial_histogram_paint (&histogram, cr, size, MAX (size / 2, 1), trammel_palette (TRUE));
      ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
      cairo_destroy (cr);
      cairo_surface_destroy (surface);
    }
  axis.bin_width = 0;
  axis.linear_u = 0;
  cairo_surface_t *surface = painted (&axis, &field);
  ck_assert_uint_eq (pixel_at (surface, (int)field.left + 4, (int)field.bottom - 4),
                     pixel_of (trammel_palette (FALSE)->ground));
  cairo_surface_destroy (surface);
}
END_TEST

/* The ends differ by 0.05 and 0.15 %; the tolerance is 0.005 %. */
START_TEST (verdicts_in_words)
{
  TrammelMonteCarloAxis axis = two_bars ();
  g_autofree char *refused = trammel_sentences_trials (&axis);
  g_autofree char *why = trammel_sentences_trials_criterion (&axis);
  ck_assert_str_eq (refused,
                    "X: trials give −0.50 to −0.20 %, the fit −0.55 to −0.05 %: not validated; go by the trials.");
  ck_assert_str_eq (why, "The ends of the two intervals of X differ by up to 0.15 %. JCGM 101:2008, clause 8, allows "
                         "0.005 %, half a unit in the second digit of u: the fit’s interval is not validated. Where it "
                         "matters, go by that of the trials.");

  /* Three times 0.08 % covers 0.15 % */
  axis.low_u = axis.high_u = 0.0008;
  g_autofree char *open = trammel_sentences_trials (&axis);
  ck_assert_ptr_nonnull (strstr (open, "so few trials cannot tell; make more"));
  g_autofree char *why_open = trammel_sentences_trials_criterion (&axis);
  ck_assert_ptr_nonnull (strstr (why_open, "± 0.08 %"));

  axis.d_low = axis.d_high = 0.00002;
  axis.validated = TRUE;
  g_autofree char *good = trammel_sentences_trials (&axis);
  ck_assert_ptr_nonnull (strstr (good, "the interval is validated"));
  g_autofree char *why_good = trammel_sentences_trials_criterion (&axis);
  ck_assert_ptr_nonnull (strstr (why_good, "at most 0.002 %"));

  const TrammelTrialHistogram histogram = { &axis, NULL };
  axis.freedom = 7;
  g_autofree char *words = trammel_trial_histogram_to_words (&histogram);
  ck_assert_ptr_nonnull (strstr (words, "the fit, t with 7"));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("trial-histogram");
  TCase *tests = tcase_create ("trial-histogram");
  tcase_add_test (tests, bars_stand_where_and_as_high_as_they_should);
  tcase_add_test (tests, intervals_end_where_they_should);
  tcase_add_test (tests, the_curve_is_the_fits);
  tcase_add_test (tests, what_does_not_scatter_and_any_size_can_be_painted);
  tcase_add_test (tests, verdicts_in_words);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
