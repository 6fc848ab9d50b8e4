/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/gear-pair.h"
#include "drive/gear-root.h"

#include <check.h>
#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define DEGREE (G_PI / 180)
#define INCH 25.4

static TrammelGear
gear_of (int teeth, double module, double degrees, double shift)
{
  return (TrammelGear){ teeth, module, degrees * DEGREE, shift, FALSE };
}

/* @b negative: a ring. */
static TrammelGearPair
pair_of (int a, int b, double module, double degrees, double shift_a, double shift_b)
{
  TrammelGearPair pair = { gear_of (a, module, degrees, shift_a), gear_of (abs (b), module, degrees, shift_b) };
  pair.b.internal = b < 0;
  return pair;
}

/* Involute function tables, as in any gear handbook (0.0149044 for 20°; the others from memory, and by hand from
 * tan α − α). */
static const struct
{
  double degrees, involute;
} involutes[] = { { 10, 0.0017941 },   { 14.5, 0.0055448 }, { 20, 0.0149044 },
                  { 22.5, 0.0215145 }, { 25, 0.0299753 },   { 30, 0.0537515 } };

START_TEST (involute_tables)
{
  const double angle = involutes[_i].degrees * DEGREE;
  ck_assert_double_eq_tol (trammel_gear_involute (angle), involutes[_i].involute, 6e-8);
  ck_assert_double_eq_tol (trammel_gear_involute_inverse (involutes[_i].involute) / DEGREE, involutes[_i].degrees,
                           5e-4);
}
END_TEST

START_TEST (involute_there_and_back)
{
  for (double angle = 1e-8; angle < 1.57; angle = angle < 0.5 ? angle * 1.3 : angle + 0.01)
    ck_assert_double_eq_tol (trammel_gear_involute_inverse (trammel_gear_involute (angle)) / angle, 1, 1e-13);
  ck_assert_double_eq (trammel_gear_involute_inverse (0), 0);
  /* tan α − α = 1e9 within a hair of π/2 */
  ck_assert_double_eq_tol (trammel_gear_involute_inverse (1e9), G_PI_2, 1e-8);
  ck_assert_double_nan (trammel_gear_involute_inverse (-1e-9));
  ck_assert_double_nan (trammel_gear_involute_inverse (INFINITY));
  ck_assert_double_nan (trammel_gear_involute_inverse (NAN));
}
END_TEST

/* Standard pair of module 3, 20°, 12 and 24 teeth: a gear maker's technical reference table (from memory; follows from
 * the definitions). The last three by hand. */
static const struct
{
  int teeth;
  double module, degrees, shift;
  gboolean internal;
  double reference, base, tip, root;
} diameters[] = {
  { 12, 3, 20, 0, FALSE, 36, 33.829, 42, 28.5 },     { 24, 3, 20, 0, FALSE, 72, 67.658, 78, 64.5 },
  { 12, 3, 20, 0.6, FALSE, 36, 33.829, 45.6, 32.1 }, { 60, 1, 25, 0, TRUE, 60, 54.378, 58, 62.5 },
  { 60, 1, 25, 0.25, TRUE, 60, 54.378, 57.5, 62 },
};

START_TEST (published_diameters)
{
  TrammelGear gear = gear_of (diameters[_i].teeth, diameters[_i].module, diameters[_i].degrees, diameters[_i].shift);
  gear.internal = diameters[_i].internal;
  ck_assert (trammel_gear_check (gear, NULL));
  ck_assert_double_eq_tol (trammel_gear_reference_diameter (gear), diameters[_i].reference, 1e-12);
  ck_assert_double_eq_tol (trammel_gear_base_diameter (gear), diameters[_i].base, 5e-4);
  ck_assert_double_eq_tol (trammel_gear_tip_diameter (gear), diameters[_i].tip, 1e-12);
  ck_assert_double_eq_tol (trammel_gear_root_diameter (gear), diameters[_i].root, 1e-12);
}
END_TEST

START_TEST (tooth_thickness)
{
  TrammelGear gear = gear_of (16, 2, 20, 0);
  /* Half the pitch on the reference circle, by definition. */
  ck_assert_double_eq_tol (trammel_gear_thickness (gear, 32), G_PI, 1e-12);
  /* s_b = cos α (s + d·inv α), in numpy */
  ck_assert_double_eq_tol (trammel_gear_thickness (gear, trammel_gear_base_diameter (gear)), 3.400308699293438, 1e-12);
  gear.shift = 0.5;
  ck_assert_double_eq_tol (trammel_gear_thickness (gear, 32), G_PI + 2 * tan (20 * DEGREE), 1e-12);
  /* Tooth and space of a ring and of its twin outside make up the pitch, everywhere. */
  TrammelGear ring = gear_of (40, 1, 20, 0.3), twin = gear_of (40, 1, 20, -0.3);
  ring.internal = TRUE;
  for (double diameter = 38; diameter < 42; diameter += 0.5)
    ck_assert_double_eq_tol (trammel_gear_thickness (ring, diameter) + trammel_gear_thickness (twin, diameter),
                             G_PI * diameter / 40, 1e-12);
}
END_TEST

