/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <math.h>

#include "draw/palette.h"

/* Relative luminance and contrast: W3C, Web Content Accessibility Guidelines 2.1, definitions (from memory). */
static double
channel (double c)
{
  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4);
}

static double
luminance (TrammelColor c)
{
  return 0.2126 * channel (c.r) + 0.7152 * channel (c.g) + 0.0722 * channel (c.b);
}

static double
contrast (TrammelColor a, TrammelColor b)
{
  double la = luminance (a) + 0.05, lb = luminance (b) + 0.05;
  return MAX (la, lb) / MIN (la, lb);
}

static guint
hex (TrammelColor c)
{
  return ((guint)lround (c.r * 255) << 16) | ((guint)lround (c.g * 255) << 8) | (guint)lround (c.b * 255);
}

/* M. Okabe & K. Ito, Color Universal Design, 2008: blue, vermilion, bluish green, reddish purple. */
START_TEST (axes_have_the_published_colors)
{
  const TrammelPalette *light = trammel_palette (FALSE);
  ck_assert_uint_eq (hex (trammel_palette_axis (light, 'X')), 0x0072b2);
  ck_assert_uint_eq (hex (trammel_palette_axis (light, 'Y')), 0xd55e00);
  ck_assert_uint_eq (hex (trammel_palette_axis (light, 'Z')), 0x009e73);
  ck_assert_uint_eq (hex (trammel_palette_axis (light, 'E')), 0xcc79a7);
  ck_assert_uint_eq (hex (light->mark), 0xe69f00);
}
END_TEST

START_TEST (axes_can_be_read_on_dark)
{
  const TrammelPalette *dark = trammel_palette (TRUE);
  ck_assert (dark->dark && !trammel_palette (FALSE)->dark);
  for (char letter = 'A'; letter <= 'Z'; letter++)
    ck_assert_double_ge (contrast (trammel_palette_axis (dark, letter), dark->ground), 4.5);
}
END_TEST

START_TEST (text_can_be_read)
{
  for (int is_dark = 0; is_dark < 2; is_dark++)
    {
      const TrammelPalette *palette = trammel_palette (is_dark);
      ck_assert_double_ge (contrast (palette->ink, palette->ground), 7);
      ck_assert_double_ge (contrast (palette->ink, palette->metal), 4.5);
      ck_assert_double_ge (contrast (palette->trouble, palette->ground), 4.5);
      ck_assert_double_ge (contrast (palette->metal_edge, palette->ground), 3);
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("palette");
  TCase *tcase = tcase_create ("colors");
  tcase_add_test (tcase, axes_have_the_published_colors);
  tcase_add_test (tcase, axes_can_be_read_on_dark);
  tcase_add_test (tcase, text_can_be_read);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
