/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include "base/error.h"

/* One degree is 0.017453292519943295 rad. */
static const struct
{
  const char *text, *name;
  double value, u;
} good[] = {
  { "bead=0", "bead", 0, 0 },
  { "shrink=0.003±0.001", "shrink", 0.003, 0.001 },
  { "shrink=0.003+-0.001", "shrink", 0.003, 0.001 },
  { "shrink=0.003 +/- 0.001", "shrink", 0.003, 0.001 },
  { "shrink=0.3 % ± 0.1 %", "shrink", 0.003, 0.001 },
  { "shrink=0.3±0.1 %", "shrink", 0.003, 0.001 },
  { " bead = 0.1 mm ± 0.02 mm", "bead", 0.1, 0.02 },
  { "bead=-0.1±0,02", "bead", -0.1, 0.02 },
  { "foot=1/100 in", "foot", 0.254, 0 },
  { "skew.XY=0.001±0.0005", "skew.XY", 0.001, 0.0005 },
  { "skew.YZ=1 deg ± 1 deg", "skew.YZ", 0.017453292519943295, 0.017453292519943295 },
  { "lash.X=0.1±0.05", "lash.X", 0.1, 0.05 },
  { "lash.A=0.5±0.25 deg", "lash.A", 0.5, 0.25 },
};

START_TEST (reads_stated_values)
{
  TrammelStated stated = { 0 };
  g_autoptr (GError) error = NULL;

  ck_assert_msg (trammel_stated_parse (good[_i].text, &stated, &error), "%s: %s", good[_i].text,
                 error ? error->message : "");
  ck_assert_str_eq (stated.name, good[_i].name);
  ck_assert_double_eq_tol (stated.value, good[_i].value, 1e-15);
  ck_assert_double_eq_tol (stated.u, good[_i].u, 1e-15);
  g_ref_string_release (stated.name);
}
END_TEST

static const struct
{
  const char *text;
  int code;
} bad[] = {
  { "bead", TRAMMEL_ERROR_PARSE },
  { "", TRAMMEL_ERROR_PARSE },
  { "=0", TRAMMEL_ERROR_PARSE },
  { "bead=", TRAMMEL_ERROR_PARSE },
  { "bead=thick", TRAMMEL_ERROR_PARSE },
  { "bead=0±", TRAMMEL_ERROR_PARSE },
  { "bead=0±-0.1", TRAMMEL_ERROR_RANGE },
  { "bead.X=0", TRAMMEL_ERROR_PARSE },
  { "skew=0", TRAMMEL_ERROR_PARSE },
  { "skew.YX=0", TRAMMEL_ERROR_PARSE },
  { "skew.XE=0", TRAMMEL_ERROR_PARSE },
  { "skew.XYZ=0", TRAMMEL_ERROR_PARSE },
  { "lash=0", TRAMMEL_ERROR_PARSE },
  { "lash.x=0", TRAMMEL_ERROR_PARSE },
  { "beads=0", TRAMMEL_ERROR_PARSE },
  { "scale.X=0", TRAMMEL_ERROR_RANGE },
  { "datum.X=0", TRAMMEL_ERROR_RANGE },
  { "datum.X.left=0", TRAMMEL_ERROR_RANGE },
  { "shrink=2", TRAMMEL_ERROR_RANGE },
  { "shrink=1 mm", TRAMMEL_ERROR_PARSE },
  { "skew.XY=90 deg", TRAMMEL_ERROR_RANGE },
  { "bead=0±nan", TRAMMEL_ERROR_PARSE },
};

START_TEST (refuses_bad_stated_values)
{
  TrammelStated stated = { 0 };
  g_autoptr (GError) error = NULL;

  ck_assert_msg (!trammel_stated_parse (bad[_i].text, &stated, &error), "%s", bad[_i].text);
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, bad[_i].code), "%s: %s", bad[_i].text, error->message);
  ck_assert_ptr_null (stated.name);
}
END_TEST

static const struct
{
  const char *name;
  TrammelParameterKind kind;
  const char *axes, *set, *words;
} names[] = {
  { "scale.E", TRAMMEL_PARAMETER_SCALE, "E", NULL, "scale of E" },
  { "skew.XZ", TRAMMEL_PARAMETER_SKEW, "XZ", NULL, "skew between X and Z" },
  { "shrink", TRAMMEL_PARAMETER_SHRINK, "", NULL, "shrink" },
  { "bead", TRAMMEL_PARAMETER_BEAD, "", NULL, "bead" },
  { "foot", TRAMMEL_PARAMETER_FOOT, "", NULL, "foot" },
  { "lash.Y", TRAMMEL_PARAMETER_LASH, "Y", NULL, "lash of Y" },
  { "datum.X", TRAMMEL_PARAMETER_DATUM, "X", NULL, "datum of X" },
  { "datum.X.left.1", TRAMMEL_PARAMETER_DATUM, "X", "left.1", "datum of X in set left.1" },
  { "instrument.a.b", TRAMMEL_PARAMETER_INSTRUMENT, "", "a.b", "scale of the instrument “a.b”" },
};

START_TEST (knows_the_names_of_unknowns)
{
  TrammelParameterKind kind;
  char axes[3] = "";
  const char *set = "?";

  ck_assert (trammel_parameter_parse (names[_i].name, &kind, axes, &set, NULL));
  ck_assert_int_eq (kind, names[_i].kind);
  ck_assert_str_eq (axes, names[_i].axes);
  ck_assert_pstr_eq (set, names[_i].set);
  g_autofree char *words = trammel_parameter_to_words (names[_i].name);
  ck_assert_str_eq (words, names[_i].words);
}
END_TEST

/* The defaults of common practice. */
START_TEST (has_defaults_for_all_but_scale_and_datum)
{
  double value, u;

  ck_assert (!trammel_stated_default (TRAMMEL_PARAMETER_SCALE, &value, &u));
  ck_assert (!trammel_stated_default (TRAMMEL_PARAMETER_DATUM, &value, &u));
  ck_assert (!trammel_stated_default (TRAMMEL_PARAMETER_INSTRUMENT, &value, &u));
  ck_assert (trammel_stated_default (TRAMMEL_PARAMETER_SHRINK, &value, &u));
  ck_assert_double_eq (value, 0.002);
  ck_assert_double_eq (u, 0.003);
  ck_assert (trammel_stated_default (TRAMMEL_PARAMETER_SKEW, &value, &u));
  ck_assert_double_eq (value, 0);
  ck_assert_double_eq_tol (u, 0.017453292519943295, 1e-17);
  ck_assert (trammel_stated_default (TRAMMEL_PARAMETER_BEAD, &value, &u));
  ck_assert_double_eq (u, 0.2);
  ck_assert (trammel_stated_default (TRAMMEL_PARAMETER_FOOT, &value, &u));
  ck_assert_double_eq (u, 0.2);
  ck_assert (trammel_stated_default (TRAMMEL_PARAMETER_LASH, &value, &u));
  ck_assert_double_eq (u, 1);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("stated");
  TCase *tcase = tcase_create ("stated");

  tcase_add_loop_test (tcase, reads_stated_values, 0, G_N_ELEMENTS (good));
  tcase_add_loop_test (tcase, refuses_bad_stated_values, 0, G_N_ELEMENTS (bad));
  tcase_add_loop_test (tcase, knows_the_names_of_unknowns, 0, G_N_ELEMENTS (names));
  tcase_add_test (tcase, has_defaults_for_all_but_scale_and_datum);
  suite_add_tcase (suite, tcase);
  return run_suite (suite);
}
