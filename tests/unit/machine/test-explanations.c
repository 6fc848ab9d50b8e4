/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec.h"
#include "machine/explanations.h"
#include "machine/readings-csv.h"
#include "machine/slips-private.h"

#include <check.h>
#include <math.h>
#include <string.h>

#define TIME "2026-11-25T09:36:00Z"
#define STEPPER "\"motor\":{\"type\":\"stepper\",\"full_steps\":200,\"microsteps\":16}"
#define BELT "\"output\":{\"type\":\"belt\",\"teeth\":20,\"pitch\":\"2 mm\"}"
#define SCREW "\"output\":{\"type\":\"screw\",\"pitch\":\"2 mm\",\"starts\":4}"
#define BELT_80 STEPPER "," BELT /* 200 × 16 / (20 × 2 mm) = 80 counts per mm */

/* One axis X of @members (of its JSON), and a travel of 100 mm that measured @measured. */
static TrammelMachine *
make_machine (const char *members, const char *measured, const char *u)
{
  g_autofree char *file = g_strdup_printf (
      "{\"format\":\"trammel-machine\",\"version\":1,\"axes\":[{\"letter\":\"X\",\"kind\":\"linear\",%s}],"
      "\"readings\":[{\"kind\":\"travel\",\"along\":\"X\",\"nominal\":100,\"measured\":%s,\"u\":%s}]}",
      members, measured, u);
  g_autoptr (GError) error = NULL;
  TrammelMachine *machine = trammel_codec_read (file, strlen (file), &error);
  ck_assert_msg (machine != NULL, "%s: %s", file, error != NULL ? error->message : "");
  return machine;
}

static TrammelAdjustment *
adjust (const TrammelMachine *machine)
{
  TrammelAdjustment *adjustment = trammel_machine_adjust (machine, NULL, NULL, NULL);
  ck_assert_ptr_nonnull (adjustment);
  return adjustment;
}

static GPtrArray *
explain (const TrammelMachine *machine)
{
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  return trammel_machine_explain (machine, adjustment);
}

static const TrammelExplanation *
find (GPtrArray *explanations, const char *change)
{
  for (guint i = 0; i < explanations->len; i++)
    if (g_str_equal (((TrammelExplanation *)explanations->pdata[i])->change, change))
      return explanations->pdata[i];
  return NULL;
}

/* A machine whose train was entered with one known slip. It is told 100 mm and moves 100 · entered / real counts per
 * mm, worked out by hand. */
