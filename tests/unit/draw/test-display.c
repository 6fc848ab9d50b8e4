/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <locale.h>
#include <math.h>

#include "draw/display.h"

/* Expected texts are rounded by hand. */

#define assert_text(expected, call)                                                                                    \
  do                                                                                                                   \
    {                                                                                                                  \
      g_autofree char *found_ = (call);                                                                                \
      ck_assert_str_eq (found_, expected);                                                                             \
    }                                                                                                                  \
  while (0)

START_TEST (number_has_the_decimals_asked_for)
{
  assert_text ("99.71", trammel_display_number (99.714, 2));
  assert_text ("99.72", trammel_display_number (99.716, 2));
  assert_text ("100", trammel_display_number (99.6, 0));
  assert_text ("0.500", trammel_display_number (0.5, 3));
}
END_TEST

START_TEST (minus_is_typographic_and_zero_has_none)
{
  assert_text ("−0.29", trammel_display_number (-0.29, 2));
  assert_text ("0.00", trammel_display_number (-0.001, 2));
  assert_text ("0", trammel_display_number (-0.0, 0));
  assert_text ("0", trammel_display_significant (-0.0, 3));
  assert_text ("−2.5", trammel_display_significant (-2.5, 3));
}
END_TEST

START_TEST (what_is_not_a_number_is_a_dash)
{
  assert_text ("—", trammel_display_number (NAN, 2));
  assert_text ("—", trammel_display_significant (NAN, 3));
  assert_text ("∞", trammel_display_number (INFINITY, 2));
  assert_text ("−∞", trammel_display_significant (-INFINITY, 2));
  assert_text ("— mm", trammel_display_length (NAN, trammel_unit_base (TRAMMEL_DIMENSION_LENGTH), 2));
  assert_text ("— ± —", trammel_display_interval (NAN, NAN));
}
END_TEST

START_TEST (p_values_below_a_ten_thousandth_have_no_digits)
{
  assert_text ("0.31", trammel_display_p_value (0.3149));
  assert_text ("0.0001", trammel_display_p_value (0.0001));
  assert_text ("below 0.0001", trammel_display_p_value (0.000099));
  assert_text ("below 0.0001", trammel_display_p_value (3.8e-63));
  assert_text ("—", trammel_display_p_value (NAN));
}
END_TEST

START_TEST (significant_drops_zeros_and_rounds)
{
  assert_text ("80", trammel_display_significant (80, 6));
  assert_text ("355.556", trammel_display_significant (3200.0 / 9, 6));
  assert_text ("1.5", trammel_display_significant (1.50004, 4));
  assert_text ("10", trammel_display_significant (9.996, 3));
  assert_text ("124000", trammel_display_significant (123567, 3));
  assert_text ("0.00001", trammel_display_significant (1e-5, 3));
  assert_text ("999000000", trammel_display_significant (9.99e8, 3));
}
END_TEST

START_TEST (significant_goes_to_powers_of_ten_at_the_ends)
{
  assert_text ("1.23×10⁻⁷", trammel_display_significant (1.2345e-7, 3));
  assert_text ("−2×10⁹", trammel_display_significant (-2e9, 3));
  assert_text ("5×10¹²", trammel_display_significant (5e12, 3));
}
END_TEST

START_TEST (length_is_in_the_unit_asked_for)
{
  const TrammelUnit *mm = trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  const TrammelUnit *inch = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in");

  assert_text ("99.71 mm", trammel_display_length (99.71, mm, 2));
  /* 128/25.4 = 5.03937 (25.4 mm: the international inch, 1959) */
  assert_text ("5.039 in", trammel_display_length (128, inch, 3));
  assert_text ("5.000 in", trammel_display_length (127, inch, 3));
}
END_TEST

START_TEST (interval_keeps_two_digits_of_the_half_width)
{
  assert_text ("80.337 ± 0.025", trammel_display_interval (80.33712, 0.02512));
  assert_text ("80.34 ± 0.10", trammel_display_interval (80.33712, 0.0996));
  assert_text ("−0.42 ± 0.31", trammel_display_interval (-0.4211, 0.3101));
  assert_text ("12300 ± 1200", trammel_display_interval (12345, 1234));
  assert_text ("80.0 ± 1.0", trammel_display_interval (80, 1));
}
END_TEST

