/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>

#include "draw/error-plot-private.h"

/* A machine with axes X and Y, readings as rows of kind, along, nominal, measured; u is 0.03 mm. */
static TrammelMachine *
machine_with (const char *const rows[][4], gsize n, const char *unit)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelAxis) x = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) y = trammel_axis_new ('Y', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelMachine) one = trammel_machine_with_axis_inserted (empty, 0, x, NULL);
  g_autoptr (TrammelMachine) two = trammel_machine_with_axis_inserted (one, 1, y, NULL);
  g_autoptr (TrammelMachine) shown
      = trammel_machine_with_display_unit (two, trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, unit));
  GArray *array = trammel_reading_array_new (n);

  for (gsize i = 0; i < n; i++)
    {
      TrammelReading row;
      trammel_reading_init (&row);
      for (guint column = 0; column < 4; column++)
        ck_assert (trammel_reading_set_text (&row, column, rows[i][column], 1, NULL));
      row.u = 0.03;
      g_array_append_val (array, row);
    }
  g_autoptr (TrammelReadings) readings = trammel_readings_take (array);
  return trammel_machine_with_readings (shown, readings);
}

static TrammelErrorPlot *
plot_of (const TrammelMachine *machine, const char *view)
{
  g_autoptr (TrammelAdjustment) adjustment = trammel_machine_adjust (machine, NULL, NULL, NULL);

  ck_assert_ptr_nonnull (adjustment);
  return trammel_error_plot_new (machine, adjustment, trammel_machine_readings (machine), view);
}

/* A machine that moves 0.5 % short without any scatter, and an axis Y that is not shown on the plot of X. */
static const char *const short_rows[][4] = {
  { "travel", "X", "100", "99.5" },
  { "travel", "Y", "100", "100" },
  { "travel", "X", "50", "49.75" },
};

static const TrammelErrorPlotLook plain = { TRAMMEL_ERROR_PANELS_BOTH, -1, NULL };

static void
paint (TrammelErrorPlot *plot, int width, int height, const TrammelErrorPlotLook *look)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);

  trammel_error_plot_paint (plot, cr, width, height, trammel_palette (FALSE), look);
  ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

START_TEST (points_are_the_errors_along_the_axis)
{
  g_autoptr (TrammelMachine) machine = machine_with (short_rows, 3, "mm");
  g_autoptr (TrammelErrorPlot) plot = plot_of (machine, "X");

  ck_assert_uint_eq (trammel_error_plot_n_readings (plot), 2);
  ck_assert_double_eq_tol (plot->points[0].x, 100, 1e-5);
  ck_assert_double_eq_tol (trammel_error_plot_value (plot, &plot->points[0], FALSE), -0.5, 1e-6);
  ck_assert_double_eq_tol (trammel_error_plot_value (plot, &plot->points[1], FALSE), -0.25, 1e-6);
  ck_assert_double_eq_tol (trammel_error_plot_value (plot, &plot->points[0], TRUE), 0, 1e-6);
  ck_assert_uint_eq (plot->points[1].row, 2);
  /* 95 % of the normal distribution: 1.95996·u */
  ck_assert_double_eq_tol (plot->points[0].half, 1.95996 * 0.03, 1e-5);
}
END_TEST

START_TEST (inches_are_inches)
{
  g_autoptr (TrammelMachine) machine = machine_with (short_rows, 3, "in");
  g_autoptr (TrammelErrorPlot) plot = plot_of (machine, "X");

  ck_assert_double_eq_tol (plot->points[0].x, 100 / 25.4, 1e-6);
  ck_assert_double_eq_tol (trammel_error_plot_value (plot, &plot->points[0], FALSE), -0.5 / 25.4, 1e-7);
  ck_assert_str_eq (plot->unit, "in");
}
END_TEST

/* With a skew g of 1 mrad a diagonal of a square with side 100 mm changes by g/2 of its 141.4214 mm, one way or the
 * other: 0.0707 mm. */
START_TEST (diagonals_stand_on_both_sides)
{
  const char *const rows[][4] = {
    { "travel", "X", "100", "100" },
    { "travel", "Y", "100", "100" },
    { "travel", "X+Y", "141.42135624", "141.35064" },
    { "travel", "X-Y", "141.42135624", "141.49207" },
  };
  g_autoptr (TrammelMachine) machine = machine_with (rows, 4, "mm");
  g_autoptr (TrammelErrorPlot) plot = plot_of (machine, "XY");

  ck_assert_uint_eq (trammel_error_plot_n_readings (plot), 2);
  ck_assert_double_eq_tol (plot->points[0].x, 141.42136, 1e-4);
  ck_assert_double_eq_tol (plot->points[1].x, -141.42136, 1e-4);
  ck_assert_double_eq_tol (plot->slope, -0.0005, 2e-6);
  ck_assert_double_eq_tol (trammel_error_plot_value (plot, &plot->points[0], FALSE), -0.0707, 2e-4);
  ck_assert_double_eq_tol (trammel_error_plot_value (plot, &plot->points[1], FALSE), 0.0707, 2e-4);
}
END_TEST

