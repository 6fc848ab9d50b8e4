/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/codec.h"
#include "machine/machine.h"
#include "machine/readings-csv.h"

#include <check.h>
#include <math.h>
#include <string.h>

#define TIME "2026-11-25T09:36:00Z"

/* X counts 80 per mm: 200 × 16 on a 20-tooth 2 mm pulley (common practice, no source); Y 400 on a lead of 8 mm. */
static TrammelMachine *
machine_with_readings (const char *csv)
{
  static const char file[] = "{\"format\":\"trammel-machine\",\"version\":1,\"axes\":["
                             "{\"letter\":\"X\",\"kind\":\"linear\",\"motor\":{\"type\":\"stepper\",\"full_steps\":200,"
                             "\"microsteps\":16},\"output\":{\"type\":\"belt\",\"teeth\":20,\"pitch\":\"2 mm\"}},"
                             "{\"letter\":\"Y\",\"kind\":\"linear\",\"motor\":{\"type\":\"stepper\",\"full_steps\":200,"
                             "\"microsteps\":16},\"output\":{\"type\":\"screw\",\"pitch\":\"2 mm\",\"starts\":4}}]}";
  g_autoptr (TrammelMachine) machine = trammel_codec_read (file, strlen (file), NULL);
  ck_assert_ptr_nonnull (machine);
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_read (csv, strlen (csv), "test.csv", NULL, NULL);
  ck_assert_ptr_nonnull (readings);
  return trammel_machine_with_readings (machine, readings);
}

static TrammelAdjustment *
adjust (const TrammelMachine *machine)
{
  g_autoptr (GError) error = NULL;
  TrammelAdjustment *adjustment = trammel_machine_adjust (machine, NULL, NULL, &error);
  ck_assert_msg (adjustment != NULL, "%s", error ? error->message : "");
  return adjustment;
}

START_TEST (one_travel_by_hand)
{
  /* 100 mm commanded, 99.5 measured with u 0.1: e = −0.005, u(e) = 0.001. 80/0.995 = 80.40201005…;
   * u = 80.402/0.995·0.001 = 0.0808060…; the 95 % interval of e is −0.005 ± 0.00195996. */
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\ntravel,X,100,99.5,0.1\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  TrammelCorrection correction;
  ck_assert (trammel_machine_correction (machine, adjustment, 'X', &correction, NULL));
  ck_assert_double_eq (correction.in_force, 80);
  ck_assert_double_eq_tol (correction.corrected, 80.4020100502513, 1e-10);
  ck_assert_double_eq_tol (correction.u, 0.0808060402515088, 1e-10);
  ck_assert_double_eq_tol (correction.low, 80 / (0.995 + 0.00195996398454005), 1e-9);
  ck_assert_double_eq_tol (correction.high, 80 / (0.995 - 0.00195996398454005), 1e-9);

  g_autoptr (GError) error = NULL;
  ck_assert (!trammel_machine_correction (machine, adjustment, 'Y', &correction, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
  g_clear_error (&error);
  ck_assert (!trammel_machine_correction (machine, adjustment, 'Q', &correction, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA));
}
END_TEST

START_TEST (adopting_puts_in_force_logs_and_clears_the_desk)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\n"
                                                              "travel,X,100,99.5,0.1\n"
                                                              "travel,Y,100,101,0.1\n"
                                                              "outside,X,50,,\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (TrammelMachine) adopted
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), NULL, TIME, NULL);
  ck_assert_ptr_nonnull (adopted);

  double value, u;
  ck_assert (trammel_axis_set_in_force (trammel_machine_axis (adopted, 0), &value, &u));
  ck_assert_double_eq_tol (value, 80.4020100502513, 1e-10);
  ck_assert_double_eq_tol (u, 0.0808060402515088, 1e-10);
  ck_assert (trammel_axis_set_in_force (trammel_machine_axis (adopted, 1), &value, NULL));
  ck_assert_double_eq_tol (value, 400 / 1.01, 1e-9);

  ck_assert_uint_eq (trammel_machine_n_log (adopted), 1);
  const TrammelLogEntry *entry = trammel_machine_log (adopted, 0);
  ck_assert_str_eq (entry->time, TIME);
  ck_assert_uint_eq (entry->n_changes, 2);
  ck_assert_int_eq (entry->changes[0].letter, 'X');
  ck_assert_double_eq (entry->changes[0].before, 80);
  ck_assert_double_eq (entry->changes[0].before_u, 0);
  ck_assert_double_eq_tol (entry->changes[0].after, 80.4020100502513, 1e-10);
  ck_assert_str_eq (entry->scatter, "stated");
  ck_assert_double_eq (entry->birge, 1);
  ck_assert_uint_eq (trammel_readings_length (entry->readings), 2);
  ck_assert_uint_eq (trammel_readings_length (entry->set_aside), 0);
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (adopted)), 1);
  ck_assert (isnan (trammel_readings_get (trammel_machine_readings (adopted), 0)->measured));
}
END_TEST

