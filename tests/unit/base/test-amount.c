/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/amount.h"
#include "base/error.h"

#include <check.h>
#include <stdlib.h>
#include <string.h>

/* By hand; the inch is 25.4 mm. Where only one of the two has a unit it is behind: that stands for both. */
/* clang-format off */
static const struct
{
  const char *text;
  TrammelDimension dimension;
  double value, u;
} readable[] = {
  { "1.75",               TRAMMEL_DIMENSION_LENGTH,  1.75,    0 },
  { "1.75 ± 0.02",        TRAMMEL_DIMENSION_LENGTH,  1.75,    0.02 },
  { "1,75±0,02 mm",       TRAMMEL_DIMENSION_LENGTH,  1.75,    0.02 },
  { "1.75+-0.02",         TRAMMEL_DIMENSION_LENGTH,  1.75,    0.02 },
  { "1.75 +/- 0.02",      TRAMMEL_DIMENSION_LENGTH,  1.75,    0.02 },
  { "2 in ± 0.1 mm",      TRAMMEL_DIMENSION_LENGTH,  50.8,    0.1 },
  { "2 ± 1 in",           TRAMMEL_DIMENSION_LENGTH,  50.8,    25.4 },
  { "1/4 ± 1/8 in",       TRAMMEL_DIMENSION_LENGTH,  6.35,    3.175 },
  { "1.24 ± 0.05 g/cm3",  TRAMMEL_DIMENSION_DENSITY, 1240,    50 },
  { "2e0 ± 5e-1 cm",      TRAMMEL_DIMENSION_LENGTH,  20,      5 },
  { "-3 ± 0",             TRAMMEL_DIMENSION_LENGTH,  -3,      0 },
};
/* clang-format on */

START_TEST (amounts_are_read)
{
  for (gsize i = 0; i < G_N_ELEMENTS (readable); i++)
    {
      TrammelAmount amount;
      g_autoptr (GError) error = NULL;

      ck_assert_msg (trammel_amount_parse (readable[i].text, readable[i].dimension, NULL, &amount, &error), "%s: %s",
                     readable[i].text, error ? error->message : "");
      ck_assert_double_eq_tol (amount.value, readable[i].value, 1e-12);
      ck_assert_double_eq_tol (amount.u, readable[i].u, 1e-12);
    }
}
END_TEST

START_TEST (a_bare_number_has_the_unit_assumed)
{
  const TrammelUnit *gram = trammel_unit_find (TRAMMEL_DIMENSION_MASS, "g");
  TrammelAmount amount;

  ck_assert (trammel_amount_parse ("1.5 ± 0.1", TRAMMEL_DIMENSION_MASS, gram, &amount, NULL));
  ck_assert_double_eq_tol (amount.value, 0.0015, 1e-15);
  ck_assert_double_eq_tol (amount.u, 0.0001, 1e-15);
}
END_TEST

START_TEST (what_is_no_amount_is_refused)
{
  static const char *const refused[] = { "", "±", "1 ±", "± 1", "1 ± -1", "1 ± much", "wide ± 1", "1 ± 2 kg" };

  for (gsize i = 0; i < G_N_ELEMENTS (refused); i++)
    {
      TrammelAmount amount = { 7, 8 };
      g_autoptr (GError) error = NULL;

      ck_assert_msg (!trammel_amount_parse (refused[i], TRAMMEL_DIMENSION_LENGTH, NULL, &amount, &error), "%s",
                     refused[i]);
      ck_assert (error != NULL && error->domain == TRAMMEL_ERROR);
      ck_assert (amount.value == 7 && amount.u == 8);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("amount");
  TCase *tests = tcase_create ("amount");
  tcase_add_test (tests, amounts_are_read);
  tcase_add_test (tests, a_bare_number_has_the_unit_assumed);
  tcase_add_test (tests, what_is_no_amount_is_refused);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
