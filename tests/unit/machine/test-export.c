/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/export.h"

#include <check.h>
#include <glib/gstdio.h>
#include <json-glib/json-glib.h>
#include <locale.h>
#include <math.h>
#include <string.h>

#define TIME "2026-11-25T09:36:00Z"

static TrammelMachine *
machine_called (const char *name)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelMachine) machine = trammel_machine_with_name (empty, name);
  g_autoptr (TrammelAxis) x = trammel_axis_new ('X', TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) travelling = trammel_axis_with_travel (x, "180 mm", NULL, NULL);
  g_autoptr (TrammelAxis) set = trammel_axis_with_in_force (travelling, 80.337, 0.025);
  g_autoptr (TrammelAxis) a = trammel_axis_new ('A', TRAMMEL_AXIS_ROTARY);
  g_autoptr (TrammelTrain) reversed = trammel_train_with_reverse (trammel_axis_train (a), TRUE);
  g_autoptr (TrammelAxis) turned = trammel_axis_with_train (a, reversed);
  g_autoptr (TrammelMachine) one = trammel_machine_with_axis_inserted (machine, 0, set, NULL);
  return trammel_machine_with_axis_inserted (one, 1, turned, NULL);
}

static char *export(const TrammelMachine *machine, const char *form)
{
  g_autoptr (GError) error = NULL;
  char *text = trammel_export_text (machine, trammel_export_form_find (form), TIME, &error);
  ck_assert_msg (text != NULL, "%s", error ? error->message : "");
  return text;
}

START_TEST (the_profile)
{
  g_autoptr (TrammelMachine) machine = machine_called ("Heron");
  g_autofree char *text = export(machine, "profile");
  g_autoptr (JsonParser) parser = json_parser_new ();
  ck_assert (json_parser_load_from_data (parser, text, -1, NULL));
  JsonObject *profile = json_node_get_object (json_parser_get_root (parser));
  ck_assert_str_eq (json_object_get_string_member (profile, "format"), "trammel-profile");
  ck_assert_int_eq (json_object_get_int_member (profile, "version"), 1);
  ck_assert_str_eq (json_object_get_string_member (profile, "machine"), "Heron");
  ck_assert_str_eq (json_object_get_string_member (profile, "time"), TIME);
  JsonArray *axes = json_object_get_array_member (profile, "axes");
  ck_assert_uint_eq (json_array_get_length (axes), 2);
  JsonObject *x = json_array_get_object_element (axes, 0), *a = json_array_get_object_element (axes, 1);
  ck_assert_str_eq (json_object_get_string_member (x, "letter"), "X");
  ck_assert_str_eq (json_object_get_string_member (x, "unit"), "mm");
  ck_assert_double_eq (json_object_get_double_member (x, "counts_per_unit"), 80.337);
  ck_assert_double_eq (json_object_get_double_member (x, "u"), 0.025);
  ck_assert_int_eq (json_object_get_int_member (x, "direction"), 1);
  ck_assert_double_eq (json_object_get_double_member (x, "travel"), 180);
  ck_assert (!json_object_has_member (x, "top_speed")); /* nothing says how fast its motor turns */
  ck_assert_str_eq (json_object_get_string_member (a, "kind"), "rotary");
  ck_assert_str_eq (json_object_get_string_member (a, "unit"), "deg");
  ck_assert_double_eq_tol (json_object_get_double_member (a, "counts_per_unit"), 3200.0 / 360, 1e-14);
  ck_assert_int_eq (json_object_get_int_member (a, "direction"), -1);
}
END_TEST

START_TEST (the_header)
{
  g_autoptr (TrammelMachine) machine = machine_called ("Heron");
  g_autofree char *text = export(machine, "header");
  static const char *const lines[] = {
    "\n#ifndef HERON_COUNTS_H\n",
    "\n#define HERON_X_COUNTS_PER_MM 80.337\n",
    "\n#define HERON_X_COUNTS_PER_MM_U 0.025\n",
    "\n#define HERON_X_DIRECTION (1)\n",
    "\n#define HERON_X_TRAVEL_MM 180.0\n",
    "\n#define HERON_A_COUNTS_PER_DEG 8.88888888888889\n",
    "\n#define HERON_A_DIRECTION (-1)\n",
    TIME,
  };
  for (gsize i = 0; i < G_N_ELEMENTS (lines); i++)
    ck_assert_msg (strstr (text, lines[i]) != NULL, "%s is not in\n%s", lines[i], text);
}
END_TEST

static const char *const hostile[] = {
  "Heron",
  "",
  " ",
  "*/ #error no /*",
  "*/",
  "?\?/",
  "*?\?/\n/ #error no",
  "a\\",
  "\\\n#error no",
  "// \\",
  "3 axes",
  "_",
  "Größe µ",
  "日本",
  "\xE2\x80\xAE*/",
  "a\"b'c",
  "#include <none>",
  "\r\n#error no\r\n",
  "int",
  "../../etc/passwd",
  "/",
  ".hidden",
  "-rf",
  "%s%n%d",
};

