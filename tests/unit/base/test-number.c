/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/number.h"

#include <check.h>
#include <float.h>
#include <locale.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

static const struct
{
  double value;
  const char *text;
} written[] = {
  { 99.71, "99.71" },
  { 0.1, "0.1" },
  { 1e-7, "1e-07" },
  { -2.5, "-2.5" },
  { 0.0, "0" },
  { 80, "80" },
  { 1e15, "1e+15" },
  { 0.30000000000000004, "0.30000000000000004" }, /* 0.1 + 0.2 */
  { 5e-324, "5e-324" },                           /* the smallest double */
  { DBL_MAX, "1.7976931348623157e+308" },
  { 355.55555555555554, "355.55555555555554" }, /* 3200/9 */
};

START_TEST (writes_the_shortest)
{
  g_autofree char *text = trammel_number_to_text (written[_i].value);
  ck_assert_str_eq (text, written[_i].text);
}
END_TEST

static double
random_double (GRand *random)
{
  for (;;)
    {
      const guint64 bits = ((guint64)g_rand_int (random) << 32) | g_rand_int (random);
      double value;
      memcpy (&value, &bits, sizeof value);
      if (isfinite (value))
        return value;
    }
}

START_TEST (any_double_comes_back)
{
  GRand *random = g_rand_new_with_seed (11);
  for (int i = 0; i < 100000; i++)
    {
      const double value = random_double (random);
      double back = NAN;
      g_autofree char *text = trammel_number_to_text (value);
      /* An assertion that holds costs a write to a file */
      if (!trammel_number_from_text (text, -1, FALSE, &back) || memcmp (&back, &value, sizeof value) != 0)
        ck_abort_msg ("%s", text);
    }
  g_rand_free (random);
}
END_TEST

/* The C library's strtod, in the C locale, rounds correctly. */
START_TEST (decimals_round_as_strtod)
{
  GRand *random = g_rand_new_with_seed (12);
  for (int i = 0; i < 100000; i++)
    {
      char text[64];
      const int digits = g_rand_int_range (random, 1, 30);
      int n = 0;
      for (int k = 0; k < digits; k++)
        text[n++] = (char)('0' + g_rand_int_range (random, 0, 10));
      const int point = g_rand_int_range (random, 0, n + 1);
      memmove (text + point + 1, text + point, (gsize)(n - point));
      text[point] = '.';
      g_snprintf (text + n + 1, sizeof text - (gsize)n - 1, "e%d", g_rand_int_range (random, -40, 40));

      double value = NAN;
      ck_assert_msg (trammel_number_from_text (text, -1, FALSE, &value), "%s", text);
      ck_assert_msg (value == strtod (text, NULL), "%s", text);
    }
  g_rand_free (random);
}
END_TEST

static const struct
{
  const char *text;
  gboolean decimal_comma;
  double value;
} readable[] = {
  { "99.71", FALSE, 99.71 },
  { "  +99.71\t\r", FALSE, 99.71 },
  { "-0.5", FALSE, -0.5 },
  { "−0.5", FALSE, -0.5 },
  { "12,5", TRUE, 12.5 },
  { ".5", FALSE, 0.5 },
  { "5.", FALSE, 5 },
  { "1e-3", FALSE, 0.001 },
  { "1E+3", FALSE, 1000 },
  { "0e999999999999999999999", FALSE, 0 },
  { "1e-999999999999999999999", FALSE, 0 },
  { "9007199254740993", FALSE, 9007199254740992.0 },                      /* half way, to even */
  { "9007199254740993.00000000000000000001", FALSE, 9007199254740994.0 }, /* beyond half way */
  { "1e23", FALSE, 1e23 },
  { "2.2250738585072011e-308", FALSE, 2.2250738585072011e-308 },
  { "0.000000000000000000000000000000000000000000000000000001", FALSE, 1e-54 },
  { "100000000000000000000000000000000000000", FALSE, 1e38 },
};

START_TEST (reads)
{
  double value = NAN;
  ck_assert_msg (trammel_number_from_text (readable[_i].text, -1, readable[_i].decimal_comma, &value), "%s",
                 readable[_i].text);
  ck_assert_double_eq (value, readable[_i].value);
}
END_TEST

