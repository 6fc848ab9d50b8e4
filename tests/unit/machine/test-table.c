/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/motor.h"
#include "drive/output.h"
#include "drive/slender.h"
#include "drive/stage.h"
#include "machine/table.h"

#include <check.h>
#include <string.h>

static const TrammelTable *
table_of (const char *key)
{
  const TrammelTable *table = trammel_table_find (key);
  ck_assert_msg (table != NULL, "no table %s", key);
  return table;
}

static const TrammelTableRow *
row_of (const char *key, const char *name)
{
  gsize n;
  const TrammelTableRow *rows = trammel_table_rows (table_of (key), &n);
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (rows[i].name, name))
      return &rows[i];
  ck_abort_msg ("no row %s in %s", name, key);
}

static char *
data_text (const char *file)
{
  g_autofree char *path = g_build_filename (g_getenv ("TRAMMEL_DATA"), "tables", file, NULL);
  char *text = NULL;
  ck_assert_msg (g_file_get_contents (path, &text, NULL, NULL), "no %s", path);
  return text;
}

static gsize
lines_of_file (const char *key)
{
  g_autofree char *file = g_strconcat (key, ".csv", NULL);
  g_autofree char *text = data_text (file);
  g_auto (GStrv) lines = g_strsplit (text, "\n", -1);
  gsize n = 0;
  for (gsize i = 0; lines[i]; i++)
    n += *lines[i] != '\0' && *lines[i] != '#';
  return n - 1; /* the header */
}

START_TEST (every_line_of_every_file_is_a_row)
{
  gsize n_tables;
  const TrammelTable *const *tables = trammel_tables (&n_tables);
  ck_assert_uint_ge (n_tables, 13);
  for (gsize i = 0; i < n_tables; i++)
    {
      gsize n;
      trammel_table_rows (tables[i], &n);
      ck_assert_uint_gt (n, 0);
      ck_assert_msg (n == lines_of_file (trammel_table_key (tables[i])), "%s: %zu rows", trammel_table_key (tables[i]),
                     n);
      ck_assert_ptr_eq (trammel_table_find (trammel_table_key (tables[i])), tables[i]);
      ck_assert_str_ne (trammel_table_label (tables[i]), "");
    }
  ck_assert_ptr_null (trammel_table_find ("bolts"));
  ck_assert_ptr_null (trammel_table_find (NULL));
}
END_TEST

static void
expect_sound (const TrammelTable *table, const TrammelTableRow *row, GHashTable *names)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *value = trammel_table_check (table, row->value, NULL, &error);
  const char *key = trammel_table_key (table);
  ck_assert_msg (value != NULL, "%s, %s: %s", key, row->name, error ? error->message : "");
  ck_assert_msg (*row->name != '\0' && g_hash_table_add (names, (gpointer)row->name), "%s: %s twice", key, row->name);
  ck_assert_msg (*row->source != '\0' || row->marking == TRAMMEL_MARKING_PRACTICE, "%s, %s: no source", key, row->name);
  ck_assert_int_ne (row->marking, TRAMMEL_MARKING_OWN);
  g_autofree char *source = trammel_table_row_source (row);
  ck_assert_str_ne (source, "");
}

START_TEST (every_row_can_be_used_and_says_where_it_is_from)
{
  gsize n_tables;
  const TrammelTable *const *tables = trammel_tables (&n_tables);
  for (gsize i = 0; i < n_tables; i++)
    {
      g_autoptr (GHashTable) names = g_hash_table_new (g_str_hash, g_str_equal);
      gsize n;
      const TrammelTableRow *rows = trammel_table_rows (tables[i], &n);
      for (gsize j = 0; j < n; j++)
        expect_sound (tables[i], &rows[j], names);
    }
}
END_TEST

static gboolean
has_a_word (const char *text)
{
  gsize run = 0;
  for (const char *p = text; *p; p++)
    {
      run = g_ascii_islower (*p) ? run + 1 : 0;
      if (run == 3)
        return TRUE;
    }
  return FALSE;
}

static void
expect_gathered (const char *words, const char *text)
{
  g_autofree char *entry = g_strdup_printf ("N_ (\"%s\")", text);
  if (has_a_word (text))
    ck_assert_msg (strstr (words, entry) != NULL, "words.c lacks %s", entry);
}

START_TEST (words_can_be_translated)
{
  g_autofree char *words = data_text ("words.c");
  gsize n_tables;
  const TrammelTable *const *tables = trammel_tables (&n_tables);
  for (gsize i = 0; i < n_tables; i++)
    {
      gsize n;
      const TrammelTableRow *rows = trammel_table_rows (tables[i], &n);
      for (gsize j = 0; j < n; j++)
        {
          expect_gathered (words, rows[j].name);
          expect_gathered (words, rows[j].source);
        }
    }
}
END_TEST