START_TEST (a_second_adoption_starts_from_what_is_in_force)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\ntravel,X,100,99.5,0.1\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (TrammelMachine) once
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), NULL, TIME, NULL);
  g_autoptr (TrammelMachine) measured_again = trammel_machine_with_readings (once, trammel_machine_readings (machine));
  g_autoptr (TrammelAdjustment) again = adjust (measured_again);
  g_autoptr (TrammelMachine) twice
      = trammel_machine_adopt (measured_again, again, trammel_machine_readings (machine), "X", TIME, NULL);
  double value;
  ck_assert (trammel_axis_set_in_force (trammel_machine_axis (twice, 0), &value, NULL));
  ck_assert_double_eq_tol (value, 80 / 0.995 / 0.995, 1e-9);
  ck_assert_double_eq_tol (trammel_machine_log (twice, 1)->changes[0].before, 80 / 0.995, 1e-9);
  ck_assert_double_gt (trammel_machine_log (twice, 1)->changes[0].before_u, 0.08);
}
END_TEST

START_TEST (readings_the_fit_did_not_use_are_set_aside)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\n"
                                                              "travel,X,100,99.9,0.1\n"
                                                              "travel,X,50,,\n");
  const char csv[] = "kind,along,nominal,measured,u\ntravel,X,100,99.5,0.1\ntravel,X,30,,\n";
  g_autoptr (TrammelReadings) only = trammel_readings_csv_read (csv, strlen (csv), "test.csv", NULL, NULL);
  g_autoptr (TrammelAdjustment) adjustment
      = trammel_machine_adjust (machine, &(TrammelAdjustOptions){ .readings = only }, NULL, NULL);
  g_autoptr (TrammelMachine) adopted = trammel_machine_adopt (machine, adjustment, only, NULL, TIME, NULL);
  const TrammelLogEntry *entry = trammel_machine_log (adopted, 0);

  ck_assert_uint_eq (trammel_readings_length (entry->readings), 1);
  ck_assert_double_eq (trammel_readings_get (entry->readings, 0)->measured, 99.5);
  ck_assert_uint_eq (trammel_readings_length (entry->set_aside), 1);
  ck_assert_double_eq (trammel_readings_get (entry->set_aside, 0)->measured, 99.9);
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (adopted)), 1);
  ck_assert_double_eq (trammel_readings_get (trammel_machine_readings (adopted), 0)->nominal, 50);
}
END_TEST

START_TEST (homes_of_a_corrected_axis_are_set_aside)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u,set\n"
                                                              "travel,X,100,99.5,0.1,\n"
                                                              "home,X,,0.01,,fast\n"
                                                              "home,X,,0.01,,fast\n"
                                                              "home,X,,,,fast\n"
                                                              "home,Y,,0.02,,\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (TrammelMachine) adopted
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), NULL, TIME, NULL);
  const TrammelLogEntry *entry = trammel_machine_log (adopted, 0);

  ck_assert_uint_eq (trammel_readings_length (entry->readings), 1);
  ck_assert_int_eq (trammel_readings_get (entry->readings, 0)->kind, TRAMMEL_READING_TRAVEL);
  ck_assert_uint_eq (trammel_readings_length (entry->set_aside), 2); /* equal ones are two all the same */
  ck_assert_int_eq (trammel_readings_get (entry->set_aside, 1)->kind, TRAMMEL_READING_HOME);
  /* What is still to be measured stays, and so does the home of Y, whose value stays. */
  const TrammelReadings *left = trammel_machine_readings (adopted);
  ck_assert_uint_eq (trammel_readings_length (left), 2);
  ck_assert (isnan (trammel_readings_get (left, 0)->measured));
  ck_assert_int_eq (trammel_readings_get (left, 1)->along.axes[0], 'Y');
}
END_TEST

/* By hand. X: the two travels differ by 0.2 with variance 0.02, the stated lash is 0 ± 1: 0.2·50/51, u = 1/√51. Homes:
 * {0.01, 0.03} and {0.1, 0.2, 0.3} have squares of 0.0002 and 0.02 about their means, {7} alone tells nothing:
 * √(0.0202/3) of 5. Y: no reading says how it was approached, and one home scatters about nothing. */
