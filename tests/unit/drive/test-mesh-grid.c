/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/mesh-grid.h"

#include <check.h>
#include <locale.h>
#include <math.h>

static const TrammelGearPair pair_16_40 = { { 16, 1, G_PI / 9, 0, FALSE }, { 40, 1, G_PI / 9, 0, FALSE } };

/* On holes 10 mm apart: the tips reach 30 mm, so three holes; by hand only 20 and 20, 28.28 mm, is not nearer than
 * 28 mm and not as far as 30. */
START_TEST (every_offset_once)
{
  gsize n, running = 0;
  g_autofree TrammelMeshOffset *offsets
      = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 10, FALSE, 0 }, &n, NULL);
  ck_assert_uint_eq (n, 9);
  for (gsize i = 0; i < n; i++)
    {
      const TrammelMeshOffset *offset = &offsets[i];
      ck_assert (offset->dx >= offset->dy && offset->dy >= 0);
      ck_assert_double_eq_tol (hypot (offset->dx, offset->dy), offset->mesh.distance, 1e-12);
      if (i > 0)
        ck_assert_double_ge (offset->mesh.distance, offsets[i - 1].mesh.distance);
      if (offset->mesh.state == TRAMMEL_MESH_RUNS)
        {
          running++;
          ck_assert_double_eq (offset->dx, 20);
          ck_assert_double_eq (offset->dy, 20);
          ck_assert_int_eq (offset->equivalents, 4);
        }
    }
  ck_assert_uint_eq (running, 1);
}
END_TEST

/* All offsets of a hole: (2n + 1)² − 1. */
START_TEST (equivalents_make_up_the_square)
{
  for (int half = 0; half < 2; half++)
    for (int reach = 1; reach < 12; reach++)
      {
        gsize n, all = 0;
        const gsize side = 2 * (gsize)reach * (half ? 2 : 1) + 1;
        g_autofree TrammelMeshOffset *offsets
            = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 8, half, reach }, &n, NULL);
        for (gsize i = 0; i < n; i++)
          all += offsets[i].equivalents;
        ck_assert_uint_eq (all, side * side - 1);
      }
}
END_TEST

/* 3, 4, 5: 28 mm is 35 steps of 0.8 mm, and the same at 21 and 28. Zero backlash is enough, rounding or not. */
START_TEST (exactly_the_distance_runs)
{
  gsize n, exact = 0;
  g_autofree TrammelMeshOffset *offsets
      = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 0.8, FALSE, 0 }, &n, NULL);
  for (gsize i = 0; i < n; i++)
    if (fabs (offsets[i].mesh.distance - 28) < 1e-9)
      {
        exact++;
        ck_assert_double_eq (offsets[i].mesh.backlash, 0);
        ck_assert_int_eq (offsets[i].mesh.state, TRAMMEL_MESH_RUNS);
      }
  ck_assert_uint_eq (exact, 2);
}
END_TEST

/* A half grid has the offsets of the whole one among its own. */
START_TEST (half_holes_add)
{
  gsize n, n_half, found = 0;
  g_autofree TrammelMeshOffset *whole
      = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 12.7, FALSE, 4 }, &n, NULL);
  g_autofree TrammelMeshOffset *half
      = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 12.7, TRUE, 4 }, &n_half, NULL);
  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j < n_half; j++)
      found += fabs (whole[i].dx - half[j].dx) < 1e-9 && fabs (whole[i].dy - half[j].dy) < 1e-9;
  ck_assert_uint_eq (found, n);
  ck_assert_uint_gt (n_half, n);
}
END_TEST

static const struct
{
  TrammelHoleGrid grid;
  int code;
} refused[] = {
  { { 0, FALSE, 0 }, TRAMMEL_ERROR_RANGE },
  { { -10, FALSE, 3 }, TRAMMEL_ERROR_RANGE },
  { { NAN, FALSE, 3 }, TRAMMEL_ERROR_RANGE },
  { { INFINITY, FALSE, 3 }, TRAMMEL_ERROR_RANGE },
  { { 10, FALSE, -1 }, TRAMMEL_ERROR_RANGE },
  { { 10, FALSE, 501 }, TRAMMEL_ERROR_TOO_LARGE },
  { { 10, TRUE, 251 }, TRAMMEL_ERROR_TOO_LARGE },
  { { 1e-300, FALSE, 0 }, TRAMMEL_ERROR_TOO_LARGE },
  { { 10, TRUE, G_MAXINT }, TRAMMEL_ERROR_TOO_LARGE },
};

START_TEST (grids_that_cannot_be)
{
  g_autoptr (GError) error = NULL;
  gsize n;
  ck_assert_ptr_null (trammel_mesh_grid_offsets (&pair_16_40, refused[_i].grid, &n, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, refused[_i].code), "%s", error->message);
}
END_TEST

START_TEST (a_ring_on_a_grid)
{
  const TrammelGearPair ring = { { 20, 1, G_PI / 9, 0, FALSE }, { 60, 1, G_PI / 9, 0, TRUE } };
  gsize n;
  g_autofree TrammelMeshOffset *offsets
      = trammel_mesh_grid_offsets (&ring, (TrammelHoleGrid){ 10, FALSE, 0 }, &n, NULL);
  for (gsize i = 0; i < n; i++)
    ck_assert_int_eq (offsets[i].mesh.state == TRAMMEL_MESH_RUNS, offsets[i].dx == 20 && offsets[i].dy == 0);
}
END_TEST

