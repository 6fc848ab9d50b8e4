/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts.h"

#include "drive/duty.h"
#include "drive/load.h"
#include "drive/needs.h"
#include "drive/rotor.h"

#include <math.h>

#define RPM (G_PI / 30)

static TrammelDuty *
duty_of (const char *motor, const char *stages, const char *output, const char *load_text)
{
  g_autoptr (TrammelTrain) train = make_train (motor, stages, output, FALSE);
  const gboolean rotary = trammel_output_is_rotary (trammel_train_output (train));
  g_autoptr (TrammelRecord) load = with_values (trammel_record_new (trammel_load_kind (rotary)), load_text);
  g_autoptr (GError) error = NULL;
  TrammelDuty *duty = trammel_duty_new (train, load, &error);
  ck_assert_msg (duty != NULL, "%s", error ? error->message : "");
  return duty;
}

static const TrammelNeed *
find_need (const TrammelDuty *duty, const char *place)
{
  for (guint i = 0; i < duty->needs->len; i++)
    {
      const TrammelNeed *need = g_ptr_array_index (duty->needs, i);
      if (g_str_equal (need->place, place))
        return need;
    }
  return NULL;
}

/* By hand, k = 5 mm/2π a radian, W = 2 kg·9.80665 m/s²; screw 0.8 and back 2 − 1/0.8 = 0.75; pair 0.9 both ways, ratio
 * 1/2. 1 m/s² is 400π rad/s² of the screw and 800π of the motor. */
START_TEST (an_upright_screw_by_hand)
{
  g_autoptr (TrammelDuty) duty
      = duty_of (STEPPER ";torque=0.4 N·m;rotor_inertia=50 g cm²",
                 "spur driver=20;driven=40;efficiency=0.9;driver_inertia=0.000001 kg m²;driven_inertia=0.000002 kg m²",
                 "screw pitch=5 mm;starts=1;efficiency=0.8;inertia=0.000003 kg m²",
                 "mass=2 kg;slope=90 deg;drag=3 N;breakaway=4 N;process=5 N;speed=50 mm/s;acceleration=1000 mm/s²");
  ck_assert_double_eq_tol (duty->weight, 19.6133, 1e-12);
  ck_assert_double_eq_tol (duty->force_raise, 22.6133, 1e-12);
  ck_assert_double_eq_tol (duty->force_lower, -16.6133, 1e-12);
  ck_assert_double_eq_tol (duty->force_run, 27.6133, 1e-12);
  ck_assert_double_eq_tol (duty->force_start, 30.6133, 1e-12);
  const double k = 0.005 / (2 * G_PI), weight = 2 * 9.80665, back = 1 / 0.8 / 2 / 0.9; /* from screw to motor */
  /* Screw and driven shaft, 2 + 3, and rotor and driver, 5 + 1, in 10⁻⁶ kg·m². */
  const double per_m_s2 = (2 * k / 0.8 + 5e-6 * 400 * G_PI) / 2 / 0.9 + 6e-6 * 800 * G_PI;
  const double start = (weight + 9) * k * back + per_m_s2;
  ck_assert_double_eq_tol (duty->torque_run, (weight + 8) * k * back, 1e-15);
  ck_assert_double_eq_tol (duty->torque_raise, (weight + 3) * k * back, 1e-15);
  ck_assert_double_eq_tol (duty->torque_lower, (3 - weight) * k * 0.75 / 2 * 0.9, 1e-15);
  ck_assert_double_eq_tol (duty->torque_start, start, 1e-15);
  ck_assert_double_eq_tol (duty->margin, 0.4 / start, 1e-11);
  ck_assert_double_eq_tol (duty->force_holds, 0.4 / (k * back), 1e-9);
  /* The motor's 0.4 N·m less the start without acceleration, over what 1 m/s² adds; mm/s². */
  ck_assert_double_eq_tol (duty->acceleration_largest, (0.4 - (weight + 9) * k * back) / per_m_s2 * 1000, 1e-7);
  ck_assert_double_eq_tol (duty->inertia_load, 2 * k * k / 4, 1e-20);
  ck_assert_double_eq_tol (duty->inertia_parts, 6e-6 + 5e-6 / 4, 1e-19);
  ck_assert_double_eq_tol (duty->efficiency, 0.72, 1e-14);
  ck_assert_double_eq_tol (duty->efficiency_back, 0.675, 1e-14);
  ck_assert_double_eq_tol (duty->motor_speed, 40 * G_PI, 1e-10);
  ck_assert (isnan (duty->top_speed_torque));
  ck_assert_int_eq (duty->power_loss, TRAMMEL_POWER_LOSS_FALLS);
}
END_TEST

