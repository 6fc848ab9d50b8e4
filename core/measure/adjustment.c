/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/adjustment-private.h"
#include "measure/lash-private.h"
#include "measure/repeats-private.h"

#include <gsl/gsl_cdf.h>
#include <gsl/gsl_errno.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>

#define COVERAGE 0.95
#define SIGNIFICANCE 0.05
/* A residual below this part of what was measured is rounding, never a mis-reading. */
#define ROUNDING 1e-9

static gpointer
switch_gsl_handler_off (gpointer unused)
{
  gsl_set_error_handler_off ();
  return NULL;
}

/* GSL would end the process on its first error; here its return values are looked at. */
static void
keep_gsl_from_aborting (void)
{
  static GOnce once = G_ONCE_INIT;

  g_once (&once, switch_gsl_handler_off, NULL);
}

static void
find_chi2 (TrammelAdjustment *adjustment, const TrammelFit *fit)
{
  gboolean estimated = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED;

  adjustment->dof = (gint64)fit->n_used + fit->n_stated - fit->n_columns;
  adjustment->freedom = fit->freedom;
  adjustment->chi2 = estimated ? fit->rss : fit->rss + fit->stated_rss;
  adjustment->sigma = estimated ? fit->sigma : NAN;
  adjustment->birge = 1;
  adjustment->p_value = NAN;
  if (estimated || adjustment->dof <= 0)
    return;

  adjustment->p_value = gsl_cdf_chisq_Q (adjustment->chi2, (double)adjustment->dof);
  if (adjustment->robust)
    adjustment->birge = fit->spread;
  else if (adjustment->p_value < SIGNIFICANCE)
    adjustment->birge = sqrt (adjustment->chi2 / (double)adjustment->dof);
}

static void
find_coverage_factor (TrammelAdjustment *adjustment)
{
  double tail = (1 - COVERAGE) / 2;

  if (adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED || adjustment->birge > 1)
    adjustment->coverage_factor = gsl_cdf_tdist_Qinv (tail, adjustment->freedom);
  else
    adjustment->coverage_factor = gsl_cdf_ugaussian_Qinv (tail);
}

static void
find_covariance (TrammelAdjustment *adjustment, const TrammelFit *fit)
{
  guint n = adjustment->unknowns.n;
  double spread = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? fit->spread : adjustment->birge;

  adjustment->spread = spread;
  adjustment->covariance = g_new0 (double, (gsize)n *n);
  for (guint row = 0; row < fit->n_columns; row++)
    for (guint column = 0; column < fit->n_columns; column++)
      adjustment->covariance[(gsize)fit->parameter_of_column[row] * n + fit->parameter_of_column[column]]
          = spread * spread * fit->covariance[(gsize)row * fit->n_columns + column];
}

static double
learned (const TrammelParameter *parameter)
{
  if (!parameter->has_stated)
    return 1;
  if (parameter->stated_u == 0)
    return 0;
  double ratio = parameter->u / parameter->stated_u;
  return 1 - ratio * ratio;
}

static void
fill_parameters (TrammelAdjustment *adjustment)
{
  guint n = adjustment->unknowns.n;

  for (guint i = 0; i < n; i++)
    {
      TrammelParameter *parameter = &adjustment->unknowns.parameters[i];
      parameter->value = adjustment->values[i];
      parameter->u = sqrt (adjustment->covariance[(gsize)i * n + i]);
      parameter->low = parameter->value - adjustment->coverage_factor * parameter->u;
      parameter->high = parameter->value + adjustment->coverage_factor * parameter->u;
      parameter->learned = learned (parameter);
    }
}

