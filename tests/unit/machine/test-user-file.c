/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/gear-bin.h"
#include "machine/user-file.h"

#include <check.h>
#include <glib/gstdio.h>
#include <string.h>
#include <sys/stat.h>

static char *folder;

static void
write_file (const char *name, const char *bytes, gsize length)
{
  g_autofree char *path = trammel_user_file_path (name);
  g_autofree char *parent = g_path_get_dirname (path);
  g_mkdir_with_parents (parent, 0700);
  ck_assert (g_file_set_contents (path, bytes, (gssize)length, NULL));
}

static void
expect_refused (const char *name, int code)
{
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_user_file_load (name, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, code));
  ck_assert_ptr_nonnull (strstr (error->message, name));
}

START_TEST (lies_in_the_data_folder_of_the_user)
{
  g_autofree char *path = trammel_user_file_path ("rows.csv");
  g_autofree char *wanted = g_build_filename (folder, "trammel", "rows.csv", NULL);
  ck_assert_str_eq (path, wanted);
}
END_TEST

START_TEST (no_file_is_no_text)
{
  g_autofree char *text = trammel_user_file_load ("never-saved", NULL);
  ck_assert_str_eq (text, "");
}
END_TEST

START_TEST (what_was_saved_comes_back)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *path = trammel_user_file_path ("text");
  ck_assert (trammel_user_file_save ("text", "größe\n½\n", &error));
  g_autofree char *first = trammel_user_file_load ("text", &error);
  ck_assert_str_eq (first, "größe\n½\n");
  ck_assert (trammel_user_file_save ("text", "", &error));
  g_autofree char *second = trammel_user_file_load ("text", &error);
  ck_assert_str_eq (second, "");

  g_autofree char *parent = g_path_get_dirname (path);
  struct stat status;
  ck_assert_int_eq (stat (parent, &status), 0);
  ck_assert_uint_eq (status.st_mode & 0777, 0700);
}
END_TEST

START_TEST (a_byte_order_mark_is_no_text)
{
  write_file ("marked",
              "\xEF\xBB\xBF"
              "a\n",
              5);
  g_autofree char *text = trammel_user_file_load ("marked", NULL);
  ck_assert_str_eq (text, "a\n");
}
END_TEST

START_TEST (what_cannot_be_read_is_named)
{
  g_autofree char *long_text = g_strnfill (TRAMMEL_USER_FILE_MOST_BYTES + 1, 'x');
  g_autofree char *inside = trammel_user_file_path ("a-folder");
  write_file ("latin", "\xB1", 1);
  expect_refused ("latin", TRAMMEL_ERROR_FORMAT);
  write_file ("long", long_text, TRAMMEL_USER_FILE_MOST_BYTES + 1);
  expect_refused ("long", TRAMMEL_ERROR_TOO_LARGE);
  g_mkdir (inside, 0700);
  expect_refused ("a-folder", TRAMMEL_ERROR_STORE);
}
END_TEST

START_TEST (more_than_can_be_read_again_is_not_saved)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *long_text = g_strnfill (TRAMMEL_USER_FILE_MOST_BYTES + 1, 'x');
  ck_assert (trammel_user_file_save ("kept", "as it was", NULL));
  ck_assert (!trammel_user_file_save ("kept", long_text, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE));
  g_autofree char *text = trammel_user_file_load ("kept", NULL);
  ck_assert_str_eq (text, "as it was");
}
END_TEST

START_TEST (the_gear_bin_keeps_what_was_typed)
{
  g_autofree char *none = trammel_gear_bin_load (NULL);
  ck_assert_str_eq (none, "");
  ck_assert (trammel_gear_bin_save (" 12,16, 24x2 ", NULL));
  g_autofree char *some = trammel_gear_bin_load (NULL);
  ck_assert_str_eq (some, "12,16, 24x2");
  ck_assert (trammel_gear_bin_save ("no gears: ?!", NULL));
  g_autofree char *odd = trammel_gear_bin_load (NULL);
  ck_assert_str_eq (odd, "no gears: ?!");
}
END_TEST

static void
remove_all (const char *path)
{
  g_autoptr (GDir) files = g_dir_open (path, 0, NULL);
  const char *name;
  while (files != NULL && (name = g_dir_read_name (files)) != NULL)
    {
      g_autofree char *inside = g_build_filename (path, name, NULL);
      remove_all (inside);
    }
  g_remove (path);
}

int
main (void)
{
  folder = g_dir_make_tmp ("trammel-user-XXXXXX", NULL);
  if (!folder || !g_setenv ("XDG_DATA_HOME", folder, TRUE)) /* before GLib looks at it */
    return 1;
  Suite *suite = suite_create ("user-file");
  TCase *tests = tcase_create ("user-file");
  tcase_add_test (tests, lies_in_the_data_folder_of_the_user);
  tcase_add_test (tests, no_file_is_no_text);
  tcase_add_test (tests, what_was_saved_comes_back);
  tcase_add_test (tests, a_byte_order_mark_is_no_text);
  tcase_add_test (tests, what_cannot_be_read_is_named);
  tcase_add_test (tests, more_than_can_be_read_again_is_not_saved);
  tcase_add_test (tests, the_gear_bin_keeps_what_was_typed);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  remove_all (folder);
  g_free (folder);
  return failed ? 1 : 0;
}
