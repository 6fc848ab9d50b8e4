/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/triangle-private.h"

#include <gsl/gsl_errno.h>
#include <gsl/gsl_linalg.h>
#include <math.h>
#include <string.h>

#define RANK_TOLERANCE 1e-10
#define SHORTEST_COLUMN 1e-100

void
trammel_triangle_init (TrammelTriangle *triangle, guint n)
{
  triangle->n = n;
  triangle->rows = g_new0 (double, (gsize)n *(n + 1));
  triangle->work = g_new0 (double, n + 1);
  triangle->rest = 0;
}

void
trammel_triangle_clear (TrammelTriangle *triangle)
{
  g_clear_pointer (&triangle->rows, g_free);
  g_clear_pointer (&triangle->work, g_free);
}

void
trammel_triangle_reset (TrammelTriangle *triangle)
{
  memset (triangle->rows, 0, (gsize)triangle->n * (triangle->n + 1) * sizeof (double));
  triangle->rest = 0;
}

void
trammel_triangle_copy (TrammelTriangle *to, const TrammelTriangle *from)
{
  g_return_if_fail (to->n == from->n);

  memcpy (to->rows, from->rows, (gsize)from->n * (from->n + 1) * sizeof (double));
  to->rest = from->rest;
}

/* Rotates @row against @pivot, whose first elements are theirs in column @first, so that row[first] becomes 0. */
static inline void
rotate (double *pivot, double *row, guint first, guint end)
{
  double a = pivot[first], b = row[first];
  double inverse = 1 / sqrt (a * a + b * b);
  double cosine = a * inverse, sine = b * inverse;

  for (guint k = first; k <= end; k++)
    {
      double above = pivot[k], below = row[k];
      pivot[k] = cosine * above + sine * below;
      row[k] = cosine * below - sine * above;
    }
  row[first] = 0;
}

void
trammel_triangle_fold (TrammelTriangle *triangle, const guint *columns, const double *values, guint count, double rhs)
{
  guint n = triangle->n;
  double *row = triangle->work;
  guint first = n;

  for (guint i = 0; i < count; i++)
    {
      row[columns[i]] += values[i];
      first = MIN (first, columns[i]);
    }
  row[n] = rhs;

  for (guint k = first; k < n; k++)
    {
      if (row[k] == 0)
        continue;
      rotate (triangle->rows + (gsize)k * (n + 1), row, k, n);
    }
  triangle->rest += row[n] * row[n];
  row[n] = 0;
}

static double
column_length (const TrammelTriangle *triangle, guint k)
{
  double square = 0;

  for (guint i = 0; i <= k; i++)
    {
      double element = triangle->rows[(gsize)i * (triangle->n + 1) + k];
      square += element * element;
    }
  /* Shorter ones have no inverse that could be squared: as good as 0. */
  return square > SHORTEST_COLUMN * SHORTEST_COLUMN ? sqrt (square) : 1;
}

/* Everything that the solution needs, in scaled columns: R D⁻¹ = U S Vᵀ. */
typedef struct
{
  gsl_matrix *u, *v;
  gsl_vector *s, *work;
  double *scale; /* D */
} Decomposition;

static void
decomposition_free (Decomposition *d)
{
  gsl_matrix_free (d->u);
  gsl_matrix_free (d->v);
  gsl_vector_free (d->s);
  gsl_vector_free (d->work);
  g_free (d->scale);
}

static gboolean
decompose (const TrammelTriangle *triangle, Decomposition *d)
{
  guint n = triangle->n;

  d->u = gsl_matrix_calloc (n, n);
  d->v = gsl_matrix_calloc (n, n);
  d->s = gsl_vector_calloc (n);
  d->work = gsl_vector_calloc (n);
  d->scale = g_new (double, n);
  for (guint k = 0; k < n; k++)
    {
      d->scale[k] = column_length (triangle, k);
      for (guint i = 0; i <= k; i++)
        {
          double element = triangle->rows[(gsize)i * (n + 1) + k] / d->scale[k];
          /* The decomposition would not end on one of these. */
          if (!isfinite (element))
            return FALSE;
          gsl_matrix_set (d->u, i, k, element);
        }
    }
  return gsl_linalg_SV_decomp (d->u, d->v, d->s, d->work) == GSL_SUCCESS;
}