static void
fill_axes (TrammelAdjustment *adjustment)
{
  adjustment->axes = g_new0 (TrammelAxisScale, adjustment->unknowns.n);
  for (guint i = 0; i < adjustment->unknowns.n; i++)
    {
      const TrammelParameter *parameter = &adjustment->unknowns.parameters[i];
      if (parameter->kind != TRAMMEL_PARAMETER_SCALE)
        continue;
      TrammelAxisScale *axis = &adjustment->axes[adjustment->n_axes++];
      axis->letter = parameter->axes[0];
      axis->scale_error = parameter->value;
      axis->u = parameter->u;
      axis->low = parameter->low;
      axis->high = parameter->high;
      axis->significant = parameter->low > 0 || parameter->high < 0;
    }
}

/* a C aᵀ, mm² */
static double
variance_of (const TrammelAdjustment *adjustment, const TrammelModelRow *row)
{
  guint n = adjustment->unknowns.n;
  double sum = 0;

  for (guint i = 0; i < row->n; i++)
    for (guint j = 0; j < row->n; j++)
      sum += row->derivative[i] * row->derivative[j]
             * adjustment->covariance[(gsize)row->parameter[i] * n + row->parameter[j]];
  return MAX (sum, 0);
}

/* Of a reading of u 1: r / (u · this) has a standard deviation of about 1. */
static double
unit_spread (const TrammelAdjustment *adjustment)
{
  return adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? adjustment->sigma : adjustment->birge;
}

/* How the residuals are held against their scatter. */
typedef struct
{
  double covariance_spread; /* what the covariance was multiplied by, as a standard deviation */
  double unit_spread;       /* of a reading of u 1 */
  double internal_spread;   /* √(χ²/ν), of the internally studentized residual; robust: unit_spread */
  double limit;             /* of the externally studentized residual; infinite: none can be told */
} Yardstick;

static void
find_yardstick (const TrammelAdjustment *adjustment, const TrammelFit *fit, Yardstick *yardstick)
{
  double freedom = adjustment->freedom;
  double tests = (double)adjustment->n_used;

  yardstick->unit_spread = unit_spread (adjustment);
  yardstick->covariance_spread
      = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? fit->spread : yardstick->unit_spread;
  yardstick->internal_spread = adjustment->robust ? yardstick->unit_spread : sqrt (adjustment->chi2 / freedom);
  yardstick->limit = freedom > 1 ? gsl_cdf_tdist_Qinv (SIGNIFICANCE / (2 * tests), freedom - 1) : HUGE_VAL;
}

/* Draper and Smith, section 8.1: from the internally studentized residual to the one with its own reading left out. */
static double
external_from_internal (double internal, double freedom)
{
  double left = freedom - internal * internal;

  return left > 0 ? internal * sqrt ((freedom - 1) / left) : HUGE_VAL;
}

/* Leverage h: a reading that took part pulled the fit towards itself, so its residual varies less (1 − h); one that the
 * robust fit left out did not, and the fit's own uncertainty adds (1 + h). */
static void
judge (const TrammelAdjustment *adjustment, const Yardstick *yardstick, const TrammelReading *reading,
       const TrammelModelRow *row, TrammelFitted *fitted)
{
  double per_u = 1 / (fitted->u * yardstick->covariance_spread);
  double leverage = yardstick->covariance_spread > 0 ? variance_of (adjustment, row) * per_u * per_u : 0;
  double remaining = 1 + leverage - 2 * fitted->weight * leverage;
  double rounding = ROUNDING * (fabs (reading->measured) + (isnan (reading->nominal) ? 0 : fabs (reading->nominal)));

  fitted->standardized = 0;
  fitted->suspect = FALSE;
  /* A reading that alone determines an unknown has no residual to judge. */
  if (!(remaining > 1e-9) || !(yardstick->unit_spread > 0))
    return;

  double whitened = fitted->residual / (fitted->u * sqrt (remaining));
  fitted->standardized = whitened / yardstick->unit_spread;
  if (fabs (fitted->residual) <= rounding || !(yardstick->internal_spread > 0))
    return;
  double studentized = fabs (whitened) / yardstick->internal_spread;
  if (!adjustment->robust)
    studentized = external_from_internal (studentized, adjustment->freedom);
  fitted->suspect = studentized > yardstick->limit;
}