/* clang-format off */
static const struct { const char *table, *name; double value; } known[] = {
  /* ISO 261, coarse */
  { "thread-pitch", "M3", 0.5 }, { "thread-pitch", "M4", 0.7 }, { "thread-pitch", "M5", 0.8 },
  { "thread-pitch", "M6", 1 }, { "thread-pitch", "M8", 1.25 }, { "thread-pitch", "M10", 1.5 },
  { "thread-pitch", "M12", 1.75 },
  /* ISO 2904 */
  { "thread-pitch", "Tr 8 × 1.5", 1.5 }, { "thread-pitch", "Tr 10 × 2", 2 },
  /* 25.4 mm / 20 */
  { "thread-pitch", "1/4-20 UNC", 1.27 },
  /* lead 8 mm / 4 starts; common practice, no source */
  { "thread-pitch", "Tr 8 × 8 (P2)", 2 },
  /* ISO 54, series 1 */
  { "module", "m 0.5", 0.5 }, { "module", "m 0.6", 0.6 }, { "module", "m 0.8", 0.8 }, { "module", "m 1", 1 },
  { "module", "m 1.25", 1.25 }, { "module", "m 1.5", 1.5 }, { "module", "m 2", 2 }, { "module", "m 2.5", 2.5 },
  { "module", "m 3", 3 },
  /* 25.4 mm / 32 */
  { "module", "DP 32", 0.79375 },
  /* ISO 5296 */
  { "belt-pitch", "MXL", 2.032 }, { "belt-pitch", "XL", 5.08 }, { "belt-pitch", "L", 9.525 },
  /* 360° / step angle; common practice, no source */
  { "full-steps", "1.8°", 200 }, { "full-steps", "0.9°", 400 }, { "full-steps", "7.5°", 48 },
  { "full-steps", "5.625°", 64 },
  /* ISO 606, half an inch; from memory */
  { "chain-pitch", "08B", 12.7 }, { "chain-pitch", "06B", 9.525 },
  { "efficiency", "ball screw", 0.9 }, /* common practice, no source */
  /* Budynas & Nisbett, Shigley's Mechanical Engineering Design, table A-5, in N/mm²; from memory */
  { "modulus", "steel, carbon", 207000 }, { "modulus", "aluminum", 71700 },
  { "density", "steel, carbon", 7850 }, /* handbooks of materials, from memory */
  { "pressure-angle", "20°", 0.34906585039886592 }, /* π/9 */
  { "thread-angle", "trapezoidal", 0.26179938779914944 }, /* π/12 */
};
/* clang-format on */

START_TEST (values_of_the_standards)
{
  double value = trammel_table_row_value (table_of (known[_i].table), row_of (known[_i].table, known[_i].name));
  ck_assert_double_eq_tol (value, known[_i].value, 1e-15 + 4e-16 * known[_i].value);
}
END_TEST

/* A step angle and its steps must make a turn; an inch thread has the tpi of its name; a metric one its own pitch. */
START_TEST (names_and_values_agree)
{
  gsize n;
  const TrammelTableRow *rows = trammel_table_rows (table_of ("full-steps"), &n);
  for (gsize i = 0; i < n; i++)
    ck_assert_double_eq_tol (g_ascii_strtod (rows[i].name, NULL) * g_ascii_strtod (rows[i].value, NULL), 360, 1e-9);

  rows = trammel_table_rows (table_of ("thread-pitch"), &n);
  for (gsize i = 0; i < n; i++)
    {
      const char *dash = strrchr (rows[i].name, '-');
      const char *cross = strstr (rows[i].name, " × ");
      if (g_str_has_suffix (rows[i].value, "tpi"))
        ck_assert_double_eq (g_ascii_strtod (dash + 1, NULL), g_ascii_strtod (rows[i].value, NULL));
      else if (cross && !strstr (rows[i].name, "(P"))
        ck_assert_double_eq (g_ascii_strtod (cross + strlen (" × "), NULL), g_ascii_strtod (rows[i].value, NULL));
    }
}
END_TEST

START_TEST (marks_are_shown)
{
  g_autofree char *standard = trammel_table_row_source (row_of ("thread-pitch", "M3"));
  g_autofree char *memory = trammel_table_row_source (row_of ("thread-pitch", "M14"));
  g_autofree char *practice = trammel_table_row_source (row_of ("full-steps", "1.8°"));
  g_autofree char *own = trammel_table_row_source (&(TrammelTableRow){ "a", "1", "shop", TRAMMEL_MARKING_OWN });
  ck_assert_str_eq (standard, "ISO 261, coarse");
  ck_assert_str_eq (memory, "ISO 261, coarse (from memory)");
  ck_assert_str_eq (practice, "common practice, no source");
  ck_assert_str_eq (own, "own: shop");
}
END_TEST

/* clang-format off */
static const struct { const char *table, *name, *typed; int rank; } ranks[] = {
  { "thread-pitch", "M3", "m3", 0 },
  { "thread-pitch", "M3", "M", 1 },
  { "thread-pitch", "M3", "0.5 mm", 0 },
  { "thread-pitch", "M3", "0,5", 2 },
  { "thread-pitch", "M3", "3", -1 },
  { "thread-pitch", "M3", "M4", -1 },
  { "thread-pitch", "Tr 8 × 1.5", "tr8x1,5", 0 },
  { "thread-pitch", "Tr 8 × 1.5", "TR 8", 1 },
  { "thread-pitch", "#10-24 UNC", "#10", 1 },
  { "thread-pitch", "#10-24 UNC", "24", 2 },
  { "thread-pitch", "#10-24 UNC", "unc", 3 },
  { "density", "steel, carbon", "Steel C", 1 },
  { "friction", "steel on bronze, oiled", "bronze oil", 3 },
};
/* clang-format on */

