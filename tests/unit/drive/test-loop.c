/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts.h"

#include "drive/loop.h"
#include "drive/play.h"
#include "drive/needs.h"
#include "drive/resolution.h"

#include <math.h>

static TrammelLoop
belt (const char *text)
{
  g_autoptr (TrammelRecord) stage = make_part (trammel_stage_kind, text);
  TrammelLoop loop;
  ck_assert (trammel_loop_from_stage (stage, &loop));
  return loop;
}

/* The length of the hull of two circles by Cauchy's formula: the integral of its support function, max (r₁, C cos θ +
 * r₂), over all directions; here as a sum. */
static double
hull_length (double r1, double r2, double center)
{
  const int n = 2000000;
  double sum = 0;
  for (int i = 0; i < n; i++)
    sum += fmax (r1, center * cos (2 * G_PI * (i + 0.5) / n) + r2);
  return sum * 2 * G_PI / n;
}

static const struct
{
  const char *stage;
  double center;
} open_belts[] = {
  { "belt driver=20;driven=60;pitch=2 mm", 50 },
  { "belt driver=60;driven=20;pitch=2 mm", 50 },
  { "belt driver=16;driven=16;pitch=2 mm", 100 },
  { "belt driver=10;driven=120;pitch=5.08 mm", 130 },
};

START_TEST (an_open_belt_is_the_hull_of_its_pulleys)
{
  const TrammelLoop loop = belt (open_belts[_i].stage);
  const double length = trammel_loop_length (&loop, open_belts[_i].center);
  ck_assert_double_eq_tol (length / hull_length (loop.radius[0], loop.radius[1], open_belts[_i].center), 1, 1e-9);
  ck_assert_double_eq_tol (trammel_loop_center (&loop, length) / open_belts[_i].center, 1, 1e-11);
}
END_TEST

/* By hand: equal pulleys of radius r at C = 4r: sin α = 1/2, each wrapped by 4π/3; L = 8r cos 30° + 2·4πr/3. */
START_TEST (a_crossed_belt_by_hand)
{
  const TrammelLoop loop = belt ("belt driver=30;driven=30;pitch=2 mm;crossed=yes");
  const double r = 60 / (2 * G_PI), length = r * (4 * sqrt (3) + 8 * G_PI / 3);
  ck_assert_double_eq_tol (trammel_loop_length (&loop, 4 * r), length, 1e-10);
  ck_assert_double_eq_tol (trammel_loop_center (&loop, length), 4 * r, 1e-10);
  ck_assert_double_eq_tol (trammel_loop_teeth_in_mesh (&loop, 4 * r), 20, 1e-10);
  ck_assert (isnan (trammel_loop_length (&loop, 1.99 * r)));
}
END_TEST

/* Two 20-tooth pulleys of 2 mm at 100 mm: 20 teeth around them and 100 along them, 120 in all. */
START_TEST (a_whole_number_of_teeth)
{
  const TrammelLoop loop = belt ("belt driver=20;driven=20;pitch=2 mm");
  TrammelLoopChoice choices[TRAMMEL_LOOP_CHOICES];
  ck_assert_double_eq_tol (trammel_loop_length (&loop, 100), 240, 1e-10);
  ck_assert_double_eq_tol (trammel_loop_teeth_in_mesh (&loop, 100), 10, 1e-12);
  ck_assert_uint_eq (trammel_loop_choices (&loop, 100, FALSE, choices), 4);
  for (gsize i = 0; i < 4; i++)
    {
      ck_assert_int_eq (choices[i].pitches, 119 + (gint64)i);
      ck_assert_double_eq_tol (choices[i].center, 99 + (double)i, 1e-9);
    }
  ck_assert_uint_eq (trammel_loop_choices (&loop, 100, TRUE, choices), 4);
  ck_assert_int_eq (choices[0].pitches, 118);
  ck_assert_int_eq (choices[3].pitches, 124);
}
END_TEST

START_TEST (loops_that_do_not_go)
{
  const TrammelLoop loop = belt ("belt driver=20;driven=60;pitch=2 mm");
  TrammelLoop other;
  TrammelLoopChoice choices[TRAMMEL_LOOP_CHOICES];
  ck_assert (isnan (trammel_loop_length (&loop, 12)));
  ck_assert (isnan (trammel_loop_length (&loop, 0)));
  ck_assert (isnan (trammel_loop_length (&loop, NAN)));
  ck_assert (isnan (trammel_loop_center (&loop, 100)));
  ck_assert (isnan (trammel_loop_center (&loop, NAN)));
  ck_assert_uint_eq (trammel_loop_choices (&loop, NAN, FALSE, choices), 0);

  g_autoptr (TrammelRecord) chain = make_part (trammel_stage_kind, "chain crossed=yes");
  ck_assert (!trammel_loop_from_stage (chain, &other));
  g_autoptr (TrammelRecord) no_pitch = make_part (trammel_stage_kind, "belt pitch=");
  ck_assert (!trammel_loop_from_stage (no_pitch, &other));
}
END_TEST