/* The same screw as in Budynas & Nisbett, chapter 8 (see test-screw.c), straight on the motor, lifting 6.4 kN. */
START_TEST (the_handbook_screw_in_a_train)
{
  g_autoptr (TrammelDuty) duty = duty_of (
      STEPPER, "",
      "screw pitch=4 mm;starts=2;major=32 mm;thread=square;friction=0.08;collar_friction=0.08;collar_diameter=40 mm",
      "process=6400 N");
  ck_assert_double_eq_tol (duty->torque_run, 26.18, 0.005);
  ck_assert (isnan (duty->margin));
  ck_assert (find_need (duty, "motor.torque") != NULL);

  g_autoptr (TrammelDuty) lifting = duty_of (
      STEPPER, "",
      "screw pitch=4 mm;starts=2;major=32 mm;thread=square;friction=0.08;collar_friction=0.08;collar_diameter=40 mm",
      "mass=6400/9.80665 kg;slope=90 deg");
  ck_assert_double_eq_tol (lifting->torque_raise, 26.18, 0.005);
  ck_assert_double_eq_tol (lifting->torque_lower, 9.77, 0.005);
  ck_assert_int_eq (lifting->power_loss, TRAMMEL_POWER_LOSS_LOCKED);
  ck_assert_uint_eq (lifting->locked_by, 0);
}
END_TEST

/* Straight lines between the points; beyond the last, nothing. */
START_TEST (torque_falls_with_speed)
{
  g_autoptr (TrammelRecord) motor = make_part (
      trammel_motor_kind, STEPPER ";torque=9 N·m;torque_points=0 rpm 0.4 N·m\n600 rpm 0.2 N·m\n1200 rpm 0.05 N·m");
  ck_assert_int_eq (trammel_motor_torque_source (motor), TRAMMEL_TORQUE_POINTS);
  ck_assert_double_eq_tol (trammel_motor_torque (motor, 0), 0.4, 1e-12);
  ck_assert_double_eq_tol (trammel_motor_torque (motor, 300 * RPM), 0.3, 1e-12);
  ck_assert_double_eq_tol (trammel_motor_torque (motor, 900 * RPM), 0.125, 1e-12);
  ck_assert_double_eq_tol (trammel_motor_torque (motor, 1200 * RPM * (1 - 1e-12)), 0.05, 1e-9);
  ck_assert_double_eq (trammel_motor_torque (motor, 1201 * RPM), 0);
  ck_assert_double_eq_tol (trammel_motor_speed_at_torque (motor, 0.1), 1000 * RPM, 1e-9);
  ck_assert_double_eq_tol (trammel_motor_speed_at_torque (motor, 0.01), 1200 * RPM, 1e-9);
  ck_assert_double_eq_tol (trammel_motor_speed_at_torque (motor, 0.4), 0, 1e-9);
  ck_assert_double_eq (trammel_motor_speed_at_torque (motor, 0.5), 0);

  g_autoptr (TrammelRecord) plain = make_part (trammel_motor_kind, STEPPER ";torque=0.4 N·m;holding_torque=1 N·m");
  ck_assert_double_eq_tol (trammel_motor_torque (plain, 1e5), 0.4, 1e-15);
  ck_assert (isinf (trammel_motor_speed_at_torque (plain, 0.3)));
  ck_assert_double_eq (trammel_motor_speed_at_torque (plain, 0.5), 0);
  g_autoptr (TrammelRecord) holding = make_part (trammel_motor_kind, STEPPER ";holding_torque=1 N·m");
  ck_assert_int_eq (trammel_motor_torque_source (holding), TRAMMEL_TORQUE_HOLDING);
  ck_assert_double_eq_tol (trammel_motor_torque (holding, 0), 0.7, 1e-15);
  g_autoptr (TrammelRecord) unknown = make_part (trammel_motor_kind, STEPPER);
  ck_assert (isnan (trammel_motor_torque (unknown, 0)));
  ck_assert (isnan (trammel_motor_speed_at_torque (unknown, 0)));
}
END_TEST

