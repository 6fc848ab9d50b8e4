/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "base/exact.h"

#include <check.h>
#include <math.h>
#include <string.h>

typedef __int128 Wide;
typedef unsigned __int128 UnsignedWide;

static void
expect (TrammelExact a, gint64 num, gint64 den, int pi)
{
  ck_assert_int_eq (a.num, num);
  ck_assert_int_eq (a.den, den);
  ck_assert_int_eq (a.pi, pi);
}

static void
expect_error (gboolean ok, GError **error, int code)
{
  ck_assert (!ok);
  ck_assert_ptr_nonnull (*error);
  ck_assert ((*error)->domain == TRAMMEL_ERROR);
  ck_assert_int_eq ((*error)->code, code);
  ck_assert_int_gt (strlen ((*error)->message), 0);
  g_clear_error (error);
}

START_TEST (make_reduces)
{
  TrammelExact a;
  ck_assert (trammel_exact_make (36, -12, 1, &a, NULL));
  expect (a, -3, 1, 1);
  ck_assert (trammel_exact_make (-57, -11, -1, &a, NULL));
  expect (a, 57, 11, -1);
  ck_assert (trammel_exact_make (0, -7, 1, &a, NULL));
  expect (a, 0, 1, 0);
  /* −2⁶³ / 2 fits although −2⁶³ does not. */
  ck_assert (trammel_exact_make (G_MININT64, 2, 0, &a, NULL));
  expect (a, G_MININT64 / 2, 1, 0);
  ck_assert (trammel_exact_make (2, G_MININT64, 0, &a, NULL));
  expect (a, -1, G_GINT64_CONSTANT (1) << 62, 0);
}
END_TEST