/* Sprockets of 17 and 35 teeth at 35.5 pitches (1/2 in): links by the formula of handbooks
 * 2C/p + (N₁ + N₂)/2 + (N₂ − N₁)²/(4π² C/p) = 97.231 (Budynas & Nisbett, equation 17-34), which takes the wheels for
 * round. */
START_TEST (a_chain_as_handbooks_count_it)
{
  const TrammelLoop loop = belt ("chain driver=17;driven=35;pitch=12.7 mm");
  ck_assert_double_eq_tol (trammel_loop_length (&loop, 35.5 * 12.7) / 12.7, 97.231, 0.01);
}
END_TEST

/* Torque that one microstep adds, in percent of the holding torque, as driver makers tabulate it: 2: 70.71, 4: 38.27,
 * 8: 19.51, 16: 9.80, 32: 4.91, 256: 0.61 (common practice, no source). */
static const struct
{
  int microsteps;
  double percent;
} added[] = { { 1, 100 }, { 2, 70.71 }, { 4, 38.27 }, { 8, 19.51 }, { 16, 9.80 }, { 32, 4.91 }, { 256, 0.61 } };

START_TEST (torque_of_a_microstep)
{
  ck_assert_double_eq_tol (trammel_stepper_microstep_torque (1, added[_i].microsteps), added[_i].percent / 100, 5e-5);
}
END_TEST

START_TEST (a_load_pulls_a_stepper_off)
{
  ck_assert_double_eq_tol (trammel_stepper_pull_off (0.2, 0.4), 1. / 3, 1e-15); /* sin 30° = 1/2 */
  ck_assert_double_eq (trammel_stepper_pull_off (0, 0.4), 0);
  ck_assert_double_eq_tol (trammel_stepper_pull_off (0.4, 0.4), 1, 1e-15);
  ck_assert (isnan (trammel_stepper_pull_off (0.41, 0.4)));
  ck_assert (isnan (trammel_stepper_pull_off (0.1, NAN)));
  ck_assert (isnan (trammel_stepper_pull_off (NAN, 0.4)));
}
END_TEST

/* 8 mm of lead and 200 steps: 0.04 mm a step, so the usual heights that are whole steps are 0.08, 0.12, 0.16, 0.2, …
 * (common practice, no source); 0.05 and 0.1 fall on their neighbours. */
START_TEST (layers_of_whole_steps)
{
  static const gint64 steps[] = { 1, 2, 3, 4, 5, 6, 7, 8, 10 };
  g_autoptr (GArray) layers = trammel_layer_heights (0.04);
  ck_assert_uint_eq (layers->len, G_N_ELEMENTS (steps));
  for (guint i = 0; i < layers->len; i++)
    {
      ck_assert_int_eq (g_array_index (layers, TrammelLayer, i).full_steps, steps[i]);
      ck_assert_double_eq_tol (g_array_index (layers, TrammelLayer, i).height, 0.04 * (double)steps[i], 1e-15);
    }
  g_autoptr (GArray) coarse = trammel_layer_heights (5);
  g_autoptr (GArray) unknown = trammel_layer_heights (NAN);
  ck_assert_uint_eq (coarse->len, 0);
  ck_assert_uint_eq (unknown->len, 0);
}
END_TEST

/* By hand: a pinion of 15 teeth of module 1 moves its rack 15π mm a turn. It stands on the shaft of the worm wheel of
 * 40 teeth, so a tooth of that is 15π/40; a turn of the worm is as much, and a tooth of the 12-tooth driver a 36th part
 * of it: 12 teeth are a turn of the driver, which is 12/36 of a turn of the worm. A belt over two falls moves by half
 * its pitch; a screw has no teeth. */
START_TEST (travel_of_a_tooth)
{
  g_autoptr (TrammelTrain) train
      = make_train (STEPPER, "spur driver=12;driven=36|worm starts=1;wheel=40", "rack teeth=15;module=1 mm", FALSE);
  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, NULL);
  const double around = 15 * G_PI;
  ck_assert_double_eq_tol (trammel_stage_travel_per_tooth (train, facts, 0), around / 40 / 36, 1e-14);
  ck_assert_double_eq_tol (trammel_stage_travel_per_tooth (train, facts, 1), around / 40, 1e-14);
  ck_assert_double_eq_tol (trammel_output_travel_per_tooth (trammel_train_output (train)), G_PI, 1e-15);
  g_autoptr (TrammelRecord) falls = make_part (trammel_output_kind, "belt teeth=20;pitch=2 mm;fall=2");
  ck_assert_double_eq (trammel_output_travel_per_tooth (falls), 1);
  g_autoptr (TrammelRecord) screw = make_part (trammel_output_kind, "screw");
  ck_assert (isnan (trammel_output_travel_per_tooth (screw)));
}
END_TEST

/* Play at the carriage by hand: angle at the stage's output shaft × travel per radian of it. Lash 0.1 mm at a pitch
 * circle of 36 mm is 1/180 rad; on an 8 mm lead 8/(2π·180). A worm wheel of 40 mm: 0.1/20 rad. Planetary, sun 12, ring
 * 48, module 1, ring held: a tooth that gives by 0.1 mm turns the carrier by 0.1/(60/2) rad. Belt of 60 teeth of 2 mm:
 * radius 60/π. */
