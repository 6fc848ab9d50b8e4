/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "base/record.h"

#include <check.h>
#include <math.h>
#include <string.h>

static const char *const colors[] = { "red", "green", NULL };

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "teeth", .label = "Teeth", .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 10000,
    .initial = "12", .required = TRUE },
  { .key = "idlers", .label = "Idlers", .type = TRAMMEL_FIELD_INTEGERS, .low = 1, .high = 10000 },
  { .key = "ratio", .label = "Ratio", .type = TRAMMEL_FIELD_EXACT, .low = 0, .above_low = TRUE, .high = 1 },
  { .key = "free", .label = "Free", .type = TRAMMEL_FIELD_EXACT },
  { .key = "size", .label = "Size", .type = TRAMMEL_FIELD_QUANTITY,
    .dimension = TRAMMEL_DIMENSION_LENGTH, .low = 20, .high = 1000, .initial = "100 mm" },
  { .key = "lash", .label = "Lash", .type = TRAMMEL_FIELD_QUANTITY,
    .dimension = TRAMMEL_DIMENSION_LASH, .low = 0, .high = G_MAXDOUBLE },
  { .key = "color", .label = "Color", .type = TRAMMEL_FIELD_CHOICE,
    .choices = colors, .choice_labels = colors, .initial = "red" },
  { .key = "reverse", .label = "Reverse", .type = TRAMMEL_FIELD_FLAG },
  { .key = "note", .label = "Note", .type = TRAMMEL_FIELD_TEXT },
  { .key = "pitch", .label = "Pitch", .type = TRAMMEL_FIELD_QUANTITY,
    .dimension = TRAMMEL_DIMENSION_LENGTH, .low = 0, .above_low = TRUE, .high = G_MAXDOUBLE },
  { .key = "points", .label = "Points", .type = TRAMMEL_FIELD_PAIRS, .dimension = TRAMMEL_DIMENSION_ROTATION,
    .other_dimension = TRAMMEL_DIMENSION_TORQUE, .low = 0, .high = 1e6 },
  { .key = "centers", .label = "Centers", .type = TRAMMEL_FIELD_QUANTITIES, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = 1000 },
};
/* clang-format on */

static gboolean
refuse_red (const TrammelRecord *record, GError **error)
{
  if (g_strcmp0 (trammel_record_choice (record, "color"), "red") != 0)
    return TRUE;
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE, "color: red");
  return FALSE;
}

static const TrammelRecordKind kind
    = { .type = "thing", .label = "Thing", .fields = fields, .n_fields = G_N_ELEMENTS (fields) };
static const TrammelRecordKind picky_kind
    = { .type = "picky", .label = "Picky", .fields = fields, .n_fields = G_N_ELEMENTS (fields), .check = refuse_red };

/* @record with a field set, in place. */
static void
set (TrammelRecord **record, const char *key, const char *text)
{
  g_autoptr (GError) error = NULL;
  TrammelRecord *made = trammel_record_with_text (*record, key, text, NULL, &error);
  ck_assert_msg (made != NULL, "%s = %s: %s", key, text, error != NULL ? error->message : "");
  trammel_record_unref (*record);
  *record = made;
}

START_TEST (starts_with_initial_values)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  gsize n = 99;
  TrammelQuantity quantity;
  ck_assert_ptr_eq (trammel_record_kind (record), &kind);
  ck_assert (trammel_record_is (record, "thing"));
  ck_assert (!trammel_record_is (record, "picky"));
  ck_assert_int_eq (trammel_record_integer (record, "teeth"), 12);
  trammel_record_integers (record, "idlers", &n);
  ck_assert_uint_eq (n, 0);
  ck_assert (trammel_record_has (record, "idlers"));
  ck_assert (!trammel_record_has (record, "ratio"));
  ck_assert (isnan (trammel_record_value (record, "ratio")));
  ck_assert_double_eq (trammel_record_value (record, "size"), 100);
  ck_assert_double_eq (trammel_record_value (record, "teeth"), 12);
  ck_assert (!trammel_record_quantity (record, "lash", &quantity));
  ck_assert_str_eq (trammel_record_choice (record, "color"), "red");
  ck_assert (!trammel_record_flag (record, "reverse"));
  ck_assert_ptr_null (trammel_record_string (record, "note"));
  ck_assert_ptr_null (trammel_record_extra (record));
  ck_assert_ptr_eq (trammel_record_kind_field (&kind, "lash"), &fields[5]);
  ck_assert_ptr_null (trammel_record_kind_field (&kind, "nothing"));
}
END_TEST