static gboolean
judge_rows (TrammelAdjustment *adjustment, const TrammelFit *fit, GError **error)
{
  Yardstick yardstick;
  TrammelModelRow row;

  find_yardstick (adjustment, fit, &yardstick);
  for (gsize i = 0; i < adjustment->n_readings; i++)
    {
      TrammelFitted *fitted = &adjustment->fitted[i];
      const TrammelReading *reading = &fit->input->readings[i];
      if (i % TRAMMEL_FIT_BLOCK == 0 && g_cancellable_set_error_if_cancelled (fit->cancellable, error))
        return FALSE;
      if (!trammel_fit_row_takes_part (fitted))
        continue;
      trammel_model_evaluate (&adjustment->unknowns, adjustment->values, reading, trammel_fit_datum (fit, i), &row);
      fitted->predicted = row.predicted;
      fitted->residual = reading->measured - row.predicted;
      judge (adjustment, &yardstick, reading, &row, fitted);
    }
  return TRUE;
}

/* What the fit made becomes the adjustment's. */
static void
take_over (TrammelAdjustment *adjustment, TrammelFit *fit)
{
  adjustment->scatter = fit->input->scatter;
  adjustment->robust = fit->input->robust;
  adjustment->n_readings = fit->input->n_readings;
  adjustment->n_used = fit->n_used;
  adjustment->n_skipped = fit->n_skipped;
  adjustment->unknowns = fit->unknowns;
  trammel_unknowns_init (&fit->unknowns);
  adjustment->values = g_steal_pointer (&fit->values);
  adjustment->fitted = g_steal_pointer (&fit->fitted);
}

/* When nothing else of the fit is wanted. */
static void
keep_factor (TrammelAdjustment *adjustment, TrammelFit *fit)
{
  adjustment->factor = fit->factor;
  fit->factor = (TrammelTriangle){ 0 };
  adjustment->parameter_of_column = g_steal_pointer (&fit->parameter_of_column);
  adjustment->column_of_parameter = g_steal_pointer (&fit->column_of_parameter);
}

static gboolean
fill (TrammelAdjustment *adjustment, TrammelFit *fit, GError **error)
{
  if (!trammel_lash_compare (fit, &adjustment->lash, error))
    return FALSE;
  adjustment->has_repeats = !fit->input->robust && trammel_repeats_find (fit, &adjustment->repeats);
  take_over (adjustment, fit);
  find_chi2 (adjustment, fit);
  find_coverage_factor (adjustment);
  find_covariance (adjustment, fit);
  fill_parameters (adjustment);
  fill_axes (adjustment);
  if (!judge_rows (adjustment, fit, error))
    return FALSE;
  adjustment->warnings = trammel_adjustment_find_warnings (adjustment, fit);
  keep_factor (adjustment, fit);
  return TRUE;
}

TrammelAdjustment *
trammel_adjustment_new (const TrammelAdjustmentInput *input, GCancellable *cancellable, GError **error)
{
  g_autoptr (TrammelAdjustment) adjustment = NULL;
  TrammelFit fit;

  g_return_val_if_fail (input != NULL && input->axes != NULL, NULL);
  g_return_val_if_fail (input->readings != NULL || input->n_readings == 0, NULL);

  keep_gsl_from_aborting ();
  trammel_fit_init (&fit, input, cancellable);
  if (trammel_fit_take_rows (&fit, error) && trammel_fit_solve (&fit, error)
      && (!input->robust || trammel_fit_solve_robust (&fit, error)))
    {
      adjustment = g_new0 (TrammelAdjustment, 1);
      g_atomic_ref_count_init (&adjustment->references);
      if (!fill (adjustment, &fit, error))
        g_clear_pointer (&adjustment, trammel_adjustment_unref);
    }
  trammel_fit_clear (&fit);
  return g_steal_pointer (&adjustment);
}

