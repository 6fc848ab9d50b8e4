/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/own-rows.h"
#include "machine/user-file.h"

#include <check.h>
#include <glib/gstdio.h>
#include <string.h>

#define HEADER "table,name,value,source\n"

static void
expect_row (const TrammelOwnRows *rows, gsize i, const char *key, const char *name, const char *value,
            const char *source)
{
  const TrammelTable *table;
  ck_assert_uint_lt (i, trammel_own_rows_count (rows));
  const TrammelTableRow *row = trammel_own_rows_get (rows, i, &table);
  ck_assert_str_eq (trammel_table_key (table), key);
  ck_assert_str_eq (row->name, name);
  ck_assert_str_eq (row->value, value);
  ck_assert_str_eq (row->source, source);
  ck_assert_int_eq (row->marking, TRAMMEL_MARKING_OWN);
}

static void
add (TrammelOwnRows *rows, const char *key, const char *name, const char *value, const char *source)
{
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_own_rows_add (rows, trammel_table_find (key), name, value, source, NULL, &error), "%s",
                 error ? error->message : "");
}

START_TEST (rows_come_back)
{
  g_autoptr (TrammelOwnRows) rows = trammel_own_rows_new ();
  add (rows, "thread-pitch", "jack, \"blue\"", "20 tpi", "counted; 2 in");
  add (rows, "efficiency", " # odd ", "71 %", NULL);
  add (rows, "module", "Räder", "1,25 mm", "");
  g_autofree char *text = trammel_own_rows_write (rows);
  g_autoptr (TrammelOwnRows) again = trammel_own_rows_read (text);
  ck_assert_ptr_null (trammel_own_rows_troubles (again)[0]);
  ck_assert_uint_eq (trammel_own_rows_count (again), 3);
  expect_row (again, 0, "thread-pitch", "jack, \"blue\"", "20 tpi", "counted; 2 in");
  expect_row (again, 1, "efficiency", "# odd", "71 %", "");
  expect_row (again, 2, "module", "Räder", "1.25 mm", "");
  ck_assert (g_str_has_prefix (text, HEADER));
}
END_TEST

START_TEST (a_name_is_there_once_in_a_table)
{
  g_autoptr (TrammelOwnRows) rows = trammel_own_rows_new ();
  add (rows, "module", "printed", "1 mm", "");
  add (rows, "thread-pitch", "printed", "3 mm", "");
  add (rows, "module", "printed", "2 mm", "new");
  ck_assert_uint_eq (trammel_own_rows_count (rows), 2);
  expect_row (rows, 0, "thread-pitch", "printed", "3 mm", "");
  expect_row (rows, 1, "module", "printed", "2 mm", "new");
  trammel_own_rows_remove (rows, 0);
  expect_row (rows, 0, "module", "printed", "2 mm", "new");
  trammel_own_rows_remove (rows, 0);
  g_autofree char *text = trammel_own_rows_write (rows);
  ck_assert_str_eq (text, HEADER);
}
END_TEST

#define COMMENT "# from the drawer\n"
#define GOOD "module,small,0.5 mm,\n"
#define UNKNOWN "bolts,M3,0.5 mm,\n"
#define SHORT "module,short\n"
#define BAD_VALUE "module,bad,much,\n"
#define OPEN_QUOTE "module,\"open,1 mm,\n"
#define NO_NAME "module,,1 mm,\n"

