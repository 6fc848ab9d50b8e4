/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <string.h>

#include "base/error.h"
#include "draw/train-export.h"
#include "train-of-text.h"

static TrammelTrainDrawing *
drawing_of (const char *text)
{
  g_autoptr (TrammelTrain) train = train_of (text, FALSE);
  return trammel_train_drawing_new (train, 180, NULL);
}

static TrammelTrainPicture
picture_of_size (double width, double height)
{
  return (TrammelTrainPicture){ .width = width,
                                .height = height,
                                .palette = trammel_palette (FALSE),
                                .axis_letter = 'X',
                                .selected_part = -1,
                                .dimensions = TRUE };
}

START_TEST (suffix_tells_the_format)
{
  static const struct
  {
    const char *name;
    TrammelPictureFormat format;
  } cases[]
      = { { "a.svg", TRAMMEL_PICTURE_SVG }, { "/b/c.PDF", TRAMMEL_PICTURE_PDF }, { "d.e.png", TRAMMEL_PICTURE_PNG } };
  static const char *const bad[] = { "a", "svg", "a.jpg", "a.svg.txt", "" };
  for (gsize k = 0; k < G_N_ELEMENTS (cases); k++)
    {
      TrammelPictureFormat format;
      ck_assert (trammel_picture_format_of_name (cases[k].name, &format, NULL));
      ck_assert_int_eq (format, cases[k].format);
    }
  for (gsize k = 0; k < G_N_ELEMENTS (bad); k++)
    {
      TrammelPictureFormat format;
      g_autoptr (GError) error = NULL;
      ck_assert (!trammel_picture_format_of_name (bad[k], &format, &error));
      ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE));
    }
}
END_TEST

static const char *
as_text (GBytes *bytes)
{
  return g_bytes_get_data (bytes, NULL);
}

/* The width and height of a PNG are the third and fourth big-endian words after its 8-byte signature (ISO/IEC 15948,
 * IHDR). */
START_TEST (files_are_whole)
{
  g_autoptr (TrammelTrainDrawing) drawing = drawing_of ("spur driver=12 driven=36;screw pitch=2_mm starts=4");
  TrammelTrainPicture picture = picture_of_size (600, 240);

  g_autoptr (GBytes) svg = trammel_train_export (drawing, &picture, TRAMMEL_PICTURE_SVG, NULL);
  g_autofree char *text = g_strndup (as_text (svg), g_bytes_get_size (svg));
  ck_assert (g_str_has_prefix (text, "<?xml"));
  ck_assert_ptr_nonnull (strstr (text, "width=\"600px\" height=\"240px\""));
  ck_assert (g_str_has_suffix (g_strchomp (text), "</svg>"));

  g_autoptr (GBytes) pdf = trammel_train_export (drawing, &picture, TRAMMEL_PICTURE_PDF, NULL);
  g_autofree char *tail = g_strndup (as_text (pdf) + g_bytes_get_size (pdf) - 8, 8);
  ck_assert_mem_eq (as_text (pdf), "%PDF-", 5);
  ck_assert_ptr_nonnull (strstr (tail, "%%EOF"));

  g_autoptr (GBytes) png = trammel_train_export (drawing, &picture, TRAMMEL_PICTURE_PNG, NULL);
  guint32 size[2];
  ck_assert_mem_eq (as_text (png), "\x89PNG\r\n\x1a\n", 8);
  memcpy (size, as_text (png) + 16, sizeof size);
  ck_assert_uint_eq (GUINT32_FROM_BE (size[0]), 1200);
  ck_assert_uint_eq (GUINT32_FROM_BE (size[1]), 480);
}
END_TEST

START_TEST (bad_sizes_are_refused)
{
  static const double sizes[][2] = { { 0, 100 }, { 100, 0.5 }, { 10001, 100 }, { 100, NAN }, { -5, 5 } };
  g_autoptr (TrammelTrainDrawing) drawing = drawing_of ("table");
  for (gsize k = 0; k < G_N_ELEMENTS (sizes); k++)
    {
      g_autoptr (GError) error = NULL;
      TrammelTrainPicture picture = picture_of_size (sizes[k][0], sizes[k][1]);
      ck_assert_ptr_null (trammel_train_export (drawing, &picture, TRAMMEL_PICTURE_SVG, &error));
      ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("train export");
  TCase *tcase = tcase_create ("export");
  tcase_add_test (tcase, suffix_tells_the_format);
  tcase_add_test (tcase, files_are_whole);
  tcase_add_test (tcase, bad_sizes_are_refused);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
