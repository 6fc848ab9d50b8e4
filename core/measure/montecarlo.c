/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/montecarlo.h"

#include <glib/gi18n-lib.h>
#include <gsl/gsl_randist.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "measure/adjustment-private.h"
#include "measure/trial-figures-private.h"

#define BLOCK 5000
#define MOST_STEPS 30
#define STEP_TOLERANCE 1e-6

/* One observation: a reading, or what is stated about an unknown. */
typedef struct
{
  const TrammelReading *reading; /* NULL: stated */
  int datum;
  guint parameter;        /* stated */
  double value;           /* measured, or stated */
  double u;               /* for the draw */
  double weight;          /* 1/u of the fit's whitened row */
  double predicted;       /* by the fit */
  gboolean size_is_drawn; /* its u was found from the readings */
} Observation;

/* What all threads share, read only but for the two counters. */
typedef struct
{
  const TrammelAdjustment *adjustment;
  const TrammelMonteCarloOptions *options;
  GArray *observations;   /* of Observation */
  double *pseudo_inverse; /* A⁺: a row of observations per column of the triangle */
  guint n_columns;
  gboolean draws_size; /* Student's t */
  double **trials;     /* per axis, a value per trial */
  gsize n_blocks;
  gsize next_block, n_done; /* atomic */
} Plan;

static void
add_readings (Plan *plan, const TrammelAdjustmentInput *input)
{
  const TrammelAdjustment *adjustment = plan->adjustment;
  const double spread = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? adjustment->sigma : adjustment->birge;

  for (gsize i = 0; i < adjustment->n_readings; i++)
    {
      const TrammelFitted *fitted = &adjustment->fitted[i];
      const TrammelReading *reading = &input->readings[i];
      if (!trammel_fit_row_takes_part (fitted))
        continue;
      const Observation observation = {
        .reading = reading,
        .datum
        = reading->kind == TRAMMEL_READING_POSITION ? trammel_unknowns_datum (&adjustment->unknowns, reading) : -1,
        .value = reading->measured,
        .u = fitted->u * spread,
        .weight = 1 / fitted->u,
        .size_is_drawn = TRUE,
      };
      g_array_append_val (plan->observations, observation);
    }
}

static void
add_stated (Plan *plan)
{
  const TrammelAdjustment *adjustment = plan->adjustment;
  const gboolean estimated = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED;

  for (guint column = 0; column < plan->n_columns; column++)
    {
      const guint parameter = adjustment->parameter_of_column[column];
      const TrammelParameter *stated = &adjustment->unknowns.parameters[parameter];
      if (!stated->has_stated)
        continue;
      const Observation observation = {
        .parameter = parameter,
        .value = stated->stated_value,
        .u = stated->stated_u * (estimated ? 1 : adjustment->birge),
        .weight = (estimated ? adjustment->sigma : 1) / stated->stated_u,
        .size_is_drawn = !estimated,
      };
      g_array_append_val (plan->observations, observation);
    }
}

static double
predict (const Plan *plan, const Observation *observation, const double *values, TrammelModelRow *row)
{
  if (observation->reading == NULL)
    {
      row->n = 1;
      row->parameter[0] = (gint16)observation->parameter;
      row->derivative[0] = 1;
      return values[observation->parameter];
    }
  trammel_model_evaluate (&plan->adjustment->unknowns, values, observation->reading, observation->datum, row);
  return row->predicted;
}

/* A⁺ = R⁻¹ R⁻ᵀ Aᵀ of the whitened rows, times their weights, so that it takes residuals as they are. */
static void
find_pseudo_inverse (Plan *plan)
{
  const guint n = plan->n_columns, m = plan->observations->len;
  g_autofree double *column = g_new (double, n);
  TrammelModelRow row;

  plan->pseudo_inverse = g_new (double, (gsize)n *m);
  for (guint i = 0; i < m; i++)
    {
      Observation *observation = &g_array_index (plan->observations, Observation, i);
      memset (column, 0, n * sizeof (double));
      observation->predicted = predict (plan, observation, plan->adjustment->values, &row);
      for (guint k = 0; k < row.n; k++)
        {
          const int place = plan->adjustment->column_of_parameter[row.parameter[k]];
          if (place >= 0)
            column[place] += row.derivative[k] * observation->weight;
        }
      trammel_triangle_solve_transposed (&plan->adjustment->factor, column);
      trammel_triangle_solve_upper (&plan->adjustment->factor, column);
      for (guint k = 0; k < n; k++)
        plan->pseudo_inverse[(gsize)k * m + i] = column[k] * observation->weight;
    }
}

