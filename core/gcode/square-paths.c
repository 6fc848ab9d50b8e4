/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>
#include <string.h>

#include "gcode/square-private.h"

#define N_FRAME_POINTS 20
#define N_CORNER_POINTS 6

/* A quarter turn about the middle of the piece, @turns times. */
static TrammelPoint
turned (const TrammelSquare *square, TrammelPoint point, guint turns)
{
  for (guint i = 0; i < turns; i++)
    point = (TrammelPoint){ square->size - point.y, point.x };
  return point;
}

/* The unit vector to the left of the way from @a to @b. */
static TrammelPoint
left_of (TrammelPoint a, TrammelPoint b)
{
  double length = hypot (b.x - a.x, b.y - a.y);

  return (TrammelPoint){ -(b.y - a.y) / length, (b.x - a.x) / length };
}

/* Every face of an outline whose corners are all square, moved to its left: inward, counter-clockwise. */
static TrammelPoint *
moved_inward (const TrammelPoint *points, gsize n, double distance)
{
  TrammelPoint *moved = g_new (TrammelPoint, n);

  for (gsize i = 0; i < n; i++)
    {
      TrammelPoint before = left_of (points[(i + n - 1) % n], points[i]);
      TrammelPoint after = left_of (points[i], points[(i + 1) % n]);

      moved[i].x = points[i].x + distance * (before.x + after.x);
      moved[i].y = points[i].y + distance * (before.y + after.y);
    }
  return moved;
}

TrammelPoint *
trammel_square_frame (const TrammelSquare *square, double inward, gsize *n)
{
  double a = square->arm, b = square->size - square->arm, d = square->depth;
  const TrammelPoint side[] = { { 0, 0 }, { a, 0 }, { a, d }, { b, d }, { b, 0 } };
  TrammelPoint points[N_FRAME_POINTS];

  for (guint i = 0; i < N_FRAME_POINTS; i++)
    points[i] = turned (square, side[i % G_N_ELEMENTS (side)], i / G_N_ELEMENTS (side));
  *n = N_FRAME_POINTS;
  return moved_inward (points, N_FRAME_POINTS, inward);
}

TrammelPoint *
trammel_square_corner (const TrammelSquare *square, guint corner, double inward, gsize *n)
{
  double a = square->arm, w = square->wall;
  const TrammelPoint near_left[N_CORNER_POINTS] = { { 0, 0 }, { a, 0 }, { a, w }, { w, w }, { w, a }, { 0, a } };
  TrammelPoint points[N_CORNER_POINTS];

  for (guint i = 0; i < N_CORNER_POINTS; i++)
    points[i] = turned (square, near_left[i], corner);
  *n = N_CORNER_POINTS;
  return moved_inward (points, N_CORNER_POINTS, inward);
}

static void
add_path (GArray *paths, TrammelPoint *points, gsize n, gboolean closed)
{
  TrammelPath path = { points, n, closed };

  g_array_append_val (paths, path);
}

static void
add_frame_loop (const TrammelSquare *square, double inward)
{
  gsize n;
  TrammelPoint *points = trammel_square_frame (square, inward, &n);

  add_path (square->lower, points, n, TRUE);
}

/* Where the middle of the bead number @i from the outer face lies. */
static double
bead_position (const TrammelSquare *square, gsize i)
{
  return square->tool.bead_width / 2 + i * square->spacing;
}

/* An odd bead in the middle of a corner's wall: one way along both arms. */
static void
add_middle_bead (const TrammelSquare *square, guint corner)
{
  double middle = square->wall / 2;
  double end = square->arm - bead_position (square, square->n_beads / 2);
  const TrammelPoint near_left[] = { { end, middle }, { middle, middle }, { middle, end } };
  TrammelPoint *points = g_new (TrammelPoint, G_N_ELEMENTS (near_left));

  for (gsize i = 0; i < G_N_ELEMENTS (near_left); i++)
    points[i] = turned (square, near_left[i], corner);
  add_path (square->upper, points, G_N_ELEMENTS (near_left), FALSE);
}

static void
add_corner (const TrammelSquare *square, guint corner)
{
  for (gsize i = 0; i < square->n_beads / 2; i++)
    {
      gsize n;
      TrammelPoint *points = trammel_square_corner (square, corner, bead_position (square, i), &n);

      add_path (square->upper, points, n, TRUE);
    }
  if (square->n_beads % 2 == 1)
    add_middle_bead (square, corner);
}

void
trammel_square_lay_paths (TrammelSquare *square)
{
  square->lower = trammel_path_array_new ();
  square->upper = trammel_path_array_new ();
  if (!square->tool.filament)
    {
      add_frame_loop (square, square->tool.bead_width / 2);
      add_frame_loop (square, square->wall - square->tool.bead_width / 2);
      return;
    }
  for (gsize i = 0; i < square->n_beads; i++)
    add_frame_loop (square, bead_position (square, i));
  for (guint corner = 0; corner < 4; corner++)
    add_corner (square, corner);
}
