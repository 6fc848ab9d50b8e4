/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/unbroken-text.h"

#include <check.h>

#define S "\xC2\xA0"     /* no-break space */
#define J "\xE2\x81\xA0" /* word joiner */

static const struct
{
  const char *text, *wanted;
} cases[] = {
  { "", "" },
  { "X moves 0.42 % short (± 0.13 %).", "X moves 0.42" S "% short (±" S "0.13" S "%)." },
  { "Set 602.53 steps/mm (now 600).", "Set 602.53 steps" J "/" J "mm (now 600)." },
  { "80 mm/s and 0,3 µm", "80" S "mm" J "/" J "s and 0,3" S "µm" },
  { "1 mmx, 5 metres, 3 inside", "1 mmx, 5 metres, 3 inside" }, /* words, not units */
  { "/home/mm/s of and/or", "/home" J "/" J "mm" J "/" J "s of and/or" },
  { "±", "±" },
  { "7 ", "7 " },
};

START_TEST (numbers_stay_whole)
{
  g_autofree char *found = trammel_unbroken_text (cases[_i].text);
  ck_assert_str_eq (found, cases[_i].wanted);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("unbroken-text");
  TCase *tests = tcase_create ("unbroken-text");
  tcase_add_loop_test (tests, numbers_stay_whole, 0, G_N_ELEMENTS (cases));
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