START_TEST (make_refuses)
{
  TrammelExact a = { 5, 7, 0 };
  GError *error = NULL;
  expect_error (trammel_exact_make (1, 0, 0, &a, &error), &error, TRAMMEL_ERROR_RANGE);
  expect_error (trammel_exact_make (G_MININT64, 1, 0, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect_error (trammel_exact_make (1, G_MININT64, 0, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect_error (trammel_exact_make (1, 2, 2, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect (a, 5, 7, 0); /* untouched */
}
END_TEST

START_TEST (arithmetic_by_hand)
{
  const TrammelExact half = { 1, 2, 0 }, third = { 1, 3, 0 }, pi = { 1, 1, 1 };
  TrammelExact a;
  ck_assert (trammel_exact_add (half, third, &a, NULL));
  expect (a, 5, 6, 0);
  ck_assert (trammel_exact_add (half, trammel_exact_negate (half), &a, NULL));
  expect (a, 0, 1, 0);
  ck_assert (trammel_exact_add (TRAMMEL_EXACT_ZERO, pi, &a, NULL));
  expect (a, 1, 1, 1);
  ck_assert (trammel_exact_multiply (half, pi, &a, NULL));
  expect (a, 1, 2, 1);
  ck_assert (trammel_exact_divide (third, a, &a, NULL)); /* out may alias */
  expect (a, 2, 3, -1);
  ck_assert (trammel_exact_divide (half, (TrammelExact){ -3, 4, 0 }, &a, NULL));
  expect (a, -2, 3, 0);
  ck_assert (trammel_exact_divide (pi, pi, &a, NULL));
  expect (a, 1, 1, 0);
  ck_assert (trammel_exact_multiply (TRAMMEL_EXACT_ZERO, (TrammelExact){ 5, 1, -1 }, &a, NULL));
  expect (a, 0, 1, 0);

  ck_assert_int_eq (trammel_exact_sign (trammel_exact_negate (half)), -1);
  ck_assert_int_eq (trammel_exact_sign (TRAMMEL_EXACT_ZERO), 0);
  ck_assert_int_eq (trammel_exact_sign (pi), 1);
  expect (trammel_exact_absolute ((TrammelExact){ -3, 4, 1 }), 3, 4, 1);
  ck_assert (trammel_exact_equal (half, (TrammelExact){ 1, 2, 0 }));
  ck_assert (!trammel_exact_equal (half, (TrammelExact){ 1, 2, 1 }));
  expect (trammel_exact_integer (-9), -9, 1, 0);
}
END_TEST

START_TEST (arithmetic_refuses)
{
  const TrammelExact largest = { G_MAXINT64, 1, 0 }, pi = { 1, 1, 1 }, one = { 1, 1, 0 };
  TrammelExact a = { 5, 7, 0 };
  GError *error = NULL;
  expect_error (trammel_exact_multiply (largest, (TrammelExact){ 2, 1, 0 }, &a, &error), &error,
                TRAMMEL_ERROR_OVERFLOW);
  expect_error (trammel_exact_add (largest, one, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect_error (trammel_exact_divide (one, TRAMMEL_EXACT_ZERO, &a, &error), &error, TRAMMEL_ERROR_RANGE);
  expect_error (trammel_exact_multiply (pi, pi, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect_error (trammel_exact_divide ((TrammelExact){ 1, 1, -1 }, pi, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect_error (trammel_exact_add (pi, one, &a, &error), &error, TRAMMEL_ERROR_OVERFLOW);
  expect (a, 5, 7, 0);

  /* What fits after reduction must not fail: (2⁶³−1)/6 · 6/(2⁶³−1) and the like. */
  ck_assert (trammel_exact_multiply ((TrammelExact){ G_MAXINT64, 5, 0 }, (TrammelExact){ 5, G_MAXINT64, 0 }, &a, NULL));
  expect (a, 1, 1, 0);
  ck_assert (trammel_exact_add (largest, (TrammelExact){ -1, 1, 0 }, &a, NULL));
  expect (a, G_MAXINT64 - 1, 1, 0);
}
END_TEST

/* Random numbers of every size. */
static gint64
random_number (GRand *random)
{
  const guint64 bits = ((guint64)g_rand_int (random) << 32) | g_rand_int (random);
  const gint64 size = (gint64)(bits >> g_rand_int_range (random, 1, 64));
  return g_rand_boolean (random) ? size : -size;
}

static TrammelExact
random_exact (GRand *random)
{
  TrammelExact a;
  const gint64 den = random_number (random);
  ck_assert (trammel_exact_make (random_number (random), den == 0 ? 1 : den, 0, &a, NULL));
  return a;
}

/* Euclid by subtraction of halves (Stein), another way than the code goes. */
static UnsignedWide
stein (UnsignedWide a, UnsignedWide b)
{
  int shift = 0;
  if (a == 0 || b == 0)
    return a | b;
  while (((a | b) & 1) == 0)
    {
      a >>= 1;
      b >>= 1;
      shift++;
    }
  while (a != 0)
    {
      while ((a & 1) == 0)
        a >>= 1;
      while ((b & 1) == 0)
        b >>= 1;
      if (a >= b)
        a -= b;
      else
        b -= a;
    }
  return b << shift;
}

/* Compares a result with num/den, worked out in 128 bits. */
static gboolean
agrees (gboolean ok, TrammelExact result, Wide num, Wide den)
{
  if (den < 0)
    {
      num = -num;
      den = -den;
    }
  const UnsignedWide common = stein (num < 0 ? -(UnsignedWide)num : (UnsignedWide)num, (UnsignedWide)den);
  num /= (Wide)common;
  den /= (Wide)common;
  const gboolean fits = num <= G_MAXINT64 && num >= -(Wide)G_MAXINT64 && den <= G_MAXINT64;
  if (ok != fits)
    return FALSE;
  return !ok || (result.num == (gint64)num && result.den == (gint64)den && result.pi == 0);
}

START_TEST (ten_thousand_products_and_quotients_against_128_bits)
{
  GRand *random = g_rand_new_with_seed (20240229);
  int fitting = 0, overflowing = 0;
  for (int i = 0; i < 10000; i++)
    {
      const TrammelExact a = random_exact (random), b = random_exact (random);
      TrammelExact product = { 0 }, quotient = { 0 };
      const gboolean ok = trammel_exact_multiply (a, b, &product, NULL);
      ck_assert (agrees (ok, product, (Wide)a.num * b.num, (Wide)a.den * b.den));
      fitting += ok;
      overflowing += !ok;
      if (b.num == 0)
        continue;
      const gboolean divides = trammel_exact_divide (a, b, &quotient, NULL);
      ck_assert (agrees (divides, quotient, (Wide)a.num * b.den, (Wide)a.den * b.num));
    }
  /* Both sides of the limit were visited. */
  ck_assert_int_gt (fitting, 1000);
  ck_assert_int_gt (overflowing, 1000);
  g_rand_free (random);
}
END_TEST

START_TEST (ten_thousand_sums_against_128_bits)
{
  GRand *random = g_rand_new_with_seed (7);
  for (int i = 0; i < 10000; i++)
    {
      const TrammelExact a = random_exact (random), b = random_exact (random);
      TrammelExact sum = { 0 };
      const gboolean ok = trammel_exact_add (a, b, &sum, NULL);
      ck_assert (agrees (ok, sum, (Wide)a.num * b.den + (Wide)b.num * a.den, (Wide)a.den * b.den));
    }
  g_rand_free (random);
}
END_TEST

START_TEST (doubles)
{
  ck_assert_double_eq (trammel_exact_to_double (TRAMMEL_EXACT_ZERO), 0.0);
  ck_assert_double_eq (trammel_exact_to_double ((TrammelExact){ -5, 4, 0 }), -1.25);
  /* Division of two doubles without error is correctly rounded (IEEE 754). */
  ck_assert_double_eq (trammel_exact_to_double ((TrammelExact){ 1, 3, 0 }), 1.0 / 3.0);
  ck_assert_double_eq (trammel_exact_to_double ((TrammelExact){ 3200, 9, 0 }), 3200.0 / 9.0);
  /* 2⁵³+1 lies half way between two doubles: to even. 2⁶³−1 rounds to 2⁶³. */
  ck_assert_double_eq (trammel_exact_to_double ((TrammelExact){ G_GINT64_CONSTANT (9007199254740993), 1, 0 }),
                       9007199254740992.0);
  ck_assert_double_eq (trammel_exact_to_double ((TrammelExact){ G_MAXINT64, 1, 0 }), 9223372036854775808.0);
  ck_assert_double_eq (trammel_exact_to_double ((TrammelExact){ 1, G_MAXINT64, 0 }), 1.0 / 9223372036854775808.0);
  ck_assert_double_eq_tol (trammel_exact_to_double ((TrammelExact){ 1, 1, 1 }), 3.14159265358979323846, 9e-16);
  ck_assert_double_eq_tol (trammel_exact_to_double ((TrammelExact){ 1250, 3, -1 }), 132.62911924324611, 6e-14);
}
END_TEST

START_TEST (random_quotients_are_rounded_as_the_machine_rounds)
{
  GRand *random = g_rand_new_with_seed (99);
  for (int i = 0; i < 10000; i++)
    {
      TrammelExact a;
      const gint64 num = random_number (random) >> 11, den = (random_number (random) >> 11) | 1;
      ck_assert (trammel_exact_make (num, den, 0, &a, NULL));
      ck_assert_double_eq (trammel_exact_to_double (a), (double)num / (double)den);
    }
  g_rand_free (random);
}
END_TEST

static const struct
{
  const char *text;
  gint64 num, den;
  int pi;
} readable[] = {
  { "80", 80, 1, 0 },
  { "  +80\t", 80, 1, 0 },
  { "-3", -3, 1, 0 },
  { "−3", -3, 1, 0 },
  { "1.25", 5, 4, 0 },
  { "12,5", 25, 2, 0 },
  { ".5", 1, 2, 0 },
  { "5.", 5, 1, 0 },
  { "0", 0, 1, 0 },
  { "-0.000", 0, 1, 0 },
  { "932876335632057.46875", G_GINT64_CONSTANT (29852042740225839), 32, 0 },
  { "007", 7, 1, 0 },
  { "1.5e-3", 3, 2000, 0 },
  { "1.5E3", 1500, 1, 0 },
  { "1e+2", 100, 1, 0 },
  { "5e-19", 1, G_GINT64_CONSTANT (2000000000000000000), 0 },
  { "1.50000000000000000000000000000000000000", 3, 2, 0 },
  { "9223372036854775807", G_MAXINT64, 1, 0 },
  { "57/11", 57, 11, 0 },
  { "57 / 11", 57, 11, 0 },
  { "6/4", 3, 2, 0 },
  { "-6/4", -3, 2, 0 },
  { "1.5/2", 3, 4, 0 },
  { "1,5/2,5", 3, 5, 0 },
  { "5 2/11", 57, 11, 0 },
  { "-5 2/11", -57, 11, 0 },
  { "5\u00a02/11", 57, 11, 0 },
  { "3 pi", 3, 1, 1 },
  { "3π", 3, 1, 1 },
  { "3·π", 3, 1, 1 },
  { "3 * PI", 3, 1, 1 },
  { "pi", 1, 1, 1 },
  { "-π/4", -1, 4, 1 },
  { "1/pi", 1, 1, -1 },
  { "1/(pi)", 1, 1, -1 },
  { "1250/(3π)", 1250, 3, -1 },
  { "1250/(3 * pi)", 1250, 3, -1 },
  { "5π/4", 5, 4, 1 },
  { "5/4 π", 5, 4, 1 },
  { "1 1/2 π", 3, 2, 1 },
  { "3π/π", 3, 1, 0 },
  { "0 π", 0, 1, 0 },
};

START_TEST (reads)
{
  TrammelExact a;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_exact_parse (readable[_i].text, &a, &error), "%s", readable[_i].text);
  expect (a, readable[_i].num, readable[_i].den, readable[_i].pi);
}
END_TEST

static const struct
{
  const char *text;
  int code;
} unreadable[] = {
  { "", TRAMMEL_ERROR_PARSE },
  { "   ", TRAMMEL_ERROR_PARSE },
  { "1.2.3", TRAMMEL_ERROR_PARSE },
  { "1..2", TRAMMEL_ERROR_PARSE },
  { "1,5.2", TRAMMEL_ERROR_PARSE },
  { "1,234.5", TRAMMEL_ERROR_PARSE },
  { "1.234,5", TRAMMEL_ERROR_PARSE },
  { "1,234,567", TRAMMEL_ERROR_PARSE },
  { "nan", TRAMMEL_ERROR_PARSE },
  { "inf", TRAMMEL_ERROR_PARSE },
  { "-Infinity", TRAMMEL_ERROR_PARSE },
  { "0x10", TRAMMEL_ERROR_PARSE },
  { "1e", TRAMMEL_ERROR_PARSE },
  { "e5", TRAMMEL_ERROR_PARSE },
  { "--5", TRAMMEL_ERROR_PARSE },
  { "5-", TRAMMEL_ERROR_PARSE },
  { "- 5", TRAMMEL_ERROR_PARSE },
  { "+", TRAMMEL_ERROR_PARSE },
  { ".", TRAMMEL_ERROR_PARSE },
  { ",", TRAMMEL_ERROR_PARSE },
  { "5 2", TRAMMEL_ERROR_PARSE },
  { "5 2/", TRAMMEL_ERROR_PARSE },
  { "5.5 2/11", TRAMMEL_ERROR_PARSE },
  { "1/2/3", TRAMMEL_ERROR_PARSE },
  { "1/-2", TRAMMEL_ERROR_PARSE },
  { "1/(2", TRAMMEL_ERROR_PARSE },
  { "1/()", TRAMMEL_ERROR_PARSE },
  { "/2", TRAMMEL_ERROR_PARSE },
  { "2 potatoes", TRAMMEL_ERROR_PARSE },
  { "1250/3π", TRAMMEL_ERROR_PARSE },
  { "\xff\xfe\x01", TRAMMEL_ERROR_PARSE },
  { "1/0", TRAMMEL_ERROR_RANGE },
  { "1/0.0", TRAMMEL_ERROR_RANGE },
  { "3 1/0", TRAMMEL_ERROR_RANGE },
  { "1/(0π)", TRAMMEL_ERROR_RANGE },
  { "9223372036854775808", TRAMMEL_ERROR_OVERFLOW },
  { "99999999999999999999999999", TRAMMEL_ERROR_OVERFLOW },
  { "3.14159265358979323846", TRAMMEL_ERROR_OVERFLOW },
  { "1e19", TRAMMEL_ERROR_OVERFLOW },
  { "1e400", TRAMMEL_ERROR_OVERFLOW },
  { "1e-19", TRAMMEL_ERROR_OVERFLOW },
  { "1e999999999", TRAMMEL_ERROR_OVERFLOW },
  { "1e-99999999999999999999999999999", TRAMMEL_ERROR_OVERFLOW },
  { "ππ", TRAMMEL_ERROR_PARSE },
};

START_TEST (refuses_to_read)
{
  TrammelExact a = { 5, 7, 0 };
  GError *error = NULL;
  expect_error (trammel_exact_parse (unreadable[_i].text, &a, &error), &error, unreadable[_i].code);
  expect (a, 5, 7, 0);
}
END_TEST

START_TEST (messages_say_what_was_found)
{
  TrammelExact a;
  g_autoptr (GError) error = NULL;
  ck_assert (!trammel_exact_parse ("2 potatoes", &a, &error));
  ck_assert_ptr_nonnull (strstr (error->message, "2 potatoes"));
  ck_assert_ptr_nonnull (strstr (error->message, "57/11"));
  g_clear_error (&error);

  /* Two million bytes of noise give one short line of valid UTF-8, at once. */
  g_autofree char *noise = g_malloc (2000001);
  memset (noise, 0xfe, 2000000);
  noise[2000000] = '\0';
  ck_assert (!trammel_exact_parse (noise, &a, &error));
  ck_assert (g_utf8_validate (error->message, -1, NULL));
  ck_assert_int_lt (g_utf8_strlen (error->message, -1), 160);

  g_autofree char *lines = trammel_error_excerpt ("a\nb\x01"
                                                  "c",
                                                  -1);
  ck_assert_str_eq (lines, "a b c");
  g_autofree char *part = trammel_error_excerpt ("abcdef", 3);
  ck_assert_str_eq (part, "abc");
  g_autofree char *none = trammel_error_excerpt (NULL, -1);
  ck_assert_str_eq (none, "");
  g_autofree char *cut = trammel_error_excerpt ("ääääääääääääääääääääääääääääääääääääääääääää", -1);
  ck_assert_str_eq (cut, "ääääääääääääääääääääääääääääääääääääääää…");
}
END_TEST

static const struct
{
  TrammelExact value;
  const char *text, *fraction, *display;
} written[] = {
  { { 80, 1, 0 }, "80", "80", "80" },
  { { -5, 4, 0 }, "-1.25", "-5/4", "-1,25" },
  { { 1, 1000000, 0 }, "0.000001", "1/1000000", "0,000001" },
  { { 1, 10000000, 0 }, "1/10000000", "1/10000000", "1/10000000 = 1e-07" },
  { { 3200, 9, 0 }, "3200/9", "3200/9", "3200/9 = 355,556" },
  { { 57, 11, 0 }, "57/11", "57/11", "57/11 = 5,18182" },
  { { 1250, 3, -1 }, "1250/(3π)", "1250/3", "1250/(3π) = 132,629" },
  { { 400, 1, -1 }, "400/π", "400", "400/π = 127,324" },
  { { 2, 1, 1 }, "2π", "2", "2π = 6,28319" },
  { { -1, 1, 1 }, "-π", "-1", "-π = -3,14159" },
  { { 1, 4, 1 }, "π/4", "1/4", "π/4 = 0,785398" },
  { { 5, 4, 1 }, "5π/4", "5/4", "5π/4 = 3,92699" },
  { { 0, 1, 0 }, "0", "0", "0" },
  { { G_MAXINT64, 2, 0 }, "4611686018427387903.5", "9223372036854775807/2", "4611686018427387903,5" },
};

START_TEST (writes)
{
  g_autofree char *text = trammel_exact_to_text (written[_i].value);
  g_autofree char *fraction = trammel_exact_to_fraction (written[_i].value);
  g_autofree char *display = trammel_exact_to_display (written[_i].value, ",");
  ck_assert_str_eq (text, written[_i].text);
  ck_assert_str_eq (fraction, written[_i].fraction);
  ck_assert_str_eq (display, written[_i].display);
}
END_TEST

START_TEST (text_reads_back)
{
  GRand *random = g_rand_new_with_seed (3);
  for (int i = 0; i < 10000; i++)
    {
      TrammelExact a = random_exact (random), back;
      if (a.num != 0)
        a.pi = g_rand_int_range (random, -1, 2);
      g_autofree char *text = trammel_exact_to_text (a);
      ck_assert_msg (trammel_exact_parse (text, &back, NULL), "%s", text);
      ck_assert_msg (trammel_exact_equal (a, back), "%s", text);
    }
  g_rand_free (random);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("exact");
  TCase *numbers = tcase_create ("numbers"), *texts = tcase_create ("texts");
  tcase_add_test (numbers, make_reduces);
  tcase_add_test (numbers, make_refuses);
  tcase_add_test (numbers, arithmetic_by_hand);
  tcase_add_test (numbers, arithmetic_refuses);
  tcase_add_test (numbers, ten_thousand_products_and_quotients_against_128_bits);
  tcase_add_test (numbers, ten_thousand_sums_against_128_bits);
  tcase_add_test (numbers, doubles);
  tcase_add_test (numbers, random_quotients_are_rounded_as_the_machine_rounds);
  tcase_add_loop_test (texts, reads, 0, G_N_ELEMENTS (readable));
  tcase_add_loop_test (texts, refuses_to_read, 0, G_N_ELEMENTS (unreadable));
  tcase_add_test (texts, messages_say_what_was_found);
  tcase_add_loop_test (texts, writes, 0, G_N_ELEMENTS (written));
  tcase_add_test (texts, text_reads_back);
  suite_add_tcase (suite, numbers);
  suite_add_tcase (suite, texts);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
