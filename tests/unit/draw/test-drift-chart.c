/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/drift-chart.h"
#include "draw/drift-sentences.h"
#include "machine/codec.h"

#include <stdlib.h>
#include <string.h>

#include "pixels.h"

#define WIDTH 700
#define HEIGHT 320
/* Days from 1970-01-01 to 2026-01-01 by hand: 56 years of 365 days and 14 leap days */
#define FIRST_DAY 20454
#define N 11

/* X counts 80 per mm (200 × 16 on a 20-tooth 2 mm pulley; common practice, no source). @changes: of X, a day each. */
static TrammelMachine *
machine_with (const char *const *changes, gsize n, const char *unit)
{
  g_autoptr (GString) text = g_string_new ("{\"format\":\"trammel-machine\",\"version\":1,");
  g_autoptr (GDateTime) start = g_date_time_new_utc (2026, 1, 1, 0, 0, 0);
  g_autoptr (GError) error = NULL;

  g_string_append_printf (
      text,
      "\"display_unit\":\"%s\",\"axes\":[{\"letter\":\"X\",\"kind\":\"linear\",\"motor\":{\"type\":"
      "\"stepper\",\"full_steps\":200,\"microsteps\":16},\"output\":{\"type\":\"belt\",\"teeth\":20,"
      "\"pitch\":\"2 mm\"}}],\"log\":[",
      unit);
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GDateTime) day = g_date_time_add_days (start, (int)i);
      g_autofree char *time = g_date_time_format (day, "%Y-%m-%dT%H:%M:%SZ");
      g_string_append_printf (text, "%s{\"time\":\"%s\",\"changes\":[{\"letter\":\"X\",%s}]}", i > 0 ? "," : "", time,
                              changes[i]);
    }
  g_string_append (text, "]}");
  TrammelMachine *machine = trammel_codec_read (text->str, text->len, &error);
  ck_assert_msg (machine != NULL, "%s", error ? error->message : "");
  return machine;
}

/* Ten times 0.02 mm of lash, then 0.06: of ten moving ranges one is 0.04, so their mean is 0.004; the mean 0.26/11, the
 * limits 3·0.004/1.128 from it: 0.012998 and 0.034275. The last lies outside, and 0.04 is above 3.267·0.004. */
static TrammelMachine *
machine_that_wears (const char *unit)
{
  const char *changes[N];

  for (int i = 0; i < N; i++)
    changes[i] = i < N - 1 ? "\"lash\":{\"value\":0.02,\"u\":0}" : "\"lash\":{\"value\":0.06,\"u\":0}";
  return machine_with (changes, N, unit);
}

static cairo_surface_t *
painted (const TrammelDriftChart *chart, TrammelPlotField *field)
{
  cairo_surface_t *surface = surface_new (WIDTH, HEIGHT);
  cairo_t *cr = cairo_create (surface);

  *field = trammel_drift_chart_field (chart, cr, WIDTH, HEIGHT);
  trammel_drift_chart_paint (chart, cr, WIDTH, HEIGHT, trammel_palette (FALSE));
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* There is a trend, so the field goes from 4 % before the first of ten days to 25 % after the last: 12.9 days, of which
 * the first check is at 0.4 and the last at 10.4. */
START_TEST (checks_are_where_they_should_be)
{
  g_autoptr (TrammelMachine) machine = machine_that_wears ("mm");
  g_autoptr (TrammelDrift) drift = trammel_drift_new (machine, 'X', 0.001, NAN, NULL);
  const TrammelDriftChart chart = { machine, drift, TRAMMEL_DRIFT_LASH, NULL };
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&chart, &field);
  const double width = field.right - field.left, height = field.bottom - field.top;
  const double tall = field.high_y - field.low_y;
  const guint32 blue = 0xff0072b2, ground = pixel_of (trammel_palette (FALSE)->ground),
                trouble = pixel_of (trammel_palette (FALSE)->trouble);
  ck_assert_double_eq_tol (field.low_x, FIRST_DAY - 0.4, 1e-9);
  ck_assert_double_eq_tol (field.high_x, FIRST_DAY + 12.5, 1e-9);
  ck_assert (field.low_y < 0.012998 && field.high_y > 0.06);

  const int y = (int)(field.bottom - (0.02 - field.low_y) / tall * height),
            y_last = (int)(field.bottom - (0.06 - field.low_y) / tall * height);
  for (int i = 0; i < N - 1; i++)
    ck_assert_uint_eq (pixel_at (surface, (int)(field.left + (i + 0.4) / 12.9 * width), y), blue);
  /* Outside: a hollow diamond, 6 to each side, with the color of trouble on its edges */
  const int x_last = (int)(field.left + 10.4 / 12.9 * width);
  ck_assert_uint_eq (pixel_at (surface, x_last, y_last + 2), ground);
  guint edges = 0;
  for (int x = x_last - 8; x <= x_last + 8; x++)
    edges += pixel_at (surface, x, y_last - 1) == trouble;
  ck_assert_uint_ge (edges, 2);
  /* The jump to it: a line of the same color from the check before, thick */
  ck_assert_uint_eq (pixel_at (surface, (int)(field.left + 9.9 / 12.9 * width), (y + y_last) / 2), trouble);
  cairo_surface_destroy (surface);
}
END_TEST

