/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <math.h>
#include <stdlib.h>

#include "draw/involute.h"

/* Area common to two closed outlines, by horizontal slices: no clipping, so nothing of it is shared with the drawing.
 */
typedef struct
{
  TrammelPoint *points;
  gsize n;
} Outline;

static inline Outline
placed (TrammelPoint *points, gsize n, double rotation, double x, double y)
{
  double c = cos (rotation), s = sin (rotation);
  for (gsize i = 0; i < n; i++)
    points[i] = (TrammelPoint){ x + c * points[i].x - s * points[i].y, y + s * points[i].x + c * points[i].y };
  return (Outline){ points, n };
}

static inline int
by_value (const void *a, const void *b)
{
  double d = *(const double *)a - *(const double *)b;
  return d < 0 ? -1 : d > 0;
}

static inline gsize
crossings (Outline outline, double y, double *x)
{
  gsize found = 0;
  for (gsize i = 0; i < outline.n; i++)
    {
      TrammelPoint a = outline.points[i], b = outline.points[(i + 1) % outline.n];
      if ((a.y <= y) != (b.y <= y))
        x[found++] = a.x + (b.x - a.x) * (y - a.y) / (b.y - a.y);
    }
  qsort (x, found, sizeof *x, by_value);
  return found;
}

static inline double
common_length (const double *a, gsize n_a, const double *b, gsize n_b)
{
  double sum = 0;
  for (gsize i = 0; i + 1 < n_a; i += 2)
    for (gsize j = 0; j + 1 < n_b; j += 2)
      sum += MAX (0, MIN (a[i + 1], b[j + 1]) - MAX (a[i], b[j]));
  return sum;
}

/* With @outside_b, the part of a that lies outside b. */
static inline double
common_area (Outline a, Outline b, gboolean outside_b)
{
  enum
  {
    SLICES = 1500
  };
  double low = INFINITY, high = -INFINITY, area = 0;
  g_autofree double *xa = g_new (double, a.n);
  g_autofree double *xb = g_new (double, b.n);

  for (gsize i = 0; i < a.n; i++)
    {
      low = MIN (low, a.points[i].y);
      high = MAX (high, a.points[i].y);
    }
  for (int k = 0; k < SLICES; k++)
    {
      double y = low + (high - low) * (k + 0.5) / SLICES;
      gsize n_a = crossings (a, y, xa), n_b = crossings (b, y, xb);
      double common = common_length (xa, n_a, xb, n_b), whole = 0;
      for (gsize i = 0; i + 1 < n_a; i += 2)
        whole += xa[i + 1] - xa[i];
      area += outside_b ? whole - common : common;
    }
  return area * (high - low) / SLICES;
}
