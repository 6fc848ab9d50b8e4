/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What the square offers to be measured, and its outlines. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "gcode/square-private.h"

static void
add_feature (TrammelSquare *square, TrammelReadingKind kind, const char *along, double nominal, TrammelPoint from,
             TrammelPoint to, const char *name)
{
  TrammelFeature feature = { kind, { { 0 } }, nominal, from, to, name, NAN, NULL };

  if (trammel_direction_parse (along, &feature.along, NULL))
    g_array_append_val (square->features, feature);
}

/* The three sizes along one axis; in Y the places are those of X with x and y exchanged. */
static void
add_sizes_along (TrammelSquare *square, const char *along)
{
  double size = square->size, wall = square->wall, depth = square->depth;
  double at_arm = (square->arm + wall) / 2;
  struct
  {
    TrammelReadingKind kind;
    double from, to, at;
    const char *name;
  } sizes[] = {
    { TRAMMEL_READING_OUTSIDE, 0, size, at_arm, _ ("long outside") },
    { TRAMMEL_READING_OUTSIDE, depth, size - depth, size / 2, _ ("step outside") },
    { TRAMMEL_READING_INSIDE, wall, size - wall, at_arm, _ ("inside") },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (sizes); i++)
    {
      TrammelPoint from = { sizes[i].from, sizes[i].at }, to = { sizes[i].to, sizes[i].at };

      if (along[0] == 'Y')
        {
          from = (TrammelPoint){ from.y, from.x };
          to = (TrammelPoint){ to.y, to.x };
        }
      add_feature (square, sizes[i].kind, along, sizes[i].to - sizes[i].from, from, to, sizes[i].name);
    }
}

static void
add_height (TrammelSquare *square, double height, TrammelPoint place, const char *name)
{
  add_feature (square, TRAMMEL_READING_HEIGHT, "Z", height, place, place, name);
}

void
trammel_square_list_features (TrammelSquare *square)
{
  double size = square->size, wall = square->wall;

  square->features = trammel_feature_array_new ();
  add_sizes_along (square, "X");
  add_sizes_along (square, "Y");
  add_feature (square, TRAMMEL_READING_OUTSIDE, "X+Y", size * G_SQRT2, (TrammelPoint){ 0, 0 },
               (TrammelPoint){ size, size }, _ ("diagonal"));
  add_feature (square, TRAMMEL_READING_OUTSIDE, "X-Y", size * G_SQRT2, (TrammelPoint){ 0, size },
               (TrammelPoint){ size, 0 }, _ ("other diagonal"));
  if (!square->tool.filament)
    return;
  add_height (square, square->step_height, (TrammelPoint){ size / 2, square->depth + wall / 2 }, _ ("step height"));
  add_height (square, square->height, (TrammelPoint){ wall / 2, wall / 2 }, _ ("corner height"));
}

static void
clear_outline (gpointer data)
{
  g_free (((TrammelOutline *)data)->points);
}

static void
reverse (TrammelPoint *points, gsize n)
{
  for (gsize i = 0; i < n / 2; i++)
    {
      TrammelPoint kept = points[i];

      points[i] = points[n - 1 - i];
      points[n - 1 - i] = kept;
    }
}

void
trammel_square_list_outlines (TrammelSquare *square)
{
  TrammelOutline outline = { NULL, 0, FALSE, 0, square->tool.filament ? square->step_height : 0 };

  square->outlines = g_array_new (FALSE, FALSE, sizeof (TrammelOutline));
  g_array_set_clear_func (square->outlines, clear_outline);
  outline.points = trammel_square_frame (square, 0, &outline.n_points);
  g_array_append_val (square->outlines, outline);
  outline.points = trammel_square_frame (square, square->wall, &outline.n_points);
  reverse (outline.points, outline.n_points);
  outline.hole = TRUE;
  g_array_append_val (square->outlines, outline);
  if (!square->tool.filament)
    return;
  for (guint corner = 0; corner < 4; corner++)
    {
      outline = (TrammelOutline){ NULL, 0, FALSE, square->step_height, square->height };
      outline.points = trammel_square_corner (square, corner, 0, &outline.n_points);
      g_array_append_val (square->outlines, outline);
    }
}

const GArray *
trammel_square_features (const TrammelSquare *square)
{
  g_return_val_if_fail (square != NULL, NULL);

  return square->features;
}

const TrammelOutline *
trammel_square_outlines (const TrammelSquare *square, gsize *n)
{
  g_return_val_if_fail (square != NULL && n != NULL, NULL);

  *n = square->outlines->len;
  return (const TrammelOutline *)(gpointer)square->outlines->data;
}
