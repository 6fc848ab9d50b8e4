/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an adjustment found, piece by piece. */
#include "measure/adjustment-private.h"

#include <math.h>
#include <string.h>

const TrammelParameter *
trammel_adjustment_parameters (const TrammelAdjustment *adjustment, gsize *n)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  if (n != NULL)
    *n = adjustment->unknowns.n;
  return adjustment->unknowns.parameters;
}

const TrammelParameter *
trammel_adjustment_parameter (const TrammelAdjustment *adjustment, const char *name)
{
  g_return_val_if_fail (adjustment != NULL && name != NULL, NULL);

  for (guint i = 0; i < adjustment->unknowns.n; i++)
    if (strcmp (adjustment->unknowns.parameters[i].name, name) == 0)
      return &adjustment->unknowns.parameters[i];
  return NULL;
}

const TrammelParameter *
trammel_adjustment_learned_lash (const TrammelAdjustment *adjustment, char letter)
{
  const char name[] = { 'l', 'a', 's', 'h', '.', letter, '\0' };
  const TrammelParameter *lash = trammel_adjustment_parameter (adjustment, name);

  return lash != NULL && lash->learned >= TRAMMEL_LEAST_LEARNED ? lash : NULL;
}

const double *
trammel_adjustment_covariance (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  return adjustment->covariance;
}

const TrammelAxisScale *
trammel_adjustment_axis (const TrammelAdjustment *adjustment, char letter)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  for (guint i = 0; i < adjustment->n_axes; i++)
    if (adjustment->axes[i].letter == letter)
      return &adjustment->axes[i];
  return NULL;
}

const TrammelFitted *
trammel_adjustment_fitted (const TrammelAdjustment *adjustment, gsize *n)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  if (n != NULL)
    *n = adjustment->n_readings;
  return adjustment->fitted;
}

TrammelScatter
trammel_adjustment_scatter (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, TRAMMEL_SCATTER_STATED);

  return adjustment->scatter;
}

gboolean
trammel_adjustment_is_robust (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, FALSE);

  return adjustment->robust;
}

gsize
trammel_adjustment_n_used (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, 0);

  return adjustment->n_used;
}

gsize
trammel_adjustment_n_skipped (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, 0);

  return adjustment->n_skipped;
}

gint64
trammel_adjustment_dof (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, 0);

  return adjustment->dof;
}

double
trammel_adjustment_chi2 (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NAN);

  return adjustment->chi2;
}

double
trammel_adjustment_p_value (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NAN);

  return adjustment->p_value;
}

double
trammel_adjustment_birge (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NAN);

  return adjustment->birge;
}

double
trammel_adjustment_sigma (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NAN);

  return adjustment->sigma;
}

const TrammelRepeats *
trammel_adjustment_repeats (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  return adjustment->has_repeats ? &adjustment->repeats : NULL;
}

const TrammelLashAgreement *
trammel_adjustment_lash (const TrammelAdjustment *adjustment, gsize *n)
{
  g_return_val_if_fail (adjustment != NULL && n != NULL, NULL);

  *n = adjustment->lash != NULL ? adjustment->lash->len : 0;
  return *n > 0 ? (const TrammelLashAgreement *)(gpointer)adjustment->lash->data : NULL;
}

double
trammel_adjustment_coverage_factor (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NAN);

  return adjustment->coverage_factor;
}

const char *const *
trammel_adjustment_warnings (const TrammelAdjustment *adjustment)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  return (const char *const *)adjustment->warnings;
}