static const char *const unreadable[]
    = { "",    " ",     "nan", "NaN", "inf",  "-inf",  "Infinity", "0x10", "1e",       "1e+",  "e5",  ".",  "-",
        "+-5", "1.2.3", "1,5", "1 2", "5 mm", "1e400", "-1e309",   "--5",  "\xff\xfe", "1e5.", "12a", "1_0" };

START_TEST (refuses_to_read)
{
  double value = 17;
  ck_assert_msg (!trammel_number_from_text (unreadable[_i], -1, FALSE, &value), "%s", unreadable[_i]);
  ck_assert_double_eq (value, 17);
}
END_TEST

START_TEST (the_decimal_sign_is_the_one_asked_for)
{
  double value = 17;
  ck_assert (!trammel_number_from_text ("12.5", -1, TRUE, &value));
  ck_assert (!trammel_number_from_text ("12,5", -1, FALSE, &value));
  ck_assert_double_eq (value, 17);
}
END_TEST

START_TEST (only_the_given_length_counts)
{
  double value = NAN;
  ck_assert (trammel_number_from_text ("99.71;garbage", 5, FALSE, &value));
  ck_assert_double_eq (value, 99.71);
  ck_assert (!trammel_number_from_text ("99.71", 0, FALSE, &value));
  ck_assert (trammel_number_from_text ("1e5", 1, FALSE, &value));
  ck_assert_double_eq (value, 1);
}
END_TEST

/* 1 + 2⁻⁵³ is half way between 1 and the next double, and has 53 decimals; a digit a thousand places behind them
 * decides. */
START_TEST (a_digit_far_behind_decides)
{
  const char *half_way = "1.00000000000000011102230246251565404236316680908203125";
  g_autofree char *zeros = g_strnfill (1000, '0');
  g_autofree char *beyond = g_strconcat (half_way, zeros, "1", NULL);
  double value = NAN;
  ck_assert (trammel_number_from_text (half_way, -1, FALSE, &value));
  ck_assert_double_eq (value, 1.0);
  ck_assert (trammel_number_from_text (beyond, -1, FALSE, &value));
  ck_assert_double_eq (value, 1.0 + DBL_EPSILON);

  g_autofree char *long_integer = g_strconcat ("1", zeros, NULL);
  ck_assert (!trammel_number_from_text (long_integer, -1, FALSE, &value)); /* 1e1000 */
  g_autofree char *scaled = g_strconcat ("1", zeros, "e-1000", NULL);
  ck_assert (trammel_number_from_text (scaled, -1, FALSE, &value));
  ck_assert_double_eq (value, 1.0);
}
END_TEST

START_TEST (the_locale_does_not_matter)
{
  static const char *const comma_locales[] = { "de_DE.UTF-8", "fr_FR.UTF-8", "de_DE.utf8", "fr_FR.utf8" };
  for (gsize i = 0; i < G_N_ELEMENTS (comma_locales); i++)
    if (setlocale (LC_ALL, comma_locales[i]) != NULL)
      break;
  double value = NAN;
  g_autofree char *text = trammel_number_to_text (0.30000000000000004);
  ck_assert_str_eq (text, "0.30000000000000004");
  ck_assert (trammel_number_from_text ("0.300000000000000044408920985006", -1, FALSE, &value));
  ck_assert_double_eq (value, 0.30000000000000004);
  setlocale (LC_ALL, "C");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("number");
  TCase *texts = tcase_create ("texts");
  tcase_add_loop_test (texts, writes_the_shortest, 0, G_N_ELEMENTS (written));
  tcase_add_test (texts, any_double_comes_back);
  tcase_add_test (texts, decimals_round_as_strtod);
  tcase_add_loop_test (texts, reads, 0, G_N_ELEMENTS (readable));
  tcase_add_loop_test (texts, refuses_to_read, 0, G_N_ELEMENTS (unreadable));
  tcase_add_test (texts, the_decimal_sign_is_the_one_asked_for);
  tcase_add_test (texts, only_the_given_length_counts);
  tcase_add_test (texts, a_digit_far_behind_decides);
  tcase_add_test (texts, the_locale_does_not_matter);
  suite_add_tcase (suite, texts);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
