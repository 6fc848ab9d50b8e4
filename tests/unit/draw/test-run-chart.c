/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/homing-sentences.h"
#include "draw/run-chart.h"

#include <stdlib.h>
#include <string.h>

#include "pixels.h"

#define WIDTH 640
#define HEIGHT 320
#define BLUE 0xff0072b2 /* Okabe–Ito, of X */

typedef struct
{
  double measured, run;
  const char *set;
} Home;

static TrammelHomingReport *
report_of (const Home *homes, gsize n)
{
  g_autoptr (TrammelHomingRows) rows = trammel_homing_rows_new ();
  g_autoptr (GError) error = NULL;

  for (gsize i = 0; i < n; i++)
    {
      const TrammelHomingRow row = { .measured = homes[i].measured, .run = homes[i].run, .axis = 'X', .index = i };
      trammel_homing_rows_add (rows, &row, homes[i].set, NULL);
    }
  TrammelHomingReport *report = trammel_homing_report_new (rows, NULL, &error);
  ck_assert_msg (report != NULL, "%s", error ? error->message : "");
  return report;
}

static cairo_surface_t *
painted (const TrammelRunChart *chart, TrammelPlotField *field)
{
  cairo_surface_t *surface = surface_new (WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);

  *field = trammel_run_chart_field (chart, cr, WIDTH, HEIGHT);
  trammel_run_chart_paint (chart, cr, WIDTH, HEIGHT, trammel_palette (FALSE));
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static const TrammelUnit *
unit (const char *symbol)
{
  return trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol);
}

/* 1, 2, 4, 5: mean 3, s √(10/3); the tolerance, 8.221 s to each side (ISO 16269-6, from memory), is cut off at twice
 * the range of 4, so that the field goes from 1 − 8 to 5 + 8 with 6 % of those 20 to spare: −8.2 to 14.2. Homes 1 to 4
 * stand in the middle of a quarter each. */
START_TEST (homes_are_where_they_should_be)
{
  static const Home homes[] = { { 1, NAN, NULL }, { 2, NAN, NULL }, { 4, NAN, NULL }, { 5, NAN, NULL } };
  g_autoptr (TrammelHomingReport) report = report_of (homes, 4);
  const TrammelRunChart chart = { 'X', unit ("mm"), report, &report->all, NULL };
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&chart, &field);
  const double width = field.right - field.left, height = field.bottom - field.top;

  ck_assert_double_eq_tol (field.low_y, -8.2, 1e-9);
  ck_assert_double_eq_tol (field.high_y, 14.2, 1e-9);
  ck_assert_double_eq_tol (field.low_x, 0.5, 1e-9);
  ck_assert_double_eq_tol (field.high_x, 4.5, 1e-9);
  for (int i = 0; i < 4; i++)
    {
      const int x = (int)(field.left + (i + 0.5) / 4 * width),
                y = (int)(field.bottom - (homes[i].measured + 8.2) / 22.4 * height);
      ck_assert_uint_eq (pixel_at (surface, x, y), BLUE);
    }
  /* The mean is a whole line of three quarters of ink; 3.182446·√(10/3)·√1.25 from it are the dashes of the next home
   */
  const int left = (int)field.left + 2, y_mean = (int)floor (field.bottom - (3 + 8.2) / 22.4 * height),
            y_next = (int)floor (field.bottom - (3 + 3.182446 * sqrt (10.0 / 3 * 1.25) + 8.2) / 22.4 * height);
  const guint32 between = pixel_at (surface, left, y_mean + 4);
  guint mean = 0, next = 0, all = 0;
  for (int x = left; x < field.right - 2; x++)
    {
      mean += pixel_at (surface, x, y_mean) != between;
      next += pixel_at (surface, x, y_next) != between;
      all++;
    }
  ck_assert_uint_ge (mean, all - 2);
  ck_assert_uint_ge (next, all / 2);
  ck_assert_uint_lt (next, all * 3 / 4);
  cairo_surface_destroy (surface);
}
END_TEST

/* Ten homes near 1, one of them 2 (an outlier: the greatest possible g of ten is 9/√10 = 2.85, above 2.29 of any table
 * of Grubbs's test); then three of another set. */