/* 20 teeth of 2 mm: 40 mm a turn; 10 N of drag at 95 % take 0.0670 N·m, which the motor has up to 600 + 0.133/0.15·600
 * rpm: T(ω) = 0.2 − 0.15 (n − 600)/600. */
START_TEST (the_torque_limits_the_speed)
{
  g_autoptr (TrammelDuty) duty = duty_of (STEPPER ";torque_points=0 rpm 0.4 N·m\n600 rpm 0.2 N·m\n1200 rpm 0.05 N·m",
                                          "", "belt teeth=20;pitch=2 mm;efficiency=0.95", "drag=10 N;speed=600 mm/s");
  const double torque = 10 * 0.04 / (2 * G_PI) / 0.95, rpm = 600 + (0.2 - torque) / 0.15 * 600;
  ck_assert_double_eq_tol (duty->torque_run, torque, 1e-15);
  ck_assert_double_eq_tol (duty->top_speed_torque, rpm / 60 * 40, 1e-9);
  /* 600 mm/s is 900 rpm. */
  ck_assert_double_eq_tol (duty->torque_available, 0.125, 1e-12);
  ck_assert_double_eq_tol (duty->force_holds, 0.125 / torque * 10, 1e-9);
}
END_TEST

/* A table of 0.002 kg·m² behind a worm 1:50 of 40 %, 0.3 N·m of drag, 90 °/s²; by hand. */
START_TEST (a_rotary_table_by_hand)
{
  g_autoptr (TrammelDuty) duty
      = duty_of (STEPPER ";torque=0.2 N·m", "worm starts=1;wheel=50;efficiency=0.4", "table efficiency=1",
                 "inertia=0.002 kg m²;drag=0.3 N·m;acceleration=90 deg/s²");
  ck_assert (duty->rotary);
  ck_assert_double_eq_tol (duty->torque_run, 0.3 / 50 / 0.4, 1e-15);
  ck_assert_double_eq_tol (duty->torque_start, (0.3 + 0.002 * G_PI / 2) / 50 / 0.4, 1e-15);
  ck_assert_double_eq_tol (duty->force_holds, 0.2 * 50 * 0.4, 1e-12);
  ck_assert_double_eq_tol (duty->acceleration, 90, 1e-12);
  ck_assert_double_eq_tol (duty->acceleration_largest, (0.2 - 0.015) / (0.002 / 20) * 180 / G_PI, 1e-6);
  ck_assert_double_eq_tol (duty->inertia_load, 0.002 / 2500, 1e-18);
  ck_assert_double_eq_tol (duty->efficiency_back, 2 - 1 / 0.4, 1e-14);
  ck_assert_int_eq (duty->power_loss, TRAMMEL_POWER_LOSS_STAYS);
}
END_TEST

static const struct
{
  const char *motor, *stages, *output, *load;
  TrammelPowerLoss loss;
  gsize locked_by;
} losses[] = {
  { "", "", "belt", "mass=1 kg;slope=0 deg", TRAMMEL_POWER_LOSS_STAYS, 0 },
  { "", "", "belt", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_FALLS, 0 },
  { "", "", "belt", "mass=1 kg;slope=90 deg;drag=10 N", TRAMMEL_POWER_LOSS_DRAG, 0 },
  { "", "", "belt", "mass=1 kg;slope=90 deg;drag=9 N", TRAMMEL_POWER_LOSS_FALLS, 0 },
  { "", "", "belt", "mass=1 kg;slope=90 deg;drag=9 N;breakaway=10 N", TRAMMEL_POWER_LOSS_DRAG, 0 },
  /* 9.8 N at 20·2 mm/2π·0.95 are 0.0593 N·m. */
  { ";detent_torque=0.060 N·m", "", "belt", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_DETENT, 0 },
  { ";detent_torque=0.059 N·m", "", "belt", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_FALLS, 0 },
  /* tan λ = 0.1 and friction 0.1: cos 20° − 0.1/0.1 < 0. */
  { "", "spur|worm starts=1;wheel=30|spur", "rack", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_LOCKED, 1 },
  { "", "worm starts=2;wheel=30", "rack", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_FALLS, 0 },
  /* M8: f sec 30° = 0.173 against a slope of 1.25/(π·7.19) = 0.055. */
  { "", "", "screw pitch=1.25 mm;starts=1;major=8 mm;thread=metric", "mass=1 kg;slope=90 deg",
    TRAMMEL_POWER_LOSS_LOCKED, 0 },
  { "", "", "screw pitch=2 mm;starts=4;major=8 mm;friction=0.1", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_FALLS,
    0 },
  { "", "", "screw pitch=2 mm;starts=4", "mass=1 kg;slope=90 deg", TRAMMEL_POWER_LOSS_UNKNOWN, 0 },
  { "", "", "belt", "slope=90 deg", TRAMMEL_POWER_LOSS_UNKNOWN, 0 },
};

