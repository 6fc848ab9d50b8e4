/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The model against the landed vector built up in coordinates, and its derivatives against differences. */
#include "rows.h"

#include "measure/block-private.h"
#include "measure/model-private.h"
#include "measure/triangle-private.h"

static const char *const every_kind
    = "outside X 100 1\noutside X+Y 141 1\noutside X-Y+Z 120 1\noutside Z 10 1\n"
      "inside Y 80 1\ninside XY@30 75 1\ninside YZ@-70 33 1\ncenter X+Z 60 1\n"
      "center X+Y+Z 95 1\nheight Z 12 1\ntravel X 150 1 . reversed\ntravel X-Z 99 1\n"
      "travel Y 1 1\ntravel E 55 1\ntravel A 180 1 . reversed\nposition X 70 1 . +\n"
      "position X -70 1 . - left\nposition Y 3 1\nposition A 90 1 . - left\nreversal X 30 1\nreversal A . 1";

typedef struct
{
  GArray *rows;
  TrammelAdjustmentInput input;
  TrammelUnknowns unknowns;
  double *values;
} Model;

/* Unknowns as large as bad machines have. */
static double
random_value (GRand *random, TrammelParameterKind kind)
{
  static const double sizes[] = { 0.05, 0.1, 0.01, 0.3, 0.3, 0.5, 20 };

  return g_rand_double_range (random, -1, 1) * sizes[kind];
}

static void
model_init (Model *model, guint32 seed)
{
  GRand *random = g_rand_new_with_seed (seed);

  model->rows = rows_from_text (every_kind);
  model->input = input_for (model->rows);
  trammel_unknowns_init (&model->unknowns);
  for (gsize i = 0; i < model->input.n_readings; i++)
    ck_assert (trammel_unknowns_touch (&model->unknowns, &model->input.readings[i]));
  ck_assert (trammel_unknowns_arrange (&model->unknowns, &model->input, NULL));
  model->values = g_new (double, model->unknowns.n);
  for (guint i = 0; i < model->unknowns.n; i++)
    model->values[i] = random_value (random, model->unknowns.parameters[i].kind);
  g_rand_free (random);
}

static void
model_clear (Model *model)
{
  trammel_unknowns_clear (&model->unknowns);
  g_array_unref (model->rows);
  g_free (model->values);
}

static void
evaluate (const Model *model, const TrammelReading *reading, TrammelModelRow *row)
{
  int datum = reading->kind == TRAMMEL_READING_POSITION ? trammel_unknowns_datum (&model->unknowns, reading) : -1;

  trammel_model_evaluate (&model->unknowns, model->values, reading, datum, row);
}

static double
value (const Model *model, const char *name)
{
  for (guint i = 0; i < model->unknowns.n; i++)
    if (strcmp (model->unknowns.parameters[i].name, name) == 0)
      return model->values[i];
  ck_abort_msg ("no %s", name);
  return NAN;
}

/* Where the commanded vector lands, in coordinates: x(1+eX) i + y(1+eY) (−sin g, cos g, 0) + z(1+eZ) k′. */
static double
landed_in_coordinates (const Model *model, const double v[3])
{
  double x = v[0] * (1 + value (model, "scale.X"));
  double y = v[1] * (1 + value (model, "scale.Y"));
  double z = v[2] * (1 + value (model, "scale.Z"));
  double g = value (model, "skew.XY");
  double j[3] = { -sin (g), cos (g), 0 };
  double k[3];

  /* k′ makes the angles 90° + gXZ with X and 90° + gYZ with j. */
  k[0] = cos (G_PI / 2 + value (model, "skew.XZ"));
  k[1] = (cos (G_PI / 2 + value (model, "skew.YZ")) - k[0] * j[0]) / j[1];
  k[2] = sqrt (1 - k[0] * k[0] - k[1] * k[1]);
  double landed[3] = { x + y * j[0] + z * k[0], y * j[1] + z * k[1], z * k[2] };
  return sqrt (landed[0] * landed[0] + landed[1] * landed[1] + landed[2] * landed[2]);
}