static guint
inked (cairo_surface_t *surface, const TrammelPlotField *field, double value)
{
  const int y = (int)floor (trammel_plot_field_y (field, value));
  guint dark = 0;

  /* Right of the last check there is only the band behind the lines */
  for (int x = (int)trammel_plot_field_x (field, FIRST_DAY + 10.5); x < (int)field->right; x++)
    {
      const guint32 pixel = pixel_at (surface, x, y);
      dark += (pixel & 0xff) < 0x90 && (pixel >> 16 & 0xff) < 0xa8;
    }
  return dark;
}

START_TEST (limits_are_where_they_should_be)
{
  g_autoptr (TrammelMachine) machine = machine_that_wears ("mm");
  g_autoptr (TrammelDrift) drift = trammel_drift_new (machine, 'X', 0.001, NAN, NULL);
  const TrammelDriftChart chart = { machine, drift, TRAMMEL_DRIFT_LASH, NULL };
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&chart, &field);
  const double beyond = trammel_plot_field_x (&field, FIRST_DAY + 10.5), room = field.right - beyond;

  /* The mean as a whole line, the limits as one of 6 in 10 */
  ck_assert_uint_ge (inked (surface, &field, 0.26 / 11), (guint)(0.95 * room));
  ck_assert_uint_ge (inked (surface, &field, 0.012998), (guint)(0.4 * room));
  ck_assert_uint_ge (inked (surface, &field, 0.034275), (guint)(0.4 * room));
  ck_assert_uint_eq (inked (surface, &field, 0.029), 0);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (inches_are_inches)
{
  g_autoptr (TrammelMachine) machine = machine_that_wears ("in");
  g_autoptr (TrammelDrift) drift = trammel_drift_new (machine, 'X', 0.001, NAN, NULL);
  const TrammelDriftChart chart = { machine, drift, TRAMMEL_DRIFT_LASH, NULL };
  TrammelPlotField field;
  cairo_surface_t *surface = painted (&chart, &field);
  g_autofree char *words = trammel_drift_chart_to_words (&chart);

  ck_assert (field.high_y > 0.06 / 25.4 && field.high_y < 0.12 / 25.4);
  ck_assert_str_eq (words, "Lash of X, in: 11 checks from 2026-01-01 to 2026-01-11. 1 of them is outside the control "
                           "limits.");
  cairo_surface_destroy (surface);
}
END_TEST

