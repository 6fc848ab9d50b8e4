/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Gauss–Newton on the readings and on what is stated. */
#include "measure/fit-private.h"
#include "measure/block-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

#define MAX_STEPS 50
#define MAX_HALVINGS 20
#define STEP_TOLERANCE 1e-12
#define MAX_SCALE_STEPS 500
#define SCALE_TOLERANCE 1e-14
/* A first guess of σ, where stated values need one, and the least that it may become. mm. */
#define FIRST_SIGMA 0.05
#define LEAST_SIGMA 1e-12

static void
add_row (const TrammelFit *fit, TrammelBlock *block, const TrammelModelRow *row, double weight, double rhs)
{
  guint columns[TRAMMEL_MODEL_MAX_TERMS];
  double values[TRAMMEL_MODEL_MAX_TERMS];
  guint n = 0;

  for (guint k = 0; k < row->n; k++)
    {
      int column = fit->column_of_parameter[row->parameter[k]];
      if (column < 0)
        continue;
      columns[n] = (guint)column;
      values[n++] = row->derivative[k] * weight;
    }
  trammel_block_add (block, columns, values, n, rhs);
}

/* One pass; with @block, the whitened rows are added to it. */
static gboolean
pass (TrammelFit *fit, TrammelBlock *block, gboolean weighted, GError **error)
{
  TrammelModelRow row;
  double sum = 0, lost = 0; /* Kahan's sum: a million squares lose nothing */

  for (gsize i = 0; i < fit->input->n_readings; i++)
    {
      const TrammelReading *reading = &fit->input->readings[i];
      TrammelFitted *fitted = &fit->fitted[i];
      if (i % TRAMMEL_FIT_BLOCK == 0 && g_cancellable_set_error_if_cancelled (fit->cancellable, error))
        return FALSE;
      if (!trammel_fit_row_takes_part (fitted))
        continue;
      trammel_model_evaluate (&fit->unknowns, fit->values, reading, trammel_fit_datum (fit, i), &row);
      fitted->predicted = row.predicted;
      fitted->residual = reading->measured - row.predicted;

      double root_weight = (weighted ? sqrt (fitted->weight) : 1) / fitted->u;
      double whitened = fitted->residual * root_weight;
      double term = whitened * whitened - lost;
      double next = sum + term;
      lost = (next - sum) - term;
      sum = next;
      if (block != NULL)
        add_row (fit, block, &row, root_weight, whitened);
    }
  fit->rss = sum;
  return TRUE;
}

gboolean
trammel_fit_pass (TrammelFit *fit, TrammelTriangle *triangle, gboolean weighted, GError **error)
{
  TrammelBlock block;

  if (triangle == NULL)
    return pass (fit, NULL, weighted, error);
  trammel_triangle_reset (triangle);
  trammel_block_init (&block, triangle);
  gboolean done = pass (fit, &block, weighted, error);
  trammel_block_finish (&block);
  return done;
}

void
trammel_fit_fold_stated (const TrammelFit *fit, TrammelTriangle *triangle, double sigma)
{
  for (guint column = 0; column < fit->n_columns; column++)
    {
      guint i = fit->parameter_of_column[column];
      const TrammelParameter *parameter = &fit->unknowns.parameters[i];
      if (!parameter->has_stated)
        continue;
      double weight = sigma / parameter->stated_u;
      trammel_triangle_fold (triangle, &column, &weight, 1, (parameter->stated_value - fit->values[i]) * weight);
    }
}

double
trammel_fit_stated_square (const TrammelFit *fit)
{
  double sum = 0;

  for (guint column = 0; column < fit->n_columns; column++)
    {
      guint i = fit->parameter_of_column[column];
      const TrammelParameter *parameter = &fit->unknowns.parameters[i];
      double off = parameter->has_stated ? (fit->values[i] - parameter->stated_value) / parameter->stated_u : 0;
      sum += off * off;
    }
  return sum;
}

void
trammel_fit_move (TrammelFit *fit, const double *step, double factor)
{
  for (guint column = 0; column < fit->n_columns; column++)
    fit->values[fit->parameter_of_column[column]] += factor * step[column];
}

double
trammel_fit_determined_by_stated (const TrammelFit *fit, double sigma)
{
  double trace = 0;

  for (guint column = 0; column < fit->n_columns; column++)
    {
      const TrammelParameter *parameter = &fit->unknowns.parameters[fit->parameter_of_column[column]];
      double weight = parameter->has_stated ? sigma / parameter->stated_u : 0;
      trace += weight * weight * fit->covariance[(gsize)column * fit->n_columns + column];
    }
  return trace;
}

typedef struct
{
  TrammelTriangle readings, all;
  double *step;
} Workspace;

static void
workspace_init (Workspace *workspace, guint n)
{
  trammel_triangle_init (&workspace->readings, n);
  trammel_triangle_init (&workspace->all, n);
  workspace->step = g_new0 (double, n);
}

/* All but `all`, which the fit keeps. */
static void
workspace_clear (Workspace *workspace)
{
  trammel_triangle_clear (&workspace->readings);
  g_free (workspace->step);
}

