/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/cycles.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

#include "measure/block-private.h"

#define SIGNIFICANCE 0.05
/* What is left of a sine after all that is already in the model, against a sine that is met at phases all round. Below
 * this share of its length the targets do not show it. Common practice, no source. */
#define LEAST_SIGHT 0.15
/* A phase that shifts by more turns than this from the first target to the last, and not by chance. */
#define MOST_SHIFT 0.25
#define SHIFT_SIGNIFICANCE 0.001

/* Columns of the whole factorization: datum, scale, perhaps lash, then cosine and sine of each cycle. */
typedef struct
{
  TrammelTriangle all;
  guint n_base;
  double n_readings, n_sides, n_targets;
  double pure; /* sum of squares of the runs about their means */
  /* What is taken for pure error, and its degrees of freedom: that; where every run is alone, how the reversals at the
   * targets scatter about their mean, of which no cycle knows either. */
  double repeats, repeats_freedom, lack_freedom;
  GArray *cycles; /* of TrammelCycle */
  GArray *taken;  /* of guint: cycles in the model */
} Model;

static void
fill_row (const Model *model, double target, int side, double weight, double *row)
{
  row[0] = weight;
  row[1] = weight * target;
  if (model->n_base == 3)
    row[2] = -weight * side / 2;
  for (guint i = 0; i < model->cycles->len; i++)
    {
      const double turn = 2 * G_PI * target / g_array_index (model->cycles, TrammelCycle, i).period;
      row[model->n_base + 2 * i] = weight * cos (turn);
      row[model->n_base + 2 * i + 1] = weight * sin (turn);
    }
}

static void
add_side (Model *model, TrammelBlock *block, const TrammelPositionTarget *target, const TrammelPositionSide *side,
          int sign, const guint *columns, double *row)
{
  const double weight = sqrt ((double)side->n);

  if (side->n == 0)
    return;
  fill_row (model, target->target, sign, weight, row);
  trammel_block_add (block, columns, row, model->all.n, weight * side->mean);
  if (side->n > 1)
    model->pure += side->s * side->s * (double)(side->n - 1);
  model->n_readings += (double)side->n;
  model->n_sides++;
}

/* Reversals that differ, in the weight of both means: Σ w (B − B̄)², 1/w = 1/n↑ + 1/n↓. */
static void
take_reversals_for_repeats (Model *model, const TrammelPositionTarget *targets, gsize n)
{
  double weight = 0, mean = 0, square = 0;
  gsize n_both = 0;

  for (gsize i = 0; i < n; i++)
    {
      const double up = (double)targets[i].up.n, down = (double)targets[i].down.n;
      if (!(up * down > 0))
        continue;
      const double w = up * down / (up + down), from_mean = targets[i].reversal - mean;
      weight += w;
      mean += from_mean * w / weight;
      square += w * from_mean * (targets[i].reversal - mean);
      n_both++;
    }
  model->repeats = square;
  model->repeats_freedom = n_both > 0 ? (double)n_both - 1 : 0;
  model->lack_freedom = model->n_targets + 1;
}

static void
find_repeats (Model *model, const TrammelPositionTarget *targets, gsize n)
{
  model->repeats = model->pure;
  model->repeats_freedom = model->n_readings - model->n_sides;
  model->lack_freedom = model->n_sides;
  if (model->repeats_freedom < 1 && model->n_base == 3)
    take_reversals_for_repeats (model, targets, n);
}

static void
factorize (Model *model, const TrammelPositions *positions)
{
  const guint n_columns = model->n_base + 2 * model->cycles->len;
  g_autofree guint *columns = g_new (guint, n_columns);
  g_autofree double *row = g_new (double, n_columns);
  TrammelBlock block;
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, &n);

  for (guint i = 0; i < n_columns; i++)
    columns[i] = i;
  trammel_triangle_init (&model->all, n_columns);
  trammel_block_init_dense (&block, &model->all);
  for (gsize i = 0; i < n; i++)
    {
      add_side (model, &block, &targets[i], &targets[i].up, 1, columns, row);
      add_side (model, &block, &targets[i], &targets[i].down, -1, columns, row);
    }
  trammel_block_finish (&block);
  model->n_targets = (double)n;
  model->all.rest += model->pure;
  find_repeats (model, targets, n);
}