/* A strict compiler takes it, and finds the numbers in it. */
START_TEST (a_compiler_takes_the_header_whatever_the_machine_is_called)
{
  g_autoptr (TrammelMachine) machine = machine_called (hostile[_i]);
  g_autofree char *text = export(machine, "header");
  g_autofree char *folder = g_dir_make_tmp ("trammel-export-XXXXXX", NULL);
  g_autofree char *path = g_build_filename (folder, "machine.c", NULL);
  g_autofree char *prefix = NULL;
  const char *guard = strstr (text, "#ifndef ");
  int status;

  ck_assert_ptr_nonnull (guard);
  prefix = g_strndup (guard + 8, strcspn (guard + 8, "\n") - strlen ("_COUNTS_H"));
  g_autofree char *program = g_strdup_printf ("%s\nconst double found = %s_X_COUNTS_PER_MM;\n"
                                              "int right_way[(%s_A_DIRECTION) == -1 ? 1 : -1];\n",
                                              text, prefix, prefix);
  ck_assert (g_file_set_contents (path, program, -1, NULL));
  g_autofree char *line
      = g_strconcat ("gcc -std=c99 -pedantic-errors -Wall -Wextra -Wundef -Werror -fsyntax-only ", path, NULL);
  g_autofree char *complaints = NULL;
  ck_assert (g_spawn_command_line_sync (line, NULL, &complaints, &status, NULL));
  g_unlink (path);
  g_rmdir (folder);
  ck_assert_msg (g_spawn_check_wait_status (status, NULL), "%s\n%s", complaints, program);
}
END_TEST

START_TEST (file_names_are_fit)
{
  g_autoptr (TrammelMachine) machine = machine_called (hostile[_i]);
  gsize n;
  const TrammelExportForm *forms = trammel_export_forms (&n);
  ck_assert_uint_eq (n, 3);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *name = trammel_export_file_name (machine, &forms[i]);
      ck_assert (g_utf8_validate (name, -1, NULL));
      ck_assert (strpbrk (name, "/\\\n\r\"'%* ") == NULL);
      ck_assert (name[0] != '.' && name[0] != '-');
      ck_assert_int_lt (strlen (name), 150);
    }
}
END_TEST

START_TEST (names_of_files)
{
  g_autoptr (TrammelMachine) machine = machine_called ("Heron, the 2nd");
  g_autofree char *profile = trammel_export_file_name (machine, trammel_export_form_find ("profile"));
  g_autofree char *header = trammel_export_file_name (machine, trammel_export_form_find ("header"));
  g_autofree char *table = trammel_export_file_name (machine, trammel_export_form_find ("table"));
  ck_assert_str_eq (profile, "heron-the-2nd-profile.json");
  ck_assert_str_eq (header, "heron-the-2nd-counts.h");
  ck_assert_str_eq (table, "heron-the-2nd-counts.txt");
  ck_assert_ptr_null (trammel_export_form_find ("tattoo"));
}
END_TEST

START_TEST (the_table)
{
  g_autoptr (TrammelMachine) machine = machine_called ("Heron");
  g_autofree char *text = export(machine, "table");
  ck_assert_str_eq (text, "Heron, " TIME "\n\n"
                          "axis  kind    counts per unit       u         direction  travel  top speed\n"
                          "X     linear  80.337/mm             0.025/mm  +1         180 mm  -\n"
                          "A     rotary  8.88888888888889/deg  0/deg     -1         -       -\n");
}
END_TEST

START_TEST (the_locale_is_not_in_it)
{
  if (setlocale (LC_NUMERIC, "de_DE.UTF-8") == NULL)
    setlocale (LC_NUMERIC, "de_DE.utf8");
  g_autoptr (TrammelMachine) machine = machine_called ("Heron");
  gsize n;
  const TrammelExportForm *forms = trammel_export_forms (&n);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *text = export(machine, forms[i].key);
      ck_assert_ptr_nonnull (strstr (text, "80.337"));
    }
}
END_TEST

START_TEST (a_train_that_does_not_work_is_told)
{
  g_autoptr (TrammelMachine) machine = machine_called ("Heron");
  g_autoptr (TrammelAxis) axis = trammel_axis_with_kind (trammel_machine_axis (machine, 1), TRAMMEL_AXIS_LINEAR);
  g_autoptr (TrammelAxis) wrong
      = trammel_axis_with_train (axis, trammel_axis_train (trammel_machine_axis (machine, 1)));
  g_autoptr (TrammelMachine) broken = trammel_machine_with_axis (machine, 1, wrong, NULL);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_export_text (broken, trammel_export_form_find ("table"), TIME, &error));
  ck_assert (g_str_has_prefix (error->message, "axes[1].output: "));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("export");
  TCase *tests = tcase_create ("export");
  tcase_set_timeout (tests, 60);
  tcase_add_test (tests, the_profile);
  tcase_add_test (tests, the_header);
  tcase_add_loop_test (tests, a_compiler_takes_the_header_whatever_the_machine_is_called, 0, G_N_ELEMENTS (hostile));
  tcase_add_loop_test (tests, file_names_are_fit, 0, G_N_ELEMENTS (hostile));
  tcase_add_test (tests, names_of_files);
  tcase_add_test (tests, the_table);
  tcase_add_test (tests, the_locale_is_not_in_it);
  tcase_add_test (tests, a_train_that_does_not_work_is_told);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