START_TEST (lash_and_homing_are_logged)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u,approach,set\n"
                                                              "travel,X,100,99.5,0.1,,\n"
                                                              "home,X,,0.01,,-,fast\n"
                                                              "home,X,,0.1,,-,slow\n"
                                                              "home,X,,0.2,,-,slow\n"
                                                              "travel,X,100,99.3,0.1,reversed,\n"
                                                              "travel,Y,100,101,0.1,,\n"
                                                              "home,X,,0.03,,-,fast\n"
                                                              "home,X,,0.3,,-,slow\n"
                                                              "home,X,,7,,+,fast\n"
                                                              "home,X,,,,-,fast\n"
                                                              "home,Y,,0.5,,,\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (TrammelMachine) adopted
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), NULL, TIME, NULL);
  const TrammelLogEntry *entry = trammel_machine_log (adopted, 0);
  const TrammelLogChange *x = &entry->changes[0], *y = &entry->changes[1];

  ck_assert_double_eq (x->nominal, 80);
  ck_assert (x->has_lash);
  ck_assert_double_eq_tol (x->lash.value, 10.0 / 51, 1e-12);
  ck_assert_double_eq_tol (x->lash.u, 1 / sqrt (51), 1e-12);
  ck_assert (x->has_home);
  ck_assert_double_eq_tol (x->home.s, sqrt (0.0202 / 3), 1e-14);
  ck_assert_int_eq (x->home.n, 5);
  ck_assert_int_eq (x->home.dof, 3);
  ck_assert_double_eq (y->nominal, 400);
  ck_assert (!y->has_lash && !y->has_home);
  ck_assert_uint_eq (trammel_readings_length (entry->set_aside), 7);

  gsize length;
  g_autofree char *text = trammel_codec_write (adopted, &length);
  g_autoptr (TrammelMachine) back = trammel_codec_read (text, length, NULL);
  ck_assert_ptr_nonnull (back);
  ck_assert (trammel_machine_equal (adopted, back));
}
END_TEST

/* A stated lash of which the readings say next to nothing is not found lash: 0 ± 0.01 against 0.2 ± 1.4 measured. */
START_TEST (a_lash_that_is_only_stated_is_not_logged)
{
  g_autoptr (TrammelMachine) plain = machine_with_readings ("kind,along,nominal,measured,u,approach\n"
                                                            "travel,X,100,99.5,1,\n"
                                                            "travel,X,100,99.3,1,reversed\n");
  g_autoptr (TrammelMachine) machine = trammel_machine_with_stated (plain, "lash.X", &(TrammelStated){ NULL, 0, 0.01 });
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (TrammelMachine) adopted
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), NULL, TIME, NULL);
  ck_assert (!trammel_machine_log (adopted, 0)->changes[0].has_lash);
}
END_TEST

/* Homes may come with the readings of a file; those of the machine leave it all the same, and all are set aside. */
START_TEST (homes_of_further_readings_are_logged_too)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,measured\nhome,X,0.02\nhome,Y,0.5\n");
  const char csv[] = "kind,along,nominal,measured,u\ntravel,X,100,99.5,0.1\nhome,X,,0.04,\nhome,Y,,0.6,\n";
  g_autoptr (TrammelReadings) only = trammel_readings_csv_read (csv, strlen (csv), "test.csv", NULL, NULL);
  g_autoptr (TrammelAdjustment) adjustment
      = trammel_machine_adjust (machine, &(TrammelAdjustOptions){ .readings = only }, NULL, NULL);
  g_autoptr (TrammelMachine) adopted = trammel_machine_adopt (machine, adjustment, only, NULL, TIME, NULL);
  const TrammelLogEntry *entry = trammel_machine_log (adopted, 0);

  ck_assert_uint_eq (entry->n_changes, 1);
  ck_assert (entry->changes[0].has_home);
  ck_assert_double_eq_tol (entry->changes[0].home.s, sqrt (0.0002), 1e-15); /* 0.01 to either side, 1 degree */
  ck_assert_uint_eq (trammel_readings_length (entry->set_aside), 2);
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (adopted)), 1);
}
END_TEST

START_TEST (a_value_that_cannot_be_read_is_set_aside_not_lost)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\ntravel,X,100,99.5,0.1\n");
  TrammelReading faulty;
  trammel_reading_copy (trammel_readings_get (trammel_machine_readings (machine), 0), &faulty);
  trammel_reading_set_text (&faulty, TRAMMEL_COLUMN_MEASURED, "99,7x", 1, NULL);
  g_autoptr (TrammelReadings) rows = trammel_readings_splice (trammel_machine_readings (machine), 1, 0, &faulty, 1);
  trammel_reading_clear (&faulty);
  g_autoptr (TrammelMachine) with_faulty = trammel_machine_with_readings (machine, rows);
  g_autoptr (TrammelAdjustment) adjustment = adjust (with_faulty);
  g_autoptr (TrammelMachine) adopted = trammel_machine_adopt (with_faulty, adjustment, rows, NULL, TIME, NULL);
  const TrammelLogEntry *entry = trammel_machine_log (adopted, 0);

  ck_assert_uint_eq (trammel_readings_length (entry->readings), 1);
  ck_assert_uint_eq (trammel_readings_length (entry->set_aside), 1);
  g_autofree char *kept = trammel_reading_faulty (trammel_readings_get (entry->set_aside, 0), TRAMMEL_COLUMN_MEASURED);
  ck_assert_str_eq (kept, "99,7x");
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (adopted)), 0);
}
END_TEST