/* 80.0 and 80.04 with u 0.004: it drifts by 0.04/80.04 in one day; 0.2 % of 80.04 is 0.16, left after some days. */
START_TEST (the_next_check_is_in_the_picture)
{
  static const char *const changes[]
      = { "\"before\":80,\"after\":80,\"after_u\":0.004", "\"before\":80,\"after\":80.04,\"after_u\":0.004" };
  g_autoptr (TrammelMachine) machine = machine_with (changes, 2, "mm");
  g_autoptr (TrammelDrift) soon = trammel_drift_new (machine, 'X', 0.0006, NAN, NULL);
  g_autoptr (TrammelDrift) late = trammel_drift_new (machine, 'X', 0.05, NAN, NULL);
  const TrammelDriftChart near = { machine, soon, TRAMMEL_DRIFT_COUNTS, NULL },
                          far = { machine, late, TRAMMEL_DRIFT_COUNTS, NULL };
  TrammelPlotField field;

  cairo_surface_destroy (painted (&near, &field));
  ck_assert_double_lt (soon->series[TRAMMEL_DRIFT_COUNTS].due, FIRST_DAY + 2);
  ck_assert_double_gt (field.high_x, soon->series[TRAMMEL_DRIFT_COUNTS].due);
  cairo_surface_destroy (painted (&far, &field));
  ck_assert_double_eq_tol (field.high_x, FIRST_DAY + 1.25, 1e-9);

  g_autoptr (GPtrArray) sentences = trammel_sentences_drift (machine, soon, TRAMMEL_DRIFT_COUNTS);
  /* Mean 80.02, moving range 0.04: limits 3·0.04/1.128 away; at most 3.267·0.04. A year of 365.25 times 0.04/80.04 per
   * day is 18.2534 %, with 1.96·√2·0.004/80.04·36525 % = 5.06 */
  ck_assert_uint_eq (sentences->len, 3);
  ck_assert_str_eq (g_ptr_array_index (sentences, 0),
                    "Control limits 79.91 to 80.13; at most 0.131 from one check to the next.");
  ck_assert_str_eq (g_ptr_array_index (sentences, 1), "It drifts: 18.3 ± 5.1 % a year.");
  ck_assert (g_str_has_prefix (g_ptr_array_index (sentences, 2), "Within 0.06 % (95 %) until 2026-01-02: check again"));
}
END_TEST

START_TEST (few_and_equal_checks_and_any_size)
{
  static const char *const one[] = { "\"before\":80,\"after\":80.1,\"after_u\":0.01" };
  static const char *const equal[]
      = { "\"before\":80,\"after\":80,\"after_u\":0", "\"before\":80,\"after\":80,\"after_u\":0",
          "\"before\":80,\"after\":80,\"after_u\":0" };
  g_autoptr (TrammelMachine) single = machine_with (one, 1, "mm"), same = machine_with (equal, 3, "mm");
  g_autoptr (TrammelDrift) of_one = trammel_drift_new (single, 'X', 0.001, NAN, NULL);
  g_autoptr (TrammelDrift) of_same = trammel_drift_new (same, 'X', 0.001, NAN, NULL);
  const TrammelDriftChart charts[]
      = { { single, of_one, TRAMMEL_DRIFT_COUNTS, "Sans 14px" }, { same, of_same, TRAMMEL_DRIFT_COUNTS, NULL } };
  TrammelPlotField field;

  for (gsize i = 0; i < G_N_ELEMENTS (charts); i++)
    for (int size = 1; size <= 1600; size *= 3)
      {
        cairo_surface_t *surface = surface_new (size, MAX (size / 2, 1));
        cairo_t *cr = cairo_create (surface);
        trammel_drift_chart_paint (&charts[i], cr, size, MAX (size / 2, 1), trammel_palette (TRUE));
        ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
        cairo_destroy (cr);
        cairo_surface_destroy (surface);
      }
  cairo_surface_destroy (painted (&charts[0], &field));
  ck_assert_double_eq_tol (field.low_x, FIRST_DAY - 1, 1e-9);
  ck_assert_double_eq_tol (field.high_x, FIRST_DAY + 1, 1e-9);
  cairo_surface_destroy (painted (&charts[1], &field));
  ck_assert (field.low_y < 80 && field.high_y > 80);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("drift-chart");
  TCase *tests = tcase_create ("drift-chart");
  tcase_add_test (tests, checks_are_where_they_should_be);
  tcase_add_test (tests, limits_are_where_they_should_be);
  tcase_add_test (tests, inches_are_inches);
  tcase_add_test (tests, the_next_check_is_in_the_picture);
  tcase_add_test (tests, few_and_equal_checks_and_any_size);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
