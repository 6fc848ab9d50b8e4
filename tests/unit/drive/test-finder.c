/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/finder-grid.h"
#include "drive/finder.h"
#include "drive/motor.h"
#include "drive/output.h"

#include <check.h>
#include <math.h>
#include <string.h>

/* What is found is held against plain enumeration in the tests of the command; here is what a program sees. */

static TrammelExact
exact (const char *text)
{
  TrammelExact value;
  ck_assert_msg (trammel_exact_parse (text, &value, NULL), "%s", text);
  return value;
}

static TrammelFinderResult *
search (const char *bin, const TrammelFinderQuery *query)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelGears) gears = trammel_gears_parse (bin, NULL);
  TrammelFinderResult *result = trammel_finder_search (gears, query, NULL, &error);
  ck_assert_msg (result != NULL, "%s", error != NULL ? error->message : "");
  return result;
}

/* "12, 13, …" to @last. */
static char *
sizes_to (int last)
{
  GString *text = g_string_new ("12");
  for (int teeth = 13; teeth <= last; teeth++)
    g_string_append_printf (text, ",%d", teeth);
  return g_string_free (text, FALSE);
}

START_TEST (change_gears)
{
  /* 80/63 stands for 127/100 with −1/8001 (common practice; follows from arithmetic). */
  TrammelFinderQuery query = trammel_finder_query (exact ("127/100"));
  query.most_pairs = 1;
  g_autoptr (TrammelFinderResult) result = search ("40,50,63,80,100", &query);
  TrammelExact error;

  ck_assert_uint_eq (result->n, 1);
  ck_assert_int_eq (result->trains[0].pairs[0].driver, 63);
  ck_assert_int_eq (result->trains[0].pairs[0].driven, 80);
  ck_assert_int_eq (result->trains[0].direction, -1);
  ck_assert_double_eq_tol (result->trains[0].span, 71.5, 1e-12);
  /* One mesh: twice 0.04 mm over 80 mm */
  ck_assert_double_eq_tol (result->trains[0].play, 0.001, 1e-15);
  ck_assert (trammel_finder_error (&result->trains[0], query.target, &error));
  ck_assert (trammel_exact_equal (error, (TrammelExact){ -1, 8001, 0 }));
  ck_assert_double_eq_tol (result->trains[0].error, -1.0 / 8001, 1e-20);
}
END_TEST

START_TEST (an_error_with_pi_is_not_exact)
{
  TrammelFinderQuery query = trammel_finder_query (exact ("pi"));
  query.most_pairs = 1;
  g_autoptr (TrammelFinderResult) result = search ("7,22,113,355", &query);
  TrammelExact error;

  ck_assert_uint_ge (result->n, 2);
  ck_assert_int_eq (result->trains[0].ratio.num, 355);
  ck_assert_int_eq (result->trains[1].ratio.num, 22);
  ck_assert (!trammel_finder_error (&result->trains[0], query.target, &error));
}
END_TEST

static gboolean
not_48_teeth (const TrammelGearSize *one, const TrammelGearSize *other, gpointer data)
{
  int *asked = data;
  (*asked)++;
  return one->teeth + other->teeth != 48;
}

START_TEST (only_what_fits)
{
  TrammelFinderQuery query = trammel_finder_query (exact ("3"));
  int asked = 0;
  query.fits = not_48_teeth;
  query.fits_data = &asked;
  query.most_pairs = 1;
  g_autoptr (TrammelFinderResult) result = search ("12,15,36,45", &query);

  /* 12:36 would be 48 teeth */
  ck_assert_uint_eq (result->n, 1);
  ck_assert_int_eq (result->trains[0].pairs[0].driver, 15);
  ck_assert_int_eq (asked, 10);
}
END_TEST

START_TEST (arranged_so_that_it_fits)
{
  /* 12:36 may not be, so that the same four gears run as 12:30 and 15:36 */
  TrammelFinderQuery query = trammel_finder_query (exact ("6"));
  int asked = 0;
  query.fits = not_48_teeth;
  query.fits_data = &asked;
  g_autoptr (TrammelFinderResult) result = search ("12,15,30,36", &query);

  ck_assert_uint_eq (result->n, 1);
  ck_assert_int_eq (result->trains[0].n_pairs, 2);
  for (int i = 0; i < 2; i++)
    ck_assert_int_ne (result->trains[0].pairs[i].driver + result->trains[0].pairs[i].driven, 48);
}
END_TEST

START_TEST (only_what_runs_on_a_plate)
{
  /* Centers of module 1: 12:38 run at 25 mm, 14:42 at 28 mm, 12:42 at 27 mm, 14:38 at 26 mm; a plate with holes every
   * 25 mm has the first distance, one with holes every 28 mm the second, and their diagonals (35.4, 39.6) are too far.
   */
  TrammelFinderQuery query = trammel_finder_query (exact ("3.05"));
  TrammelHoleGrid grid = { .pitch = 25 };
  query.fits = trammel_finder_fits_grid;
  query.fits_data = &grid;
  query.tolerance = 0.1;
  query.most_pairs = 1;
  g_autoptr (TrammelFinderResult) result = search ("12,38,14,42", &query);

  ck_assert_uint_eq (result->n, 1);
  ck_assert_int_eq (result->trains[0].pairs[0].driven, 38);
  grid.pitch = 28;
  g_autoptr (TrammelFinderResult) other = search ("12,38,14,42", &query);
  ck_assert_uint_eq (other->n, 1);
  ck_assert_int_eq (other->trains[0].pairs[0].driven, 42);
}
END_TEST

