/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/mesh-drawing.h"

#include <check.h>
#include <locale.h>
#include <math.h>

#define WIDTH 420
#define HEIGHT 340

static const TrammelGearPair spur = { { 16, 1, G_PI / 9, 0, FALSE }, { 40, 1, G_PI / 9, 0, FALSE } };
static const TrammelGearPair internal = { { 20, 1, G_PI / 9, 0.2, FALSE }, { 60, 1, G_PI / 9, -0.2, TRUE } };

static TrammelMeshPicture
picture_of (const TrammelGearPair *pair, double pitch, gboolean half)
{
  TrammelMeshPicture picture
      = { .pair = pair, .grid = { pitch, half, 0 }, .chosen = -1, .accent = trammel_palette (FALSE)->mark };
  picture.unit = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "mm");
  ck_assert (trammel_gear_pair_distance (pair, &picture.distance, NULL));
  if (pitch > 0)
    picture.offsets = trammel_mesh_grid_offsets (pair, picture.grid, &picture.n_offsets, NULL);
  return picture;
}

static void
picture_clear (TrammelMeshPicture *picture)
{
  g_free ((gpointer)picture->offsets);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelMeshPicture, picture_clear)

static cairo_surface_t *
painted (const TrammelMeshPicture *picture, int width, int height, gboolean dark)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_RGB24, width, height);
  cairo_t *cr = cairo_create (surface);
  const TrammelPalette *palette = trammel_palette (dark);
  trammel_color_set (cr, palette->ground, 1);
  cairo_paint (cr);
  trammel_mesh_drawing_paint (cr, width, height, picture, palette);
  ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static gboolean
is_color (cairo_surface_t *surface, int x, int y, TrammelColor color)
{
  const unsigned char *data = cairo_image_surface_get_data (surface);
  const guint32 *row = (const guint32 *)(gconstpointer)(data + y * cairo_image_surface_get_stride (surface));
  const double r = (row[x] >> 16 & 255) / 255.0, g = (row[x] >> 8 & 255) / 255.0, b = (row[x] & 255) / 255.0;
  return fabs (r - color.r) + fabs (g - color.g) + fabs (b - color.b) < 0.05;
}

/* The middle of the pixels from @x0 on at which offset @wanted is picked; FALSE: nowhere. */
static gboolean
middle_of_hole (const TrammelMeshPicture *picture, gssize wanted, double *x, double *y)
{
  double n = 0, sum_x = 0, sum_y = 0;
  for (int j = 0; j < HEIGHT; j++)
    for (int i = 0; i < WIDTH; i++)
      if (trammel_mesh_drawing_offset_at (picture, WIDTH, HEIGHT, i, j) == wanted)
        {
          if (n > 0 && hypot (i - sum_x / n, j - sum_y / n) > 26)
            continue; /* an equivalent one, elsewhere */
          n++;
          sum_x += i;
          sum_y += j;
        }
  *x = sum_x / n;
  *y = sum_y / n;
  return n > 0;
}

/* Where the hole at which 16:40 run is picked, a disc in the color of what runs is painted; where it binds, none. */
START_TEST (marks_are_where_holes_are_picked)
{
  g_auto (TrammelMeshPicture) picture = picture_of (&spur, 10, FALSE);
  cairo_surface_t *surface = painted (&picture, WIDTH, HEIGHT, FALSE);
  int seen = 0;
  for (gsize k = 0; k < picture.n_offsets; k++)
    {
      double x, y;
      if (!middle_of_hole (&picture, (gssize)k, &x, &y) || x < 2 || y < 2 || x > WIDTH - 2 || y > HEIGHT - 2)
        continue;
      const gboolean runs = picture.offsets[k].mesh.state == TRAMMEL_MESH_RUNS;
      seen += runs;
      ck_assert_int_eq (
          is_color (surface, (int)lround (x), (int)lround (y), trammel_palette_axis (trammel_palette (FALSE), 'Z')),
          runs);
    }
  ck_assert_int_eq (seen, 1);
  cairo_surface_destroy (surface);
}
END_TEST

START_TEST (nothing_is_picked_between_holes)
{
  g_auto (TrammelMeshPicture) none = picture_of (&spur, 0, FALSE);
  g_auto (TrammelMeshPicture) wide = picture_of (&spur, 28, FALSE);
  ck_assert_int_eq (trammel_mesh_drawing_offset_at (&none, WIDTH, HEIGHT, 200, 150), -1);
  int picked = 0;
  for (int x = 0; x < WIDTH; x++)
    for (int y = 0; y < HEIGHT; y++)
      picked += trammel_mesh_drawing_offset_at (&wide, WIDTH, HEIGHT, x, y) >= 0;
  ck_assert_int_gt (picked, 300);
  ck_assert_int_lt (picked, WIDTH * HEIGHT / 4);
}
END_TEST

/* Any size, either ground, either kind of pair, any offset: cairo is content, and something is painted. */
START_TEST (any_picture)
{
  const TrammelGearPair many = { { 1000, 0.1, G_PI / 9, 0, FALSE }, { 10000, 0.1, G_PI / 9, 0, FALSE } };
  const TrammelGearPair *pairs[] = { &spur, &internal, &many };
  const int sizes[][2] = { { 1, 1 }, { 40, 300 }, { 600, 50 }, { 500, 400 } };
  for (gsize p = 0; p < G_N_ELEMENTS (pairs); p++)
    for (gsize s = 0; s < G_N_ELEMENTS (sizes); s++)
      {
        g_auto (TrammelMeshPicture) picture = picture_of (pairs[p], 10, s % 2 == 0);
        for (picture.chosen = -1; picture.chosen < 4; picture.chosen++)
          cairo_surface_destroy (painted (&picture, sizes[s][0], sizes[s][1], s % 2 == 1));
      }
}
END_TEST

int
main (void)
{
  setlocale (LC_ALL, "C.UTF-8");
  Suite *suite = suite_create ("plate-drawing");
  TCase *drawing = tcase_create ("drawing");
  tcase_add_test (drawing, marks_are_where_holes_are_picked);
  tcase_add_test (drawing, nothing_is_picked_between_holes);
  tcase_add_test (drawing, any_picture);
  suite_add_tcase (suite, drawing);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
