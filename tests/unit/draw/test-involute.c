/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>

#include "outline-area.h"

typedef struct
{
  int a, b;
} Pair;

#define MOTOR_ANGLES 24

static TrammelPoint *
outline_of (int teeth, gsize *n)
{
  TrammelToothForm form = trammel_tooth_form (teeth);
  return trammel_involute_external (&form, n);
}

static TrammelPoint *
hole_of (int teeth, int mate_teeth, gsize *n)
{
  TrammelToothForm form = trammel_tooth_form (teeth), mate = trammel_tooth_form (mate_teeth);
  return trammel_involute_internal (&form, mate_teeth > 0 ? &mate : NULL, (teeth - mate_teeth) / 2.0, n);
}

static const Pair spur_pairs[] = { { 12, 36 }, { 36, 12 },  { 8, 30 }, { 8, 8 },  { 40, 16 },
                                   { 17, 17 }, { 10, 120 }, { 6, 24 }, { 5, 13 }, { 20, 300 } };

START_TEST (spur_teeth_do_not_overlap)
{
  Pair pair = spur_pairs[_i];
  double direction = 0.3, distance = (pair.a + pair.b) / 2.0;
  for (int step = 0; step < MOTOR_ANGLES; step++)
    {
      double turn_a = 0.17 + 2 * G_PI / pair.a * step / MOTOR_ANGLES;
      double at_rest = trammel_involute_mesh (pair.a, 0.17, pair.b, direction);
      double turn_b = at_rest - (turn_a - 0.17) * pair.a / pair.b;
      gsize n_a, n_b;
      TrammelPoint *pa = outline_of (pair.a, &n_a), *pb = outline_of (pair.b, &n_b);
      Outline a = placed (pa, n_a, turn_a, 0, 0);
      Outline b = placed (pb, n_b, turn_b, distance * cos (direction), distance * sin (direction));
      double area = common_area (a, b, FALSE);
      ck_assert_msg (area < 1e-3, "%d:%d at step %d overlap by %g square modules", pair.a, pair.b, step, area);
      g_free (pa);
      g_free (pb);
    }
}
END_TEST

/* Turned by half a pitch out of mesh they must overlap: the measure above can fail. */
START_TEST (out_of_mesh_is_seen)
{
  Pair pair = spur_pairs[_i];
  gsize n_a, n_b;
  TrammelPoint *pa = outline_of (pair.a, &n_a), *pb = outline_of (pair.b, &n_b);
  double turn_b = trammel_involute_mesh (pair.a, 0, pair.b, 0) + G_PI / pair.b;
  Outline a = placed (pa, n_a, 0, 0, 0), b = placed (pb, n_b, turn_b, (pair.a + pair.b) / 2.0, 0);
  ck_assert_double_gt (common_area (a, b, FALSE), 0.5);
  g_free (pa);
  g_free (pb);
}
END_TEST

static const Pair ring_pairs[]
    = { { 12, 48 }, { 18, 48 }, { 30, 80 }, { 16, 60 }, { 20, 100 }, { 12, 24 }, { 24, 36 }, { 10, 40 }, { 8, 72 } };

START_TEST (ring_teeth_do_not_overlap)
{
  Pair pair = ring_pairs[_i];
  double direction = -2.1, distance = (pair.b - pair.a) / 2.0;
  for (int step = 0; step < MOTOR_ANGLES; step++)
    {
      double turn_a = 0.4 + 2 * G_PI / pair.a * step / MOTOR_ANGLES;
      double at_rest = trammel_involute_mesh_ring (pair.a, 0.4, pair.b, direction);
      double turn_b = at_rest + (turn_a - 0.4) * pair.a / pair.b;
      gsize n_a, n_b;
      TrammelPoint *pa = outline_of (pair.a, &n_a);
      TrammelPoint *pb = hole_of (pair.b, pair.a, &n_b);
      Outline a = placed (pa, n_a, turn_a, distance * cos (direction), distance * sin (direction));
      Outline hole = placed (pb, n_b, turn_b, 0, 0);
      double area = common_area (a, hole, TRUE);
      ck_assert_msg (area < 1e-3, "%d in %d at step %d overlap by %g square modules", pair.a, pair.b, step, area);
      g_free (pa);
      g_free (pb);
    }
}
END_TEST