TrammelAdjustment *
trammel_adjustment_ref (const TrammelAdjustment *adjustment)
{
  TrammelAdjustment *shared = (TrammelAdjustment *)adjustment;

  g_return_val_if_fail (adjustment != NULL, NULL);

  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_adjustment_unref (TrammelAdjustment *adjustment)
{
  g_return_if_fail (adjustment != NULL);

  if (!g_atomic_ref_count_dec (&adjustment->references))
    return;
  trammel_unknowns_clear (&adjustment->unknowns);
  g_free (adjustment->values);
  g_free (adjustment->covariance);
  trammel_triangle_clear (&adjustment->factor);
  g_free (adjustment->parameter_of_column);
  g_free (adjustment->column_of_parameter);
  g_free (adjustment->axes);
  free (adjustment->fitted);
  g_clear_pointer (&adjustment->lash, g_array_unref);
  g_strfreev (adjustment->warnings);
  g_free (adjustment);
}

/* Along a direction that has been read, and of a kind that can be predicted. */
static gboolean
evaluate (const TrammelAdjustment *adjustment, const double *values, const TrammelReading *reading,
          TrammelModelRow *row)
{
  TrammelReading measured = *reading;
  int datum = -1;

  measured.measured = 0;
  if (!trammel_reading_is_fitted (&measured) || !trammel_reading_check (&measured, NULL))
    return FALSE;
  if (reading->kind == TRAMMEL_READING_POSITION)
    datum = trammel_unknowns_datum (&adjustment->unknowns, reading);
  trammel_model_evaluate (&adjustment->unknowns, values, reading, datum, row);
  return TRUE;
}

double
trammel_adjustment_predict (const TrammelAdjustment *adjustment, const TrammelReading *reading, double *u)
{
  TrammelModelRow row;

  g_return_val_if_fail (adjustment != NULL && reading != NULL, NAN);

  gboolean known = evaluate (adjustment, adjustment->values, reading, &row) && row.complete;
  if (u != NULL)
    *u = known ? sqrt (variance_of (adjustment, &row)) : NAN;
  return known ? row.predicted : NAN;
}

static gboolean
is_corrected (TrammelParameterKind kind)
{
  return kind == TRAMMEL_PARAMETER_SCALE || kind == TRAMMEL_PARAMETER_SKEW || kind == TRAMMEL_PARAMETER_LASH;
}

/* TRUE when what is not a fault of the machine (shrink, bead, foot, datum) is known for this reading. */
static gboolean
knows_the_rest (const TrammelUnknowns *unknowns, const TrammelReading *reading)
{
  if (trammel_reading_kind_is_printed (reading->kind) && unknowns->shrink < 0)
    return FALSE;
  if (trammel_model_bead_reach (reading) != 0 && unknowns->bead < 0)
    return FALSE;
  if (reading->kind == TRAMMEL_READING_HEIGHT && unknowns->foot < 0)
    return FALSE;
  return reading->kind != TRAMMEL_READING_POSITION || trammel_unknowns_datum (unknowns, reading) >= 0;
}

double
trammel_adjustment_predict_corrected (const TrammelAdjustment *adjustment, const TrammelReading *reading)
{
  TrammelModelRow row;
  g_autofree double *values = NULL;

  g_return_val_if_fail (adjustment != NULL && reading != NULL, NAN);

  values = g_memdup2 (adjustment->values, adjustment->unknowns.n * sizeof (double));
  for (guint i = 0; i < adjustment->unknowns.n; i++)
    if (is_corrected (adjustment->unknowns.parameters[i].kind))
      values[i] = 0;
  if (!evaluate (adjustment, values, reading, &row) || !knows_the_rest (&adjustment->unknowns, reading))
    return NAN;
  return row.predicted;
}