START_TEST (when_the_power_goes)
{
  g_autofree char *motor = g_strconcat (STEPPER, losses[_i].motor, NULL);
  g_autoptr (TrammelDuty) duty = duty_of (motor, losses[_i].stages, losses[_i].output, losses[_i].load);
  ck_assert_int_eq (duty->power_loss, losses[_i].loss);
  ck_assert_uint_eq (duty->locked_by, losses[_i].locked_by);
}
END_TEST

START_TEST (what_is_not_known_is_asked_for)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "spur", "screw pitch=2 mm;starts=4", FALSE);
  g_autoptr (TrammelDuty) duty = trammel_duty_new (train, NULL, NULL);
  static const char *const missing[] = { "load.mass",    "load.drag",      "load.speed",         "motor.torque",
                                         "output.major", "stages[0].face", "motor.rotor_inertia" };
  for (gsize i = 0; i < G_N_ELEMENTS (missing); i++)
    {
      const TrammelNeed *need = find_need (duty, missing[i]);
      ck_assert_msg (need != NULL, "%s", missing[i]);
      ck_assert_ptr_null (need->taken);
      ck_assert_ptr_nonnull (need->field->meaning);
    }
  ck_assert_str_eq (find_need (duty, "stages[0].efficiency")->taken, "0.97");
  ck_assert_str_eq (find_need (duty, "output.friction")->taken, "0.15");
  ck_assert (isnan (duty->torque_run));
  ck_assert (isnan (duty->torque_available));
  ck_assert (isnan (duty->margin));
  ck_assert (isnan (duty->acceleration_largest));
  ck_assert (isnan (duty->inertia));
}
END_TEST

/* A force that is known beside a mass that is not: the run is known, what speeding up takes is not. */
START_TEST (half_of_a_load)
{
  g_autoptr (TrammelDuty) duty
      = duty_of (STEPPER ";torque=0.4 N·m", "", "belt efficiency=1", "drag=2 N;acceleration=500 mm/s²");
  ck_assert_double_eq_tol (duty->torque_run, 2 * 0.04 / (2 * G_PI), 1e-15);
  ck_assert (isnan (duty->torque_start));
  ck_assert (isnan (duty->margin));
  ck_assert (isnan (duty->acceleration_largest));
  g_autoptr (TrammelDuty) heavy = duty_of (STEPPER ";torque=0.4 N·m", "", "belt efficiency=1", "mass=1 kg");
  ck_assert_str_eq (find_need (heavy, "load.drag")->taken, "0 N");
  ck_assert_double_eq (heavy->torque_run, 0);
  ck_assert_double_eq_tol (heavy->acceleration_largest, 0.4 / (0.04 / (2 * G_PI)) * 1000, 1e-8);
}
END_TEST

/* A steel disc of 100 mm and 10 mm: m = 0.61654 kg, J = m r²/2 = 7.7067e-4 kg·m². */
START_TEST (inertia_of_a_disc)
{
  ck_assert_double_eq_tol (trammel_disc_inertia (100, 0, 10, 7850), 7.7067e-4, 5e-9);
  ck_assert_double_eq_tol (trammel_disc_inertia (100, 80, 10, 7850), 7.7067e-4 * (1 - 0.4096), 5e-9);
}
END_TEST

