/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts.h"

#include "base/error.h"
#include "drive/stage-gears.h"

#include <check.h>
#include <locale.h>
#include <math.h>
#include <string.h>

/* A stage from "key=value;key=value". */
static TrammelRecord *
make_stage (const char *type, const char *settings)
{
  return with_values (trammel_record_new (trammel_stage_kind (type)), settings);
}

/* Distances by hand from the sum or difference of the teeth; the shifted one is published (see test-gear.c). */
static const struct
{
  const char *type, *settings;
  double distance, center;
} stages[] = {
  { "spur", "driver=16;driven=40", 28, 28 },
  { "spur", "driver=16;driven=40;module=", 28, 28 },
  { "spur", "driver=16;driven=40;module=2 DP;center=14.25 in", 355.6, 361.95 },
  { "spur", "driver=12;driven=24;module=3 mm;shift_driver=0.6;shift_driven=0.36;angle=20", 56.4999, 56.4999 },
  { "internal", "driver=15;driven=60;angle=25 deg", 22.5, 22.5 },
  { "internal", "driver=60;driven=15;ring=driver;center=22.4", 22.5, 22.4 },
};

START_TEST (gears_of_a_stage)
{
  g_autoptr (TrammelRecord) stage = make_stage (stages[_i].type, stages[_i].settings);
  TrammelStageGears gears;
  ck_assert (trammel_stage_gears (stage, 0, &gears, NULL));
  ck_assert_double_eq_tol (gears.distance, stages[_i].distance, 5e-5);
  ck_assert_double_eq_tol (gears.center, stages[_i].center, 5e-5);
  ck_assert_int_eq (gears.pair.b.internal, strcmp (stages[_i].type, "internal") == 0);
  ck_assert (!gears.pair.a.internal);
  ck_assert_int_eq (gears.pair.a.teeth, gears.driver_is_b ? trammel_record_integer (stage, "driven")
                                                          : trammel_record_integer (stage, "driver"));
}
END_TEST

START_TEST (shifts_go_with_their_gears)
{
  g_autoptr (TrammelRecord) stage
      = make_stage ("internal", "driver=60;driven=20;ring=driver;shift_driver=-0.1;shift_driven=0.2;angle=14.5");
  TrammelStageGears gears;
  ck_assert (trammel_stage_gears (stage, 0, &gears, NULL));
  ck_assert (gears.driver_is_b);
  ck_assert_int_eq (gears.pair.b.teeth, 60);
  ck_assert_double_eq (gears.pair.b.shift, -0.1);
  ck_assert_double_eq (gears.pair.a.shift, 0.2);
  ck_assert_double_eq_tol (gears.pair.a.angle, 14.5 * G_PI / 180, 1e-15);
}
END_TEST

static const struct
{
  const char *type, *settings, *part;
} refused[] = {
  { "belt", "", "a spur pair or an internal pair is wanted" },
  { "spur", "center=28 mm\n29 mm", "center: found 2 center distances" },
  { "spur", "driver=", "driver: not set" },
  { "spur", "driver=2", "gear 1: found 2 teeth" },
  { "internal", "driver=60;driven=15", "driven: found a ring of 15 teeth" },
};

START_TEST (stages_without_such_gears)
{
  g_autoptr (TrammelRecord) stage = make_stage (refused[_i].type, refused[_i].settings);
  g_autoptr (GError) error = NULL;
  TrammelStageGears gears;
  ck_assert (!trammel_stage_gears (stage, 0, &gears, &error));
  ck_assert_msg (strstr (error->message, refused[_i].part) != NULL, "%s", error->message);
}
END_TEST

/* 16:40 on holes at 20 and 20 mm: 28.284 mm, backlash 0.2168 mm there (numpy: the pitch on the working circles less
 * both thicknesses), which is 0.2168·28/28.284 = 0.2146 mm at the pitch circles of the teeth. */
START_TEST (built_at_a_distance)
{
  g_autoptr (TrammelRecord) stage = make_stage ("spur", "driver=16;driven=40");
  g_autoptr (TrammelRecord) built = trammel_stage_with_center (stage, 0, sqrt (800), NULL);
  g_autofree char *center = trammel_record_text (built, "center");
  g_autofree char *lash = trammel_record_text (built, "lash");
  ck_assert_str_eq (center, "28.284 mm");
  ck_assert_str_eq (lash, "0.215 mm");
  ck_assert_int_eq (trammel_record_integer (built, "driver"), 16);

  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_stage_with_center (stage, 0, 27, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE));
  ck_assert_msg (strstr (error->message, "too near") != NULL, "%s", error->message);
}
END_TEST