static double
predicted_by_the_table (const Model *model, const TrammelReading *reading)
{
  double c[3], length;
  char letter = reading->along.axes[0];
  double lash = letter == 'X' ? value (model, "lash.X") : letter == 'A' ? value (model, "lash.A") : 0;

  trammel_direction_vector (&reading->along, c);
  if (letter == 'E' || letter == 'A')
    length = reading->nominal * (1 + value (model, letter == 'E' ? "scale.E" : "scale.A"));
  else
    {
      double v[3] = { c[0] * reading->nominal, c[1] * reading->nominal, c[2] * reading->nominal };
      length = landed_in_coordinates (model, v);
    }

  double shrunk = length * (1 - value (model, "shrink"));
  double beads = 2 * value (model, "bead") * (fabs (c[0]) + fabs (c[1]));
  switch ((TrammelReadingKind)reading->kind)
    {
    case TRAMMEL_READING_OUTSIDE:
      return shrunk + beads;
    case TRAMMEL_READING_INSIDE:
      return shrunk - beads;
    case TRAMMEL_READING_CENTER:
      return shrunk;
    case TRAMMEL_READING_HEIGHT:
      return shrunk + value (model, "foot");
    case TRAMMEL_READING_TRAVEL:
      return length - (reading->approach == TRAMMEL_APPROACH_REVERSED ? lash : 0);
    case TRAMMEL_READING_REVERSAL:
      return lash;
    case TRAMMEL_READING_POSITION:
    default:
      {
        g_autofree char *datum
            = g_strdup_printf ("datum.%c%s%s", letter, reading->set ? "." : "", reading->set ? reading->set : "");
        double side = reading->approach == TRAMMEL_APPROACH_UP     ? 1
                      : reading->approach == TRAMMEL_APPROACH_DOWN ? -1
                                                                   : 0;
        double sign = letter == 'X' && reading->nominal < 0 ? -1 : 1; /* |A v| has lost it */
        return value (model, datum) + sign * length - side * lash / 2;
      }
    }
}

START_TEST (predicts_what_the_table_says)
{
  Model model;
  TrammelModelRow row;

  model_init (&model, (guint32)_i);
  for (gsize i = 0; i < model.input.n_readings; i++)
    {
      const TrammelReading *reading = &model.input.readings[i];
      evaluate (&model, reading, &row);
      ck_assert (row.complete);
      double wanted = predicted_by_the_table (&model, reading);
      ck_assert_msg (fabs (row.predicted - wanted) < 1e-11, "row %u: %.15g, not %.15g", (guint)i, row.predicted,
                     wanted);
    }
  model_clear (&model);
}
END_TEST

/* Differences of fourth order, which are good to about 1e-10 here. */
static double
difference (Model *model, const TrammelReading *reading, guint parameter)
{
  static const double offsets[] = { 1, -1, 2, -2 };
  static const double weights[] = { 8, -8, -1, 1 };
  const double step = 1e-3;
  double at = model->values[parameter];
  double sum = 0;
  TrammelModelRow row;

  for (int i = 0; i < 4; i++)
    {
      model->values[parameter] = at + offsets[i] * step;
      evaluate (model, reading, &row);
      sum += weights[i] * row.predicted;
    }
  model->values[parameter] = at;
  return sum / (12 * step);
}

static double
derivative (const TrammelModelRow *row, guint parameter)
{
  for (guint k = 0; k < row->n; k++)
    if (row->parameter[k] == (int)parameter)
      return row->derivative[k];
  return 0;
}

START_TEST (derivatives_are_those_of_the_prediction)
{
  Model model;
  TrammelModelRow row;

  model_init (&model, (guint32)_i + 1000);
  for (gsize i = 0; i < model.input.n_readings; i++)
    for (guint parameter_i = 0; parameter_i < model.unknowns.n; parameter_i++)
      {
        const TrammelReading *reading = &model.input.readings[i];
        evaluate (&model, reading, &row);
        double analytic = derivative (&row, parameter_i);
        double numeric = difference (&model, reading, parameter_i);
        ck_assert_msg (fabs (analytic - numeric) <= 1e-8 * (fabs (numeric) + 1), "row %u by %s: %.12g, not %.12g",
                       (guint)i, model.unknowns.parameters[parameter_i].name, analytic, numeric);
      }
  model_clear (&model);
}
END_TEST

