/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gcode/path.h"

#include <math.h>

static void
clear_path (gpointer data)
{
  g_free (((TrammelPath *)data)->points);
}

GArray *
trammel_path_array_new (void)
{
  GArray *paths = g_array_new (FALSE, FALSE, sizeof (TrammelPath));

  g_array_set_clear_func (paths, clear_path);
  return paths;
}

double
trammel_path_length (const TrammelPath *path)
{
  double length = 0;

  for (gsize i = 1; i < path->n_points + (path->closed ? 1 : 0); i++)
    {
      TrammelPoint a = path->points[i - 1], b = path->points[i % path->n_points];

      length += hypot (b.x - a.x, b.y - a.y);
    }
  return length;
}

TrammelPoint
trammel_path_end (const TrammelPath *path)
{
  return path->points[path->closed ? 0 : path->n_points - 1];
}
