/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts.h"

#include "drive/bench.h"
#include "drive/load.h"
#include "drive/needs.h"
#include "drive/resolution.h"

#include <math.h>

static TrammelBench *
bench_of (const char *motor, const char *stages, const char *output, const char *load_text)
{
  g_autofree char *motor_text = g_strconcat (STEPPER, motor, NULL);
  g_autoptr (TrammelTrain) train = make_train (motor_text, stages, output, FALSE);
  const gboolean rotary = trammel_output_is_rotary (trammel_train_output (train));
  g_autoptr (TrammelRecord) load = with_values (trammel_record_new (trammel_load_kind (rotary)), load_text);
  g_autoptr (GError) error = NULL;
  TrammelBench *bench = trammel_bench_new (train, load, &error);
  ck_assert_msg (bench != NULL, "%s", error != NULL ? error->message : "");
  return bench;
}

static const TrammelNeed *
find_need (const TrammelBench *bench, const char *place)
{
  for (guint i = 0; i < bench->needs->len; i++)
    {
      const TrammelNeed *need = g_ptr_array_index (bench->needs, i);
      if (g_str_equal (need->place, place))
        return need;
    }
  return NULL;
}

/* By hand, belt of 40 mm a turn: 1200 rpm are 800 mm/s, 8000 counts/s at 80 a mm are 100 mm/s; 10 N take
 * 10·0.04/2π = 0.0637 N·m, which a motor that falls from 0.1 N·m to nothing at 600 rpm has up to
 * 600·(1 − 0.637) = 218 rpm, 145 mm/s. */
static const struct
{
  const char *motor, *output, *load;
  double top;
  TrammelLimit limit;
} speeds[] = {
  { "", "belt", "", NAN, TRAMMEL_LIMIT_NONE },
  { ";max_speed=1200 rpm", "belt", "", 800, TRAMMEL_LIMIT_MOTOR_SPEED },
  { ";max_speed=1200 rpm;max_count_rate=8 kHz", "belt", "", 100, TRAMMEL_LIMIT_COUNT_RATE },
  { ";max_speed=1200 rpm;torque_points=0 rpm 0.1 N·m\n600 rpm 0 N·m", "belt efficiency=1", "drag=10 N",
    400 * (1 - 0.4 / (2 * G_PI) / 0.1), TRAMMEL_LIMIT_TORQUE },
  { ";max_speed=100 rpm;torque_points=0 rpm 0.1 N·m\n600 rpm 0 N·m", "belt efficiency=1", "drag=10 N", 200. / 3,
    TRAMMEL_LIMIT_MOTOR_SPEED },
};

START_TEST (what_limits_the_speed)
{
  g_autoptr (TrammelBench) bench = bench_of (speeds[_i].motor, "", speeds[_i].output, speeds[_i].load);
  ck_assert_int_eq (bench->limit, speeds[_i].limit);
  if (isnan (speeds[_i].top))
    ck_assert (isnan (bench->top_speed));
  else
    ck_assert_double_eq_tol (bench->top_speed, speeds[_i].top, 1e-9);
}
END_TEST

/* The bar of test-screw.c, 10 mm thick and 1 m long, whirls at 126.398 rad/s; at 5 mm a turn that is 100.584 mm/s, and
 * 80 % of it limits. */
#define WHIRLING "screw pitch=5 mm;starts=1;root=10 mm;length=1 m;fixity=supported-supported;modulus=206 GPa"