START_TEST (views_are_scales_then_skews)
{
  const char *const rows[][4] = {
    { "travel", "X", "100", "100" },
    { "travel", "Y", "100", "100" },
    { "travel", "X+Y", "141.42135624", "141.35064" },
  };
  g_autoptr (TrammelMachine) machine = machine_with (rows, 3, "mm");
  g_autoptr (TrammelAdjustment) adjustment = trammel_machine_adjust (machine, NULL, NULL, NULL);
  g_auto (GStrv) views = trammel_error_plot_views (machine, adjustment);
  g_autofree char *joined = g_strjoinv (" ", views);

  ck_assert_str_eq (joined, "X Y XY");
}
END_TEST

START_TEST (a_reading_is_found_where_it_is_painted)
{
  g_autoptr (TrammelMachine) machine = machine_with (short_rows, 3, "mm");
  g_autoptr (TrammelErrorPlot) plot = plot_of (machine, "X");

  paint (plot, 700, 500, &plain);
  ck_assert (trammel_error_plot_showed_both (plot));
  for (guint p = 0; p < 2; p++)
    for (gsize i = 0; i < 2; i++)
      {
        const TrammelErrorPanel *panel = &plot->panels[p];
        double value = trammel_error_plot_value (plot, &plot->points[i], panel->after);
        double x = trammel_error_panel_x (panel, plot->points[i].x), y = trammel_error_panel_y (panel, value);
        ck_assert_int_eq (trammel_error_plot_row_at (plot, x + 3, y - 3), (int)plot->points[i].row);
      }
  ck_assert_int_eq (trammel_error_plot_row_at (plot, 350, 100), -1);
}
END_TEST

/* Rows 0 and 2 are on the plot of X. */
START_TEST (neighbors_are_in_the_order_of_rows)
{
  g_autoptr (TrammelMachine) machine = machine_with (short_rows, 3, "mm");
  g_autoptr (TrammelErrorPlot) plot = plot_of (machine, "X");

  ck_assert_int_eq (trammel_error_plot_neighbor (plot, 0, 1), 2);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, 2, -1), 0);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, 2, 1), 2);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, 0, -1), 0);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, 1, 1), 2);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, 1, -1), 0);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, -1, 1), 0);
  ck_assert_int_eq (trammel_error_plot_neighbor (plot, -1, -1), 2);
}
END_TEST

START_TEST (any_size_can_be_painted)
{
  g_autoptr (TrammelMachine) machine = machine_with (short_rows, 3, "mm");
  g_autoptr (TrammelErrorPlot) plot = plot_of (machine, "X");
  g_autoptr (TrammelErrorPlot) nothing = plot_of (machine, "Z");
  TrammelErrorPlotLook look = { TRAMMEL_ERROR_PANELS_AFTER, 2, "Sans 14px" };

  ck_assert_uint_eq (trammel_error_plot_n_readings (nothing), 0);
  for (int size = 1; size <= 1600; size *= 3)
    {
      paint (plot, size, MAX (size / 2, 1), &plain);
      paint (plot, size, size, &look);
      paint (nothing, size, size, &plain);
    }
}
END_TEST

/* 5000 places on a line without scatter. */
START_TEST (many_readings_are_still_found)
{
  g_autoptr (TrammelMachine) machine = machine_with (short_rows, 3, "mm");
  GArray *array = trammel_reading_array_new (5000);

  for (int i = 0; i < 5000; i++)
    {
      TrammelReading row;
      trammel_reading_init (&row);
      row.kind = TRAMMEL_READING_POSITION;
      row.has_along = trammel_direction_parse ("X", &row.along, NULL);
      row.nominal = i * 0.02;
      row.measured = row.nominal * 1.001;
      g_array_append_val (array, row);
    }
  g_autoptr (TrammelReadings) readings = trammel_readings_take (array);
  g_autoptr (TrammelMachine) many = trammel_machine_with_readings (machine, readings);
  g_autoptr (TrammelErrorPlot) plot = plot_of (many, "X");

  ck_assert (trammel_error_plot_is_many (plot));
  paint (plot, 700, 500, &plain);
  const TrammelErrorPanel *panel = &plot->panels[0];
  double x = trammel_error_panel_x (panel, 60), y = trammel_error_panel_y (panel, 0.06);
  ck_assert_int_ge (trammel_error_plot_row_at (plot, x, y), 0);
  ck_assert_int_eq (trammel_error_plot_row_at (plot, x, y - 40), -1);
}
END_TEST

static Suite *
error_plot_suite (void)
{
  Suite *suite = suite_create ("error-plot");
  TCase *tests = tcase_create ("error-plot");

  tcase_add_test (tests, points_are_the_errors_along_the_axis);
  tcase_add_test (tests, inches_are_inches);
  tcase_add_test (tests, diagonals_stand_on_both_sides);
  tcase_add_test (tests, views_are_scales_then_skews);
  tcase_add_test (tests, a_reading_is_found_where_it_is_painted);
  tcase_add_test (tests, neighbors_are_in_the_order_of_rows);
  tcase_add_test (tests, any_size_can_be_painted);
  tcase_add_test (tests, many_readings_are_still_found);
  suite_add_tcase (suite, tests);
  return suite;
}

int
main (void)
{
  SRunner *runner = srunner_create (error_plot_suite ());

  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
