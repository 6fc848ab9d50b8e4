/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/block-private.h"

#include <math.h>
#include <string.h>

/* With more columns than this, passing over zeros gains more than reflecting whole blocks. */
#define FEW_COLUMNS 12

static gsize
block_size (const TrammelBlock *block)
{
  return (gsize)(block->triangle->n + 1) * TRAMMEL_BLOCK_ROWS * sizeof (double);
}

void
trammel_block_init (TrammelBlock *block, TrammelTriangle *triangle)
{
  block->triangle = triangle;
  block->n_rows = 0;
  block->columns = triangle->n <= FEW_COLUMNS ? g_malloc0 (block_size (block)) : NULL;
}

void
trammel_block_init_dense (TrammelBlock *block, TrammelTriangle *triangle)
{
  block->triangle = triangle;
  block->n_rows = 0;
  block->columns = g_malloc0 (block_size (block));
}

/* Four sums, so that one addition need not wait for the last; @n is a multiple of four. */
static double
dot (const double *a, const double *b, guint n)
{
  double sums[4] = { 0, 0, 0, 0 };

  for (guint i = 0; i < n; i += 4)
    {
      sums[0] += a[i] * b[i];
      sums[1] += a[i + 1] * b[i + 1];
      sums[2] += a[i + 2] * b[i + 2];
      sums[3] += a[i + 3] * b[i + 3];
    }
  return (sums[0] + sums[1]) + (sums[2] + sums[3]);
}

static void
subtract_multiple (double *from, double factor, const double *what, guint n)
{
  for (guint i = 0; i < n; i++)
    from[i] -= factor * what[i];
}

/* Filled up with rows of zeros, which change nothing. */
static guint
rows_to_reduce (const TrammelBlock *block)
{
  return (block->n_rows + 3) / 4 * 4;
}

/* Reflects so that column @k of the block becomes 0 and its length goes into the triangle: I − 2 v vᵀ/(vᵀv), where v is
 * that column with the element of the triangle above it, made longer by the length of both. */
static void
reflect (TrammelBlock *block, guint k)
{
  guint n = block->triangle->n;
  guint rows = rows_to_reduce (block);
  double *pivot = block->triangle->rows + (gsize)k * (n + 1);
  const double *column = block->columns + (gsize)k * TRAMMEL_BLOCK_ROWS;
  double square = dot (column, column, rows);

  if (square == 0)
    return;
  double length = copysign (sqrt (pivot[k] * pivot[k] + square), pivot[k]);
  double top = pivot[k] + length;
  double twice_inverse = 2 / (top * top + square);

  pivot[k] = -length;
  for (guint j = k + 1; j <= n; j++)
    {
      double *other = block->columns + (gsize)j * TRAMMEL_BLOCK_ROWS;
      double factor = (top * pivot[j] + dot (column, other, rows)) * twice_inverse;
      pivot[j] -= factor * top;
      subtract_multiple (other, factor, column, rows);
    }
}

static void
reduce (TrammelBlock *block)
{
  guint n = block->triangle->n;
  const double *rhs = block->columns + (gsize)n * TRAMMEL_BLOCK_ROWS;

  for (guint k = 0; k < n; k++)
    reflect (block, k);
  block->triangle->rest += dot (rhs, rhs, rows_to_reduce (block));
  block->n_rows = 0;
  memset (block->columns, 0, block_size (block));
}

void
trammel_block_add (TrammelBlock *block, const guint *columns, const double *values, guint count, double rhs)
{
  if (block->columns == NULL)
    {
      trammel_triangle_fold (block->triangle, columns, values, count, rhs);
      return;
    }
  for (guint i = 0; i < count; i++)
    block->columns[(gsize)columns[i] * TRAMMEL_BLOCK_ROWS + block->n_rows] += values[i];
  block->columns[(gsize)block->triangle->n * TRAMMEL_BLOCK_ROWS + block->n_rows] = rhs;
  if (++block->n_rows == TRAMMEL_BLOCK_ROWS)
    reduce (block);
}

void
trammel_block_finish (TrammelBlock *block)
{
  if (block->columns != NULL && block->n_rows > 0)
    reduce (block);
  g_clear_pointer (&block->columns, g_free);
}