/* What one thread works with. */
typedef struct
{
  gsl_rng *random;
  double *values, *drawn, *residuals;
} Bench;

static void
draw (const Plan *plan, Bench *bench)
{
  const double freedom = plan->adjustment->freedom;
  const double size = plan->draws_size ? sqrt (freedom / gsl_ran_chisq (bench->random, freedom)) : 1;

  for (guint i = 0; i < plan->observations->len; i++)
    {
      const Observation *observation = &g_array_index (plan->observations, Observation, i);
      const double u = observation->size_is_drawn ? size * observation->u : observation->u;
      bench->drawn[i] = observation->value + u * gsl_ran_gaussian_ziggurat (bench->random, 1);
    }
}

/* Moves the values by what the residuals ask for. TRUE when that was too short to matter. */
static gboolean
move (const Plan *plan, Bench *bench)
{
  const TrammelAdjustment *adjustment = plan->adjustment;
  const guint m = plan->observations->len;
  gboolean still = TRUE;

  for (guint k = 0; k < plan->n_columns; k++)
    {
      const double *gains = plan->pseudo_inverse + (gsize)k * m;
      const guint parameter = adjustment->parameter_of_column[k];
      double by = 0;
      for (guint i = 0; i < m; i++)
        by += gains[i] * bench->residuals[i];
      bench->values[parameter] += by;
      still = still && fabs (by) <= STEP_TOLERANCE * adjustment->unknowns.parameters[parameter].u;
    }
  return still;
}

/* The first step starts where the fit ended, so its predictions are known. */
static gboolean
step (const Plan *plan, Bench *bench, gboolean first)
{
  TrammelModelRow row;

  for (guint i = 0; i < plan->observations->len; i++)
    {
      const Observation *observation = &g_array_index (plan->observations, Observation, i);
      bench->residuals[i]
          = bench->drawn[i] - (first ? observation->predicted : predict (plan, observation, bench->values, &row));
    }
  return move (plan, bench);
}

static void
make_trial (const Plan *plan, Bench *bench, gsize trial)
{
  const TrammelAdjustment *adjustment = plan->adjustment;

  memcpy (bench->values, adjustment->values, adjustment->unknowns.n * sizeof (double));
  draw (plan, bench);
  for (int i = 0; i < MOST_STEPS && !step (plan, bench, i == 0); i++)
    ;
  for (guint axis = 0; axis < adjustment->n_axes; axis++)
    plan->trials[axis][trial] = bench->values[adjustment->unknowns.scale[adjustment->axes[axis].letter - 'A']];
}

/* Streams of neighboring blocks must have nothing in common (splitmix64: G. L. Steele, D. Lea & C. H. Flood, OOPSLA
 * 2014, the finalizer). */
static unsigned long
seed_of_block (guint64 seed, gsize block)
{
  guint64 z = seed + ((guint64)block + 1) * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);

  z = (z ^ (z >> 30)) * G_GUINT64_CONSTANT (0xbf58476d1ce4e5b9);
  z = (z ^ (z >> 27)) * G_GUINT64_CONSTANT (0x94d049bb133111eb);
  return (unsigned long)((z ^ (z >> 31)) & G_MAXUINT32);
}