static const struct
{
  const char *members;
  const char *measured;
  const char *change;
  double counts;
  gboolean is_first;
} known[] = {
  /* 16 microsteps entered, 32 set: 80 against 160 */
  { BELT_80, "50", "motor: microsteps 16 → 32", 160, TRUE },
  { BELT_80, "50", "motor: full steps 200 → 400", 160, FALSE },
  { BELT_80, "50", "output: falls 1 → 2", 160, FALSE },
  /* 16 entered, 4 set: 80 against 20 */
  { BELT_80, "400", "motor: microsteps 16 → 4", 20, TRUE },
  /* 16 teeth on the pulley where 20 were entered: 80 against 100 */
  { BELT_80, "80", "output: teeth 20 → 16", 100, TRUE },
  /* 2 mm entered, 2.032 mm real: 80 / 1.016 */
  { BELT_80, "101.6", "output: pitch 2 mm → 2.032 mm (metric and inch sizes mixed up)", 80 / 1.016, TRUE },
  /* 12:36 entered, 13:36 real: 3200·3/8 = 1200 against 1200·12/13 */
  { STEPPER ",\"stages\":[{\"type\":\"spur\",\"driver\":12,\"driven\":36}]," SCREW, "108.333333",
    "stage 1: driver 12 → 13", 1200.0 * 12 / 13, TRUE },
  /* 24:16 entered, 16:24 real: 400·2/3 against 400·3/2 */
  { STEPPER ",\"stages\":[{\"type\":\"belt\",\"driver\":24,\"driven\":16}]," SCREW, "44.444444",
    "stage 1: driver 24 → 16, driven 16 → 24 (swapped)", 600, TRUE },
  /* 2 mm entered, 12 tpi real: 1600 against 3200·12/25.4 */
  { STEPPER ",\"output\":{\"type\":\"screw\",\"pitch\":\"2 mm\",\"starts\":1}", "105.833333",
    "output: pitch 2 mm → 12 tpi (metric and inch sizes mixed up)", 3200 * 12 / 25.4, TRUE },
  /* 20 tpi entered, 1.25 mm real: 3200·20/25.4 against 2560 */
  { STEPPER ",\"output\":{\"type\":\"screw\",\"pitch\":\"20 tpi\",\"starts\":1}", "98.425197",
    "output: pitch 20 tpi → 1.25 mm (metric and inch sizes mixed up)", 2560, TRUE },
  /* lead 8 mm entered as pitch of 4 starts: 100 against 400 */
  { STEPPER ",\"output\":{\"type\":\"screw\",\"pitch\":\"8 mm\",\"starts\":4}", "25",
    "output: pitch 8 mm → 2 mm (the lead was entered as the pitch)", 400, TRUE },
  { STEPPER ",\"output\":{\"type\":\"screw\",\"pitch\":\"8 mm\",\"starts\":4}", "25", "output: starts 4 → 1", 400,
    FALSE },
  /* module 1 mm entered, pitch 1 mm real: 3200/(15π) against 3200/15 */
  { STEPPER ",\"output\":{\"type\":\"rack\",\"teeth\":15,\"module\":\"1 mm\"}", "31.830989",
    "output: module 1 mm → pitch 1 mm", 3200.0 / 15, TRUE },
  /* the reverse */
  { STEPPER ",\"output\":{\"type\":\"worm-rack\",\"starts\":1,\"pitch\":\"3 mm\"}", "314.159265",
    "output: pitch 3 mm → module 3 mm", 3200 / (3 * G_PI), TRUE },
  /* a worm of 1 start entered, 2 real: 40·400 against 20·400 */
  { STEPPER ",\"stages\":[{\"type\":\"worm\",\"starts\":1,\"wheel\":40}]," SCREW, "200", "stage 1: starts 1 → 2", 8000,
    FALSE },
  /* ring held entered, sun held real: sun 12, ring 48: 1/5 against 48/60; 5·400 against 1.25·400 */
  { STEPPER ",\"stages\":[{\"type\":\"planetary\",\"sun\":12,\"ring\":48,\"held\":\"ring\",\"in\":\"sun\","
            "\"out\":\"carrier\"}]," SCREW,
    "400", "stage 1: held ring → sun, in sun → ring", 500, FALSE },
  /* 5:1 entered, 57:11 inside: 2000 against 400·57/11 */
  { STEPPER ",\"stages\":[{\"type\":\"gearbox\",\"ratio\":5}]," SCREW, "96.491228",
    "stage 1: ratio 5 → 57/11 (the ratio it is sold by is rounded)", 400.0 * 57 / 11, TRUE },
  { STEPPER ",\"stages\":[{\"type\":\"gearbox\",\"ratio\":5}]," SCREW, "2500",
    "stage 1: ratio 5 → 0.2 (turned upside down)", 80, TRUE },
  /* a stage that is not there: 1:3 of 400 against 400 */
  { STEPPER ",\"stages\":[{\"type\":\"chain\",\"driver\":12,\"driven\":36}]," SCREW, "300",
    "stage 1: chain 12:36 taken out", 400, TRUE },
  /* one where there are two: 1200 against 3600 */
  { STEPPER ",\"stages\":[{\"type\":\"chain\",\"driver\":12,\"driven\":36}]," SCREW, "33.333333",
    "stage 1: chain 12:36 twice in a row", 3600, TRUE },
  /* an idler of 20 taken for the driven gear of 40: 20/12 against 40/12 of 400 */
  { STEPPER ",\"stages\":[{\"type\":\"spur\",\"driver\":12,\"driven\":20,\"idlers\":[40]}]," SCREW, "50",
    "stage 1: driven 20 → 40, idlers 40 → 20 (swapped with an idler)", 400.0 * 40 / 12, FALSE },
  /* radius 4 mm entered for diameter 8 mm: 3200/(4π) against 3200/(8π) */
  { STEPPER ",\"output\":{\"type\":\"roller\",\"diameter\":\"4 mm\"}", "200",
    "output: diameter 4 mm → 8 mm (the radius was entered)", 3200 / (8 * G_PI), FALSE },
  /* circumference 25 mm entered: 3200/(25π) against 3200/25 */
  { STEPPER ",\"output\":{\"type\":\"roller\",\"diameter\":\"25 mm\"}", "31.830989",
    "output: diameter 25 mm → 25/π mm (the circumference was entered)", 128, TRUE },
  /* 500 lines entered, each counted four times: 12.5 against 50 */
  { "\"motor\":{\"type\":\"encoder\",\"counts\":\"500\"}," BELT, "25", "motor: counts 500 → 2000 (lines for counts)",
    50, TRUE },
  /* a value of 100 in force where the teeth say 80, rightly */
  { BELT_80 ",\"counts_per_unit\":{\"value\":100,\"u\":0}", "125", "value in force: the nominal instead", 80, TRUE },
  /* 80.5 in force, 16 microsteps entered, 32 set: the machine moves 80.5 of 160 */
  { BELT_80 ",\"counts_per_unit\":{\"value\":80.5,\"u\":0.1}", "50.3125", "motor: microsteps 16 → 32", 160, TRUE },
};