/* Holes 10 mm apart by halves: 16:40 run at 20 and 20 alone (above); around it 25, 10 and 25, 15. Holes 27 mm apart: at
 * none, and 28 mm lies between the first and the second offset. */
START_TEST (what_is_worth_knowing)
{
  gsize n, first, end;
  g_autofree TrammelMeshOffset *offsets
      = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 10, TRUE, 0 }, &n, NULL);
  trammel_mesh_grid_worth_knowing (offsets, n, 28, &first, &end);
  ck_assert_uint_eq (end - first, 3);
  ck_assert_double_eq (offsets[first].dx, 25);
  ck_assert_double_eq (offsets[first].dy, 10);
  ck_assert_double_eq (offsets[first + 2].dy, 15);

  g_autofree TrammelMeshOffset *wide
      = trammel_mesh_grid_offsets (&pair_16_40, (TrammelHoleGrid){ 27, FALSE, 3 }, &n, NULL);
  trammel_mesh_grid_worth_knowing (wide, n, 28, &first, &end);
  ck_assert_uint_eq (first, 0);
  ck_assert_uint_eq (end, 2);
  trammel_mesh_grid_worth_knowing (NULL, 0, 28, &first, &end);
  ck_assert_uint_eq (first, 0);
  ck_assert_uint_eq (end, 0);
}
END_TEST

/* Whether any offset runs, and the one with the least backlash, are those of the whole list. */
START_TEST (the_closest_of_all)
{
  int running = 0, standing = 0;
  for (int ring = 0; ring < 2; ring++)
    for (int teeth = 9; teeth < 40; teeth += 3)
      for (int pitch = 8; pitch < 30; pitch += 3)
        {
          const TrammelGearPair pair
              = { { teeth, 1, G_PI / 9, 0.1, FALSE }, { teeth + 25, 1, G_PI / 9, 0, ring != 0 } };
          const TrammelHoleGrid grid = { pitch, pitch % 2, 0 };
          TrammelMeshOffset closest;
          double least = INFINITY;
          gsize n;
          g_autofree TrammelMeshOffset *offsets = trammel_mesh_grid_offsets (&pair, grid, &n, NULL);
          for (gsize i = 0; i < n; i++)
            if (offsets[i].mesh.state == TRAMMEL_MESH_RUNS)
              least = fmin (least, offsets[i].mesh.backlash);
          ck_assert_int_eq (trammel_mesh_grid_runs (&pair, grid), isfinite (least));
          ck_assert_int_eq (trammel_mesh_grid_closest (&pair, grid, &closest), isfinite (least));
          if (isfinite (least))
            ck_assert_double_eq_tol (closest.mesh.backlash, least, 1e-12);
          *(isfinite (least) ? &running : &standing) += 1;
        }
  ck_assert_int_gt (running, 20);
  ck_assert_int_gt (standing, 20);
}
END_TEST

START_TEST (grids_without_an_end)
{
  const TrammelGearPair no_gears = { { 2, 1, G_PI / 9, 0, FALSE }, { 2, 1, G_PI / 9, 0, FALSE } };
  TrammelMeshOffset closest;
  ck_assert (trammel_mesh_grid_runs (&pair_16_40, (TrammelHoleGrid){ 1e-300, TRUE, 0 }));
  ck_assert (!trammel_mesh_grid_runs (&no_gears, (TrammelHoleGrid){ 10, FALSE, 0 }));
  ck_assert (!trammel_mesh_grid_closest (&no_gears, (TrammelHoleGrid){ 10, FALSE, 0 }, &closest));
  ck_assert (!trammel_mesh_grid_runs (&pair_16_40, (TrammelHoleGrid){ 0, FALSE, 0 }));
  ck_assert (!trammel_mesh_grid_runs (&pair_16_40, (TrammelHoleGrid){ NAN, FALSE, 0 }));
  ck_assert (!trammel_mesh_grid_closest (&pair_16_40, (TrammelHoleGrid){ 1e-300, FALSE, 0 }, &closest));
}
END_TEST

int
main (void)
{
  setlocale (LC_ALL, "C.UTF-8");
  Suite *suite = suite_create ("mesh-grid");
  TCase *grid = tcase_create ("grid");
  tcase_add_test (grid, every_offset_once);
  tcase_add_test (grid, equivalents_make_up_the_square);
  tcase_add_test (grid, exactly_the_distance_runs);
  tcase_add_test (grid, half_holes_add);
  tcase_add_loop_test (grid, grids_that_cannot_be, 0, G_N_ELEMENTS (refused));
  tcase_add_test (grid, a_ring_on_a_grid);
  tcase_add_test (grid, what_is_worth_knowing);
  tcase_add_test (grid, the_closest_of_all);
  tcase_add_test (grid, grids_without_an_end);
  suite_add_tcase (suite, grid);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
