/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/fit-private.h"
#include "measure/repeats.h"

G_BEGIN_DECLS

struct _TrammelAdjustment
{
  gatomicrefcount references;

  TrammelUnknowns unknowns; /* with the parameters */
  double *values;
  double spread;          /* what the factor's covariance is multiplied by, as a standard deviation */
  TrammelTriangle factor; /* R of the columns: parameters that are not fixed */
  guint *parameter_of_column;
  int *column_of_parameter; /* −1: fixed */
  double *covariance;       /* of all parameters; rows of fixed ones are 0 */
  TrammelAxisScale *axes;
  guint n_axes;
  TrammelFitted *fitted;
  gsize n_readings;
  gboolean has_repeats;
  TrammelRepeats repeats;
  GArray *lash; /* (nullable): of TrammelLashAgreement */

  TrammelScatter scatter;
  gboolean robust;
  gsize n_used, n_skipped;
  gint64 dof;
  double freedom; /* of Student's t */
  double chi2, p_value, birge, sigma, coverage_factor;
  char **warnings;
};

/* Sentences about the fit; NULL-terminated. Called while @fit still has its rows' names. */
char **trammel_adjustment_find_warnings (const TrammelAdjustment *adjustment, const TrammelFit *fit);

G_END_DECLS