static void
make_block (Plan *plan, Bench *bench, gsize block)
{
  const gsize first = block * BLOCK, end = MIN (first + BLOCK, plan->options->trials);

  gsl_rng_set (bench->random, seed_of_block (plan->options->seed, block));
  for (gsize trial = first; trial < end; trial++)
    make_trial (plan, bench, trial);
  const gsize done = g_atomic_pointer_add (&plan->n_done, (gssize)(end - first)) + end - first;
  if (plan->options->progress != NULL)
    plan->options->progress (done, plan->options->data);
}

static gpointer
work (gpointer data)
{
  Plan *plan = data;
  Bench bench = { gsl_rng_alloc (gsl_rng_mt19937), g_new (double, plan->adjustment->unknowns.n),
                  g_new (double, plan->observations->len), g_new (double, plan->observations->len) };

  for (;;)
    {
      const gsize block = (gsize)g_atomic_pointer_add (&plan->next_block, 1);
      if (block >= plan->n_blocks || g_cancellable_is_cancelled (plan->options->cancellable))
        break;
      make_block (plan, &bench, block);
    }
  gsl_rng_free (bench.random);
  g_free (bench.values);
  g_free (bench.drawn);
  g_free (bench.residuals);
  return NULL;
}

static void
run_threads (Plan *plan)
{
  const guint wanted = plan->options->n_threads > 0 ? plan->options->n_threads : g_get_num_processors ();
  const guint n = (guint)MIN ((gsize)wanted, plan->n_blocks);
  g_autofree GThread **threads = g_new0 (GThread *, n);

  for (guint i = 1; i < n; i++)
    threads[i] = g_thread_try_new ("trials", work, plan, NULL);
  work (plan);
  for (guint i = 1; i < n; i++)
    if (threads[i] != NULL)
      g_thread_join (threads[i]);
}

static GArray *
sum_up (const Plan *plan)
{
  const TrammelAdjustment *adjustment = plan->adjustment;
  GArray *axes = g_array_sized_new (FALSE, TRUE, sizeof (TrammelMonteCarloAxis), adjustment->n_axes);

  for (guint i = 0; i < adjustment->n_axes; i++)
    {
      const TrammelMonteCarloAxis axis
          = trammel_trial_figures (&adjustment->axes[i], plan->draws_size ? adjustment->freedom : HUGE_VAL,
                                   plan->trials[i], plan->options->trials);
      g_array_append_val (axes, axis);
    }
  return axes;
}

static void
plan_clear (Plan *plan)
{
  for (guint i = 0; plan->trials != NULL && i < plan->adjustment->n_axes; i++)
    g_free (plan->trials[i]);
  g_free (plan->trials);
  g_free (plan->pseudo_inverse);
  g_array_unref (plan->observations);
}

GArray *
trammel_monte_carlo (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                     const TrammelMonteCarloOptions *options, GError **error)
{
  g_return_val_if_fail (adjustment != NULL && input != NULL && options != NULL, NULL);
  g_return_val_if_fail (input->n_readings == adjustment->n_readings, NULL);
  g_return_val_if_fail (
      options->trials >= TRAMMEL_MONTE_CARLO_FEWEST_TRIALS && options->trials <= TRAMMEL_MONTE_CARLO_MOST_TRIALS, NULL);

  if (adjustment->robust)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                           _ ("found a robust fit; trials are for a plain one: leave out what was mis-read instead"));
      return NULL;
    }
  Plan plan = { .adjustment = adjustment,
                .options = options,
                .observations = g_array_new (FALSE, FALSE, sizeof (Observation)),
                .n_columns = adjustment->factor.n,
                .draws_size = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED || adjustment->birge > 1,
                .trials = g_new0 (double *, adjustment->n_axes),
                .n_blocks = (options->trials + BLOCK - 1) / BLOCK };
  add_readings (&plan, input);
  add_stated (&plan);
  find_pseudo_inverse (&plan);
  for (guint i = 0; i < adjustment->n_axes; i++)
    plan.trials[i] = g_new (double, options->trials);
  run_threads (&plan);
  GArray *axes = g_cancellable_set_error_if_cancelled (options->cancellable, error) ? NULL : sum_up (&plan);
  plan_clear (&plan);
  return axes;
}