START_TEST (known_slip_is_found)
{
  g_autoptr (TrammelMachine) machine = make_machine (known[_i].members, known[_i].measured, "0.01");
  g_autoptr (GPtrArray) explanations = explain (machine);
  const TrammelExplanation *found = find (explanations, known[_i].change);

  GString *all = g_string_new (NULL);
  for (guint i = 0; i < explanations->len; i++)
    g_string_append_printf (all, "%s; ", ((TrammelExplanation *)explanations->pdata[i])->change);
  ck_assert_msg (found != NULL, "%s: not among %s", known[_i].change, all->str);
  ck_assert_msg (!known[_i].is_first || found == explanations->pdata[0], "%s: not first of %s", known[_i].change,
                 all->str);
  g_string_free (all, TRUE);
  ck_assert (found->fits);
  ck_assert_int_eq (found->letter, 'X');
  ck_assert_double_eq_tol (found->counts_per_unit, known[_i].counts, 1e-9 * known[_i].counts);
}
END_TEST

/* Whatever is told works, and makes what it says. */
START_TEST (every_train_works)
{
  g_autoptr (TrammelMachine) machine = make_machine (known[_i].members, known[_i].measured, "0.5");
  g_autoptr (GPtrArray) explanations = explain (machine);

  ck_assert_uint_gt (explanations->len, 0);
  for (guint i = 0; i < explanations->len; i++)
    {
      const TrammelExplanation *explanation = explanations->pdata[i];
      g_autoptr (TrammelFacts) facts = trammel_train_facts (explanation->train, NULL);
      ck_assert_ptr_nonnull (facts);
      ck_assert_double_eq (trammel_exact_to_double (facts->counts_per_unit), explanation->counts_per_unit);
      for (guint k = 0; k < i; k++)
        ck_assert (!trammel_train_equal (((TrammelExplanation *)explanations->pdata[k])->train, explanation->train));
    }
}
END_TEST

START_TEST (what_needs_no_explaining)
{
  /* 0.2 %: what machines have; 40 % ± 196 %: not significant; right; no train that works */
  const char *const cases[][3] = {
    { BELT_80, "100.2", "0.001" },
    { BELT_80, "140", "100" },
    { BELT_80, "100", "0.01" },
    { STEPPER ",\"output\":{\"type\":\"rack\",\"teeth\":15,\"module\":\"1 mm\",\"pitch\":\"3 mm\"}", "31.83", "0.01" },
  };
  g_autoptr (TrammelMachine) machine = make_machine (cases[_i][0], cases[_i][1], cases[_i][2]);
  g_autoptr (GPtrArray) explanations = explain (machine);
  ck_assert_uint_eq (explanations->len, 0);
}
END_TEST

START_TEST (what_fits_comes_before_what_comes_near)
{
  /* Half as far, and a part in 500 of the machine's own: nothing of the table is 159.68 counts per mm. */
  g_autoptr (TrammelMachine) machine = make_machine (BELT_80, "50.1", "0.003");
  g_autoptr (GPtrArray) near = explain (machine);
  ck_assert_uint_gt (near->len, 0);
  const TrammelExplanation *first = near->pdata[0];
  ck_assert_str_eq (first->change, "motor: microsteps 16 → 32");
  ck_assert (!first->fits);

  /* Wanted is 1/1.01812 = 0.9822 of the present number, ± 0.16 % (1.96·0.08). 59 → 60 teeth make 59/60 of it, 0.12 %
   * more than wanted; 100 → 98 make 98/100, 0.22 % less: inside and outside. */
  g_autoptr (TrammelMachine) wide = make_machine (
      BELT_80 ",\"stages\":[{\"type\":\"spur\",\"driver\":59,\"driven\":100,\"module\":\"1 mm\"}]", "101.812", "0.08");
  g_autoptr (GPtrArray) mixed = explain (wide);
  gboolean fits = TRUE;
  ck_assert_uint_ge (mixed->len, 2);
  ck_assert (((const TrammelExplanation *)mixed->pdata[0])->fits);
  ck_assert (!((const TrammelExplanation *)mixed->pdata[mixed->len - 1])->fits);
  for (guint i = 0; i < mixed->len; i++)
    {
      const TrammelExplanation *explanation = mixed->pdata[i];
      ck_assert (fits || !explanation->fits);
      fits = explanation->fits;
    }
}
END_TEST