START_TEST (bad_lines_are_told_and_kept)
{
  static const char text[] = HEADER COMMENT UNKNOWN GOOD "\n" SHORT BAD_VALUE OPEN_QUOTE NO_NAME;
  static const char *const wanted[] = { "line 3: ", "line 6: ", "line 7: ", "line 8: ", "line 9: " };
  static const char *const about[] = { "“bolts”", "2 fields", "“much”", "quote", "a name" };
  g_autoptr (TrammelOwnRows) rows = trammel_own_rows_read (text);
  const char *const *troubles = trammel_own_rows_troubles (rows);
  ck_assert_uint_eq (g_strv_length ((char **)troubles), G_N_ELEMENTS (wanted));
  for (gsize i = 0; i < G_N_ELEMENTS (wanted); i++)
    {
      ck_assert_msg (g_str_has_prefix (troubles[i], wanted[i]), "%s", troubles[i]);
      ck_assert_msg (strstr (troubles[i], about[i]) != NULL, "%s", troubles[i]);
    }
  ck_assert_uint_eq (trammel_own_rows_count (rows), 1);
  expect_row (rows, 0, "module", "small", "0.5 mm", "");
  g_autofree char *same = trammel_own_rows_write (rows);
  ck_assert_str_eq (same, text);

  trammel_own_rows_remove (rows, 0);
  add (rows, "module", "new", "2 mm", "");
  g_autofree char *edited = trammel_own_rows_write (rows);
  ck_assert_str_eq (edited, HEADER COMMENT UNKNOWN "\n" SHORT BAD_VALUE OPEN_QUOTE NO_NAME "module,new,2 mm,\n");
}
END_TEST

START_TEST (line_ends_of_other_systems)
{
  g_autoptr (TrammelOwnRows) rows = trammel_own_rows_read ("table,name,value,source\r\nmodule,a,1 mm,b\r\n");
  ck_assert_ptr_null (trammel_own_rows_troubles (rows)[0]);
  ck_assert_uint_eq (trammel_own_rows_count (rows), 1);
  expect_row (rows, 0, "module", "a", "1 mm", "b");
}
END_TEST

START_TEST (what_is_no_row_is_refused)
{
  g_autofree char *long_name = g_strnfill (201, 'n');
  const struct
  {
    const char *name, *value, *source;
  } bad[] = {
    { "", "1 mm", "" },   { "  ", "1 mm", "" },    { "two\nlines", "1 mm", "" }, { "a", "", "" },
    { "a", "-1 mm", "" }, { "a", "1 mm", "b\nc" }, { long_name, "1 mm", "" },
  };
  g_autoptr (TrammelOwnRows) rows = trammel_own_rows_new ();
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      ck_assert (!trammel_own_rows_add (rows, trammel_table_find ("module"), bad[i].name, bad[i].value, bad[i].source,
                                        NULL, &error));
      ck_assert_ptr_nonnull (error);
    }
  ck_assert_uint_eq (trammel_own_rows_count (rows), 0);
}
END_TEST

START_TEST (kept_for_the_user)
{
  g_autoptr (TrammelOwnRows) none = trammel_own_rows_load (NULL);
  ck_assert_ptr_nonnull (none);
  ck_assert_uint_eq (trammel_own_rows_count (none), 0);
  add (none, "belt-pitch", "salvaged", "3.8 mm", "a typewriter");
  ck_assert (trammel_own_rows_save (none, NULL));
  g_autoptr (TrammelOwnRows) again = trammel_own_rows_load (NULL);
  ck_assert_uint_eq (trammel_own_rows_count (again), 1);
  expect_row (again, 0, "belt-pitch", "salvaged", "3.8 mm", "a typewriter");

  g_autofree char *path = trammel_user_file_path ("own-rows.csv");
  g_autoptr (GError) error = NULL;
  ck_assert (g_file_set_contents (path, "\xFF\xFE", 2, NULL));
  ck_assert_ptr_null (trammel_own_rows_load (&error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT));
  g_remove (path);
}
END_TEST

int
main (void)
{
  g_autofree char *folder = g_dir_make_tmp ("trammel-rows-XXXXXX", NULL);
  if (!folder || !g_setenv ("XDG_DATA_HOME", folder, TRUE)) /* before GLib looks at it */
    return 1;
  g_autofree char *inside = g_build_filename (folder, "trammel", NULL);
  Suite *suite = suite_create ("own-rows");
  TCase *tests = tcase_create ("own-rows");
  tcase_add_test (tests, rows_come_back);
  tcase_add_test (tests, a_name_is_there_once_in_a_table);
  tcase_add_test (tests, bad_lines_are_told_and_kept);
  tcase_add_test (tests, line_ends_of_other_systems);
  tcase_add_test (tests, what_is_no_row_is_refused);
  tcase_add_test (tests, kept_for_the_user);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  g_rmdir (inside);
  g_rmdir (folder);
  return failed ? 1 : 0;
}