/* 100-tooth driven of module 1 behind 20: a fifth of the speed, 1/25 of the inertia; the idler of 50 turns at 2/5. */
START_TEST (rotors_of_a_spur_pair)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "spur driver=20;driven=100;idlers=50;module=1 mm;face=10 mm",
                                               "screw pitch=2 mm;starts=1", FALSE);
  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, NULL);
  g_autoptr (GArray) rotors = trammel_train_rotors (train, facts, NULL);
  static const double shares[] = { 1. / 625, 1. / 16 * 4 / 25, 1. / 25 }; /* (d/100)⁴·(turns)² */
  static const char *const roles[] = { "driver", "idler", "driven" };
  ck_assert_uint_eq (rotors->len, 3);
  for (guint i = 0; i < rotors->len; i++)
    {
      const TrammelRotor *rotor = &g_array_index (rotors, TrammelRotor, i);
      ck_assert_str_eq (rotor->role, roles[i]);
      ck_assert (!rotor->given);
      ck_assert_double_eq_tol (rotor->reflected / (7.7067e-4 * shares[i]), 1, 1e-5);
    }
}
END_TEST

/* Worm by hand: tan λ = 2/10, cos 20° = 0.9396926: (0.9396926 − 0.02)/(0.9396926 + 0.5) and
 * (0.9396926 − 0.5)/(0.9396926 + 0.02). */
START_TEST (efficiency_of_worms)
{
  const TrammelEfficiency worm = trammel_worm_efficiency (0.2, 0.1);
  ck_assert_double_eq_tol (worm.forward, 0.638811, 1e-6);
  ck_assert_double_eq_tol (worm.backward, 0.458160, 1e-6);
  g_autoptr (TrammelRecord) thick = make_part (trammel_stage_kind, "worm starts=2;wheel=30;module=1 mm;diameter=20 mm");
  ck_assert_double_lt (trammel_stage_efficiency (thick).backward, 0);
}
END_TEST

/* Common practice: 97 % a mesh. */
START_TEST (usual_efficiencies)
{
  g_autoptr (TrammelRecord) pair = make_part (trammel_stage_kind, "spur");
  g_autoptr (TrammelRecord) idler = make_part (trammel_stage_kind, "spur idlers=20");
  g_autoptr (TrammelRecord) given = make_part (trammel_stage_kind, "spur idlers=20;efficiency=80 %");
  ck_assert_double_eq_tol (trammel_stage_efficiency (pair).forward, 0.97, 1e-15);
  ck_assert_double_eq_tol (trammel_stage_efficiency (idler).backward, 0.9409, 1e-15);
  ck_assert_double_eq_tol (trammel_stage_efficiency (given).backward, 0.8, 1e-15);
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_stage_kinds (&n);
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (TrammelRecord) stage = trammel_record_new (kinds[i]);
      const TrammelEfficiency efficiency = trammel_stage_efficiency (stage);
      ck_assert (efficiency.forward > 0 && efficiency.forward <= 1 && efficiency.backward < 1);
    }
}
END_TEST

START_TEST (no_duty_of_a_broken_train)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "", "screw pitch=", FALSE);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_duty_new (train, NULL, &error));
  ck_assert (g_str_has_prefix (error->message, "output.pitch: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("duty");
  TCase *duties = tcase_create ("duties"), *parts = tcase_create ("parts");
  tcase_add_test (duties, an_upright_screw_by_hand);
  tcase_add_test (duties, the_handbook_screw_in_a_train);
  tcase_add_test (duties, the_torque_limits_the_speed);
  tcase_add_test (duties, a_rotary_table_by_hand);
  tcase_add_loop_test (duties, when_the_power_goes, 0, G_N_ELEMENTS (losses));
  tcase_add_test (duties, what_is_not_known_is_asked_for);
  tcase_add_test (duties, half_of_a_load);
  tcase_add_test (duties, no_duty_of_a_broken_train);
  tcase_add_test (parts, torque_falls_with_speed);
  tcase_add_test (parts, inertia_of_a_disc);
  tcase_add_test (parts, rotors_of_a_spur_pair);
  tcase_add_test (parts, efficiency_of_worms);
  tcase_add_test (parts, usual_efficiencies);
  suite_add_tcase (suite, duties);
  suite_add_tcase (suite, parts);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