static void
note_progress (double part, gpointer data)
{
  double *last = data;
  ck_assert_double_gt (part, *last);
  ck_assert_double_le (part, 1);
  *last = part;
}

START_TEST (progress_rises_to_one)
{
  TrammelFinderQuery query = trammel_finder_query (exact ("pi"));
  g_autofree char *bin = sizes_to (45);
  double last = 0;
  query.most_pairs = 4;
  query.progress = note_progress;
  query.progress_data = &last;
  g_autoptr (TrammelFinderResult) result = search (bin, &query);

  ck_assert_double_eq (last, 1);
  ck_assert_uint_eq (result->n, 20);
}
END_TEST

static void
cancel_at_once (double part, gpointer data)
{
  g_cancellable_cancel (data);
}

START_TEST (can_be_cancelled)
{
  g_autoptr (GCancellable) cancellable = g_cancellable_new ();
  g_autoptr (GError) error = NULL;
  g_autofree char *bin = sizes_to (51);
  g_autoptr (TrammelGears) gears = trammel_gears_parse (bin, NULL);
  TrammelFinderQuery query = trammel_finder_query (exact ("pi"));
  query.most_pairs = 4;
  query.progress = cancel_at_once;
  query.progress_data = cancellable;

  ck_assert_ptr_null (trammel_finder_search (gears, &query, cancellable, &error));
  ck_assert (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED));
}
END_TEST

/* The sets of a large bin are made in ranges, those of a part of it at once: what the part gives must all be there. */
static gboolean
same_pairs (const TrammelFinderTrain *a, const TrammelFinderTrain *b)
{
  gboolean same = a->n_pairs == b->n_pairs;
  for (int i = 0; same && i < a->n_pairs; i++)
    same = a->pairs[i].driver == b->pairs[i].driver && a->pairs[i].driven == b->pairs[i].driven
           && a->pairs[i].idler == b->pairs[i].idler && trammel_exact_equal (a->pairs[i].module, b->pairs[i].module);
  return same;
}

START_TEST (many_ranges_miss_nothing)
{
  TrammelFinderQuery query = trammel_finder_query (exact ("pi"));
  g_autofree char *large = sizes_to (80);
  g_autofree char *small = sizes_to (68);
  query.most_pairs = 4;
  query.list = TRAMMEL_FINDER_MOST_LISTED;
  query.tolerance = 3e-8;
  g_autoptr (TrammelFinderResult) of_large = search (large, &query);
  g_autoptr (TrammelFinderResult) of_small = search (small, &query);

  ck_assert_uint_lt (of_large->n, TRAMMEL_FINDER_MOST_LISTED);
  ck_assert_uint_gt (of_large->n, of_small->n);
  ck_assert_uint_gt (of_small->n, 20);
  for (gsize i = 0; i < of_small->n; i++)
    {
      const TrammelFinderTrain *train = &of_small->trains[i];
      gboolean met = FALSE;
      for (gsize j = 0; j < of_large->n && !met; j++)
        met = same_pairs (train, &of_large->trains[j]);
      ck_assert_msg (met, "%g", train->error);
    }
}
END_TEST

static gpointer
search_in_thread (gpointer data)
{
  const TrammelFinderQuery query = trammel_finder_query (exact ("25/3"));
  return search (data, &query);
}

START_TEST (threads_do_not_meet)
{
  GThread *threads[4];
  char bin[] = "12,16,18,20x2,24x2,30,36,40,48,50";
  const TrammelFinderQuery query = trammel_finder_query (exact ("25/3"));
  g_autoptr (TrammelFinderResult) wanted = search (bin, &query);

  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    threads[i] = g_thread_new ("search", search_in_thread, bin);
  for (gsize i = 0; i < G_N_ELEMENTS (threads); i++)
    {
      g_autoptr (TrammelFinderResult) found = g_thread_join (threads[i]);
      ck_assert_uint_eq (found->n, wanted->n);
      for (gsize j = 0; j < found->n; j++)
        ck_assert (trammel_exact_equal (found->trains[j].ratio, wanted->trains[j].ratio));
    }
}
END_TEST

static TrammelTrain *
example_train (void)
{
  g_autoptr (TrammelRecord) motor = trammel_record_new (trammel_motor_kind ("stepper")); /* 200 × 16 */
  g_autoptr (TrammelRecord) output = trammel_record_new (trammel_output_kind ("screw"));
  g_autoptr (TrammelRecord) with_pitch = trammel_record_with_text (output, "pitch", "2 mm", NULL, NULL);
  g_autoptr (TrammelRecord) with_starts = trammel_record_with_integer (with_pitch, "starts", 4, NULL);
  return trammel_train_new (motor, with_starts, FALSE);
}

