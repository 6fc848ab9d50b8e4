/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <math.h>

#include "draw/involute.h"

/* How deep two closed outlines lie in each other, by asking of points along the edges of each whether they are inside
 * the other (crossings of a ray) and how far from its edges. Nothing of it is shared with the drawing. */

typedef struct
{
  const TrammelPoint *points;
  gsize n;
  TrammelPoint center;
  double farthest; /* from the center */
  double nearest;
} Polygon;

static inline Polygon
polygon_of (const TrammelPoint *points, gsize n, double x, double y)
{
  Polygon polygon = { points, n, { x, y }, 0, INFINITY };
  for (gsize i = 0; i < n; i++)
    {
      double radius = hypot (points[i].x - x, points[i].y - y);
      polygon.farthest = MAX (polygon.farthest, radius);
      polygon.nearest = MIN (polygon.nearest, radius);
    }
  return polygon;
}

static inline gboolean
polygon_contains (const Polygon *polygon, TrammelPoint p)
{
  gboolean inside = FALSE;
  for (gsize i = 0, j = polygon->n - 1; i < polygon->n; j = i++)
    {
      TrammelPoint a = polygon->points[i], b = polygon->points[j];
      if ((a.y > p.y) != (b.y > p.y) && p.x < a.x + (b.x - a.x) * (p.y - a.y) / (b.y - a.y))
        inside = !inside;
    }
  return inside;
}

static inline double
square_to_edge (TrammelPoint p, TrammelPoint a, TrammelPoint b)
{
  double dx = b.x - a.x, dy = b.y - a.y, square = dx * dx + dy * dy;
  double along = square > 0 ? CLAMP (((p.x - a.x) * dx + (p.y - a.y) * dy) / square, 0, 1) : 0;
  double x = p.x - a.x - along * dx, y = p.y - a.y - along * dy;
  return x * x + y * y;
}

/* The edges of @b that come near @a. */
static inline GArray *
edges_near (const Polygon *b, const Polygon *a)
{
  GArray *edges = g_array_new (FALSE, FALSE, sizeof (gsize));
  for (gsize i = 0; i < b->n; i++)
    {
      TrammelPoint p = b->points[i], q = b->points[(i + 1) % b->n];
      double radius = MIN (hypot (p.x - a->center.x, p.y - a->center.y), hypot (q.x - a->center.x, q.y - a->center.y));
      if (radius < a->farthest + 0.5)
        g_array_append_val (edges, i);
    }
  return edges;
}

static inline double
distance_to_edges (const Polygon *polygon, GArray *edges, TrammelPoint p)
{
  double nearest = INFINITY;
  for (guint k = 0; k < edges->len; k++)
    {
      gsize i = g_array_index (edges, gsize, k);
      gsize next = i + 1 < polygon->n ? i + 1 : 0;
      double square = square_to_edge (p, polygon->points[i], polygon->points[next]);
      nearest = square < nearest ? square : nearest;
    }
  return sqrt (nearest);
}

/* Of the points of @a (two more on each edge), how deep the deepest lies in @b; negative: how far the nearest stays
 * clear. Looks no further when one is deeper than @enough. With @hole, @b is the hole of a ring and @a should be in it.
 */
static inline double
depth_of_points (const Polygon *a, const Polygon *b, gboolean hole, double enough)
{
  double deepest = -INFINITY;
  g_autoptr (GArray) edges = edges_near (b, a);
  for (gsize i = 0; i < a->n && deepest <= enough; i++)
    for (int k = 0; k < 3; k++)
      {
        TrammelPoint from = a->points[i], to = a->points[(i + 1) % a->n];
        TrammelPoint p = { from.x + (to.x - from.x) * k / 3, from.y + (to.y - from.y) * k / 3 };
        double radius = hypot (p.x - b->center.x, p.y - b->center.y);
        if (hole ? radius < b->nearest : radius > b->farthest + 0.1)
          continue;
        double distance = distance_to_edges (b, edges, p);
        if (distance <= deepest)
          continue;
        deepest = MAX (deepest, polygon_contains (b, p) != hole ? distance : -distance);
      }
  return deepest;
}

/* The same for the points of the hole @b in a gear @a. */
static inline double
depth_of_hole_points (const Polygon *b, const Polygon *a, double enough)
{
  double deepest = -INFINITY;
  g_autoptr (GArray) edges = edges_near (a, b);
  for (gsize i = 0; i < b->n && deepest <= enough; i++)
    {
      TrammelPoint p = b->points[i];
      if (hypot (p.x - a->center.x, p.y - a->center.y) > a->farthest + 0.1)
        continue;
      double distance = distance_to_edges (a, edges, p);
      if (distance > deepest)
        deepest = MAX (deepest, polygon_contains (a, p) ? distance : -distance);
    }
  return deepest;
}
