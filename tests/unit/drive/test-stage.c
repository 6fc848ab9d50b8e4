/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/stage.h"

#include <check.h>
#include <string.h>

/* A stage from "key=value;key=value". */
static TrammelRecord *
make_stage (const char *type, const char *settings)
{
  const TrammelRecordKind *kind = trammel_stage_kind (type);
  ck_assert_msg (kind != NULL, "%s", type);
  g_autoptr (TrammelRecord) stage = trammel_record_new (kind);
  g_auto (GStrv) parts = g_strsplit (settings, ";", -1);
  for (gsize i = 0; parts[i] != NULL && parts[i][0] != '\0'; i++)
    {
      g_auto (GStrv) sides = g_strsplit (parts[i], "=", 2);
      g_autoptr (GError) error = NULL;
      TrammelRecord *next = trammel_record_with_text (stage, sides[0], sides[1], NULL, &error);
      ck_assert_msg (next != NULL, "%s: %s", parts[i], error != NULL ? error->message : "");
      trammel_record_unref (stage);
      stage = next;
    }
  return g_steal_pointer (&stage);
}

/* Ratios by hand from the table of kinds; a spur mesh turns the sign, an idler turns it back. */
static const struct
{
  const char *type, *settings;
  gint64 num, den;
} ratios[] = {
  { "spur", "driver=12;driven=36", -1, 3 },
  { "spur", "driver=12;driven=36;idlers=20", 1, 3 },
  { "spur", "driver=12;driven=36;idlers=20, 31", -1, 3 },
  { "spur", "driver=16;driven=40", -2, 5 }, /* Shigley, first example of chapter 13 (from memory) */
  { "spur", "driver=80;driven=63", -80, 63 },
  { "spur", "driver=10000;driven=1", -10000, 1 },
  { "internal", "driver=15;driven=60", 1, 4 },
  { "internal", "driver=60;driven=15;ring=driver", 4, 1 },
  { "bevel", "driver=20;driven=40", 1, 2 },
  { "bevel", "driver=20;driven=40;reverse=yes", -1, 2 },
  { "worm", "starts=1;wheel=40", 1, 40 },
  { "worm", "starts=2;wheel=40;hand=left", -1, 20 },
  { "worm", "starts=2;wheel=40;reverse=yes", -1, 20 },
  { "worm", "starts=2;wheel=40;hand=left;reverse=yes", 1, 20 },
  { "belt", "driver=20;driven=60", 1, 3 },
  { "belt", "driver=20;driven=60;crossed=yes", -1, 3 },
  { "chain", "driver=12;driven=36", 1, 3 },
  { "chain", "driver=12;driven=36;crossed=yes", -1, 3 },
  { "gearbox", "ratio=5", 1, 5 },
  { "gearbox", "ratio=57/11;reverse=yes", -11, 57 },
  { "gearbox", "ratio=5 2/11", 11, 57 },
  { "gearbox", "ratio=0.5", 2, 1 },
  { "coupling", "", 1, 1 },
};

START_TEST (ratio_by_hand)
{
  g_autoptr (TrammelRecord) stage = make_stage (ratios[_i].type, ratios[_i].settings);
  g_autoptr (GError) error = NULL;
  TrammelExact ratio;
  ck_assert_msg (trammel_stage_ratio (stage, &ratio, &error), "%s %s", ratios[_i].type, ratios[_i].settings);
  ck_assert_int_eq (ratio.num, ratios[_i].num);
  ck_assert_int_eq (ratio.den, ratios[_i].den);
  ck_assert_int_eq (ratio.pi, 0);
}
END_TEST

/* Sun 20, ring 80, ring held, sun at 100 rev/min: the carrier turns 20 rev/min the same way (Budynas & Nisbett,
 * Shigley's Mechanical Engineering Design, gear-train example of chapter 13; from memory). The other five follow from
 * the same equation, (n_sun − n_carrier)/(n_ring − n_carrier) = −4, by hand. */
static const struct
{
  const char *held, *in, *out;
  gint64 num, den;
} planetary[] = {
  { "ring", "sun", "carrier", 1, 5 }, { "ring", "carrier", "sun", 5, 1 },  { "sun", "ring", "carrier", 4, 5 },
  { "sun", "carrier", "ring", 5, 4 }, { "carrier", "sun", "ring", -1, 4 }, { "carrier", "ring", "sun", -4, 1 },
};