START_TEST (a_screw_that_whirls)
{
  g_autoptr (TrammelBench) bench = bench_of (";max_speed=1800 rpm", "", WHIRLING, "");
  ck_assert (bench->has_screw && bench->screw.slender_known && bench->screw.turns);
  ck_assert_double_eq_tol (bench->screw.whirl, 126.398, 0.005);
  ck_assert_double_eq_tol (bench->screw.whirl_speed, 100.584, 0.005);
  ck_assert_double_eq (bench->screw.whirl_speed, bench->facts->whirl_speed);
  ck_assert_double_eq_tol (bench->top_speed, 80.467, 0.005);
  ck_assert_int_eq (bench->limit, TRAMMEL_LIMIT_WHIRL);
  ck_assert (trammel_bench_may_whirl (bench));

  g_autoptr (TrammelBench) slow = bench_of (";max_speed=1800 rpm", "", WHIRLING, "speed=80 mm/s");
  ck_assert (!trammel_bench_may_whirl (slow));
  g_autoptr (TrammelBench) fast = bench_of (";max_speed=1800 rpm", "", WHIRLING, "speed=81 mm/s");
  ck_assert (trammel_bench_may_whirl (fast));
  g_autoptr (TrammelBench) still = bench_of (";max_speed=1800 rpm", "", WHIRLING ";turning=nut", "speed=81 mm/s");
  ck_assert (isnan (still->screw.whirl_speed));
  ck_assert_int_eq (still->limit, TRAMMEL_LIMIT_MOTOR_SPEED);
  ck_assert (!trammel_bench_may_whirl (still));
}
END_TEST

/* It buckles at 998.0 N (test-screw.c): 80 % are 798.4. Two screws share the push. */
START_TEST (a_screw_that_buckles)
{
  g_autoptr (TrammelBench) light = bench_of ("", "", WHIRLING, "process=798 N");
  ck_assert_double_eq_tol (light->screw.buckling, 998.0, 0.1);
  ck_assert (light->screw.slender);
  ck_assert_double_eq (light->screw.push, 798);
  ck_assert (!trammel_bench_may_buckle (light));
  g_autoptr (TrammelBench) heavy = bench_of ("", "", WHIRLING, "process=799 N");
  ck_assert (trammel_bench_may_buckle (heavy));
  ck_assert_ptr_null (find_need (light, "output.yield"));
  ck_assert_ptr_null (find_need (light, "output.modulus"));
  ck_assert_str_eq (find_need (light, "output.density")->taken, "7850 kg/m³");
  g_autoptr (TrammelBench) two = bench_of ("", "", WHIRLING ";count=2", "process=799 N");
  ck_assert_double_eq (two->screw.push, 399.5);
  ck_assert (!trammel_bench_may_buckle (two));
}
END_TEST

/* What was taken for a short screw of which nothing is said: Budynas & Nisbett, table A-5, and common practice. */
START_TEST (a_screw_is_taken_for_steel)
{
  g_autoptr (TrammelBench) bench = bench_of ("", "", "screw pitch=2 mm;starts=1;root=10 mm;length=100 mm", "");
  ck_assert (!bench->screw.slender);
  ck_assert_str_eq (find_need (bench, "output.modulus")->taken, "207 GPa");
  ck_assert_str_eq (find_need (bench, "output.yield")->taken, "210 MPa");
  ck_assert_str_eq (find_need (bench, "output.density")->taken, "7850 kg/m³");
}
END_TEST

/* A ball screw of 90 % and 5 mm lead, straight on the motor, lifting 100 N: 100·0.005/2π/0.9 = 0.088419 N·m at the
 * screw as at the motor, once and not twice. */
START_TEST (a_screw_told_by_its_efficiency)
{
  g_autoptr (TrammelBench) bench
      = bench_of ("", "", "screw pitch=5 mm;starts=1;major=16 mm;efficiency=0.9", "mass=100/9.80665 kg;slope=90 deg");
  ck_assert (bench->screw.known && bench->screw.told_by_efficiency && !bench->screw.self_locking);
  ck_assert_double_eq_tol (bench->screw.torque_raise, 0.0884194, 1e-7);
  ck_assert_double_eq_tol (bench->duty->torque_raise, bench->screw.torque_raise, 1e-15);
  ck_assert_double_eq_tol (bench->duty->torque_lower, bench->screw.torque_lower, 1e-15);
  ck_assert_int_eq (bench->duty->power_loss, TRAMMEL_POWER_LOSS_FALLS);
  ck_assert_ptr_null (find_need (bench, "output.friction"));

  g_autoptr (TrammelBench) plain = bench_of ("", "", "screw pitch=5 mm;starts=1;major=16 mm", "");
  ck_assert (!plain->screw.told_by_efficiency);
  ck_assert_str_eq (find_need (plain, "output.friction")->taken, "0.15");
}
END_TEST