/* 17 teeth for 20°, 32 for 14.5° and 12 for 25°: AGMA and ISO practice (from memory); 2/sin²α by hand. */
START_TEST (undercut_limit)
{
  ck_assert_int_eq (trammel_gear_fewest_teeth (20 * DEGREE, 0), 17);
  ck_assert_int_eq (trammel_gear_fewest_teeth (14.5 * DEGREE, 0), 32);
  ck_assert_int_eq (trammel_gear_fewest_teeth (25 * DEGREE, 0), 12);
  ck_assert_double_eq_tol (trammel_gear_undercut_limit (20 * DEGREE, 0), 17.0973, 5e-5);
  ck_assert (trammel_gear_is_undercut (gear_of (16, 1, 20, 0)));
  ck_assert (!trammel_gear_is_undercut (gear_of (17, 1, 20, 0)));
  /* 1 − 6·sin² 20° for 12 teeth, in numpy */
  ck_assert_double_eq_tol (trammel_gear_undercut_shift (12, 20 * DEGREE), 0.29813332935693, 1e-12);
  ck_assert (trammel_gear_is_undercut (gear_of (12, 1, 20, 0.28)));
  ck_assert (!trammel_gear_is_undercut (gear_of (12, 1, 20, 0.3)));
}
END_TEST

START_TEST (pointed_teeth)
{
  ck_assert (!trammel_gear_is_pointed (gear_of (12, 1, 20, 0)));
  ck_assert (trammel_gear_is_pointed (gear_of (8, 1, 20, 0.8)));
  TrammelGear gear = gear_of (12, 1, 20, 0);
  /* inv α_p = 0.0149044 + π/24 = 0.1458040; tan α_p − α_p is that at 41.0996°, found by bisection in
   * numpy; 11.27631/cos */
  ck_assert_double_eq_tol (trammel_gear_pointed_diameter (gear), 14.804677293118, 1e-10);
  ck_assert_double_eq_tol (trammel_gear_thickness (gear, trammel_gear_pointed_diameter (gear)), 0, 1e-12);
}
END_TEST

/* The root of 12 teeth at module 1, α 20°, found by rolling the rack's outline over the blank in steps of 0.001 mm in
 * numpy and taking, on each circle, the widest that it removes: half the angle of the space. */
static const struct
{
  double radius, half_space;
} rolled[] = { { 4.80, 0.05408 }, { 5.00, 0.09674 }, { 5.28, 0.11573 }, { 5.48, 0.11827 }, { 5.60, 0.11710 } };

START_TEST (root_as_rolled)
{
  TrammelGear gear = gear_of (12, 1, 20, 0);
  for (gsize i = 0; i < G_N_ELEMENTS (rolled); i++)
    {
      ck_assert_double_eq_tol (trammel_gear_root_half_space (gear, 2 * rolled[i].radius), rolled[i].half_space, 3e-4);
      gear.module = 2.5;
      ck_assert_double_eq_tol (trammel_gear_root_half_space (gear, 5 * rolled[i].radius), rolled[i].half_space, 3e-4);
      gear.module = 1;
    }
  /* There the removed width meets the involute between 5.64 and 5.68. */
  ck_assert_double_eq_tol (trammel_gear_form_diameter (gear), 2 * 5.66, 0.04);
  /* Without undercut the flank ends where the rack's, 1 m deep, touches: √(r_b² + (r·sin α − 1/sin α)²). */
  gear.teeth = 40;
  const double base = 20 * cos (20 * DEGREE), along = 20 * sin (20 * DEGREE) - 1 / sin (20 * DEGREE);
  ck_assert_double_eq_tol (trammel_gear_form_diameter (gear) / 2, hypot (base, along), 2e-4);
}
END_TEST

/* 16 and 40 teeth, diametral pitch 2, 20°: 14 in, base radii 3.759 and 9.397 in; spread to 14.25 in 22.6°. Budynas &
 * Nisbett, Shigley's Mechanical Engineering Design, first example of chapter 13 (from memory; follows from the
 * involute). */