START_TEST (sets_and_outliers_have_marks_of_their_own)
{
  static const Home homes[] = {
    { 1.00, 1, "fast" }, { 1.01, 2, "fast" }, { 0.99, 3, "fast" },  { 1.00, 4, "fast" }, { 2.00, 5, "fast" },
    { 1.01, 6, "fast" }, { 0.99, 7, "fast" }, { 1.00, 8, "fast" },  { 1.01, 9, "fast" }, { 0.99, 10, "fast" },
    { 1.2, 11, "slow" }, { 1.3, 12, "slow" }, { 1.25, 13, "slow" },
  };
  g_autoptr (TrammelHomingReport) report = report_of (homes, G_N_ELEMENTS (homes));
  const TrammelRunChart all = { 'X', unit ("mm"), report, &report->all, NULL },
                        slow = { 'X', unit ("mm"), report, &report->groups[1], NULL };
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&all, &field);
  const guint32 ground = pixel_of (trammel_palette (FALSE)->ground),
                trouble = pixel_of (trammel_palette (FALSE)->trouble);

  for (gsize i = 0; i < G_N_ELEMENTS (homes); i++)
    {
      const int x = (int)trammel_plot_field_x (&field, homes[i].run),
                y = (int)trammel_plot_field_y (&field, homes[i].measured);
      /* Full, hollow where slow; hollow and edged in the color of trouble where it does not belong */
      ck_assert_uint_eq (pixel_at (surface, x, y), homes[i].measured == 2 || i >= 10 ? ground : BLUE);
      guint edges = 0;
      for (int side = -8; side <= 8; side++)
        edges += pixel_at (surface, x + side, y) == trouble;
      ck_assert_int_eq (edges > 0, homes[i].measured == 2);
    }
  cairo_surface_destroy (surface);

  /* Alone the three keep their mark, and have the runs 11 to 13 to themselves */
  surface = painted (&slow, &field);
  ck_assert_double_eq_tol (field.low_x, 10.5, 1e-9);
  ck_assert_double_eq_tol (field.high_x, 13.5, 1e-9);
  ck_assert_uint_eq (
      pixel_at (surface, (int)trammel_plot_field_x (&field, 12), (int)trammel_plot_field_y (&field, 1.3)), ground);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (inches_and_degrees)
{
  static const Home homes[] = { { 25.4, NAN, NULL }, { 50.8, NAN, NULL } };
  g_autoptr (TrammelHomingReport) report = report_of (homes, 2);
  const TrammelRunChart inch = { 'X', unit ("in"), report, &report->all, NULL },
                        degrees = { 'X', NULL, report, &report->all, NULL };
  TrammelPlotField field;

  /* 1 and 2 in: from −1 to 4 with 6 % to spare */
  cairo_surface_destroy (painted (&inch, &field));
  ck_assert_double_eq_tol (field.low_y, -1.3, 1e-9);
  ck_assert_double_eq_tol (field.high_y, 4.3, 1e-9);
  cairo_surface_destroy (painted (&degrees, &field));
  ck_assert_double_eq_tol (field.low_y, 25.4 * -1.3, 1e-9);
  g_autofree char *words = trammel_run_chart_to_words (&degrees);
  ck_assert_ptr_nonnull (strstr (words, "2 homes: mean 38.10°, s 17.96°"));
}
END_TEST

START_TEST (few_and_equal_homes_and_any_size)
{
  static const Home equal[] = { { 1, NAN, "a" }, { 1, NAN, "a" }, { 1, NAN, "b" } };
  g_autoptr (TrammelHomingReport) report = report_of (equal, 3);
  const TrammelRunChart charts[] = { { 'Z', unit ("mm"), report, &report->all, "Sans 14px" },
                                     { 'Z', unit ("mm"), report, &report->groups[1], NULL } };
  TrammelPlotField field;

  ck_assert_ptr_nonnull (report->groups[1].trouble);
  for (gsize i = 0; i < G_N_ELEMENTS (charts); i++)
    for (int size = 1; size <= 1600; size *= 3)
      {
        cairo_surface_t *surface = surface_new (size, MAX (size / 2, 1));
        cairo_t *cr = cairo_create (surface);
        trammel_run_chart_paint (&charts[i], cr, size, MAX (size / 2, 1), trammel_palette (TRUE));
        ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
        cairo_destroy (cr);
        cairo_surface_destroy (surface);
      }
  cairo_surface_destroy (painted (&charts[1], &field));
  ck_assert (field.low_y < 1 && field.high_y > 1);
  g_autofree char *words = trammel_run_chart_to_words (&charts[0]);
  ck_assert_ptr_nonnull (strstr (words, "All of them read alike"));
}
END_TEST

/* s of 1, 2, 4, 5 is 1.825742; 8.221 of it are 15.01, three quarters of a layer of 20 mm. 100 mm/s for 1 s are 100 mm,
 * over √12 28.87. */
START_TEST (what_it_means_in_words)
{
  static const Home homes[] = { { 1, NAN, NULL }, { 2, NAN, NULL }, { 4, NAN, NULL }, { 5, NAN, NULL } };
  g_autoptr (TrammelHomingReport) report = report_of (homes, 4);
  g_autofree char *layer = trammel_sentences_homing_layer (&report->all.homing, 20, unit ("mm"));
  g_autoptr (GPtrArray) fast = trammel_sentences_homing_floor (&report->all.homing, 100, 1, unit ("mm")),
                        slow = trammel_sentences_homing_floor (&report->all.homing, 1, 0.01, unit ("in"));

  ck_assert (g_str_has_prefix (layer, "On a first layer of 20 mm that is ± 75 %."));
  ck_assert_uint_eq (fast->len, 2);
  ck_assert_str_eq (g_ptr_array_index (fast, 0),
                    "At 100 mm/s, looked at every 1000 ms, the switch is found up to 100 mm "
                    "late: s cannot be below 29 mm.");
  ck_assert_str_eq (g_ptr_array_index (fast, 1), "That is most of the scatter: come slower.");
  ck_assert_uint_eq (slow->len, 1);
  ck_assert_str_eq (g_ptr_array_index (slow, 0), "At 0.0394 in/s, looked at every 10 ms, the switch is found up to "
                                                 "0.00039 in late: s cannot be below 0.00011 in.");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("run-chart");
  TCase *tests = tcase_create ("run-chart");
  tcase_add_test (tests, homes_are_where_they_should_be);
  tcase_add_test (tests, sets_and_outliers_have_marks_of_their_own);
  tcase_add_test (tests, inches_and_degrees);
  tcase_add_test (tests, few_and_equal_homes_and_any_size);
  tcase_add_test (tests, what_it_means_in_words);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
