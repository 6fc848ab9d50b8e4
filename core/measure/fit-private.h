/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <math.h>

#include "measure/model-private.h"
#include "measure/triangle-private.h"

G_BEGIN_DECLS

/* Rows between two looks at the cancellable. */
#define TRAMMEL_FIT_BLOCK 4096
#define TRAMMEL_NO_DATUM G_MAXUINT16

/**
 * TrammelFit:
 *
 * The state of a fit while it is made. `fitted` is also where the rows keep what they need between passes: u, the
 * robust weight, the residual; NaN in `u` marks a row that takes no part.
 */
typedef struct
{
  const TrammelAdjustmentInput *input;
  GCancellable *cancellable;

  /* Rows, see fit-rows.c */
  TrammelFitted *fitted; /* one per reading of the input */
  guint16 *datums;       /* one per reading, TRAMMEL_NO_DATUM where it has none; NULL when no reading has */
  gsize n_used, n_skipped;
  double measured_square; /* Σ (measured/u)²: what a step is small against */
  GHashTable *strangers;  /* names of instruments that nobody described */

  /* Unknowns. A parameter that is not fixed has a column of the triangle. */
  TrammelUnknowns unknowns;
  guint n_columns;
  guint *parameter_of_column;
  int *column_of_parameter; /* −1: fixed */
  double *values;           /* per parameter */

  /* Outcome */
  double *covariance;     /* of the columns, for σ = 1 */
  TrammelTriangle factor; /* its R: `covariance` = (RᵀR)⁻¹ */
  double *involved;       /* per column, when the unknowns cannot be told apart */
  double rss;             /* Σ w (r/u)² of the readings at `values` */
  double stated_rss;      /* Σ ((value − stated)/u)² of what is stated */
  guint n_stated;         /* stated values that are observations, not fixed ones */
  double sigma;           /* estimated: of a reading of relative u 1; stated: factor on all u */
  double freedom;         /* of σ: readings less the unknowns that they, not stated values, determine */
  double spread;          /* robust: what `covariance` is multiplied by, as a standard deviation; else `sigma` */
  gboolean converged;
  gboolean rests_on_outliers; /* robust: an unknown had only readings without weight */
} TrammelFit;

void trammel_fit_init (TrammelFit *fit, const TrammelAdjustmentInput *input, GCancellable *cancellable);
void trammel_fit_clear (TrammelFit *fit);

/* Checks the readings, weighs them, and finds the unknowns. Errors: TRAMMEL_ERROR_DATA, _TOO_LARGE, cancelled. */
gboolean trammel_fit_take_rows (TrammelFit *fit, GError **error);

/* Least squares; and the bisquare, which starts from that. Errors: TRAMMEL_ERROR_UNSEPARABLE, _DATA, cancelled. */
gboolean trammel_fit_solve (TrammelFit *fit, GError **error);
gboolean trammel_fit_solve_robust (TrammelFit *fit, GError **error);

/* One pass over the rows at the present values: predictions and residuals are noted, and (with @triangle) the whitened
 * rows folded; @weighted: with their robust weights. Sets `rss`. FALSE: cancelled. */
gboolean trammel_fit_pass (TrammelFit *fit, TrammelTriangle *triangle, gboolean weighted, GError **error);
/* Adds what is stated to a triangle of readings; @sigma is that of the readings already in it. */
void trammel_fit_fold_stated (const TrammelFit *fit, TrammelTriangle *triangle, double sigma);
/* How many unknowns the stated values determine, rather than the readings: the trace of their share of the hat
 * matrix. @sigma: what they were weighed by. */
double trammel_fit_determined_by_stated (const TrammelFit *fit, double sigma);
/* Σ ((value − stated)/u)² */
double trammel_fit_stated_square (const TrammelFit *fit);
/* The values moved by a step in the columns, times @factor. */
void trammel_fit_move (TrammelFit *fit, const double *step, double factor);

static inline gboolean
trammel_fit_row_takes_part (const TrammelFitted *fitted)
{
  return fitted->u == fitted->u;
}

static inline double
trammel_fit_measured_length (const TrammelFit *fit)
{
  return sqrt (1 + fit->measured_square);
}

static inline int
trammel_fit_datum (const TrammelFit *fit, gsize i)
{
  return fit->datums == NULL || fit->datums[i] == TRAMMEL_NO_DATUM ? -1 : fit->datums[i];
}

/* u of an instrument as the input describes it; NaN when it does not. */
double trammel_fit_instrument_u (const TrammelAdjustmentInput *input, const char *name);

/* @u with what the resolution of the reading's instrument adds. */
double trammel_fit_with_resolution (const TrammelAdjustmentInput *input, const TrammelReading *reading, double u);

/* "X and Y" of the letters "XY". (transfer full) */
char *trammel_letters_in_words (const char *letters);

/* A message that names the unknowns that cannot be told apart and what would tell them; @n_null as
 * trammel_triangle_solve() returned it. */
void trammel_fit_set_unseparable (const TrammelFit *fit, int n_null, GError **error);

G_END_DECLS