START_TEST (only_the_chosen_axes)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\n"
                                                              "travel,X,100,99.5,0.1\ntravel,Y,100,101,0.1\n"
                                                              "travel,X+Y,100,100.2,0.1\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (TrammelMachine) adopted
      = trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine), "Y", TIME, NULL);
  ck_assert (!trammel_axis_set_in_force (trammel_machine_axis (adopted, 0), NULL, NULL));
  ck_assert (trammel_axis_set_in_force (trammel_machine_axis (adopted, 1), NULL, NULL));
  ck_assert_uint_eq (trammel_machine_log (adopted, 0)->n_changes, 1);

  /* X is as it was, so what was measured along X alone still holds; the diagonal was taken with the old Y. */
  const TrammelReadings *left = trammel_machine_readings (adopted);
  ck_assert_uint_eq (trammel_readings_length (left), 1);
  ck_assert_double_eq (trammel_readings_get (left, 0)->measured, 99.5);
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_log (adopted, 0)->readings), 3);
}
END_TEST

START_TEST (what_cannot_be_adopted)
{
  g_autoptr (TrammelMachine) machine = machine_with_readings ("kind,along,nominal,measured,u\ntravel,X,100,99.5,0.1\n");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  static const struct
  {
    const char *letters, *time;
    int code;
  } rows[] = {
    { "Y", TIME, TRAMMEL_ERROR_DATA },  /* no reading */
    { "Q", TIME, TRAMMEL_ERROR_DATA },  /* no axis */
    { "XQ", TIME, TRAMMEL_ERROR_DATA }, /* one of them no axis */
    { "", TIME, TRAMMEL_ERROR_DATA },   { NULL, "yesterday", TRAMMEL_ERROR_PARSE },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      g_autoptr (GError) error = NULL;
      ck_assert_ptr_null (trammel_machine_adopt (machine, adjustment, trammel_machine_readings (machine),
                                                 rows[i].letters, rows[i].time, &error));
      ck_assert (g_error_matches (error, TRAMMEL_ERROR, rows[i].code));
    }
}
END_TEST

START_TEST (options_are_stronger_than_the_machine)
{
  g_autoptr (TrammelMachine) machine
      = machine_with_readings ("kind,along,nominal,measured,u\noutside,X,100,99.5,0.03\n");
  g_autoptr (TrammelMachine) stated = trammel_machine_with_stated (machine, "bead", &(TrammelStated){ NULL, 0.1, 0 });
  TrammelStated stronger[] = { { g_ref_string_new ("bead"), 0.2, 0 }, { g_ref_string_new ("shrink"), 0, 0 } };
  TrammelAdjustOptions options = { .stated = stronger, .n_stated = 2 };
  g_autoptr (TrammelAdjustment) adjustment = trammel_machine_adjust (stated, &options, NULL, NULL);
  /* 99.5 = 100 (1+e) + 2·0.2 */
  ck_assert_double_eq_tol (trammel_adjustment_parameter (adjustment, "scale.X")->value, -0.009, 1e-12);
  g_ref_string_release (stronger[0].name);
  g_ref_string_release (stronger[1].name);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("adopt");
  TCase *tests = tcase_create ("adopt");
  tcase_add_test (tests, one_travel_by_hand);
  tcase_add_test (tests, adopting_puts_in_force_logs_and_clears_the_desk);
  tcase_add_test (tests, a_second_adoption_starts_from_what_is_in_force);
  tcase_add_test (tests, readings_the_fit_did_not_use_are_set_aside);
  tcase_add_test (tests, homes_of_a_corrected_axis_are_set_aside);
  tcase_add_test (tests, lash_and_homing_are_logged);
  tcase_add_test (tests, a_lash_that_is_only_stated_is_not_logged);
  tcase_add_test (tests, homes_of_further_readings_are_logged_too);
  tcase_add_test (tests, a_value_that_cannot_be_read_is_set_aside_not_lost);
  tcase_add_test (tests, only_the_chosen_axes);
  tcase_add_test (tests, what_cannot_be_adopted);
  tcase_add_test (tests, options_are_stronger_than_the_machine);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
