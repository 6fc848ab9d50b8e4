/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/time-ticks.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

/* Days from 1970-01-01 by hand: 2026-01-01 is 56 years of 365 days and 14 leap days after it; 2026-02-01 31 days later,
 * and so on (2026 is no leap year). */
#define JANUARY 20454

/* clang-format off */
static const struct
{
  double low, high;
  int most;
  const char *texts;
} ranges[] = {
  /* from noon of the 1st to noon of the 2nd */
  { JANUARY + 0.5,  JANUARY + 1.5,  5, "12:00 18:00 2026-01-02 06:00 12:00" },
  { JANUARY + 0.5,  JANUARY + 1.5,  2, "2026-01-02" },
  { JANUARY,        JANUARY + 3,    4, "2026-01-01 2026-01-02 2026-01-03 2026-01-04" },
  { JANUARY + 0.1,  JANUARY + 12,   3, "2026-01-06 2026-01-11" },
  /* no 31st beside the 1st */
  { JANUARY + 18,   JANUARY + 42,   5, "2026-01-21 2026-01-26 2026-02-01 2026-02-06 2026-02-11" },
  { JANUARY + 30,   JANUARY + 34,   5, "2026-01-31 2026-02-01 2026-02-02 2026-02-03 2026-02-04" },
  { JANUARY + 30,   JANUARY + 40,   4, "2026-02-01 2026-02-06" },
  { JANUARY - 1,    JANUARY + 100,  5, "2026-01 2026-02 2026-03 2026-04" },
  { JANUARY - 1,    JANUARY + 200,  5, "2026-01 2026-03 2026-05 2026-07" },
  /* 1461 days are four years */
  { JANUARY - 1,    JANUARY + 1462, 5, "2026 2027 2028 2029 2030" },
  { JANUARY - 1,    JANUARY + 1462, 3, "2026 2028 2030" },
  { JANUARY - 1,    JANUARY + 7306, 5, "2030 2035 2040 2045" },
};
/* clang-format on */

static char *
texts_of (const GArray *ticks)
{
  GString *texts = g_string_new (NULL);

  for (guint i = 0; i < ticks->len; i++)
    g_string_append_printf (texts, "%s%s", i > 0 ? " " : "", g_array_index (ticks, TrammelTimeTick, i).text);
  return g_string_free (texts, FALSE);
}

START_TEST (places_are_whole)
{
  for (gsize i = 0; i < G_N_ELEMENTS (ranges); i++)
    {
      g_autoptr (GArray) ticks = trammel_time_ticks (ranges[i].low, ranges[i].high, ranges[i].most);
      g_autofree char *texts = texts_of (ticks);
      ck_assert_str_eq (texts, ranges[i].texts);
    }
}
END_TEST

START_TEST (days_are_where_they_say)
{
  g_autoptr (GArray) ticks = trammel_time_ticks (JANUARY - 0.5, JANUARY + 60, 3);

  ck_assert_uint_eq (ticks->len, 3);
  ck_assert_double_eq (g_array_index (ticks, TrammelTimeTick, 0).day, JANUARY);
  ck_assert_double_eq (g_array_index (ticks, TrammelTimeTick, 1).day, JANUARY + 31);
  ck_assert_double_eq (g_array_index (ticks, TrammelTimeTick, 2).day, JANUARY + 59);
}
END_TEST

START_TEST (never_too_many)
{
  for (double span = 0.01; span < 2e6; span *= 1.7)
    for (int most = 2; most < 12; most++)
      {
        g_autoptr (GArray) ticks = trammel_time_ticks (JANUARY, JANUARY + span, most);
        ck_assert_int_le ((int)ticks->len, most);
      }
  g_autoptr (GArray) nowhere = trammel_time_ticks (-1e9, -1e9 + 1, 5);
  ck_assert_uint_eq (nowhere->len, 0);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("time-ticks");
  TCase *tests = tcase_create ("time-ticks");
  tcase_add_test (tests, places_are_whole);
  tcase_add_test (tests, days_are_where_they_say);
  tcase_add_test (tests, never_too_many);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