static gboolean
too_few_readings (const TrammelFit *fit, GError **error)
{
  g_set_error (
      error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
      _ ("too few readings to estimate their scatter (readings: %u, unknowns: %u); take more readings or weigh by "
         "stated uncertainties"),
      (guint)fit->n_used, fit->n_columns);
  return FALSE;
}

/* Estimated, with stated values of known u: σ weighs the readings against them, and comes itself from the residuals. At
 * the fixed point σ² is the readings' sum of squares over the readings less the unknowns that they determine. */
static gboolean
settle_sigma (TrammelFit *fit, const TrammelTriangle *readings, TrammelTriangle *all, double *step, GError **error)
{
  for (int i = 0; i < MAX_SCALE_STEPS; i++)
    {
      trammel_triangle_copy (all, readings);
      trammel_fit_fold_stated (fit, all, fit->sigma);
      trammel_triangle_solve (all, step, fit->covariance, NULL);
      fit->freedom = (double)fit->n_used - fit->n_columns + trammel_fit_determined_by_stated (fit, fit->sigma);
      if (!(fit->freedom > 1e-9))
        return too_few_readings (fit, error);
      double sigma = sqrt (trammel_triangle_residual_square (readings, step) / fit->freedom);
      sigma = MAX (sigma, LEAST_SIGMA);
      if (fabs (sigma - fit->sigma) <= SCALE_TOLERANCE * sigma)
        break;
      fit->sigma = sigma;
    }
  return TRUE;
}

/* The step from the readings' triangle and what is stated. */
static gboolean
find_step (TrammelFit *fit, Workspace *workspace, gboolean first, GError **error)
{
  gboolean settles = fit->input->scatter == TRAMMEL_SCATTER_ESTIMATED && fit->n_stated > 0;
  const TrammelTriangle *readings = &workspace->readings;
  TrammelTriangle *all = &workspace->all;

  trammel_triangle_copy (all, readings);
  trammel_fit_fold_stated (fit, all, fit->sigma);
  int n_null = trammel_triangle_solve (all, workspace->step, fit->covariance, fit->involved);
  /* As σ becomes small, what only stated values tell apart looks more and more alike. */
  if (n_null < 0 || (n_null > 0 && (first || !settles)))
    {
      trammel_fit_set_unseparable (fit, n_null, error);
      return FALSE;
    }
  return !settles || settle_sigma (fit, readings, all, workspace->step, error);
}

static double
objective (const TrammelFit *fit)
{
  return fit->rss + trammel_fit_stated_square (fit) * fit->sigma * fit->sigma;
}

/* Steps back by halves while the last step made things worse, which a far start can do. */
static gboolean
pull_back (TrammelFit *fit, Workspace *workspace, double bound, GError **error)
{
  double part = 1;

  for (int i = 0; i < MAX_HALVINGS && !(objective (fit) <= bound); i++)
    {
      part /= 2;
      trammel_fit_move (fit, workspace->step, -part);
      if (!trammel_fit_pass (fit, &workspace->readings, FALSE, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
iterate (TrammelFit *fit, Workspace *workspace, GError **error)
{
  double reference = trammel_fit_measured_length (fit);
  double rounding = reference * reference * 1e-24;
  double bound = HUGE_VAL;

  fit->converged = FALSE;
  for (int i = 0; i < MAX_STEPS && !fit->converged; i++)
    {
      if (!trammel_fit_pass (fit, &workspace->readings, FALSE, error) || !pull_back (fit, workspace, bound, error)
          || !find_step (fit, workspace, i == 0, error))
        return FALSE;
      bound = objective (fit) * (1 + 1e-6) + rounding;
      trammel_fit_move (fit, workspace->step, 1);
      fit->converged
          = sqrt (trammel_triangle_step_square (&workspace->all, workspace->step)) <= STEP_TOLERANCE * reference;
    }
  return TRUE;
}

gboolean
trammel_fit_solve (TrammelFit *fit, GError **error)
{
  gboolean estimated = fit->input->scatter == TRAMMEL_SCATTER_ESTIMATED;
  Workspace workspace;

  if (estimated && fit->n_stated > 0)
    fit->sigma = FIRST_SIGMA;
  workspace_init (&workspace, fit->n_columns);
  gboolean done = iterate (fit, &workspace, error);
  fit->factor = workspace.all;
  workspace_clear (&workspace);
  /* A last step that was as small as rounding leaves the residuals what they are. */
  if (!done || (!fit->converged && !trammel_fit_pass (fit, NULL, FALSE, error)))
    return FALSE;

  fit->stated_rss = trammel_fit_stated_square (fit);
  if (!estimated)
    {
      fit->freedom = (double)fit->n_used + fit->n_stated - fit->n_columns;
      return TRUE;
    }
  if (fit->n_stated == 0)
    fit->freedom = (double)fit->n_used - fit->n_columns;
  if (!(fit->freedom > 1e-9))
    return too_few_readings (fit, error);
  fit->sigma = fit->spread = sqrt (fit->rss / fit->freedom);
  return TRUE;
}