START_TEST (handbook_pair)
{
  TrammelGearPair pair = pair_of (16, 40, INCH / 2, 20, 0, 0);
  double distance;
  ck_assert (trammel_gear_pair_distance (&pair, &distance, NULL));
  ck_assert_double_eq_tol (distance / INCH, 14, 1e-12);
  ck_assert_double_eq_tol (trammel_gear_base_diameter (pair.a) / 2 / INCH, 3.759, 5e-4);
  ck_assert_double_eq_tol (trammel_gear_base_diameter (pair.b) / 2 / INCH, 9.397, 5e-4);
  TrammelMesh mesh = trammel_gear_pair_at (&pair, 14.25 * INCH);
  ck_assert_double_eq_tol (mesh.working_angle / DEGREE, 22.6, 0.05);
  ck_assert_int_eq (mesh.state, TRAMMEL_MESH_RUNS);
}
END_TEST

/* Published: module 3, 20°, 12 and 24 teeth, shifts 0.6 and 0.36: α_w 26.0886°, a 56.4999 (a gear maker's technical
 * reference table, from memory); its internal example of 16 and 24 teeth with the ring shifted outward by 0.516 (here
 * −0.516): α_w 31.3209°. The others by scipy's brentq from inv α_w = inv α + 2(x₁ + x₂)tan α/(z₁ + z₂). */
static const struct
{
  int a, b;
  double module, degrees, shift_a, shift_b;
  double working, distance;
} shifted[] = {
  { 12, 24, 3, 20, 0.6, 0.36, 26.088563442069862, 56.49986972030518 },
  { 16, -24, 3, 20, 0, -0.516, 31.320917165859317, 13.19995222789809 },
  { 17, 40, 1, 14.5, 0.2, -0.1, 15.237418066012523, 28.597552975026513 },
  { 20, -60, 1.25, 25, 0.3, 0.1, 22.206825143258126, 24.472962753630096 },
};

START_TEST (shifted_pairs)
{
  TrammelGearPair pair = pair_of (shifted[_i].a, shifted[_i].b, shifted[_i].module, shifted[_i].degrees,
                                  shifted[_i].shift_a, shifted[_i].shift_b);
  double distance;
  ck_assert (trammel_gear_pair_distance (&pair, &distance, NULL));
  ck_assert_double_eq_tol (distance, shifted[_i].distance, 1e-12 * distance);
  TrammelMesh mesh = trammel_gear_pair_at (&pair, distance);
  ck_assert_double_eq_tol (mesh.working_angle / DEGREE, shifted[_i].working, 1e-10);
  ck_assert_double_eq (mesh.backlash, 0);
}
END_TEST

/* Backlash is what is left of the pitch on the working circles beside both thicknesses there. */
START_TEST (backlash_from_thicknesses)
{
  for (gsize i = 0; i < G_N_ELEMENTS (shifted); i++)
    for (double more = -0.3; more <= 0.5; more += 0.1)
      {
        TrammelGearPair pair = pair_of (shifted[i].a, shifted[i].b, shifted[i].module, shifted[i].degrees,
                                        shifted[i].shift_a, shifted[i].shift_b);
        const double distance = shifted[i].distance + more;
        const double radius_a = distance * shifted[i].a / abs (shifted[i].a + shifted[i].b);
        const double radius_b = distance * abs (shifted[i].b) / abs (shifted[i].a + shifted[i].b);
        const double left = 2 * G_PI * radius_a / shifted[i].a - trammel_gear_thickness (pair.a, 2 * radius_a)
                            - trammel_gear_thickness (pair.b, 2 * radius_b);
        TrammelMesh mesh = trammel_gear_pair_at (&pair, distance);
        if (isnan (mesh.working_angle))
          continue;
        ck_assert_double_eq_tol (mesh.backlash, left, 1e-9);
        ck_assert_double_eq_tol (mesh.normal_backlash, left * cos (mesh.working_angle), 1e-9);
      }
}
END_TEST

/* By the formula in numpy. 16:40 at module 1; the ring's by the same with the signs of an internal pair. */
START_TEST (contact_ratio)
{
  TrammelGearPair pair = pair_of (16, 40, 1, 20, 0, 0), ring = pair_of (20, -60, 1, 20, 0, 0);
  ck_assert_double_eq_tol (trammel_gear_pair_at (&pair, 28).contact_ratio, 1.6061339523487, 1e-12);
  ck_assert_double_eq_tol (trammel_gear_pair_at (&pair, sqrt (800)).contact_ratio, 1.3345313152435, 1e-12);

  ck_assert_double_eq_tol (trammel_gear_pair_at (&ring, 20).contact_ratio, 1.9496623000521, 1e-12);
  /* Twelve teeth are undercut up to where the rolled rack meets the involute (see above). */
  TrammelGearPair few = pair_of (12, 36, 1, 20, 0, 0);
  TrammelMesh mesh = trammel_gear_pair_at (&few, 24);
  ck_assert_double_eq_tol (mesh.contact_ratio, 1.5563940281643, 1e-12);
  ck_assert_double_eq_tol (mesh.true_contact_ratio, 1.27, 0.03);
}
END_TEST

