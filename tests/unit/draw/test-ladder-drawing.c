/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>

#include "draw/piece-drawing.h"

#define WIDTH 520
#define HEIGHT 460

static TrammelTestPiece *
ladder_with (const char *vernier)
{
  g_autoptr (TrammelMachine) machine = trammel_machine_new ();
  g_autoptr (TrammelRecord) fresh = trammel_record_new (trammel_piece_kind ("ladder"));
  g_autoptr (TrammelRecord) pen = trammel_record_with_text (fresh, "feed", "none", NULL, NULL);
  g_autoptr (TrammelRecord) up = trammel_record_with_text (pen, "lift_lines", "UP", NULL, NULL);
  g_autoptr (TrammelRecord) down = trammel_record_with_text (up, "lower_lines", "DOWN", NULL, NULL);
  g_autoptr (TrammelRecord) piece = trammel_record_with_text (down, "vernier", vernier, NULL, NULL);

  for (const char *letter = "XY"; *letter; letter++)
    {
      g_autoptr (TrammelAxis) axis = trammel_axis_new (*letter, TRAMMEL_AXIS_LINEAR);
      TrammelMachine *more = trammel_machine_with_axis_inserted (machine, trammel_machine_n_axes (machine), axis, NULL);
      trammel_machine_unref (machine);
      machine = more;
    }
  g_autoptr (TrammelMachine) with = trammel_machine_with_piece (machine, piece);
  TrammelTestPiece *made = trammel_test_piece_new (with, NULL);
  ck_assert_ptr_nonnull (made);
  return made;
}

static cairo_surface_t *
painted (const TrammelTestPiece *piece, int width, int height, const TrammelFeature *feature)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  const TrammelPieceLook look
      = { .feature = feature, .unit = trammel_unit_base (TRAMMEL_DIMENSION_LENGTH), .all_dimensions = TRUE };

  trammel_color_set (cr, trammel_palette (FALSE)->ground, 1);
  cairo_paint (cr);
  trammel_piece_paint (cr, width, height, piece, trammel_palette (FALSE), &look);
  ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

/* Pixels that have nearly the color of an axis. */
static int
count_pixels (cairo_surface_t *surface, char letter)
{
  const TrammelColor color = trammel_palette_axis (trammel_palette (FALSE), letter);
  const int width = cairo_image_surface_get_width (surface), height = cairo_image_surface_get_height (surface);
  int n = 0;

  for (int y = 0; y < height; y++)
    {
      const guint32 *row = (const guint32 *)(gpointer)(cairo_image_surface_get_data (surface)
                                                       + (gsize)y * (gsize)cairo_image_surface_get_stride (surface));
      for (int x = 0; x < width; x++)
        n += fabs ((row[x] >> 16 & 0xff) / 255.0 - color.r) < 0.1 && fabs ((row[x] >> 8 & 0xff) / 255.0 - color.g) < 0.1
             && fabs ((row[x] & 0xff) / 255.0 - color.b) < 0.1;
    }
  return n;
}

/* In both combs 21 lines, of them one of 12 mm, three of 10 mm and 17 of 8 mm, 0.5 mm wide: 178 mm, each comb 89 mm².
 * At 74 mm over the 402 pixels that the height leaves, 5.43 pixels per mm, that is 5250 pixels per axis, round ends and
 * soft edges aside. */
START_TEST (lines_have_the_colors_of_their_axes)
{
  g_autoptr (TrammelTestPiece) piece = ladder_with ("0.05 mm");
  cairo_surface_t *surface = painted (piece, WIDTH, HEIGHT, NULL);

  for (const char *letter = "XY"; *letter; letter++)
    {
      const int n = count_pixels (surface, *letter);
      ck_assert_int_gt (n, 3000);
      ck_assert_int_lt (n, 6500);
    }
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (paints_at_any_size)
{
  static const int sizes[][2] = { { 1, 1 }, { 40, 30 }, { 160, 160 }, { 300, 1200 }, { 1600, 200 } };
  static const char *const verniers[] = { "0.05 mm", "0 mm" };

  for (gsize v = 0; v < G_N_ELEMENTS (verniers); v++)
    {
      g_autoptr (TrammelTestPiece) piece = ladder_with (verniers[v]);
      gsize n;
      const TrammelFeature *features = trammel_test_piece_features (piece, &n);
      for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
        cairo_surface_destroy (painted (piece, sizes[i][0], sizes[i][1], &features[n - 1]));
    }
}
END_TEST

/* Every feature is found somewhere, and none in the free corner or beyond the picture. */
START_TEST (features_are_found_where_they_are_painted)
{
  g_autoptr (TrammelTestPiece) piece = ladder_with (_i == 0 ? "0.05 mm" : "0 mm");
  gsize n;
  const TrammelFeature *features = trammel_test_piece_features (piece, &n);
  gboolean found[6] = { FALSE };

  ck_assert_uint_eq (n, _i == 0 ? 2 : 6);
  for (int y = 0; y < HEIGHT; y++)
    for (int x = 0; x < WIDTH; x++)
      {
        const TrammelFeature *feature = trammel_piece_feature_at (piece, WIDTH, HEIGHT, x, y);
        if (feature)
          found[feature - features] = TRUE;
      }
  for (gsize i = 0; i < n; i++)
    ck_assert (found[i]);
  ck_assert_ptr_null (trammel_piece_feature_at (piece, WIDTH, HEIGHT, 0.75 * WIDTH, 0.2 * HEIGHT));
  ck_assert_ptr_null (trammel_piece_feature_at (piece, WIDTH, HEIGHT, -10, -10));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("ladder-drawing");
  TCase *tests = tcase_create ("ladder-drawing");

  tcase_add_test (tests, lines_have_the_colors_of_their_axes);
  tcase_add_test (tests, paints_at_any_size);
  tcase_add_loop_test (tests, features_are_found_where_they_are_painted, 0, 2);
  suite_add_tcase (suite, tests);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
