/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "parts.h"

#include "drive/turning-parts.h"

/* By hand: names and mm (degrees) of travel per turn, from the motor on. */
static const struct
{
  const char *stages, *output;
  gboolean reverse;
  struct
  {
    const char *name;
    double travel;
  } parts[6];
} trains[] = {
  { "", "screw pitch=2 mm;starts=4", FALSE, { { "screw", 8 } } },
  { "", "screw pitch=2 mm;starts=4;hand=left;turning=nut", TRUE, { { "nut", 8 } } },
  { "coupling", "screw pitch=2 mm;starts=1", FALSE, { { "screw", 2 } } },
  { "spur driver=12;driven=36", "screw pitch=2 mm;starts=4", FALSE, { { "motor shaft", 8. / 3 }, { "screw", 8 } } },
  /* 12 teeth turn one of 24 half as often; it turns as often as it would between any others. */
  { "spur driver=12;driven=36;idlers=24,18",
    "screw pitch=2 mm;starts=3",
    FALSE,
    { { "motor shaft", 2 },
      { "idler of 24 teeth in stage 1", 4 },
      { "idler of 18 teeth in stage 1", 3 },
      { "screw", 6 } } },
  { "belt driver=20;driven=40|spur driver=10;driven=30",
    "belt teeth=20;pitch=2 mm;fall=2",
    FALSE,
    { { "motor shaft", 20. / 6 }, { "shaft after stage 1", 20. / 3 }, { "pulley", 20 } } },
  /* A driven as large as its driver turns in step with it: the later name stays. */
  { "spur driver=20;driven=20", "rack teeth=15;module=1 mm", FALSE, { { "pinion", 15 * G_PI } } },
  { "worm starts=1;wheel=90", "table", FALSE, { { "motor shaft", 4 }, { "table", 360 } } },
  { "", "worm-rack starts=2;module=1 mm", FALSE, { { "worm", 2 * G_PI } } },
  { "gearbox ratio=4", "roller diameter=11 mm", FALSE, { { "motor shaft", 11 * G_PI / 4 }, { "roller", 11 * G_PI } } },
  /* Sun 20, ring 80 held: the carrier turns at 1/5, the sun against it at 4/5, the planets of 30 at 4/5·20/30 = 8/15.
   */
  { "planetary sun=20;ring=80;held=ring;in=sun;out=carrier",
    "screw pitch=2 mm;starts=4",
    FALSE,
    { { "motor shaft", 1.6 }, { "planets of stage 1", 1.6 * 15 / 8 }, { "screw", 8 } } },
  /* Carrier held: the sun at 1 against it, the planets of 24 once a turn, as the motor: the later of them is named. */
  { "planetary sun=24;ring=72;held=carrier;in=sun;out=ring",
    "screw pitch=3 mm;starts=1",
    FALSE,
    { { "planets of stage 1", 1 }, { "screw", 3 } } },
};

START_TEST (what_turns_in_a_train)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, trains[_i].stages, trains[_i].output, trains[_i].reverse);
  g_autoptr (GArray) parts = trammel_train_turning_parts (train, NULL);
  guint n = 0;
  for (; n < G_N_ELEMENTS (trains[_i].parts) && trains[_i].parts[n].name != NULL; n++)
    {
      ck_assert_uint_lt (n, parts->len);
      const TrammelTurning *part = &g_array_index (parts, TrammelTurning, n);
      ck_assert_str_eq (part->name, trains[_i].parts[n].name);
      ck_assert_double_eq_tol (part->travel_per_turn, trains[_i].parts[n].travel, 1e-13);
    }
  ck_assert_uint_eq (parts->len, n);
}
END_TEST

START_TEST (a_train_that_does_not_work)
{
  g_autoptr (TrammelTrain) train = make_train (STEPPER, "spur driver=", "table", FALSE);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_train_turning_parts (train, &error));
  ck_assert (g_str_has_prefix (error->message, "stages[0].driver: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("turning-parts");
  TCase *parts = tcase_create ("parts");
  tcase_add_loop_test (parts, what_turns_in_a_train, 0, G_N_ELEMENTS (trains));
  tcase_add_test (parts, a_train_that_does_not_work);
  suite_add_tcase (suite, parts);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
