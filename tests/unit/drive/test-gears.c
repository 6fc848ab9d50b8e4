/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/gears.h"

#include <check.h>

static const struct
{
  const char *text, *canonical;
} bins[] = {
  { "12,16,20,24x2,36,40", "12, 16, 20, 24x2, 36, 40" },
  { "40;36\n24 12", "12, 24, 36, 40" },
  { "24,24, 24x2", "24x4" },
  { "24 x 2 , 12 × 3\t16*1", "12x3, 16, 24x2" },
  { "24X2@0.5, 24", "24x2@0.5, 24" },
  { "24 @ 0.5mm", "24@0.5" },
  { "24@1", "24" },
  { "20@24DP", "20@127/120" }, /* 25.4/24 mm */
  { "1, 10000x1000", "1, 10000x1000" },
  { ",,12,,", "12" },
};

START_TEST (reads_a_bin)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelGears) gears = trammel_gears_parse (bins[_i].text, &error);
  ck_assert_msg (gears != NULL, "%s: %s", bins[_i].text, error != NULL ? error->message : "");
  g_autofree char *text = trammel_gears_to_text (gears);
  ck_assert_str_eq (text, bins[_i].canonical);

  g_autoptr (TrammelGears) again = trammel_gears_parse (text, NULL);
  ck_assert_ptr_nonnull (again);
  g_autofree char *text_again = trammel_gears_to_text (again);
  ck_assert_str_eq (text_again, text);
}
END_TEST

static const struct
{
  const char *text;
  int code;
} bad[] = {
  { "", TRAMMEL_ERROR_PARSE },        { " , ", TRAMMEL_ERROR_PARSE },
  { "twelve", TRAMMEL_ERROR_PARSE },  { "12y2", TRAMMEL_ERROR_PARSE },
  { "12x", TRAMMEL_ERROR_PARSE },     { "12,x2", TRAMMEL_ERROR_PARSE },
  { "12x,2", TRAMMEL_ERROR_PARSE },   { "-12", TRAMMEL_ERROR_PARSE },
  { "12.5", TRAMMEL_ERROR_PARSE },    { "12@", TRAMMEL_ERROR_PARSE },
  { "12@soup", TRAMMEL_ERROR_PARSE }, { "12\xff", TRAMMEL_ERROR_PARSE },
  { "0", TRAMMEL_ERROR_RANGE },       { "10001", TRAMMEL_ERROR_RANGE },
  { "12x0", TRAMMEL_ERROR_RANGE },    { "12x1001", TRAMMEL_ERROR_RANGE },
  { "12@0", TRAMMEL_ERROR_RANGE },    { "12@-1", TRAMMEL_ERROR_RANGE },
  { "12@1001", TRAMMEL_ERROR_RANGE }, { "12@pi", TRAMMEL_ERROR_RANGE },
  { "12@0,5", TRAMMEL_ERROR_RANGE },  { "99999999999999999999", TRAMMEL_ERROR_RANGE },
};

START_TEST (refuses_what_is_no_bin)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelGears) gears = trammel_gears_parse (bad[_i].text, &error);
  ck_assert_msg (gears == NULL, "%s", bad[_i].text);
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, bad[_i].code), "%s: %s", bad[_i].text, error->message);
  ck_assert (g_utf8_validate (error->message, -1, NULL));
}
END_TEST

/* Sizes 1 to @n, each of one module, or all of 12 teeth and a module each. */
static char *
many_sizes (int n, gboolean of_one_module)
{
  GString *text = g_string_new (NULL);
  for (int i = 1; i <= n; i++)
    {
      if (i > 1)
        g_string_append (text, ", ");
      g_string_append_printf (text, of_one_module ? "%d" : "12@%d", i);
    }
  return g_string_free (text, FALSE);
}

START_TEST (holds_so_many_and_no_more)
{
  g_autofree char *full = many_sizes (TRAMMEL_GEARS_MOST_SIZES, TRUE);
  g_autofree char *more = many_sizes (TRAMMEL_GEARS_MOST_SIZES + 1, TRUE);
  g_autofree char *modules = many_sizes (TRAMMEL_GEARS_MOST_MODULES, FALSE);
  g_autofree char *more_modules = many_sizes (TRAMMEL_GEARS_MOST_MODULES + 1, FALSE);
  g_autoptr (TrammelGears) of_sizes = trammel_gears_parse (full, NULL);
  g_autoptr (TrammelGears) of_modules = trammel_gears_parse (modules, NULL);
  g_autoptr (GError) error = NULL;

  ck_assert_uint_eq (trammel_gears_n_sizes (of_sizes), TRAMMEL_GEARS_MOST_SIZES);
  ck_assert_uint_eq (trammel_gears_n_sizes (of_modules), TRAMMEL_GEARS_MOST_MODULES);
  ck_assert_ptr_null (trammel_gears_parse (more, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
  g_clear_error (&error);
  ck_assert_ptr_null (trammel_gears_parse (more_modules, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("gears");
  TCase *tcase = tcase_create ("bin");
  tcase_add_loop_test (tcase, reads_a_bin, 0, G_N_ELEMENTS (bins));
  tcase_add_loop_test (tcase, refuses_what_is_no_bin, 0, G_N_ELEMENTS (bad));
  tcase_add_test (tcase, holds_so_many_and_no_more);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed == 0 ? 0 : 1;
}