static double
radius_of (TrammelPoint p)
{
  return hypot (p.x, p.y);
}

/* z 12 and 24, m 3: tip diameters 42 and 78, pitch 36 and 72 (a gear maker's technical reference, from memory; follows
 * from the definitions d_a = (z + 2)·m). */
START_TEST (outline_has_tip_and_root)
{
  static const struct
  {
    int teeth;
    double tip_diameter, root_diameter;
  } cases[] = { { 12, 42, 28.5 }, { 24, 78, 64.5 } };

  for (gsize k = 0; k < G_N_ELEMENTS (cases); k++)
    {
      gsize n;
      double low = INFINITY, high = 0;
      g_autofree TrammelPoint *p = outline_of (cases[k].teeth, &n);
      for (gsize i = 0; i < n; i++)
        {
          low = MIN (low, radius_of (p[i]));
          high = MAX (high, radius_of (p[i]));
        }
      ck_assert_double_eq_tol (2 * 3 * high, cases[k].tip_diameter, 1e-9);
      ck_assert_double_eq_tol (2 * 3 * low, cases[k].root_diameter, 1e-9);
      ck_assert_uint_eq (n % cases[k].teeth, 0);
      ck_assert_uint_le (n / cases[k].teeth, 60);
    }
}
END_TEST

/* inv 20° = 0.014904 (tables of the involute function in any machinery handbook; from memory). */
START_TEST (involute_function)
{
  ck_assert_double_eq_tol (trammel_gear_involute (G_PI / 9), 0.014904, 5e-7);
}
END_TEST

/* At the pitch circle a standard tooth is as thick as its space: half angle π/2z. */
START_TEST (tooth_is_half_the_pitch)
{
  TrammelToothForm twenty = trammel_tooth_form (20);
  ck_assert_double_eq_tol (trammel_involute_half_tooth (&twenty, 10), G_PI / 40, 1e-12);
}
END_TEST

/* No tooth count may crash, hang, or give a point that is no number. */
START_TEST (any_tooth_count)
{
  static const int counts[] = { 1, 2, 3, 4, 5, 7, 9, 11, 13, 400, 10000 };
  for (gsize k = 0; k < G_N_ELEMENTS (counts); k++)
    {
      gsize n;
      g_autofree TrammelPoint *external = outline_of (counts[k], &n);
      for (gsize i = 0; i < n; i++)
        ck_assert (isfinite (external[i].x) && isfinite (external[i].y));
      if (counts[k] < 3)
        continue;
      for (int mate = 0; mate <= counts[k]; mate += MAX (1, counts[k] / 3))
        {
          g_autofree TrammelPoint *internal = hole_of (counts[k], mate, &n);
          for (gsize i = 0; i < n; i++)
            ck_assert (isfinite (internal[i].x) && isfinite (internal[i].y));
        }
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("involute");
  TCase *tcase = tcase_create ("outlines");
  tcase_set_timeout (tcase, 60);
  tcase_add_loop_test (tcase, spur_teeth_do_not_overlap, 0, G_N_ELEMENTS (spur_pairs));
  tcase_add_loop_test (tcase, out_of_mesh_is_seen, 0, G_N_ELEMENTS (spur_pairs));
  tcase_add_loop_test (tcase, ring_teeth_do_not_overlap, 0, G_N_ELEMENTS (ring_pairs));
  tcase_add_test (tcase, outline_has_tip_and_root);
  tcase_add_test (tcase, involute_function);
  tcase_add_test (tcase, tooth_is_half_the_pitch);
  tcase_add_test (tcase, any_tooth_count);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