/* 10 N on 40 mm a turn: 0.0636620 N·m of 0.5: 2/π·arcsin 0.127324 = 0.0812773 full steps of 0.2 mm, 16 counts each. */
START_TEST (steps_under_load)
{
  g_autoptr (TrammelBench) bench = bench_of (";holding_torque=0.5 N·m", "", "belt efficiency=1", "drag=10 N");
  ck_assert_double_eq_tol (bench->pull_off_steps, 0.0812773, 5e-7);
  ck_assert_double_eq_tol (bench->pull_off, 0.2 * 0.0812773, 1e-7);
  ck_assert_double_eq_tol (bench->pull_off_counts, 16 * 0.0812773, 1e-5);
  ck_assert_double_eq_tol (bench->microstep_torque, 0.5 * sin (G_PI / 32), 1e-15);
  ck_assert_double_eq (bench->travel_per_tooth, 2);
  ck_assert_uint_gt (bench->layers->len, 0);

  g_autoptr (TrammelBench) unknown = bench_of ("", "", "belt", "");
  ck_assert (isnan (unknown->pull_off));
  ck_assert_ptr_nonnull (find_need (unknown, "motor.holding_torque"));
  g_autoptr (TrammelBench) table = bench_of ("", "", "table", "");
  ck_assert_uint_eq (table->layers->len, 0);
}
END_TEST

/* Two pulleys of 20 teeth of 2 mm: 60 teeth of belt go with 40 mm, 100 mm take 120 teeth (by hand, (2·100 + 40)/2). */
START_TEST (belts_told_in_different_ways)
{
  g_autoptr (TrammelBench) by_length
      = bench_of ("", "spur|belt driver=20;driven=20;pitch=2 mm;belt_teeth=60", "table", "");
  ck_assert_uint_eq (by_length->n_loops, 1);
  ck_assert_uint_eq (by_length->loops[0].stage, 1);
  ck_assert_double_eq_tol (by_length->loops[0].center, 40, 1e-9);
  ck_assert (isnan (by_length->loops[0].needed_center));
  ck_assert_double_eq_tol (by_length->loops[0].teeth_in_mesh, 10, 1e-9);

  g_autoptr (TrammelBench) by_center = bench_of ("", "belt driver=20;driven=20;pitch=2 mm;center=100 mm", "table", "");
  ck_assert_double_eq_tol (by_center->loops[0].pitches, 120, 1e-9);

  g_autoptr (TrammelBench) both
      = bench_of ("", "belt driver=20;driven=20;pitch=2 mm;center=100 mm;belt_teeth=60", "table", "");
  ck_assert_double_eq (both->loops[0].center, 100);
  ck_assert_double_eq_tol (both->loops[0].needed_center, 40, 1e-9);

  g_autoptr (TrammelBench) neither = bench_of ("", "belt driver=20;driven=20;pitch=2 mm", "table", "");
  ck_assert (isnan (neither->loops[0].center));
  ck_assert_ptr_nonnull (find_need (neither, "stages[0].center"));
}
END_TEST

START_TEST (no_bench_of_a_broken_train)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "", "rack teeth=15;module=", FALSE);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_bench_new (train, NULL, &error));
  ck_assert (g_str_has_prefix (error->message, "output.module: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("bench");
  TCase *bench = tcase_create ("bench");
  tcase_add_loop_test (bench, what_limits_the_speed, 0, G_N_ELEMENTS (speeds));
  tcase_add_test (bench, a_screw_that_whirls);
  tcase_add_test (bench, a_screw_that_buckles);
  tcase_add_test (bench, a_screw_is_taken_for_steel);
  tcase_add_test (bench, a_screw_told_by_its_efficiency);
  tcase_add_test (bench, steps_under_load);
  tcase_add_test (bench, belts_told_in_different_ways);
  tcase_add_test (bench, no_bench_of_a_broken_train);
  suite_add_tcase (suite, bench);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