START_TEST (what_is_typed_finds_rows)
{
  ck_assert_int_eq (trammel_table_row_rank (row_of (ranks[_i].table, ranks[_i].name), ranks[_i].typed), ranks[_i].rank);
}
END_TEST

START_TEST (typed_values_are_checked)
{
  const TrammelUnit *inch = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in");
  g_autofree char *pitch = trammel_table_check (table_of ("thread-pitch"), " 20tpi ", NULL, NULL);
  g_autofree char *assumed = trammel_table_check (table_of ("thread-pitch"), "1/8", inch, NULL);
  ck_assert_str_eq (pitch, "20 tpi");
  ck_assert_str_eq (assumed, "1/8 in");

  static const char *const bad[][2] = {
    { "thread-pitch", "" },  { "thread-pitch", "two" }, { "thread-pitch", "0 mm" }, { "thread-pitch", "-1 mm" },
    { "full-steps", "1.5" }, { "efficiency", "101 %" }, { "friction", "-0.1" },     { "module", "20 tpi" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (bad); i++)
    {
      g_autoptr (GError) error = NULL;
      ck_assert_msg (!trammel_table_check (table_of (bad[i][0]), bad[i][1], NULL, &error), "%s", bad[i][1]);
      ck_assert_ptr_nonnull (error);
    }
}
END_TEST

static gsize
expect_tables_of_fields (const TrammelRecordKind *const *kinds, gsize n)
{
  gsize found = 0;
  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j < kinds[i]->n_fields; j++)
      if (kinds[i]->fields[j].table)
        {
          table_of (kinds[i]->fields[j].table);
          found++;
        }
  return found;
}

/* Each row of the table that a field names can stand in that field. */
static void
expect_rows_fit (const TrammelRecordKind *kind)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (kind);
  for (gsize i = 0; i < kind->n_fields; i++)
    {
      gsize n = 0;
      const TrammelTableRow *rows
          = kind->fields[i].table ? trammel_table_rows (table_of (kind->fields[i].table), &n) : NULL;
      for (gsize j = 0; j < n; j++)
        {
          g_autoptr (TrammelRecord) filled
              = trammel_record_with_text (record, kind->fields[i].key, rows[j].value, NULL, NULL);
          ck_assert_msg (filled != NULL, "%s.%s: %s", kind->type, kind->fields[i].key, rows[j].value);
        }
    }
}

START_TEST (fields_name_tables_that_fill_them)
{
  gsize n_motors, n_stages, n_outputs;
  const TrammelRecordKind *const *motors = trammel_motor_kinds (&n_motors);
  const TrammelRecordKind *const *stages = trammel_stage_kinds (&n_stages);
  const TrammelRecordKind *const *outputs = trammel_output_kinds (&n_outputs);
  ck_assert_uint_ge (expect_tables_of_fields (motors, n_motors), 2);
  ck_assert_uint_ge (expect_tables_of_fields (stages, n_stages), 5);
  ck_assert_uint_ge (expect_tables_of_fields (outputs, n_outputs), 4);
  for (gsize i = 0; i < n_motors; i++)
    expect_rows_fit (motors[i]);
  for (gsize i = 0; i < n_stages; i++)
    expect_rows_fit (stages[i]);
  for (gsize i = 0; i < n_outputs; i++)
    expect_rows_fit (outputs[i]);
}
END_TEST

/* What is taken where nothing is said is what the tables offer. */
START_TEST (steel_is_the_same_everywhere)
{
  const TrammelTable *modulus = trammel_table_find ("modulus"), *density = trammel_table_find ("density");
  ck_assert_double_eq (trammel_table_row_value (modulus, row_of ("modulus", "steel, carbon")), TRAMMEL_STEEL_MODULUS);
  ck_assert_double_eq (trammel_table_row_value (density, row_of ("density", "steel, carbon")), TRAMMEL_STEEL_DENSITY);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("table");
  TCase *tests = tcase_create ("table");
  tcase_add_test (tests, every_line_of_every_file_is_a_row);
  tcase_add_test (tests, every_row_can_be_used_and_says_where_it_is_from);
  tcase_add_test (tests, words_can_be_translated);
  tcase_add_test (tests, steel_is_the_same_everywhere);
  tcase_add_loop_test (tests, values_of_the_standards, 0, G_N_ELEMENTS (known));
  tcase_add_test (tests, names_and_values_agree);
  tcase_add_test (tests, marks_are_shown);
  tcase_add_loop_test (tests, what_is_typed_finds_rows, 0, G_N_ELEMENTS (ranks));
  tcase_add_test (tests, typed_values_are_checked);
  tcase_add_test (tests, fields_name_tables_that_fill_them);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