START_TEST (planetary_by_willis)
{
  g_autofree char *settings = g_strdup_printf ("sun=20;ring=80;held=%s;in=%s;out=%s", planetary[_i].held,
                                               planetary[_i].in, planetary[_i].out);
  g_autoptr (TrammelRecord) stage = make_stage ("planetary", settings);
  g_autoptr (GError) error = NULL;
  TrammelExact ratio;
  ck_assert (trammel_stage_ratio (stage, &ratio, &error));
  ck_assert_int_eq (ratio.num, planetary[_i].num);
  ck_assert_int_eq (ratio.den, planetary[_i].den);
}
END_TEST

/* The equation itself, with numbers: whatever the teeth, speeds in that proportion satisfy it. */
START_TEST (any_planetary_set_satisfies_willis)
{
  static const char *const members[] = { "sun", "ring", "carrier" };
  GRand *random = g_rand_new_with_seed (17);
  for (int i = 0; i < 300; i++)
    {
      const int sun = g_rand_int_range (random, 6, 200), ring = sun + 2 * g_rand_int_range (random, 6, 200);
      const int held = i % 3, in = (held + 1 + i / 3 % 2) % 3, out = 3 - held - in;
      g_autofree char *settings = g_strdup_printf ("sun=%d;ring=%d;held=%s;in=%s;out=%s", sun, ring, members[held],
                                                   members[in], members[out]);
      g_autoptr (TrammelRecord) stage = make_stage ("planetary", settings);
      TrammelExact ratio;
      ck_assert (trammel_stage_ratio (stage, &ratio, NULL));

      double turns[3] = { 0, 0, 0 };
      turns[in] = 1;
      turns[out] = (double)ratio.num / (double)ratio.den;
      const double left = (turns[0] - turns[2]) * sun, right = -(turns[1] - turns[2]) * ring;
      ck_assert_double_eq_tol (left, right, 1e-9 * (1 + ring));
    }
  g_rand_free (random);
}
END_TEST

static const struct
{
  const char *type, *settings;
  int code;
  const char *start; /* of the message */
} impossible[] = {
  { "planetary", "held=sun;in=sun;out=carrier", TRAMMEL_ERROR_IMPOSSIBLE, "in: " },
  { "planetary", "held=ring;in=sun;out=ring", TRAMMEL_ERROR_IMPOSSIBLE, "out: " },
  { "planetary", "held=ring;in=sun;out=sun", TRAMMEL_ERROR_IMPOSSIBLE, "out: " },
  { "planetary", "sun=80;ring=20", TRAMMEL_ERROR_IMPOSSIBLE, "ring: found 20 teeth around a sun of 80" },
  { "planetary", "sun=20;ring=20", TRAMMEL_ERROR_IMPOSSIBLE, "ring: " },
  { "planetary", "sun=20;ring=81", TRAMMEL_ERROR_IMPOSSIBLE, "ring: found 81 teeth around a sun of 20" },
  { "planetary", "sun=", TRAMMEL_ERROR_RANGE, "sun: not set" },
  { "planetary", "held=", TRAMMEL_ERROR_RANGE, "held: not set" },
  { "internal", "driver=60;driven=15", TRAMMEL_ERROR_IMPOSSIBLE, "driven: found a ring of 15 teeth" },
  { "internal", "driver=15;driven=60;ring=driver", TRAMMEL_ERROR_IMPOSSIBLE, "driver: found a ring of 15 teeth" },
  { "internal", "driver=30;driven=30", TRAMMEL_ERROR_IMPOSSIBLE, "driven: " },
  { "spur", "driven=", TRAMMEL_ERROR_RANGE, "driven: not set" },
  { "gearbox", "ratio=", TRAMMEL_ERROR_RANGE, "ratio: not set" },
  { "worm", "hand=", TRAMMEL_ERROR_RANGE, "hand: not set" },
};

START_TEST (impossible_stages)
{
  g_autoptr (TrammelRecord) stage = make_stage (impossible[_i].type, impossible[_i].settings);
  g_autoptr (GError) error = NULL;
  TrammelExact ratio = { 5, 7, 0 };
  ck_assert (!trammel_stage_ratio (stage, &ratio, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, impossible[_i].code), "%s", error->message);
  ck_assert_msg (g_str_has_prefix (error->message, impossible[_i].start), "%s", error->message);
  ck_assert_int_eq (ratio.num, 5);
}
END_TEST

