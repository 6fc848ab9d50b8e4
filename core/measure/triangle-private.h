/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TrammelTriangle:
 *
 * The upper triangle R of an orthogonal factorization A = Q R, with Qᵀb beside it, built up row by row with Givens
 * rotations (W. Givens, J. SIAM 6 (1958) 26), so that any number of rows takes the memory of one triangle. Normal
 * equations are never formed. Zeros of a row are passed over: put columns that few rows touch first.
 */
typedef struct
{
  guint n;
  double *rows; /* n rows of n+1: R, then Qᵀb */
  double *work; /* n+1, all zero between calls */
  double rest;  /* sum of squares of what no solution can reach */
} TrammelTriangle;

void trammel_triangle_init (TrammelTriangle *triangle, guint n);
void trammel_triangle_clear (TrammelTriangle *triangle);
void trammel_triangle_reset (TrammelTriangle *triangle);
/* @to and @from have the same n. */
void trammel_triangle_copy (TrammelTriangle *to, const TrammelTriangle *from);

/* One more row of A with @count non-zeros, and its element of b. */
void trammel_triangle_fold (TrammelTriangle *triangle, const guint *columns, const double *values, guint count,
                            double rhs);

/**
 * trammel_triangle_solve:
 * @solution: n
 * @covariance: (nullable): n×n, (AᵀA)⁻¹
 * @involved: (nullable): n; how much each column takes part in what A cannot tell apart, 0…1
 *
 * Minimizes |A x − b| by the singular value decomposition of R with its columns scaled to length 1. Singular values
 * below 1e-10 of the greatest count as 0, and the solution is then the shortest one (in scaled columns).
 *
 * Returns: how many singular values count as 0; −1 when R is not finite.
 */
int trammel_triangle_solve (const TrammelTriangle *triangle, double *solution, double *covariance, double *involved);

/* Solves Rᵀ y = y and R x = x in place, for an R that trammel_triangle_solve() found no null value in. */
void trammel_triangle_solve_transposed (const TrammelTriangle *triangle, double *y);
void trammel_triangle_solve_upper (const TrammelTriangle *triangle, double *x);

/* |R x|² and |R x − Qᵀb|² + rest: of the step itself, and of the residuals after it. */
double trammel_triangle_step_square (const TrammelTriangle *triangle, const double *x);
double trammel_triangle_residual_square (const TrammelTriangle *triangle, const double *x);

G_END_DECLS