static const struct
{
  const char *stages, *output;
  double worst, rss; /* × 2π */
} plays[] = {
  { "spur driver=12;driven=36;lash=0.1 mm", "screw pitch=2 mm;starts=4;lash=0 mm", 8. / 180, 8. / 180 },
  { "worm starts=1;wheel=40;lash=0.1 mm", "screw pitch=2 mm;starts=4;lash=0 mm", 8. / 200, 8. / 200 },
  { "planetary sun=12;ring=48;module=1 mm;lash=0.1 mm", "screw pitch=2 mm;starts=4;lash=0 mm", 8. / 300, 8. / 300 },
  { "belt driver=20;driven=60;pitch=2 mm;lash=0.1 mm", "screw pitch=2 mm;starts=4;lash=0 mm", 0.8 * G_PI / 60,
    0.8 * G_PI / 60 },
  { "gearbox ratio=5;lash=0.5 rad", "screw pitch=2 mm;starts=4;lash=0 mm", 4, 4 },
  { "gearbox ratio=5;lash=3 rad|gearbox ratio=2;lash=4 rad", "screw pitch=1 mm;starts=1;lash=0 mm", 5.5,
    0 /* √(1.5² + 4²) */ },
  { "gearbox ratio=5;lash=0 deg", "belt teeth=20;pitch=2 mm;lash=0.5 mm", G_PI, G_PI },
  { "gearbox ratio=5;lash=0 deg", "screw pitch=2 mm;starts=4;lash=90 deg", 4 * G_PI, 4 * G_PI },
  { "gearbox ratio=5;lash=0 deg", "table lash=1 deg", 2 * G_PI, 2 * G_PI },
};

START_TEST (play_at_the_carriage)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, plays[_i].stages, plays[_i].output, FALSE);
  g_autoptr (TrammelPlay) play = trammel_play_new (train, NULL);
  const double rss = plays[_i].rss > 0 ? plays[_i].rss : hypot (1.5, 4);
  double shares = 0;
  ck_assert_double_eq_tol (play->worst * 2 * G_PI, plays[_i].worst, 1e-12);
  ck_assert_double_eq_tol (play->rss * 2 * G_PI, rss, 1e-12);
  ck_assert (!play->partial);
  ck_assert_uint_eq (play->needs->len, 0);
  for (gsize i = 0; i < play->n_parts; i++)
    shares += play->parts[i].share;
  ck_assert_double_eq_tol (shares, 1, 1e-12);
}
END_TEST

static const struct
{
  const char *stage, *place;
} unknown_plays[] = {
  { "spur lash=", "stages[0].lash" },
  { "spur lash=0.1 mm;module=", "stages[0].module" },
  { "belt lash=0.1 mm;pitch=", "stages[0].pitch" },
  { "gearbox lash=0.1 mm", "stages[0].lash" }, /* an angle is wanted */
};

START_TEST (play_that_is_not_known)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, unknown_plays[_i].stage, "belt lash=0.2 mm", FALSE);
  g_autoptr (TrammelPlay) play = trammel_play_new (train, NULL);
  ck_assert (play->partial);
  ck_assert (isnan (play->parts[0].travel));
  ck_assert_double_eq (play->worst, 0.2);
  ck_assert_uint_eq (play->needs->len, 1);
  const TrammelNeed *need = g_ptr_array_index (play->needs, 0);
  ck_assert_str_eq (need->place, unknown_plays[_i].place);
  ck_assert_ptr_null (need->taken);
}
END_TEST

START_TEST (no_play_of_a_broken_train)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "spur driver=", "belt", FALSE);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_play_new (train, &error));
  ck_assert (g_str_has_prefix (error->message, "stages[0].driver: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("loop");
  TCase *loops = tcase_create ("loops"), *steps = tcase_create ("resolution"), *play = tcase_create ("play");
  tcase_add_loop_test (loops, an_open_belt_is_the_hull_of_its_pulleys, 0, G_N_ELEMENTS (open_belts));
  tcase_add_test (loops, a_crossed_belt_by_hand);
  tcase_add_test (loops, a_whole_number_of_teeth);
  tcase_add_test (loops, loops_that_do_not_go);
  tcase_add_test (loops, a_chain_as_handbooks_count_it);
  tcase_add_loop_test (steps, torque_of_a_microstep, 0, G_N_ELEMENTS (added));
  tcase_add_test (steps, a_load_pulls_a_stepper_off);
  tcase_add_test (steps, layers_of_whole_steps);
  tcase_add_test (steps, travel_of_a_tooth);
  tcase_add_loop_test (play, play_at_the_carriage, 0, G_N_ELEMENTS (plays));
  tcase_add_loop_test (play, play_that_is_not_known, 0, G_N_ELEMENTS (unknown_plays));
  tcase_add_test (play, no_play_of_a_broken_train);
  suite_add_tcase (suite, loops);
  suite_add_tcase (suite, steps);
  suite_add_tcase (suite, play);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