START_TEST (interval_without_width_shows_the_value)
{
  assert_text ("80 ± 0", trammel_display_interval (80, 0));
  assert_text ("80.5 ± —", trammel_display_interval (80.5, NAN));
  assert_text ("80.5 ± ∞", trammel_display_interval (80.5, INFINITY));
}
END_TEST

START_TEST (rounded_follows_the_uncertainty)
{
  assert_text ("80.337", trammel_display_rounded (80.33712, 0.0128));
  assert_text ("80.3371", trammel_display_rounded (80.33712, 0.00128));
  assert_text ("80.33712", trammel_display_rounded (80.33712, 0));
  assert_text ("300", trammel_display_rounded (312, 996));
}
END_TEST

/* German numbers, from a locale made for this test where the system has none. */
static gboolean
speak_german (void)
{
  if (setlocale (LC_NUMERIC, "de_DE.UTF-8"))
    return TRUE;

  g_autofree char *folder = g_dir_make_tmp ("locale-XXXXXX", NULL);
  g_autofree char *made = g_build_filename (folder, "de_DE.UTF-8", NULL);
  const char *command[] = { "localedef", "-i", "de_DE", "-f", "UTF-8", made, NULL };
  g_spawn_sync (NULL, (char **)command, NULL, G_SPAWN_SEARCH_PATH | G_SPAWN_STDOUT_TO_DEV_NULL, NULL, NULL, NULL, NULL,
                NULL, NULL);
  g_setenv ("LOCPATH", folder, TRUE);
  gboolean found = setlocale (LC_NUMERIC, "de_DE.UTF-8") != NULL;
  const char *removal[] = { "rm", "-r", folder, NULL };
  g_spawn_sync (NULL, (char **)removal, NULL, G_SPAWN_SEARCH_PATH, NULL, NULL, NULL, NULL, NULL, NULL);
  return found;
}

START_TEST (words_become_a_sentence)
{
  static const char *const cases[][2] = {
    { "found nothing", "Found nothing" }, { "über 5 mm", "Über 5 mm" }, { "5 mm", "5 mm" }, { "X", "X" }, { "", "" }
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autofree char *sentence = trammel_display_with_capital (cases[i][0]);
      ck_assert_str_eq (sentence, cases[i][1]);
    }
}
END_TEST

START_TEST (decimal_sign_follows_the_locale)
{
  ck_assert_msg (speak_german (), "no de_DE locale: the package locales is missing");
  assert_text ("99,71", trammel_display_number (99.71, 2));
  assert_text ("1,5", trammel_display_significant (1.500, 4));
  assert_text ("80,337 ± 0,025", trammel_display_interval (80.33712, 0.02512));
  assert_text ("1,2×10⁻⁷", trammel_display_significant (1.2e-7, 3));
  ck_assert_str_eq (trammel_display_decimal_sign (), ",");
  setlocale (LC_NUMERIC, "C");
  ck_assert_str_eq (trammel_display_decimal_sign (), ".");
}
END_TEST

static Suite *
display_suite (void)
{
  Suite *suite = suite_create ("display");
  TCase *tests = tcase_create ("display");

  tcase_add_test (tests, number_has_the_decimals_asked_for);
  tcase_add_test (tests, minus_is_typographic_and_zero_has_none);
  tcase_add_test (tests, what_is_not_a_number_is_a_dash);
  tcase_add_test (tests, significant_drops_zeros_and_rounds);
  tcase_add_test (tests, p_values_below_a_ten_thousandth_have_no_digits);
  tcase_add_test (tests, significant_goes_to_powers_of_ten_at_the_ends);
  tcase_add_test (tests, length_is_in_the_unit_asked_for);
  tcase_add_test (tests, interval_keeps_two_digits_of_the_half_width);
  tcase_add_test (tests, interval_without_width_shows_the_value);
  tcase_add_test (tests, rounded_follows_the_uncertainty);
  tcase_add_test (tests, words_become_a_sentence);
  tcase_add_test (tests, decimal_sign_follows_the_locale);
  suite_add_tcase (suite, tests);
  return suite;
}

int
main (void)
{
  SRunner *runner = srunner_create (display_suite ());

  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