/* What a model leaves: mean square of the error, and its degrees of freedom. */
typedef struct
{
  double mean_square, freedom;
} Error;

/* Runs that are all equal, as a coarse scale makes them, tell of no scatter at all. */
static double
chance_of_lack (double lack, double lack_freedom, double pure, double pure_freedom)
{
  if (pure > 0)
    return gsl_cdf_fdist_Q (lack / pure, lack_freedom, pure_freedom);
  return lack > 0 ? 0 : 1;
}

/* Where the means lie further from the model than repeats from each other, the rest is no scatter but something that
 * the model lacks. It is then the same in every run and from both sides, so only the targets count as independent. */
static Error
error_of (const Model *model, const TrammelTriangle *triangle)
{
  const double n = triangle->n;
  const double lack_freedom = model->lack_freedom - n;
  const double lack = fmax (0, triangle->rest - model->repeats);
  const double target_freedom = model->n_targets - (n - (model->n_base == 3 ? 1 : 0));

  if (model->repeats_freedom >= 1 && lack_freedom >= 1 && target_freedom >= 1
      && chance_of_lack (lack / lack_freedom, lack_freedom, model->repeats / model->repeats_freedom,
                         model->repeats_freedom)
             < SIGNIFICANCE)
    return (Error){ lack / target_freedom, target_freedom };
  return (Error){ triangle->rest / (model->n_readings - n), model->n_readings - n };
}

/* The triangle of the base, the cycles @chosen, and @last (a cycle, or −1): what remains of the last one beside all
 * others stands in its lower right corner. */
static void
take_columns (const Model *model, const GArray *chosen, int last, TrammelTriangle *out)
{
  const guint n_chosen = chosen->len + (last >= 0 ? 1 : 0);
  g_autofree guint *from = g_new (guint, model->n_base + 2 * n_chosen);
  g_autofree guint *to = g_new (guint, model->n_base + 2 * n_chosen);
  g_autofree double *row = g_new (double, model->n_base + 2 * n_chosen);
  guint n = 0;

  for (; n < model->n_base; n++)
    from[n] = n;
  for (guint i = 0; i < n_chosen; i++)
    {
      const guint cycle = i < chosen->len ? g_array_index (chosen, guint, i) : (guint)last;
      from[n++] = model->n_base + 2 * cycle;
      from[n++] = model->n_base + 2 * cycle + 1;
    }
  for (guint k = 0; k < n; k++)
    to[k] = k;

  trammel_triangle_init (out, n);
  out->rest = model->all.rest;
  for (guint i = 0; i < model->all.n; i++)
    {
      const double *whole = model->all.rows + (gsize)i * (model->all.n + 1);
      for (guint k = 0; k < n; k++)
        row[k] = from[k] >= i ? whole[from[k]] : 0;
      trammel_triangle_fold (out, to, row, n, whole[model->all.n]);
    }
}

/* The lesser singular value of the 2×2 upper triangle in the lower right corner, against that of a sine met at phases
 * all round, √(N/2). */
static double
sight_of_last (const TrammelTriangle *triangle, double n_readings)
{
  const guint n = triangle->n;
  const double *upper = triangle->rows + (gsize)(n - 2) * (n + 1) + n - 2;
  const double *lower = triangle->rows + (gsize)(n - 1) * (n + 1) + n - 1;
  const double a = upper[0], b = upper[1], c = lower[0];
  const double sum = a * a + b * b + c * c;
  const double product = a * c;
  const double square = (sum - sqrt (fmax (0, sum * sum - 4 * product * product))) / 2;

  return sqrt (fmax (0, square) / (n_readings / 2));
}

/* Sum of squares beyond @n columns of @triangle, whose last two take part or not. */
static double
rest_without_last (const TrammelTriangle *triangle)
{
  const guint n = triangle->n;
  const double first = triangle->rows[(gsize)(n - 2) * (n + 1) + n];
  const double second = triangle->rows[(gsize)(n - 1) * (n + 1) + n];

  return triangle->rest + first * first + second * second;
}

/* FALSE when the fit has no freedom left. */
static gboolean
test_last (const Model *model, const TrammelTriangle *triangle, TrammelCycle *cycle)
{
  const Error error = error_of (model, triangle);

  if (!(error.freedom >= 1))
    return FALSE;
  const double gain = rest_without_last (triangle) - triangle->rest;
  cycle->p_value = triangle->rest > 0 ? gsl_cdf_fdist_Q (gain / 2 / error.mean_square, 2, error.freedom) : 0;
  return TRUE;
}