START_TEST (what_counts_per_mm_takes)
{
  /* 3200 counts a turn, 8 mm a turn: 400 per mm; 1200 take 3 turns in for one out, by hand */
  g_autoptr (TrammelTrain) train = example_train ();
  TrammelExact target;
  g_autoptr (GError) error = NULL;

  ck_assert (trammel_finder_target (train, trammel_exact_integer (1200), &target, NULL));
  ck_assert (trammel_exact_equal (target, trammel_exact_integer (3)));
  ck_assert (!trammel_finder_target (train, TRAMMEL_EXACT_ZERO, &target, &error));
  ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
}
END_TEST

START_TEST (what_is_found_goes_into_the_train)
{
  g_autoptr (TrammelTrain) train = example_train ();
  TrammelFinderQuery query = trammel_finder_query (exact ("3"));
  query.direction = TRAMMEL_FINDER_SAME;
  query.most_pairs = 1;
  g_autoptr (TrammelFinderResult) result = search ("12@0.5,20@0.5,36@0.5", &query);
  g_autoptr (TrammelTrain) made = trammel_finder_apply (train, &result->trains[0], NULL, NULL);
  g_autoptr (TrammelFacts) facts = trammel_train_facts (made, NULL);
  gsize n;
  const gint64 *idlers = trammel_record_integers (trammel_train_stage (made, 0), "idlers", &n);

  ck_assert_uint_eq (trammel_train_n_stages (made), 1);
  ck_assert_int_eq (trammel_record_integer (trammel_train_stage (made, 0), "driver"), 12);
  ck_assert_int_eq (trammel_record_integer (trammel_train_stage (made, 0), "driven"), 36);
  ck_assert (n == 1 && idlers[0] == 20);
  ck_assert_double_eq (trammel_record_value (trammel_train_stage (made, 0), "module"), 0.5);
  ck_assert (trammel_exact_equal (facts->counts_per_unit, trammel_exact_integer (1200)));
  ck_assert_int_eq (facts->direction, 1);

  /* By hand: 12 and 20 of module 0.5 are 8 mm apart, 20 and 36 are 14. */
  const TrammelHoleGrid plate = { .pitch = 2 };
  g_autoptr (TrammelTrain) placed = trammel_finder_apply (train, &result->trains[0], &plate, NULL);
  g_autofree char *centers = trammel_record_text (trammel_train_stage (placed, 0), "center");
  ck_assert_str_eq (centers, "8 mm; 14 mm");
  ck_assert_double_eq (trammel_record_value (trammel_train_stage (placed, 0), "lash"), 0);
  const TrammelHoleGrid wide = { .pitch = 9 };
  g_autoptr (TrammelTrain) nowhere = trammel_finder_apply (train, &result->trains[0], &wide, NULL);
  ck_assert (!trammel_record_has (trammel_train_stage (nowhere, 0), "center"));
}
END_TEST

START_TEST (queries_out_of_bounds)
{
  g_autoptr (TrammelGears) gears = trammel_gears_parse ("12,36", NULL);
  TrammelFinderQuery queries[8];
  for (gsize i = 0; i < G_N_ELEMENTS (queries); i++)
    queries[i] = trammel_finder_query (exact ("3"));
  queries[0].target = TRAMMEL_EXACT_ZERO;
  queries[1].target = exact ("-3");
  queries[2].most_pairs = 0;
  queries[3].most_pairs = 5;
  queries[4].tolerance = -0.001;
  queries[5].tolerance = NAN;
  queries[6].list = 0;
  queries[7].list = TRAMMEL_FINDER_MOST_LISTED + 1;
  for (gsize i = 0; i < G_N_ELEMENTS (queries); i++)
    {
      g_autoptr (GError) error = NULL;
      ck_assert_ptr_null (trammel_finder_search (gears, &queries[i], NULL, &error));
      ck_assert (g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE));
    }
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("finder");
  TCase *tcase = tcase_create ("finder");
  tcase_set_timeout (tcase, 60);
  tcase_add_test (tcase, change_gears);
  tcase_add_test (tcase, an_error_with_pi_is_not_exact);
  tcase_add_test (tcase, only_what_fits);
  tcase_add_test (tcase, arranged_so_that_it_fits);
  tcase_add_test (tcase, only_what_runs_on_a_plate);
  tcase_add_test (tcase, progress_rises_to_one);
  tcase_add_test (tcase, can_be_cancelled);
  tcase_add_test (tcase, many_ranges_miss_nothing);
  tcase_add_test (tcase, threads_do_not_meet);
  tcase_add_test (tcase, what_counts_per_mm_takes);
  tcase_add_test (tcase, what_is_found_goes_into_the_train);
  tcase_add_test (tcase, queries_out_of_bounds);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed == 0 ? 0 : 1;
}