/* Which unknowns enter, in their order. */
static const struct
{
  const char *rows, *names;
} entering[] = {
  { "outside X 100 1", "scale.X shrink bead" },
  { "center X 100 1", "scale.X shrink" },
  { "outside Z 100 1", "scale.Z shrink" },
  { "height Z 100 1", "scale.Z shrink foot" },
  { "travel X 100 1", "scale.X" },
  { "travel Y 100 1\ntravel X 10 1", "scale.X scale.Y" },
  { "travel A 100 1 . reversed\ntravel E 10 1", "scale.E scale.A lash.A" },
  { "travel X+Y 100 1", "scale.X scale.Y skew.XY" },
  { "travel X+Y+Z 100 1", "scale.X scale.Y scale.Z skew.XY skew.XZ skew.YZ" },
  { "travel YZ@30 100 1", "scale.Y scale.Z skew.YZ" },
  { "travel XY@90 100 1", "scale.Y" },
  { "position X 100 1", "scale.X datum.X" },
  { "reversal X 100 1", "lash.X" },
  { "reversal E . 1\ntravel E 10 1", "scale.E lash.E" },
  { "position X 100 1 . . b\nposition X 100 1 . + a\nposition X 0 1\nposition X 1 1 . . b",
    "scale.X lash.X datum.X.b datum.X.a datum.X" },
};

START_TEST (only_touched_unknowns_enter)
{
  g_autoptr (GArray) rows = rows_from_text (entering[_i].rows);
  g_autoptr (GString) names = g_string_new (NULL);
  TrammelAdjustmentInput input = input_for (rows);
  TrammelUnknowns unknowns;

  trammel_unknowns_init (&unknowns);
  for (gsize i = 0; i < input.n_readings; i++)
    ck_assert (trammel_unknowns_touch (&unknowns, &input.readings[i]));
  ck_assert (trammel_unknowns_arrange (&unknowns, &input, NULL));
  for (guint i = 0; i < unknowns.n; i++)
    g_string_append_printf (names, "%s%s", i > 0 ? " " : "", unknowns.parameters[i].name);
  ck_assert_str_eq (names->str, entering[_i].names);
  trammel_unknowns_clear (&unknowns);
}
END_TEST

/* x + y = 3, x − y = 1, 2x + y = 5.5, by hand: normal equations 6x + 2y = 15, 2x + 3y = 7.5 give x = 30/14, y = 15/14;
 * (AᵀA)⁻¹ = (3, −2; −2, 6)/14; residuals −3/14, −1/14, 2/14, sum of squares 1/14. */
START_TEST (solves_least_squares_by_hand)
{
  static const guint columns[] = { 0, 1 };
  static const double rows[3][2] = { { 1, 1 }, { 1, -1 }, { 2, 1 } };
  static const double rhs[] = { 3, 1, 5.5 };
  TrammelTriangle triangle;
  double x[2], covariance[4], involved[2];

  trammel_triangle_init (&triangle, 2);
  for (int i = 0; i < 3; i++)
    trammel_triangle_fold (&triangle, columns, rows[i], 2, rhs[i]);
  ck_assert_int_eq (trammel_triangle_solve (&triangle, x, covariance, involved), 0);
  ck_assert_double_eq_tol (x[0], 30.0 / 14, 1e-14);
  ck_assert_double_eq_tol (x[1], 15.0 / 14, 1e-14);
  ck_assert_double_eq_tol (covariance[0], 3.0 / 14, 1e-14);
  ck_assert_double_eq_tol (covariance[1], -2.0 / 14, 1e-14);
  ck_assert_double_eq_tol (covariance[3], 6.0 / 14, 1e-14);
  ck_assert_double_eq_tol (triangle.rest, 1.0 / 14, 1e-14);
  ck_assert_double_eq_tol (trammel_triangle_residual_square (&triangle, x), 1.0 / 14, 1e-14);
  /* |A x|² = 3.2142857² + 1.0714286² + 5.3571429² = (45² + 15² + 75²)/14² */
  ck_assert_double_eq_tol (trammel_triangle_step_square (&triangle, x), 7875.0 / 196, 1e-12);
  trammel_triangle_clear (&triangle);
}
END_TEST