/* Amplitude, phase and u of the cycle in the last two columns. */
static void
measure_last (const Model *model, const TrammelTriangle *triangle, TrammelCycle *cycle)
{
  const guint n = triangle->n;
  const Error error = error_of (model, triangle);
  g_autofree double *solution = g_new (double, n);
  g_autofree double *covariance = g_new (double, (gsize)n *n);

  if (trammel_triangle_solve (triangle, solution, covariance, NULL) != 0)
    return;
  const double sigma = sqrt (error.mean_square);
  const double cosine = solution[n - 2], sine = solution[n - 1];
  const double cc = covariance[(gsize)(n - 2) * n + n - 2], ss = covariance[(gsize)(n - 1) * n + n - 1];
  const double cs = covariance[(gsize)(n - 2) * n + n - 1];

  cycle->amplitude = hypot (cosine, sine);
  cycle->phase = atan2 (sine, cosine);
  const double along_c = cos (cycle->phase), along_s = sin (cycle->phase);
  cycle->u = sigma * sqrt (along_c * along_c * cc + 2 * along_c * along_s * cs + along_s * along_s * ss);
  const double reach = gsl_cdf_tdist_Pinv (0.975, error.freedom) * cycle->u;
  cycle->low = fmax (0, cycle->amplitude - reach);
  cycle->high = cycle->amplitude + reach;
}

static void
forget_figures (TrammelCycle *cycle)
{
  cycle->amplitude = cycle->u = cycle->low = cycle->high = cycle->phase = cycle->p_value = NAN;
}

static gboolean
is_taken (const Model *model, guint cycle)
{
  for (guint i = 0; i < model->taken->len; i++)
    if (g_array_index (model->taken, guint, i) == cycle)
      return TRUE;
  return FALSE;
}

/* Which of the others, beside the base, hides cycle @i; −1: none alone does. */
static int
find_like (const Model *model, guint i)
{
  for (guint other = 0; other < model->cycles->len; other++)
    {
      g_autoptr (GArray) beside = g_array_new (FALSE, FALSE, sizeof (guint));
      TrammelTriangle triangle;
      if (other == i || g_array_index (model->cycles, TrammelCycle, other).sight == TRAMMEL_CYCLE_UNSEEN)
        continue;
      g_array_append_val (beside, other);
      take_columns (model, beside, (int)i, &triangle);
      const gboolean hidden = sight_of_last (&triangle, model->n_readings) < LEAST_SIGHT;
      trammel_triangle_clear (&triangle);
      if (hidden)
        return (int)other;
    }
  return -1;
}

static void
look_at_sampling (Model *model)
{
  g_autoptr (GArray) nothing = g_array_new (FALSE, FALSE, sizeof (guint));

  for (guint i = 0; i < model->cycles->len; i++)
    {
      TrammelTriangle triangle;
      take_columns (model, nothing, (int)i, &triangle);
      if (sight_of_last (&triangle, model->n_readings) < LEAST_SIGHT || model->n_readings - triangle.n < 1)
        g_array_index (model->cycles, TrammelCycle, i).sight = TRAMMEL_CYCLE_UNSEEN;
      trammel_triangle_clear (&triangle);
    }
  for (guint i = 0; i < model->cycles->len; i++)
    {
      TrammelCycle *cycle = &g_array_index (model->cycles, TrammelCycle, i);
      cycle->like = cycle->sight == TRAMMEL_CYCLE_UNSEEN ? -1 : find_like (model, i);
      if (cycle->like >= 0)
        cycle->sight = TRAMMEL_CYCLE_ALIKE;
    }
}

/* Tests @cycle beside those taken; FALSE when it cannot be seen beside them. */
static gboolean
try_cycle (Model *model, guint i)
{
  TrammelCycle *cycle = &g_array_index (model->cycles, TrammelCycle, i);
  TrammelTriangle triangle;
  gboolean seen = FALSE;

  if (cycle->sight == TRAMMEL_CYCLE_UNSEEN)
    return FALSE;
  take_columns (model, model->taken, (int)i, &triangle);
  if (sight_of_last (&triangle, model->n_readings) >= LEAST_SIGHT && test_last (model, &triangle, cycle))
    {
      measure_last (model, &triangle, cycle);
      seen = TRUE;
    }
  else
    forget_figures (cycle);
  trammel_triangle_clear (&triangle);
  return seen;
}