START_TEST (a_nearer_count_comes_first)
{
  /* 20 teeth entered. 21 makes 105, 22 makes 110 of 100; 107.5 ± 2.94 lies halfway. */
  g_autoptr (TrammelMachine) machine = make_machine (BELT_80, "107.5", "1.5");
  g_autoptr (GPtrArray) explanations = explain (machine);
  const TrammelExplanation *nearer = find (explanations, "output: teeth 20 → 21");
  const TrammelExplanation *further = find (explanations, "output: teeth 20 → 22");
  guint at_nearer, at_further;
  ck_assert (nearer != NULL && further != NULL && nearer->fits && further->fits);
  ck_assert (g_ptr_array_find (explanations, nearer, &at_nearer));
  ck_assert (g_ptr_array_find (explanations, further, &at_further));
  ck_assert_uint_lt (at_nearer, at_further);
}
END_TEST

static TrammelMachine *
put_right (const TrammelMachine *machine, guint i)
{
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (GPtrArray) explanations = trammel_machine_explain (machine, adjustment);
  ck_assert_uint_lt (i, explanations->len);
  TrammelMachine *right = trammel_machine_put_right (machine, adjustment, trammel_machine_readings (machine),
                                                     explanations->pdata[i], TIME, NULL);
  ck_assert_ptr_nonnull (right);
  return right;
}

START_TEST (put_right_puts_the_nominal_in_force)
{
  g_autoptr (TrammelMachine) machine
      = make_machine (BELT_80 ",\"counts_per_unit\":{\"value\":80.5,\"u\":0.1}", "50.3125", "0.01");
  g_autoptr (TrammelMachine) right = put_right (machine, 0);
  const TrammelAxis *axis = trammel_machine_axis (right, 0);
  ck_assert_int_eq (trammel_record_integer (trammel_train_motor (trammel_axis_train (axis)), "microsteps"), 32);
  ck_assert (!trammel_axis_set_in_force (axis, NULL, NULL));
  ck_assert_uint_eq (trammel_readings_length (trammel_machine_readings (right)), 0);
  ck_assert_uint_eq (trammel_machine_n_log (right), 1);
  const TrammelLogEntry *entry = trammel_machine_log (right, 0);
  ck_assert_uint_eq (entry->n_changes, 1);
  ck_assert_int_eq (entry->changes[0].letter, 'X');
  ck_assert_double_eq (entry->changes[0].before, 80.5);
  ck_assert_double_eq (entry->changes[0].before_u, 0.1);
  ck_assert_double_eq (entry->changes[0].after, 160);
  ck_assert_double_eq (entry->changes[0].after_u, 0);
  ck_assert_double_eq (entry->changes[0].nominal, 160);
  ck_assert_uint_eq (trammel_readings_length (entry->readings), 1);
  ck_assert_str_eq (entry->note, "motor: microsteps 16 → 32");
}
END_TEST

START_TEST (put_right_keeps_what_the_machine_adds)
{
  g_autoptr (TrammelMachine) machine = make_machine (BELT_80, "50.1", "0.003");
  g_autoptr (TrammelMachine) right = put_right (machine, 0);
  double value, u;
  ck_assert (trammel_axis_set_in_force (trammel_machine_axis (right, 0), &value, &u));
  ck_assert_double_eq_tol (value, 80 / 0.501, 1e-9); /* 159.68 */
  ck_assert_double_eq_tol (u, 80 / 0.501 / 0.501 * 0.00003, 1e-9);
}
END_TEST