/* By hand: 16 and 24 teeth of module 1 are 20 mm apart, 24 and 40 are 32, 16 and 40 would be 28. */
START_TEST (meshes_over_idlers)
{
  g_autoptr (TrammelRecord) stage
      = make_stage ("spur", "driver=16;driven=40;idlers=24;angle=25;shift_driver=0.3;shift_driven=0.2;center=20.4 mm");
  TrammelStageGears gears;
  ck_assert_uint_eq (trammel_stage_n_gear_meshes (stage), 2);
  ck_assert (trammel_stage_gears (stage, 0, &gears, NULL));
  ck_assert_int_eq (gears.pair.a.teeth, 16);
  ck_assert_int_eq (gears.pair.b.teeth, 24);
  ck_assert_double_eq (gears.pair.a.shift, 0.3);
  ck_assert_double_eq (gears.pair.b.shift, 0);
  ck_assert_double_eq_tol (gears.pair.b.angle, 25 * G_PI / 180, 1e-15);
  ck_assert_double_eq (trammel_gear_pair_reference_distance (&gears.pair), 20);
  ck_assert (gears.placed);
  ck_assert_double_eq (gears.center, 20.4);
  ck_assert (trammel_stage_gears (stage, 1, &gears, NULL));
  ck_assert_int_eq (gears.pair.a.teeth, 24);
  ck_assert_int_eq (gears.pair.b.teeth, 40);
  ck_assert_double_eq (gears.pair.b.shift, 0.2);
  ck_assert_double_eq (trammel_gear_pair_reference_distance (&gears.pair), 32);
  ck_assert (!gears.placed);
  ck_assert_double_eq (gears.center, gears.distance);
}
END_TEST

/* The backlash of a pair that stands wide, j = 2a·(inv α_w − inv α) with cos α_w = cos α·a₀/a (ISO 21771), is
 * 2a₀·(inv α_w − inv α) at the pitch circles. By hand for 20°, inv 20° = 0.0149044:
 *   16 and 24, a₀ = 20, a = 20.1: α_w = 20.7690°, inv = 0.0167580: 40·0.0018536 = 0.07414 mm
 *   24 and 40, a₀ = 32, a = 32.2: α_w = 20.9559°, inv = 0.0172317: 64·0.0023273 = 0.14895 mm */
START_TEST (lashes_of_meshes_add_up)
{
  g_autoptr (TrammelRecord) stage = make_stage ("spur", "driver=16;driven=40;idlers=24");
  g_autoptr (TrammelRecord) second = trammel_stage_with_center (stage, 1, 32.2, NULL);
  g_autofree char *centers = trammel_record_text (second, "center");
  ck_assert_str_eq (centers, "20 mm; 32.2 mm");
  ck_assert_double_eq_tol (trammel_record_value (second, "lash"), 0.14895, 6e-4);

  g_autoptr (TrammelRecord) both = trammel_stage_with_center (second, 0, 20.1, NULL);
  g_autofree char *placed = trammel_record_text (both, "center");
  ck_assert_str_eq (placed, "20.1 mm; 32.2 mm");
  ck_assert_double_eq_tol (trammel_record_value (both, "lash"), 0.07414 + 0.14895, 6e-4);

  g_autoptr (TrammelRecord) first = trammel_stage_with_center (stage, 0, 20.1, NULL);
  g_autofree char *one = trammel_record_text (first, "center");
  ck_assert_str_eq (one, "20.1 mm");
  ck_assert_double_eq_tol (trammel_record_value (first, "lash"), 0.07414, 6e-4);

  g_autoptr (TrammelRecord) inches = with_values (trammel_record_ref (stage), "center=0.8 in\n1.3 in");
  g_autoptr (TrammelRecord) kept = trammel_stage_with_center (inches, 0, 20.1, NULL);
  g_autofree char *as_typed = trammel_record_text (kept, "center");
  ck_assert_str_eq (as_typed, "20.1 mm; 1.3 in");
}
END_TEST

START_TEST (bounds_of_the_fields)
{
  g_autoptr (TrammelRecord) stage = make_stage ("spur", "angle=10;shift_driver=-2;shift_driven=2");
  g_autoptr (TrammelRecord) steep = trammel_record_with_text (stage, "angle", "35 deg", NULL, NULL);
  ck_assert_ptr_nonnull (steep);
  ck_assert_ptr_null (trammel_record_with_text (stage, "angle", "9.9 deg", NULL, NULL));
  ck_assert_ptr_null (trammel_record_with_text (stage, "angle", "35.1 deg", NULL, NULL));
  ck_assert_ptr_null (trammel_record_with_text (stage, "shift_driver", "2.1", NULL, NULL));
  ck_assert_ptr_null (trammel_record_with_text (stage, "center", "0 mm", NULL, NULL));
}
END_TEST

int
main (void)
{
  setlocale (LC_ALL, "C.UTF-8");
  Suite *suite = suite_create ("stage-gears");
  TCase *gears = tcase_create ("gears");
  tcase_add_loop_test (gears, gears_of_a_stage, 0, G_N_ELEMENTS (stages));
  tcase_add_test (gears, shifts_go_with_their_gears);
  tcase_add_loop_test (gears, stages_without_such_gears, 0, G_N_ELEMENTS (refused));
  tcase_add_test (gears, built_at_a_distance);
  tcase_add_test (gears, meshes_over_idlers);
  tcase_add_test (gears, lashes_of_meshes_add_up);
  tcase_add_test (gears, bounds_of_the_fields);
  suite_add_tcase (suite, gears);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