/* The next cycle to take: the most significant that is; among equals the first. −1: none. */
static int
best_of_the_rest (Model *model)
{
  double least = SIGNIFICANCE / model->cycles->len;
  int best = -1;

  for (guint i = 0; i < model->cycles->len; i++)
    {
      if (is_taken (model, i) || !try_cycle (model, i)
          || g_array_index (model->cycles, TrammelCycle, i).sight == TRAMMEL_CYCLE_DRIFTS)
        continue;
      const double p = g_array_index (model->cycles, TrammelCycle, i).p_value;
      if (p < least * (best < 0 ? 1 : 1 - 1e-9))
        {
          least = p;
          best = (int)i;
        }
    }
  return best;
}

/* Each of those taken, beside all the others. */
static void
measure_taken (Model *model)
{
  for (guint k = 0; k < model->taken->len; k++)
    {
      const guint i = g_array_index (model->taken, guint, k);
      TrammelCycle *cycle = &g_array_index (model->cycles, TrammelCycle, i);
      g_autoptr (GArray) others = g_array_copy (model->taken);
      TrammelTriangle triangle;

      g_array_remove_index (others, k);
      take_columns (model, others, (int)i, &triangle);
      if (test_last (model, &triangle, cycle))
        measure_last (model, &triangle, cycle);
      trammel_triangle_clear (&triangle);
      cycle->significant = cycle->p_value < SIGNIFICANCE / model->cycles->len;
    }
}

/* All that is in the model, and as the last column what an even shift of the phase of @cycle by one turn along the axis
 * would add. */
typedef struct
{
  const Model *model;
  const TrammelCycle *cycle;
  double middle, range;
  guint n_columns;
  guint *columns;
  double *row;
  TrammelBlock block;
} ShiftFold;

static void
fold_shift_side (ShiftFold *fold, const TrammelPositionTarget *target, const TrammelPositionSide *side, int sign)
{
  const Model *model = fold->model;
  const double weight = sqrt ((double)side->n);
  double *row = fold->row;

  if (side->n == 0)
    return;
  *row++ = weight;
  *row++ = weight * target->target;
  if (model->n_base == 3)
    *row++ = -weight * sign / 2;
  for (guint k = 0; k < model->taken->len; k++)
    {
      const guint i = g_array_index (model->taken, guint, k);
      const double turn = 2 * G_PI * target->target / g_array_index (model->cycles, TrammelCycle, i).period;
      *row++ = weight * cos (turn);
      *row++ = weight * sin (turn);
    }
  const double angle = 2 * G_PI * target->target / fold->cycle->period - fold->cycle->phase;
  *row = -weight * 2 * G_PI * (target->target - fold->middle) / fold->range * fold->cycle->amplitude * sin (angle);
  trammel_block_add (&fold->block, fold->columns, fold->row, fold->n_columns, weight * side->mean);
}

static void
fold_shift (const Model *model, const TrammelPositions *positions, const TrammelCycle *cycle, TrammelTriangle *out)
{
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, &n);
  const double first = targets[0].target, last = targets[n - 1].target;
  const guint n_columns = model->n_base + 2 * model->taken->len + 1;
  g_autofree guint *columns = g_new (guint, n_columns);
  g_autofree double *row = g_new (double, n_columns);
  ShiftFold fold = { model, cycle, (first + last) / 2, last - first, n_columns, columns, row, { NULL } };

  for (guint k = 0; k < n_columns; k++)
    columns[k] = k;
  trammel_triangle_init (out, n_columns);
  trammel_block_init_dense (&fold.block, out);
  for (gsize i = 0; i < n; i++)
    {
      fold_shift_side (&fold, &targets[i], &targets[i].up, 1);
      fold_shift_side (&fold, &targets[i], &targets[i].down, -1);
    }
  trammel_block_finish (&fold.block);
  out->rest += model->pure;
}