START_TEST (put_right_wants_a_time)
{
  g_autoptr (TrammelMachine) machine = make_machine (BELT_80, "50", "0.01");
  g_autoptr (TrammelAdjustment) adjustment = adjust (machine);
  g_autoptr (GPtrArray) explanations = trammel_machine_explain (machine, adjustment);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_machine_put_right (machine, adjustment, trammel_machine_readings (machine),
                                                 explanations->pdata[0], "yesterday", &error));
  ck_assert_ptr_nonnull (error);
}
END_TEST

/* Neighbors are looked for from below, so sizes must rise; the text must be the size. */
START_TEST (standard_sizes_are_sorted_and_read_as_they_say)
{
  const struct
  {
    const TrammelStandardSizes *sizes;
    TrammelDimension dimension;
  } all[] = { { trammel_standard_sizes ("thread-pitch"), TRAMMEL_DIMENSION_PITCH },
              { trammel_standard_sizes ("belt-pitch"), TRAMMEL_DIMENSION_LENGTH },
              { trammel_standard_sizes ("module"), TRAMMEL_DIMENSION_MODULE } };

  for (gsize i = 0; i < G_N_ELEMENTS (all); i++)
    for (int inch = 0; inch <= 1; inch++)
      {
        const TrammelStandardSize *sizes = inch ? all[i].sizes->inch : all[i].sizes->metric;
        gsize n = inch ? all[i].sizes->n_inch : all[i].sizes->n_metric;
        for (gsize k = 0; k < n; k++)
          {
            TrammelQuantity quantity;
            ck_assert (trammel_quantity_parse (sizes[k].text, all[i].dimension, NULL, &quantity, NULL));
            ck_assert_double_eq_tol (trammel_quantity_value (quantity), sizes[k].size, 1e-12);
            ck_assert (k == 0 || sizes[k].size > sizes[k - 1].size);
          }
      }
}
END_TEST

/* MXL, XXL, XL, L, H, XH and XXH are 0.08, 1/8, 0.2, 3/8, 1/2, 7/8 and 5/4 in (ISO 5296; from memory). */
START_TEST (belts_of_inches_are_told_from_others)
{
  static const double inch[] = { 0.08 * 25.4, 3.175, 5.08, 9.525, 12.7, 22.225, 31.75 };
  static const double metric[] = { 2, 2.5, 3, 5, 8, 10, 14, 20 };
  const TrammelStandardSizes *belts = trammel_standard_sizes ("belt-pitch");
  ck_assert_uint_eq (belts->n_inch, G_N_ELEMENTS (inch));
  for (gsize i = 0; i < G_N_ELEMENTS (inch); i++)
    ck_assert_double_eq_tol (belts->inch[i].size, inch[i], 1e-12);
  ck_assert_uint_eq (belts->n_metric, G_N_ELEMENTS (metric));
  for (gsize i = 0; i < G_N_ELEMENTS (metric); i++)
    ck_assert_double_eq_tol (belts->metric[i].size, metric[i], 1e-12);
}
END_TEST

static const struct
{
  TrammelExact mm;
  gboolean inch;
} systems[] = {
  { { 127, 5, 0 }, TRUE },   { { 127, 100, 0 }, TRUE }, /* 20 tpi */
  { { 127, 160, 0 }, TRUE }, { { 5, 4, 0 }, FALSE },    { { 2, 1, 0 }, FALSE }, { { 0, 1, 0 }, FALSE },
};

START_TEST (an_inch_has_its_prime)
{
  ck_assert_int_eq (trammel_is_inch_size (systems[_i].mm), systems[_i].inch);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("explanations");
  TCase *tests = tcase_create ("explanations");
  tcase_add_loop_test (tests, known_slip_is_found, 0, G_N_ELEMENTS (known));
  tcase_add_loop_test (tests, every_train_works, 0, G_N_ELEMENTS (known));
  tcase_add_loop_test (tests, what_needs_no_explaining, 0, 4);
  tcase_add_test (tests, what_fits_comes_before_what_comes_near);
  tcase_add_test (tests, a_nearer_count_comes_first);
  tcase_add_test (tests, put_right_puts_the_nominal_in_force);
  tcase_add_test (tests, put_right_keeps_what_the_machine_adds);
  tcase_add_test (tests, put_right_wants_a_time);
  tcase_add_test (tests, standard_sizes_are_sorted_and_read_as_they_say);
  tcase_add_test (tests, belts_of_inches_are_told_from_others);
  tcase_add_loop_test (tests, an_inch_has_its_prime, 0, G_N_ELEMENTS (systems));
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