static const struct
{
  const char *type, *key, *text;
} out_of_bounds[] = {
  { "spur", "driver", "0" },       { "spur", "driver", "1000000000" }, { "spur", "driven", "10001" },
  { "spur", "idlers", "0" },       { "spur", "module", "0 mm" },       { "spur", "module", "-1" },
  { "spur", "module", "2 deg" },   { "belt", "pitch", "0" },           { "belt", "pitch", "2 potatoes" },
  { "gearbox", "ratio", "0" },     { "gearbox", "ratio", "-5" },       { "gearbox", "ratio", "nan" },
  { "spur", "efficiency", "1.2" }, { "spur", "efficiency", "0" },      { "spur", "lash", "-0.1 mm" },
  { "worm", "hand", "both" },      { "planetary", "in", "planet" },    { "internal", "ring", "sun" },
};

START_TEST (bounds)
{
  g_autoptr (TrammelRecord) stage = trammel_record_new (trammel_stage_kind (out_of_bounds[_i].type));
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_record_with_text (stage, out_of_bounds[_i].key, out_of_bounds[_i].text, NULL, &error) == NULL,
                 "%s = %s", out_of_bounds[_i].key, out_of_bounds[_i].text);
  ck_assert_ptr_nonnull (error);
}
END_TEST

START_TEST (every_kind_starts_as_a_stage_that_works)
{
  static const char *const types[]
      = { "spur", "internal", "bevel", "worm", "belt", "chain", "planetary", "gearbox", "coupling" };
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_stage_kinds (&n);
  ck_assert_uint_eq (n, G_N_ELEMENTS (types));
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TrammelRecord) stage = trammel_record_new (kinds[i]);
      ck_assert_str_eq (kinds[i]->type, types[i]);
      ck_assert_ptr_eq (trammel_stage_kind (types[i]), kinds[i]);
      ck_assert_msg (trammel_record_check (stage, &error), "%s", types[i]);
      for (gsize k = 0; k < kinds[i]->n_fields; k++)
        {
          ck_assert_int_gt (strlen (kinds[i]->fields[k].label), 0);
          ck_assert_int_gt (strlen (kinds[i]->fields[k].meaning), 0);
        }
    }
  ck_assert_ptr_null (trammel_stage_kind ("screw"));
  ck_assert_ptr_null (trammel_stage_kind (NULL));
}
END_TEST

START_TEST (every_kind_may_carry_lash_efficiency_and_note)
{
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_stage_kinds (&n);
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (TrammelRecord) stage = make_stage (kinds[i]->type, "lash=0.2 mm;efficiency=97 %;note=from a printer");
      TrammelQuantity lash;
      ck_assert (trammel_record_quantity (stage, "lash", &lash));
      ck_assert_int_eq (trammel_unit_dimension (lash.unit), TRAMMEL_DIMENSION_LENGTH);
      ck_assert_double_eq (trammel_record_value (stage, "efficiency"), 0.97);
      ck_assert_str_eq (trammel_record_string (stage, "note"), "from a printer");
    }
}
END_TEST

START_TEST (meshes_that_turn_the_sign)
{
  g_autoptr (TrammelRecord) pair = make_stage ("spur", "");
  g_autoptr (TrammelRecord) three = make_stage ("spur", "idlers=20, 30");
  g_autoptr (TrammelRecord) belt = make_stage ("belt", "");
  ck_assert_uint_eq (trammel_stage_meshes (pair), 1);
  ck_assert_uint_eq (trammel_stage_meshes (three), 3);
  ck_assert_uint_eq (trammel_stage_meshes (belt), 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("stage");
  TCase *stages = tcase_create ("stages");
  tcase_add_loop_test (stages, ratio_by_hand, 0, G_N_ELEMENTS (ratios));
  tcase_add_loop_test (stages, planetary_by_willis, 0, G_N_ELEMENTS (planetary));
  tcase_add_test (stages, any_planetary_set_satisfies_willis);
  tcase_add_loop_test (stages, impossible_stages, 0, G_N_ELEMENTS (impossible));
  tcase_add_loop_test (stages, bounds, 0, G_N_ELEMENTS (out_of_bounds));
  tcase_add_test (stages, every_kind_starts_as_a_stage_that_works);
  tcase_add_test (stages, every_kind_may_carry_lash_efficiency_and_note);
  tcase_add_test (stages, meshes_that_turn_the_sign);
  suite_add_tcase (suite, stages);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