/* F of the shift; 0 when it is small, or cannot be told. */
static double
test_shift (const Model *model, const TrammelPositions *positions, const TrammelCycle *cycle)
{
  TrammelTriangle triangle;
  double f = 0;

  fold_shift (model, positions, cycle, &triangle);
  const guint n = triangle.n;
  const double diagonal = triangle.rows[(gsize)(n - 1) * (n + 1) + n - 1];
  const double along = triangle.rows[(gsize)(n - 1) * (n + 1) + n];
  const Error error = error_of (model, &triangle);
  if (fabs (along) > MOST_SHIFT * fabs (diagonal) && error.freedom >= 1 && error.mean_square > 0)
    {
      f = along * along / error.mean_square;
      f = gsl_cdf_fdist_Q (f, 1, error.freedom) < SHIFT_SIGNIFICANCE ? f : 0;
    }
  trammel_triangle_clear (&triangle);
  return f;
}

/* Puts aside the cycle in the model that shifts most clearly; FALSE: none does. */
static gboolean
put_shifting_aside (Model *model, const TrammelPositions *positions)
{
  TrammelCycle *worst = NULL;
  double greatest = 0;

  for (guint k = 0; k < model->taken->len; k++)
    {
      TrammelCycle *cycle = &g_array_index (model->cycles, TrammelCycle, g_array_index (model->taken, guint, k));
      const double f = test_shift (model, positions, cycle);
      if (f > greatest)
        {
          greatest = f;
          worst = cycle;
        }
    }
  if (worst == NULL)
    return FALSE;
  worst->sight = TRAMMEL_CYCLE_DRIFTS;
  worst->like = -1;
  return TRUE;
}

static void
choose_cycles (Model *model, const TrammelPositions *positions)
{
  do
    {
      for (guint k = 0; k < model->taken->len; k++)
        g_array_index (model->cycles, TrammelCycle, g_array_index (model->taken, guint, k)).significant = FALSE;
      g_array_set_size (model->taken, 0);
      for (int best; (best = best_of_the_rest (model)) >= 0;)
        g_array_append_val (model->taken, best);
      measure_taken (model);
    }
  while (put_shifting_aside (model, positions));
}

static TrammelCycleLine
measure_line (const Model *model)
{
  TrammelCycleLine line = { NAN, NAN, NAN, NAN };
  TrammelTriangle triangle;

  take_columns (model, model->taken, -1, &triangle);
  const guint n = triangle.n;
  const Error error = error_of (model, &triangle);
  g_autofree double *solution = g_new (double, n);
  g_autofree double *covariance = g_new (double, (gsize)n *n);
  if (error.freedom >= 1 && trammel_triangle_solve (&triangle, solution, covariance, NULL) == 0)
    {
      const double reach = gsl_cdf_tdist_Pinv (0.975, error.freedom) * sqrt (error.mean_square);
      line.scale_error = solution[1];
      line.half_width_scale_error = reach * sqrt (covariance[n + 1]);
      if (model->n_base == 3)
        {
          line.lash = solution[2];
          line.half_width_lash = reach * sqrt (covariance[(gsize)2 * n + 2]);
        }
    }
  trammel_triangle_clear (&triangle);
  return line;
}

static GArray *
all_cycles (const TrammelTurningPart *parts, gsize n_parts)
{
  GArray *cycles = g_array_new (FALSE, TRUE, sizeof (TrammelCycle));

  for (guint part = 0; part < n_parts; part++)
    for (guint order = 1; order <= TRAMMEL_CYCLE_ORDERS; order++)
      {
        TrammelCycle cycle
            = { .part = part, .order = order, .period = parts[part].travel_per_turn / order, .like = -1 };
        forget_figures (&cycle);
        g_array_append_val (cycles, cycle);
      }
  return cycles;
}

GArray *
trammel_cycles_find (const TrammelPositions *positions, const TrammelTurningPart *parts, gsize n_parts,
                     TrammelCycleLine *line)
{
  g_return_val_if_fail (positions != NULL && (parts != NULL || n_parts == 0), NULL);
  g_return_val_if_fail (n_parts <= TRAMMEL_MAX_TURNING_PARTS, NULL);

  Model model = { .n_base = trammel_positions_is_one_direction (positions) ? 2 : 3,
                  .cycles = all_cycles (parts, n_parts),
                  .taken = g_array_new (FALSE, FALSE, sizeof (guint)) };
  factorize (&model, positions);
  look_at_sampling (&model);
  choose_cycles (&model, positions);
  if (line != NULL)
    *line = measure_line (&model);
  trammel_triangle_clear (&model.all);
  g_array_unref (model.taken);
  return model.cycles;
}
