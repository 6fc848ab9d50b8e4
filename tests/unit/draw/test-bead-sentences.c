/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/bead-sentences.h"

#include <check.h>
#include <stdlib.h>

/* A bead 0.5 mm wide, 0.2 mm high: (0.5 − 0.2)·0.2 + π/4·0.2² = 0.0914159 mm². */
static TrammelBead
half_millimeter (void)
{
  TrammelBead bead;

  trammel_bead_init (&bead);
  bead.given[TRAMMEL_BEAD_HEIGHT] = (TrammelAmount){ 0.2, 0 };
  bead.given[TRAMMEL_BEAD_WIDTH] = (TrammelAmount){ 0.5, 0 };
  bead.given[TRAMMEL_BEAD_SPEED] = (TrammelAmount){ 30, 0 };
  return bead;
}

static void
expect_sentence (TrammelBead *bead, const char *symbol, const char *wanted)
{
  const TrammelUnit *unit = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, symbol);
  g_autoptr (GError) error = NULL;

  ck_assert_msg (trammel_bead_solve (bead, &error), "%s", error ? error->message : "");
  g_autofree char *found = trammel_sentences_bead (bead, unit);
  ck_assert_str_eq (found, wanted);
}

/* 30 mm/s of it are 2.742478 mm³/s; through a wire of 1.75 mm (2.405282 mm²) 1.140190 mm/s; in cubic inches (16387.064
 * mm³) 0.000167356. */
START_TEST (what_is_asked_is_told)
{
  TrammelBead bead = half_millimeter ();
  expect_sentence (&bead, "mm", "A bead 0.5 mm wide at 30 mm/s takes a flow of 2.7425 mm³/s.");
  ck_assert_ptr_null (trammel_sentences_bead_note (&bead));
  bead.given[TRAMMEL_BEAD_FILAMENT] = (TrammelAmount){ 1.75, 0 };
  expect_sentence (&bead, "mm",
                   "A bead 0.5 mm wide at 30 mm/s takes a flow of 2.7425 mm³/s: filament fed at 1.1402 mm/s.");

  /* 3 % of the mass and 4 % of the density: 5 % of the flow, 20 mm³/s, and so of the speed, 218.780 mm/s; 1.96 of that
   * are 21.44 */
  bead.given[TRAMMEL_BEAD_SPEED].value = bead.given[TRAMMEL_BEAD_FILAMENT].value = NAN;
  bead.given[TRAMMEL_BEAD_MASS] = (TrammelAmount){ 0.00124, 0.0000372 };
  bead.given[TRAMMEL_BEAD_DENSITY] = (TrammelAmount){ 1240, 49.6 };
  bead.given[TRAMMEL_BEAD_TIME] = (TrammelAmount){ 50, 0 };
  expect_sentence (&bead, "mm", "This flow lays a bead 0.5 mm wide at 219 ± 21 mm/s.");
  ck_assert_str_eq (trammel_sentences_bead_note (&bead),
                    "What is found stands with a 95 % interval; what is given, with a standard uncertainty.");

  /* 200 mm/s of 20 mm³/s: 0.1 mm² with u 0.005; 0.1/0.2 + 0.2·(1 − π/4) = 0.542920 mm, 1.96·0.005/0.2 = 0.049 */
  bead.given[TRAMMEL_BEAD_WIDTH].value = NAN;
  bead.given[TRAMMEL_BEAD_SPEED] = (TrammelAmount){ 200, 0 };
  expect_sentence (&bead, "mm", "At 200 mm/s this flow lays a bead 0.543 ± 0.049 mm wide.");
}
END_TEST

START_TEST (inches_are_inches)
{
  TrammelBead bead = half_millimeter ();
  const TrammelUnit *inch = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in");

  ck_assert (trammel_bead_solve (&bead, NULL));
  g_autoptr (GArray) lines = trammel_sentences_bead_lines (&bead, inch);
  /* 0.5/25.4, 0.2/25.4, 0.0914159/645.16, 30/25.4, 2.742478/16387.064 */
  static const char *const wanted[]
      = { "0.019685 in", "0.007874 in", "0.00014169 in²", "1.1811 in/s", "0.00016736 in³/s" };
  ck_assert_uint_eq (lines->len, G_N_ELEMENTS (wanted));
  for (guint i = 0; i < lines->len; i++)
    ck_assert_str_eq (g_array_index (lines, TrammelBeadLine, i).text, wanted[i]);
  ck_assert_str_eq (g_array_index (lines, TrammelBeadLine, 2).label, "Section");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("bead-sentences");
  TCase *tests = tcase_create ("bead-sentences");
  tcase_add_test (tests, what_is_asked_is_told);
  tcase_add_test (tests, inches_are_inches);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