/* Every type of field: text in, text out. */
static const struct
{
  const char *key, *text, *written;
} readable[] = {
  { "teeth", "36", "36" },
  { "teeth", " 1e3 ", "1000" },
  { "idlers", "12, 20", "12, 20" },
  { "idlers", "12;20  7", "12, 20, 7" },
  { "idlers", "12,20", "12, 20" },
  { "idlers", "", "" },
  { "ratio", "57/110", "57/110" },
  { "ratio", "0,97", "0.97" },
  { "ratio", "97 %", "0.97" },
  { "free", "1e12", "1000000000000" },
  { "size", "5 in", "5 in" },
  { "size", "1 1/4 in", "1 1/4 in" },
  { "size", "1000", "1000 mm" },
  { "lash", "0.5 deg", "0.5 deg" },
  { "lash", "0", "0 mm" },
  { "color", "Green", "green" },
  { "reverse", "YES", "yes" },
  { "reverse", "false", "no" },
  { "note", "  two\nlines ", "  two\nlines " },
  { "points", "0 rpm 0.4 N·m; 600 rpm 0.2 N·m", "0 rpm 0.4 N·m; 600 rpm 0.2 N·m" },
  { "points", " 0rpm 0,4Nm ;\n10 rev/s 20 N cm;", "0 rpm 0.4 N·m; 10 rev/s 20 N·cm" },
  { "points", "0 0.4", "0 rad/s 0.4 N·m" },
  { "centers", "36", "36 mm" },
  { "centers", "36,5 mm; 1 1/2 in;", "36.5 mm; 1 1/2 in" },
};

START_TEST (text_of_every_type)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  g_autoptr (TrammelRecord) again = trammel_record_new (&kind);
  set (&record, readable[_i].key, readable[_i].text);
  g_autofree char *text = trammel_record_text (record, readable[_i].key);
  ck_assert_str_eq (text, readable[_i].written);
  set (&again, readable[_i].key, text);
  ck_assert (trammel_record_equal (record, again));
}
END_TEST

static const struct
{
  const char *key, *text;
  int code;
  const char *message; /* all of it; NULL: any */
} unreadable[] = {
  { "teeth", "0", TRAMMEL_ERROR_RANGE, "found 0; a whole number from 1 to 10000 is wanted" },
  { "teeth", "-5", TRAMMEL_ERROR_RANGE, "found -5; a whole number from 1 to 10000 is wanted" },
  { "teeth", "1e9", TRAMMEL_ERROR_RANGE, "found 1000000000; a whole number from 1 to 10000 is wanted" },
  { "teeth", "10001", TRAMMEL_ERROR_RANGE, NULL },
  { "teeth", "1.5", TRAMMEL_ERROR_PARSE, "found “1.5”; a whole number from 1 to 10000 is wanted" },
  { "teeth", "twelve", TRAMMEL_ERROR_PARSE, "found “twelve”; a whole number from 1 to 10000 is wanted" },
  { "teeth", "nan", TRAMMEL_ERROR_PARSE, NULL },
  { "teeth", "1e400", TRAMMEL_ERROR_OVERFLOW, NULL },
  { "idlers", "12, 0", TRAMMEL_ERROR_RANGE, NULL },
  { "idlers", "12, x", TRAMMEL_ERROR_PARSE, NULL },
  { "idlers", "1 2 3 4 5 6 7 8 9 10 11 12 13 14 15 16 17", TRAMMEL_ERROR_RANGE, NULL },
  { "ratio", "0", TRAMMEL_ERROR_RANGE, "found 0; more than 0 and at most 1 is wanted" },
  { "ratio", "1.01", TRAMMEL_ERROR_RANGE, NULL },
  { "ratio", "-1/2", TRAMMEL_ERROR_RANGE, NULL },
  { "ratio", "half", TRAMMEL_ERROR_PARSE, NULL },
  { "ratio", "1/0", TRAMMEL_ERROR_RANGE, NULL },
  { "free", "0", TRAMMEL_ERROR_RANGE, "found 0; more than 0 is wanted" },
  { "free", "-3", TRAMMEL_ERROR_RANGE, NULL },
  { "size", "19.99 mm", TRAMMEL_ERROR_RANGE, "found 19.99 mm; from 20 mm to 1000 mm is wanted" },
  { "size", "2 m", TRAMMEL_ERROR_RANGE, "found 2 m; from 20 mm to 1000 mm is wanted" },
  { "size", "inf", TRAMMEL_ERROR_PARSE, NULL },
  { "size", "2 potatoes", TRAMMEL_ERROR_PARSE, NULL },
  { "lash", "-1 deg", TRAMMEL_ERROR_RANGE, "found -1 deg; 0 mm or more is wanted" },
  { "pitch", "0 in", TRAMMEL_ERROR_RANGE, "found 0 in; more than 0 mm is wanted" },
  { "color", "blue", TRAMMEL_ERROR_PARSE, "found “blue”; one of red, green is wanted" },
  { "reverse", "maybe", TRAMMEL_ERROR_PARSE, "found “maybe”; yes or no is wanted" },
  { "note", "\xff\xfe", TRAMMEL_ERROR_PARSE, NULL },
  { "points", "600 rpm", TRAMMEL_ERROR_PARSE, NULL },
  { "points", "0 rpm 0.4 N·m, 600 rpm 0.2 N·m", TRAMMEL_ERROR_PARSE, NULL },
  { "points", "0 rpm 0.4 mm", TRAMMEL_ERROR_PARSE, NULL },
  { "points", "0 rpm nan N·m", TRAMMEL_ERROR_PARSE, NULL },
  { "points", "0 rpm -1 N·m", TRAMMEL_ERROR_RANGE, NULL },
  { "points", "600 rpm 0.2 N·m; 600 rpm 0.1 N·m", TRAMMEL_ERROR_RANGE,
    "found 600 rpm after 600 rpm; pairs in rising order are wanted" },
  { "points", "10 rev/s 0.2 N·m; 500 rpm 0.3 N·m", TRAMMEL_ERROR_RANGE, NULL },
  { "centers", "36 mm; 0 mm", TRAMMEL_ERROR_RANGE, "found 0 mm; more than 0 mm and at most 1000 mm is wanted" },
  { "centers", "36 mm; 2 potatoes", TRAMMEL_ERROR_PARSE, NULL },
  { "centers", "36 mm, 20 mm", TRAMMEL_ERROR_PARSE, NULL },
};

