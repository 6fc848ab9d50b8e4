/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "rows.h"

#include "base/error.h"

/* Vectors by hand: 1/√2 and 1/√3 for diagonals, cosine and sine of 30°. */
#define HALF 0.70710678118654752
#define THIRD 0.57735026918962576

static const struct
{
  const char *text, *written;
  double vector[3];
} directions[] = {
  { "X", "X", { 1, 0, 0 } },
  { "z", "Z", { 0, 0, 1 } },
  { " e ", "E", { 0, 0, 0 } },
  { "X+Y", "X+Y", { HALF, HALF, 0 } },
  { "x - y", "X-Y", { HALF, -HALF, 0 } },
  { "X−Y", "X-Y", { HALF, -HALF, 0 } },
  { "Y-X", "X-Y", { HALF, -HALF, 0 } },
  { "-X-Z", "X+Z", { HALF, 0, HALF } },
  { "Z-Y+X", "X-Y+Z", { THIRD, -THIRD, THIRD } },
  { "XY@30", "XY@30", { 0.86602540378443865, 0.5, 0 } },
  { "yz@-30", "YZ@-30", { 0, 0.86602540378443865, -0.5 } },
  { "XZ@22,5°", "XZ@22.5", { 0.92387953251128674, 0, 0.38268343236508977 } },
  { "ZX@90", "ZX@90", { 1, 0, 0 } },
  { "XY@180", "XY@180", { -1, 0, 0 } },
  { "XY@-90", "XY@-90", { 0, -1, 0 } },
};

START_TEST (reads_and_writes_directions)
{
  TrammelDirection direction, again;
  double vector[3];

  ck_assert (trammel_direction_parse (directions[_i].text, &direction, NULL));
  g_autofree char *written = trammel_direction_to_text (&direction);
  ck_assert_str_eq (written, directions[_i].written);
  ck_assert (trammel_direction_parse (written, &again, NULL));
  ck_assert (trammel_direction_equal (&direction, &again));
  trammel_direction_vector (&direction, vector);
  for (int i = 0; i < 3; i++)
    {
      ck_assert_double_eq_tol (vector[i], directions[_i].vector[i], 1e-15);
      ck_assert_int_eq (trammel_direction_touches (&direction, "XYZ"[i]), directions[_i].vector[i] != 0);
    }
}
END_TEST

static const char *const bad_directions[]
    = { "",       " ",    "+",       "-X",     "XY",    "X+X",      "X+",       "X++Y",  "X+E", "E+A",
        "1",      "X+Y-", "XY@",     "XX@30",  "XE@30", "XY@abc",   "XY@1e400", "XYZ@3", "@30", "X+Y@30",
        "XY@nan", "Ä",    "X+Y+Z+X", "XY@361", "X Y Z", "\xff\xfe", "×",        "X/Y" };

START_TEST (refuses_what_is_no_direction)
{
  TrammelDirection direction = { { 'Q' }, { 0 }, FALSE, 0 };
  g_autoptr (GError) error = NULL;

  ck_assert (!trammel_direction_parse (bad_directions[_i], &direction, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE));
  ck_assert (g_utf8_validate (error->message, -1, NULL));
  ck_assert_int_eq (direction.axes[0], 'Q');
}
END_TEST

START_TEST (tells_single_axes)
{
  TrammelDirection e, diagonal, plane;

  ck_assert (trammel_direction_parse ("E", &e, NULL));
  ck_assert (trammel_direction_parse ("X+Y", &diagonal, NULL));
  ck_assert (trammel_direction_parse ("XY@0", &plane, NULL));
  ck_assert (trammel_direction_is_single (&e));
  ck_assert (!trammel_direction_is_single (&diagonal));
  ck_assert (!trammel_direction_is_single (&plane));
  ck_assert (trammel_direction_touches (&e, 'E'));
  ck_assert (!trammel_direction_touches (&e, 'X'));
  ck_assert (trammel_direction_touches (&plane, 'X'));
  ck_assert (!trammel_direction_touches (&plane, 'Y'));
  ck_assert (!trammel_direction_equal (&diagonal, &plane));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("direction");
  TCase *tcase = tcase_create ("direction");

  tcase_add_loop_test (tcase, reads_and_writes_directions, 0, G_N_ELEMENTS (directions));
  tcase_add_loop_test (tcase, refuses_what_is_no_direction, 0, G_N_ELEMENTS (bad_directions));
  tcase_add_test (tcase, tells_single_axes);
  suite_add_tcase (suite, tcase);
  return run_suite (suite);
}
