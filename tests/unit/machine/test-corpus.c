/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Every file of tests/corpus: the bad ones are refused with a message that names place, finding and wish; the good ones
 * are read, and come back from what is written. */
#include "machine/codec.h"
#include "machine/readings-csv.h"
#include "machine/store.h"

#include <check.h>
#include <string.h>

static char *
corpus (const char *folder, const char *name)
{
  return g_build_filename (g_getenv ("TRAMMEL_TESTS"), "corpus", folder, name, NULL);
}

/* The lines of a list without comments, each taken apart at its tabs. */
static GPtrArray *
read_list (const char *folder)
{
  g_autofree char *path = corpus (folder, "bad.list");
  g_autofree char *text = NULL;
  ck_assert (g_file_get_contents (path, &text, NULL, NULL));
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  GPtrArray *list = g_ptr_array_new_with_free_func ((GDestroyNotify)g_strfreev);
  for (char **line = lines; *line != NULL; line++)
    if (**line != '\0' && **line != '#')
      g_ptr_array_add (list, g_strsplit (*line, "\t", -1));
  return list;
}

static gsize
count_files (const char *folder)
{
  g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);
  gsize n = 0;
  ck_assert_ptr_nonnull (files);
  while (g_dir_read_name (files) != NULL)
    n++;
  return n;
}

static void
expect_message (const GError *error, const char *path, char **wanted)
{
  ck_assert_ptr_nonnull (error);
  g_autofree char *place = g_strconcat (path, ": ", NULL);
  ck_assert_msg (g_str_has_prefix (error->message, place), "%s", error->message);
  ck_assert_msg (g_utf8_validate (error->message, -1, NULL), "%s", path);
  ck_assert_msg (strchr (error->message, '\n') == NULL, "%s", error->message);
  ck_assert_msg (strlen (error->message) < strlen (path) + 400, "%s", error->message);
  for (; *wanted != NULL; wanted++)
    ck_assert_msg (strstr (error->message, *wanted) != NULL, "%s: “%s” is not in “%s”", path, *wanted, error->message);
}

START_TEST (bad_machines)
{
  g_autoptr (GPtrArray) list = read_list ("machine");
  g_autofree char *folder = corpus ("machine", "bad");
  ck_assert_uint_eq (list->len, count_files (folder));
  for (guint i = 0; i < list->len; i++)
    {
      char **row = g_ptr_array_index (list, i);
      g_autofree char *path = g_build_filename (folder, row[0], NULL);
      g_autoptr (GError) error = NULL;
      ck_assert_msg (trammel_store_load (path, &error) == NULL, "%s is read", path);
      ck_assert_ptr_nonnull (row[2]); /* row[1] is for the schema's test */
      expect_message (error, path, row + 2);
    }
}
END_TEST

START_TEST (bad_csv)
{
  g_autoptr (GPtrArray) list = read_list ("csv");
  g_autofree char *folder = corpus ("csv", "bad");
  ck_assert_uint_eq (list->len, count_files (folder));
  for (guint i = 0; i < list->len; i++)
    {
      char **row = g_ptr_array_index (list, i);
      g_autofree char *path = g_build_filename (folder, row[0], NULL);
      g_autoptr (GError) error = NULL;
      ck_assert_msg (trammel_readings_csv_load (path, NULL, &error) == NULL, "%s is read", path);
      ck_assert_ptr_nonnull (row[1]);
      expect_message (error, path, row + 1);
    }
}
END_TEST

START_TEST (good_machines)
{
  g_autofree char *folder = corpus ("machine", "good");
  g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);
  const char *name;
  int n = 0;
  for (; (name = g_dir_read_name (files)) != NULL; n++)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;
      g_autoptr (TrammelMachine) machine = trammel_store_load (path, &error);
      ck_assert_msg (machine != NULL, "%s", error ? error->message : "");
      gsize length;
      g_autofree char *written = trammel_codec_write (machine, &length);
      g_autoptr (TrammelMachine) back = trammel_codec_read (written, length, &error);
      ck_assert_msg (back != NULL, "%s: %s", name, error ? error->message : "");
      ck_assert_msg (trammel_machine_equal (machine, back), "%s comes back different", name);
      g_autofree char *again = trammel_codec_write (back, NULL);
      ck_assert_str_eq (written, again);
    }
  ck_assert_int_ge (n, 14);
}
END_TEST

START_TEST (good_csv)
{
  g_autofree char *folder = corpus ("csv", "good");
  g_autoptr (GDir) files = g_dir_open (folder, 0, NULL);
  const char *name;
  int n = 0;
  for (; (name = g_dir_read_name (files)) != NULL; n++)
    {
      g_autofree char *path = g_build_filename (folder, name, NULL);
      g_autoptr (GError) error = NULL;
      g_autoptr (TrammelReadings) readings = trammel_readings_csv_load (path, NULL, &error);
      ck_assert_msg (readings != NULL, "%s", error ? error->message : "");
      g_autofree char *written = trammel_readings_csv_write (readings);
      g_autoptr (TrammelReadings) back = trammel_readings_csv_read (written, strlen (written), "again", NULL, &error);
      ck_assert_msg (back != NULL, "%s: %s", name, error ? error->message : "");
      ck_assert_msg (trammel_readings_equal (readings, back), "%s comes back different", name);
    }
  ck_assert_int_ge (n, 9);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("corpus");
  TCase *tests = tcase_create ("corpus");
  tcase_set_timeout (tests, 60);
  tcase_add_test (tests, bad_machines);
  tcase_add_test (tests, bad_csv);
  tcase_add_test (tests, good_machines);
  tcase_add_test (tests, good_csv);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