/* y = 3 + 2x ± 1, the sign by turns in pairs (+ − − +), at x = 1…n with n a multiple of four: the signs are orthogonal
 * to 1 and to x, so the line is found exactly, the sum of squares is n, and the covariance is that of a line: slope
 * 12/(n(n²−1)), intercept 2(2n+1)/(n(n−1)). */
START_TEST (solves_blocks_of_rows_by_hand)
{
  static const guint columns[] = { 0, 1 };
  static const double signs[] = { 1, -1, -1, 1 };
  static const int lengths[] = { 4, 252, 256, 260, 512, 10000 };
  double n = lengths[_i];
  TrammelTriangle triangle;
  TrammelBlock block;
  double x[2], covariance[4];

  trammel_triangle_init (&triangle, 2);
  trammel_block_init (&block, &triangle);
  for (int i = 1; i <= lengths[_i]; i++)
    {
      double values[] = { 1, i };
      trammel_block_add (&block, columns, values, 2, 3 + 2.0 * i + signs[(i - 1) % 4]);
    }
  trammel_block_finish (&block);
  ck_assert_int_eq (trammel_triangle_solve (&triangle, x, covariance, NULL), 0);
  ck_assert_double_eq_tol (x[0], 3, 1e-10);
  ck_assert_double_eq_tol (x[1], 2, 1e-12);
  ck_assert_double_eq_tol (triangle.rest / n, 1, 1e-9);
  ck_assert_double_eq_tol (covariance[0] * n * (n - 1) / (2 * (2 * n + 1)), 1, 1e-11);
  ck_assert_double_eq_tol (covariance[3] * n * (n * n - 1) / 12, 1, 1e-11);
  trammel_triangle_clear (&triangle);
}
END_TEST

START_TEST (tells_which_columns_cannot_be_told_apart)
{
  static const guint columns[] = { 0, 1, 2 };
  static const double rows[4][3] = { { 1, 100, 1 }, { 2, 200, 0 }, { 3, 300, 5 }, { 4, 400, -1 } };
  TrammelTriangle triangle;
  double x[3], involved[3];

  trammel_triangle_init (&triangle, 3);
  for (int i = 0; i < 4; i++)
    trammel_triangle_fold (&triangle, columns, rows[i], 3, i);
  ck_assert_int_eq (trammel_triangle_solve (&triangle, x, NULL, involved), 1);
  ck_assert_double_gt (involved[0], 0.5);
  ck_assert_double_gt (involved[1], 0.5);
  ck_assert_double_lt (involved[2], 1e-6);

  trammel_triangle_reset (&triangle);
  ck_assert_int_eq (trammel_triangle_solve (&triangle, x, NULL, involved), 3);
  static const double not_finite[] = { 1, HUGE_VAL, 1 };
  trammel_triangle_fold (&triangle, columns, not_finite, 3, 0);
  ck_assert_int_eq (trammel_triangle_solve (&triangle, x, NULL, involved), -1);
  trammel_triangle_clear (&triangle);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("model");
  TCase *model = tcase_create ("model");
  TCase *triangle = tcase_create ("triangle");

  tcase_add_loop_test (model, predicts_what_the_table_says, 0, 20);
  tcase_add_loop_test (model, derivatives_are_those_of_the_prediction, 0, 20);
  tcase_add_loop_test (model, only_touched_unknowns_enter, 0, G_N_ELEMENTS (entering));
  tcase_add_test (triangle, solves_least_squares_by_hand);
  tcase_add_loop_test (triangle, solves_blocks_of_rows_by_hand, 0, 6);
  tcase_add_test (triangle, tells_which_columns_cannot_be_told_apart);
  suite_add_tcase (suite, model);
  suite_add_tcase (suite, triangle);
  return run_suite (suite);
}