START_TEST (refuses_what_is_out_of_bounds)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  g_autoptr (TrammelRecord) before = trammel_record_new (&kind);
  g_autoptr (GError) error = NULL;
  ck_assert_ptr_null (trammel_record_with_text (record, unreadable[_i].key, unreadable[_i].text, NULL, &error));
  ck_assert_msg (g_error_matches (error, TRAMMEL_ERROR, unreadable[_i].code), "%s", error->message);
  if (unreadable[_i].message != NULL)
    ck_assert_str_eq (error->message, unreadable[_i].message);
  ck_assert (g_utf8_validate (error->message, -1, NULL));
  ck_assert (trammel_record_equal (record, before));
}
END_TEST

START_TEST (an_edit_leaves_the_old_value)
{
  g_autoptr (TrammelRecord) before = trammel_record_new (&kind);
  g_autoptr (TrammelRecord) after = trammel_record_with_integer (before, "teeth", 40, NULL);
  ck_assert_int_eq (trammel_record_integer (before, "teeth"), 12);
  ck_assert_int_eq (trammel_record_integer (after, "teeth"), 40);
  ck_assert (!trammel_record_equal (before, after));

  g_autoptr (TrammelRecord) restored = trammel_record_with_text (after, "teeth", "12", NULL, NULL);
  ck_assert (trammel_record_equal (before, restored));
  g_autoptr (TrammelRecord) unset = trammel_record_with_text (after, "teeth", "  ", NULL, NULL);
  ck_assert (!trammel_record_has (unset, "teeth"));
  ck_assert_int_eq (trammel_record_integer (unset, "teeth"), 0);
}
END_TEST