static gboolean
is_null (const Decomposition *d, guint k)
{
  return !(gsl_vector_get (d->s, k) > RANK_TOLERANCE * gsl_vector_get (d->s, 0));
}

static void
find_solution (const TrammelTriangle *triangle, const Decomposition *d, double *solution)
{
  guint n = triangle->n;

  memset (solution, 0, n * sizeof (double));
  for (guint k = 0; k < n; k++)
    {
      double projection = 0;
      if (is_null (d, k))
        continue;
      for (guint i = 0; i < n; i++)
        projection += gsl_matrix_get (d->u, i, k) * triangle->rows[(gsize)i * (n + 1) + n];
      projection /= gsl_vector_get (d->s, k);
      for (guint i = 0; i < n; i++)
        solution[i] += gsl_matrix_get (d->v, i, k) * projection / d->scale[i];
    }
}

/* D⁻¹ V S⁻² Vᵀ D⁻¹ */
static void
find_covariance (const Decomposition *d, guint n, double *covariance)
{
  gsl_matrix *half = gsl_matrix_calloc (n, n);

  for (guint i = 0; i < n; i++)
    for (guint k = 0; k < n; k++)
      if (!is_null (d, k))
        gsl_matrix_set (half, i, k, gsl_matrix_get (d->v, i, k) / (gsl_vector_get (d->s, k) * d->scale[i]));
  for (guint i = 0; i < n; i++)
    for (guint j = 0; j <= i; j++)
      {
        double sum = 0;
        for (guint k = 0; k < n; k++)
          sum += gsl_matrix_get (half, i, k) * gsl_matrix_get (half, j, k);
        covariance[(gsize)i * n + j] = covariance[(gsize)j * n + i] = sum;
      }
  gsl_matrix_free (half);
}

static int
count_null (const Decomposition *d, guint n, double *involved)
{
  int n_null = 0;

  if (involved != NULL)
    memset (involved, 0, n * sizeof (double));
  for (guint k = 0; k < n; k++)
    {
      if (!is_null (d, k))
        continue;
      n_null++;
      for (guint i = 0; involved != NULL && i < n; i++)
        involved[i] = MAX (involved[i], fabs (gsl_matrix_get (d->v, i, k)));
    }
  return n_null;
}

int
trammel_triangle_solve (const TrammelTriangle *triangle, double *solution, double *covariance, double *involved)
{
  Decomposition d = { 0 };
  int n_null = -1;

  if (decompose (triangle, &d))
    {
      find_solution (triangle, &d, solution);
      if (covariance != NULL)
        find_covariance (&d, triangle->n, covariance);
      n_null = count_null (&d, triangle->n, involved);
    }
  decomposition_free (&d);
  return n_null;
}

void
trammel_triangle_solve_transposed (const TrammelTriangle *triangle, double *y)
{
  guint n = triangle->n;

  for (guint k = 0; k < n; k++)
    {
      const double *row = triangle->rows + (gsize)k * (n + 1);
      if (y[k] == 0)
        continue;
      y[k] /= row[k];
      for (guint i = k + 1; i < n; i++)
        y[i] -= row[i] * y[k];
    }
}

void
trammel_triangle_solve_upper (const TrammelTriangle *triangle, double *x)
{
  guint n = triangle->n;

  for (guint k = n; k-- > 0;)
    {
      const double *row = triangle->rows + (gsize)k * (n + 1);
      for (guint i = k + 1; i < n; i++)
        x[k] -= row[i] * x[i];
      x[k] /= row[k];
    }
}

static double
square_of_product (const TrammelTriangle *triangle, const double *x, double rhs_factor)
{
  guint n = triangle->n;
  double sum = 0;

  for (guint i = 0; i < n; i++)
    {
      const double *row = triangle->rows + (gsize)i * (n + 1);
      double product = -rhs_factor * row[n];
      for (guint k = i; k < n; k++)
        product += row[k] * x[k];
      sum += product * product;
    }
  return sum;
}

double
trammel_triangle_step_square (const TrammelTriangle *triangle, const double *x)
{
  return square_of_product (triangle, x, 0);
}

double
trammel_triangle_residual_square (const TrammelTriangle *triangle, const double *x)
{
  return square_of_product (triangle, x, 1) + triangle->rest;
}
