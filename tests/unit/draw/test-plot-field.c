/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/plot-field.h"
#include "draw/plot-key.h"

#include <stdlib.h>

#include "pixels.h"

/* 300 wide from 50, for 0 to 3; 200 high from 10, for −1 to 1. */
static const TrammelPlotField field = { 50, 10, 350, 210, 0, 3, -1, 1 };

START_TEST (values_have_places)
{
  ck_assert_double_eq (trammel_plot_field_x (&field, 0), 50);
  ck_assert_double_eq (trammel_plot_field_x (&field, 1), 150);
  ck_assert_double_eq (trammel_plot_field_x (&field, 3), 350);
  ck_assert_double_eq (trammel_plot_field_y (&field, -1), 210);
  ck_assert_double_eq (trammel_plot_field_y (&field, 0), 110);
  ck_assert_double_eq (trammel_plot_field_y (&field, 1), 10);
}
END_TEST

/* 200 pixels take five levels, 34 apart at least: −1, −0.5, 0, 0.5 and 1, 50 apart. That at 0 is the strongest. */
START_TEST (levels_are_round)
{
  const guint32 ground = pixel_of (trammel_palette (FALSE)->ground);
  cairo_surface_t *surface = surface_new (400, 260);
  cairo_t *cr = cairo_create (surface);
  const double numbers = trammel_plot_field_numbers_width (&field, cr, NULL);

  trammel_plot_field_paint_levels (&field, cr, trammel_palette (FALSE), NULL);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  ck_assert (numbers > 10 && numbers < 44);
  for (int y = 0; y < 260; y++)
    ck_assert_int_eq (pixel_at (surface, 200, y) != ground, (y - 10) % 50 == 0 && y >= 10 && y <= 210);
  ck_assert_uint_eq (pixel_at (surface, 200, 110), pixel_of (trammel_palette (FALSE)->faint));
  ck_assert_uint_ne (pixel_at (surface, 200, 60), pixel_of (trammel_palette (FALSE)->faint));
  ck_assert_uint_eq (pixel_at (surface, 46, 60), ground);
  cairo_surface_destroy (surface);
}
END_TEST

/* Four marks below a field with room for 0, 1, 2 and 3 */
START_TEST (the_foot_is_marked)
{
  const guint32 ground = pixel_of (trammel_palette (FALSE)->ground);
  cairo_surface_t *surface = surface_new (400, 260);
  cairo_t *cr = cairo_create (surface);

  trammel_plot_field_paint_foot (&field, cr, trammel_palette (FALSE), NULL, "");
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  for (int x = 0; x < 400; x++)
    ck_assert_int_eq (pixel_at (surface, x, 212) != ground, x == 50 || x == 150 || x == 250 || x == 350);
  cairo_surface_destroy (surface);
}
END_TEST

static void
paint_bar (cairo_t *cr, double x, double y, gconstpointer data)
{
  GArray *places = (GArray *)data;

  g_array_append_val (places, x);
  g_array_append_val (places, y);
}

START_TEST (a_key_goes_on_in_the_next_row)
{
  const TrammelPlotKeyItem items[] = { { "one", paint_bar }, { "two", paint_bar }, { "three", paint_bar } };
  cairo_surface_t *surface = surface_new (400, 260);
  cairo_t *cr = cairo_create (surface);
  g_autoptr (GArray) wide = g_array_new (FALSE, FALSE, sizeof (double)),
                     narrow = g_array_new (FALSE, FALSE, sizeof (double));
  const double row = trammel_plot_key_height (cr, items, 1, 100, NULL);

  ck_assert_double_eq_tol (trammel_plot_key_height (cr, items, 3, 400, NULL), row, 1e-9);
  ck_assert_double_eq_tol (trammel_plot_key_height (cr, items, 3, 60, NULL), 3 * row, 1e-9);
  trammel_plot_key_paint (cr, items, 3, 10, 20, 390, trammel_palette (FALSE), NULL, wide);
  trammel_plot_key_paint (cr, items, 3, 10, 20, 60, trammel_palette (FALSE), NULL, narrow);
  ck_assert_uint_eq (wide->len, 6);
  ck_assert_double_eq (g_array_index (wide, double, 0), 10 + TRAMMEL_PLOT_KEY_SYMBOL / 2.0);
  ck_assert (g_array_index (wide, double, 2) > g_array_index (wide, double, 0));
  ck_assert_double_eq (g_array_index (wide, double, 1), g_array_index (wide, double, 5));
  for (guint i = 0; i < 3; i++)
    {
      ck_assert_double_eq (g_array_index (narrow, double, 2 * i), 10 + TRAMMEL_PLOT_KEY_SYMBOL / 2.0);
      ck_assert_double_eq_tol (g_array_index (narrow, double, 2 * i + 1), 20 + (i + 0.5) * row, 1e-9);
    }
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("plot-field");
  TCase *tests = tcase_create ("plot-field");
  tcase_add_test (tests, values_have_places);
  tcase_add_test (tests, levels_are_round);
  tcase_add_test (tests, the_foot_is_marked);
  tcase_add_test (tests, a_key_goes_on_in_the_next_row);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