START_TEST (typed_edits)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  const gint64 idlers[] = { 20, 31 }, bad[] = { 20, 0 }, many[17] = { 0 };
  gsize n = 0;
  g_autoptr (GError) error = NULL;

  g_autoptr (TrammelRecord) listed = trammel_record_with_integers (record, "idlers", idlers, 2, NULL);
  const gint64 *values = trammel_record_integers (listed, "idlers", &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_int_eq (values[0], 20);
  ck_assert_int_eq (values[1], 31);
  g_autoptr (TrammelRecord) emptied = trammel_record_with_integers (listed, "idlers", NULL, 0, NULL);
  ck_assert (trammel_record_equal (record, emptied));

  ck_assert_ptr_null (trammel_record_with_integers (record, "idlers", bad, 2, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
  g_clear_error (&error);
  ck_assert_ptr_null (trammel_record_with_integers (record, "idlers", many, 17, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
  g_clear_error (&error);
  ck_assert_ptr_null (trammel_record_with_integer (record, "teeth", G_MININT64, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
  g_clear_error (&error);
  ck_assert_ptr_null (trammel_record_with_integer (record, "teeth", G_MAXINT64, &error));
  g_clear_error (&error);

  g_autoptr (TrammelRecord) reversed = trammel_record_with_flag (record, "reverse", 5);
  ck_assert_int_eq (trammel_record_flag (reversed, "reverse"), TRUE);
}
END_TEST

START_TEST (pairs)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  TrammelPair many[TRAMMEL_RECORD_MAX_PAIRS + 1];
  g_autoptr (GError) error = NULL;
  gsize n = 99;
  ck_assert_ptr_null (trammel_record_pairs (record, "points", &n));
  ck_assert_uint_eq (n, 0);
  ck_assert (!trammel_record_has (record, "points"));

  set (&record, "points", "0 rpm 40 N·cm; 60 rpm 0.2 N·m");
  const TrammelPair *values = trammel_record_pairs (record, "points", &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_double_eq_tol (trammel_quantity_value (values[0].second), 0.4, 1e-15);
  ck_assert_double_eq_tol (trammel_quantity_value (values[1].first), 6.283185307179586, 1e-14);

  g_autoptr (TrammelRecord) copied = trammel_record_with_pairs (record, "points", values, n, NULL);
  ck_assert (trammel_record_equal (record, copied));
  g_autoptr (TrammelRecord) shorter = trammel_record_with_pairs (record, "points", values, 1, NULL);
  ck_assert (!trammel_record_equal (record, shorter));
  g_autoptr (TrammelRecord) emptied = trammel_record_with_pairs (record, "points", NULL, 0, NULL);
  ck_assert (!trammel_record_has (emptied, "points"));
  g_autoptr (TrammelRecord) blank = trammel_record_with_text (record, "points", " ; ", NULL, NULL);
  ck_assert (trammel_record_equal (blank, emptied));

  for (gsize i = 0; i < G_N_ELEMENTS (many); i++)
    many[i] = (TrammelPair){ { { (gint64)i, 1, 0 }, values[0].first.unit }, values[0].second };
  g_autoptr (TrammelRecord) full = trammel_record_with_pairs (record, "points", many, TRAMMEL_RECORD_MAX_PAIRS, NULL);
  ck_assert_ptr_nonnull (full);
  ck_assert_ptr_null (trammel_record_with_pairs (record, "points", many, G_N_ELEMENTS (many), &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
}
END_TEST

START_TEST (lists_of_quantities)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  TrammelQuantity many[TRAMMEL_RECORD_MAX_QUANTITIES + 1];
  g_autoptr (GError) error = NULL;
  gsize n = 99;
  ck_assert_ptr_null (trammel_record_quantities (record, "centers", &n));
  ck_assert_uint_eq (n, 0);
  ck_assert (!trammel_record_has (record, "centers"));

  g_autoptr (TrammelRecord) inches = trammel_record_with_text (
      record, "centers", "1,5; 36 mm", trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in"), NULL);
  const TrammelQuantity *values = trammel_record_quantities (inches, "centers", &n);
  ck_assert_uint_eq (n, 2);
  ck_assert_double_eq_tol (trammel_quantity_value (values[0]), 38.1, 1e-12);
  ck_assert_double_eq (trammel_quantity_value (values[1]), 36);
  g_autofree char *text = trammel_record_text (inches, "centers");
  ck_assert_str_eq (text, "1 1/2 in; 36 mm");

  g_autoptr (TrammelRecord) copied = trammel_record_with_quantities (record, "centers", values, n, NULL);
  ck_assert (trammel_record_equal (inches, copied));
  g_autoptr (TrammelRecord) shorter = trammel_record_with_quantities (record, "centers", values, 1, NULL);
  ck_assert (!trammel_record_equal (inches, shorter));
  g_autoptr (TrammelRecord) emptied = trammel_record_with_quantities (inches, "centers", NULL, 0, NULL);
  ck_assert (trammel_record_equal (record, emptied));
  g_autoptr (TrammelRecord) blank = trammel_record_with_text (inches, "centers", " ; ", NULL, NULL);
  ck_assert (trammel_record_equal (blank, emptied));

  for (gsize i = 0; i < G_N_ELEMENTS (many); i++)
    many[i] = values[1];
  g_autoptr (TrammelRecord) full
      = trammel_record_with_quantities (record, "centers", many, TRAMMEL_RECORD_MAX_QUANTITIES, NULL);
  ck_assert_ptr_nonnull (full);
  ck_assert_ptr_null (trammel_record_with_quantities (record, "centers", many, G_N_ELEMENTS (many), &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
}
END_TEST

START_TEST (exact_values)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  TrammelExact exact;
  g_autoptr (GError) error = NULL;
  set (&record, "size", "5 in");
  set (&record, "lash", "90 deg");
  set (&record, "free", "57/11");
  ck_assert (trammel_record_exact (record, "size", &exact, NULL));
  ck_assert (trammel_exact_equal (exact, (TrammelExact){ 127, 1, 0 }));
  ck_assert (trammel_record_exact (record, "lash", &exact, NULL));
  ck_assert (trammel_exact_equal (exact, (TrammelExact){ 1, 2, 1 }));
  ck_assert (trammel_record_exact (record, "free", &exact, NULL));
  ck_assert (trammel_exact_equal (exact, (TrammelExact){ 57, 11, 0 }));
  ck_assert (trammel_record_exact (record, "teeth", &exact, NULL));
  ck_assert (trammel_exact_equal (exact, (TrammelExact){ 12, 1, 0 }));
  ck_assert (!trammel_record_exact (record, "ratio", &exact, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
  ck_assert_str_eq (error->message, "ratio is not set");
}
END_TEST

START_TEST (an_assumed_unit_is_for_its_own_dimension)
{
  const TrammelUnit *inch = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in");
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  g_autoptr (TrammelRecord) sized = trammel_record_with_text (record, "size", "5", inch, NULL);
  g_autoptr (TrammelRecord) with_teeth = trammel_record_with_text (record, "teeth", "5", inch, NULL);
  ck_assert_double_eq (trammel_record_value (sized, "size"), 127);
  ck_assert_int_eq (trammel_record_integer (with_teeth, "teeth"), 5);
}
END_TEST

START_TEST (checks)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&picky_kind);
  g_autoptr (GError) error = NULL;
  ck_assert (!trammel_record_check (record, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE));
  g_clear_error (&error);
  set (&record, "color", "green");
  ck_assert (trammel_record_check (record, &error));
  set (&record, "teeth", "");
  ck_assert (!trammel_record_check (record, &error));
  ck_assert_str_eq (error->message, "teeth: not set; a whole number from 1 to 10000 is wanted");
}
END_TEST

START_TEST (extra_is_carried)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (&kind);
  g_autoptr (TrammelRecord) extended = trammel_record_with_extra (record, "{\"a\":1}");
  g_autoptr (TrammelRecord) edited = trammel_record_with_text (extended, "note", "hello", NULL, NULL);
  g_autoptr (TrammelRecord) bare = trammel_record_with_extra (extended, NULL);
  ck_assert_str_eq (trammel_record_extra (edited), "{\"a\":1}");
  ck_assert (!trammel_record_equal (record, extended));
  ck_assert (trammel_record_equal (record, bare));
}
END_TEST

START_TEST (records_of_two_kinds_differ)
{
  g_autoptr (TrammelRecord) one = trammel_record_new (&kind);
  g_autoptr (TrammelRecord) other = trammel_record_new (&picky_kind);
  ck_assert (!trammel_record_equal (one, other));
  ck_assert (!trammel_record_equal (one, NULL));
}
END_TEST

static gpointer
ref_and_unref (gpointer data)
{
  for (int i = 0; i < 100000; i++)
    {
      TrammelRecord *mine = trammel_record_ref (data);
      if (trammel_record_integer (mine, "teeth") != 12)
        return data;
      trammel_record_unref (mine);
    }
  return NULL;
}

START_TEST (threads_share_a_record)
{
  TrammelRecord *record = trammel_record_new (&kind);
  GThread *threads[4];
  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("sharer", ref_and_unref, record);
  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    ck_assert_ptr_null (g_thread_join (threads[i]));
  ck_assert_int_eq (trammel_record_integer (record, "teeth"), 12);
  trammel_record_unref (record);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("record");
  TCase *records = tcase_create ("records");
  tcase_add_test (records, starts_with_initial_values);
  tcase_add_loop_test (records, text_of_every_type, 0, G_N_ELEMENTS (readable));
  tcase_add_loop_test (records, refuses_what_is_out_of_bounds, 0, G_N_ELEMENTS (unreadable));
  tcase_add_test (records, an_edit_leaves_the_old_value);
  tcase_add_test (records, typed_edits);
  tcase_add_test (records, pairs);
  tcase_add_test (records, lists_of_quantities);
  tcase_add_test (records, exact_values);
  tcase_add_test (records, an_assumed_unit_is_for_its_own_dimension);
  tcase_add_test (records, checks);
  tcase_add_test (records, extra_is_carried);
  tcase_add_test (records, records_of_two_kinds_differ);
  tcase_add_test (records, threads_share_a_record);
  suite_add_tcase (suite, records);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