/* Every way in which a pair may be; by hand from the tip circles and base circles. */
static const struct
{
  int a, b;
  double distance, shift_a, shift_b;
  TrammelMeshState state;
} states[] = {
  { 16, 40, 28, 0, 0, TRAMMEL_MESH_RUNS },
  { 16, 40, 28.2842712474619, 0, 0, TRAMMEL_MESH_RUNS },
  { 16, 40, 27.99, 0, 0, TRAMMEL_MESH_BINDS },
  { 16, 40, 20, 0, 0, TRAMMEL_MESH_BINDS }, /* base circles overlap */
  { 16, 40, 29.15, 0, 0, TRAMMEL_MESH_SHORT },
  { 16, 40, 30, 0, 0, TRAMMEL_MESH_APART },
  { 16, 40, 60, 0, 0, TRAMMEL_MESH_APART },
  { 10, 10, 12, 1, 1, TRAMMEL_MESH_BOTTOMS }, /* 12 − 7 − 4.75 = 0.25, and the shifted distance is less: see below */
  { 20, -60, 20, 0, 0, TRAMMEL_MESH_RUNS },
  { 20, -60, 19.8, 0, 0, TRAMMEL_MESH_RUNS },
  { 20, -60, 20.1, 0, 0, TRAMMEL_MESH_BINDS },
  { 20, -60, 19, 0, 0, TRAMMEL_MESH_SHORT },
  { 20, -60, 17.9, 0, 0, TRAMMEL_MESH_APART },
  /* Ring of 60: a numpy search over the way of a pinion's tip corner finds it in the ring's tooth from 52 teeth up. */
  { 51, -60, 4.5, 0, 0, TRAMMEL_MESH_RUNS },
  { 52, -60, 4, 0, 0, TRAMMEL_MESH_TIPS_MEET },
  { 55, -60, 2.5, 0, 0, TRAMMEL_MESH_TIPS_MEET },
};

START_TEST (states_of_a_pair)
{
  TrammelGearPair pair = pair_of (states[_i].a, states[_i].b, 1, 20, states[_i].shift_a, states[_i].shift_b);
  double distance = states[_i].distance;
  if (states[_i].state == TRAMMEL_MESH_BOTTOMS)
    ck_assert (trammel_gear_pair_distance (&pair, &distance, NULL));
  TrammelMesh mesh = trammel_gear_pair_at (&pair, distance);
  ck_assert_int_eq (mesh.state, states[_i].state);
  if (mesh.state == TRAMMEL_MESH_APART)
    ck_assert (!(mesh.contact_ratio > 0));
}
END_TEST

/* A module and its multiple: all lengths in proportion, all else the same. */
START_TEST (size_does_not_matter)
{
  TrammelGearPair small = pair_of (12, 36, 0.5, 20, 0.3, 0), large = pair_of (12, 36, 5, 20, 0.3, 0);
  for (double distance = 12; distance < 13; distance += 0.05)
    {
      TrammelMesh a = trammel_gear_pair_at (&small, distance), b = trammel_gear_pair_at (&large, 10 * distance);
      ck_assert_int_eq (a.state, b.state);
      ck_assert_double_eq_tol (10 * a.backlash, b.backlash, 1e-9);
      ck_assert_double_eq_tol (a.contact_ratio, b.contact_ratio, 1e-9);
    }
}
END_TEST

/* Gears cut by the same rack never foul each other's roots at the standard distance or farther: what the rack's tip
 * left, a shorter tip clears (Shigley, chapter 13: undercutting eliminates interference). */
START_TEST (standard_gears_clear_their_roots)
{
  for (int a = 6; a <= 60; a += 3)
    for (int b = a; b <= 120; b += 19)
      {
        TrammelGearPair pair = pair_of (a, b, 1, 20, 0, 0);
        ck_assert (!trammel_gear_pair_at (&pair, (a + b) / 2.0).fouls);
        ck_assert (!trammel_gear_pair_at (&pair, (a + b) / 2.0 + 0.1).fouls);
      }
  /* A ring's tip inside the base circle of a small pinion, whose flank does not go so deep. */
  TrammelGearPair ring = pair_of (15, -60, 1, 20, 0, 0);
  ck_assert (trammel_gear_pair_at (&ring, 22.5).fouls);
}
END_TEST

static const struct
{
  int a, b;
  double module, degrees, shift_a, shift_b;
  int code;
  const char *part; /* of the message */
} refused[] = {
  { 2, 40, 1, 20, 0, 0, TRAMMEL_ERROR_RANGE, "gear 1: found 2 teeth" },
  { 16, 10001, 1, 20, 0, 0, TRAMMEL_ERROR_RANGE, "gear 2: found 10001 teeth" },
  { 16, 40, 0, 20, 0, 0, TRAMMEL_ERROR_RANGE, "module of 0 mm" },
  { 16, 40, NAN, 20, 0, 0, TRAMMEL_ERROR_RANGE, "module of nan" },
  { 16, 40, 1, 9, 0, 0, TRAMMEL_ERROR_RANGE, "pressure angle of 9°" },
  { 16, 40, 1, 36, 0, 0, TRAMMEL_ERROR_RANGE, "pressure angle of 36°" },
  { 16, 40, 1, 20, 2.1, 0, TRAMMEL_ERROR_RANGE, "shift of 2.1" },
  { 16, 40, 1, 20, 0, NAN, TRAMMEL_ERROR_RANGE, "gear 2: found a profile shift of nan" },
  { 3, 40, 1, 20, -1, 0, TRAMMEL_ERROR_IMPOSSIBLE, "gear 1: found 3 teeth with a profile shift of -1" },
  { 40, -40, 1, 20, 0, 0, TRAMMEL_ERROR_IMPOSSIBLE, "ring of 40 teeth around a pinion of 40" },
  { 40, -20, 1, 20, 0, 0, TRAMMEL_ERROR_IMPOSSIBLE, "ring of 20 teeth around a pinion of 40" },
  { 10, 10, 1, 20, -0.9, -0.9, TRAMMEL_ERROR_IMPOSSIBLE, "a greater sum is wanted" },
  { 20, -30, 1, 20, 0.5, 0.5, TRAMMEL_ERROR_IMPOSSIBLE, "a smaller sum is wanted" },
};

START_TEST (pairs_that_cannot_be)
{
  TrammelGearPair pair = pair_of (refused[_i].a, refused[_i].b, refused[_i].module, refused[_i].degrees,
                                  refused[_i].shift_a, refused[_i].shift_b);
  g_autoptr (GError) error = NULL;
  double distance = -1;
  ck_assert (!trammel_gear_pair_distance (&pair, &distance, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, refused[_i].code), "%s", error->message);
  ck_assert_msg (strstr (error->message, refused[_i].part) != NULL, "%s", error->message);
  ck_assert_double_eq (distance, -1);
}
END_TEST

START_TEST (unlike_gears)
{
  TrammelGearPair pair = pair_of (16, 40, 1, 20, 0, 0);
  g_autoptr (GError) error = NULL;
  pair.b.module = 1.25;
  ck_assert (!trammel_gear_pair_check (&pair, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE));
  pair = pair_of (16, 40, 1, 20, 0, 0);
  pair.a.internal = TRUE;
  ck_assert (!trammel_gear_pair_check (&pair, NULL));
}
END_TEST

int
main (void)
{
  setlocale (LC_ALL, "C.UTF-8");
  Suite *suite = suite_create ("gear");
  TCase *gear = tcase_create ("gear"), *pair = tcase_create ("pair");
  tcase_add_loop_test (gear, involute_tables, 0, G_N_ELEMENTS (involutes));
  tcase_add_test (gear, involute_there_and_back);
  tcase_add_loop_test (gear, published_diameters, 0, G_N_ELEMENTS (diameters));
  tcase_add_test (gear, tooth_thickness);
  tcase_add_test (gear, undercut_limit);
  tcase_add_test (gear, pointed_teeth);
  tcase_add_test (gear, root_as_rolled);
  tcase_add_test (pair, handbook_pair);
  tcase_add_loop_test (pair, shifted_pairs, 0, G_N_ELEMENTS (shifted));
  tcase_add_test (pair, backlash_from_thicknesses);
  tcase_add_test (pair, contact_ratio);
  tcase_add_loop_test (pair, states_of_a_pair, 0, G_N_ELEMENTS (states));
  tcase_add_test (pair, size_does_not_matter);
  tcase_add_test (pair, standard_gears_clear_their_roots);
  tcase_add_loop_test (pair, pairs_that_cannot_be, 0, G_N_ELEMENTS (refused));
  tcase_add_test (pair, unlike_gears);
  suite_add_tcase (suite, gear);
  suite_add_tcase (suite, pair);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
