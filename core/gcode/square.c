/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "gcode/square-private.h"

/* Heights are whole layers within 1 µm. */
#define CLOSE 1e-3
/* Beads less than this part of their own filling distance apart would pile up. */
#define TIGHTEST_SPACING 0.9
#define STEP_WIDTH_OF_SIZE (1.0 / 3)
/* Beads across the wall times layers: a program of about 80 MB. */
#define MOST_LOOPS 100000

static const TrammelToolLength lengths[] = {
  { "size", G_STRUCT_OFFSET (TrammelSquare, size), FALSE },
  { "wall", G_STRUCT_OFFSET (TrammelSquare, wall), FALSE },
  { "step", G_STRUCT_OFFSET (TrammelSquare, step), FALSE },
  { "height", G_STRUCT_OFFSET (TrammelSquare, height), TRUE },
  { "step_height", G_STRUCT_OFFSET (TrammelSquare, step_height), TRUE },
};

static double
step_begins_at (double size)
{
  return (size - round (size * STEP_WIDTH_OF_SIZE)) / 2;
}

/* How far the inner outlines of two steps keep clear of each other at a corner. */
static double
clear_inside (const TrammelSquare *square, double size)
{
  return step_begins_at (size) - 2 * square->wall - square->step / 2;
}

static double
smallest_size (const TrammelSquare *square)
{
  double size = floor (square->wall * 4);

  while (clear_inside (square, size) < square->tool.bead_width)
    size += 1;
  return size;
}

static gboolean
check_plan_view (const TrammelSquare *square, GError **error)
{
  if (!(square->step > 0))
    return trammel_tool_refuse (error, _ ("step: found %g mm; above 0 is wanted, so that there are two outside sizes"),
                                square->step);
  if (square->wall < 2 * square->tool.bead_width)
    return trammel_tool_refuse (error, _ ("wall: found %g mm; at least two beads are wanted, %g mm"), square->wall,
                                2 * square->tool.bead_width);
  if (clear_inside (square, square->size) < square->tool.bead_width)
    return trammel_tool_refuse (
        error,
        _ ("size: %g mm is too small for a wall of %g mm and a step of %g mm; at least %g mm is wanted, or a "
           "thinner wall"),
        square->size, square->wall, square->step, smallest_size (square));
  return TRUE;
}

static gboolean
count_layers (const TrammelSquare *square, const char *key, double height, gsize *layers, GError **error)
{
  double layer = square->tool.layer_height;
  double n = round (height / layer);

  if (n < 1)
    return trammel_tool_refuse (error, _ ("%s: found %g mm; at least one layer of %g mm is wanted"), key, height,
                                layer);
  if (fabs (n * layer - height) > CLOSE)
    return trammel_tool_refuse (error, _ ("%s: %g mm is not a whole number of %g mm layers; %g mm and %g mm are"), key,
                                height, layer, MAX (floor (height / layer), 1) * layer,
                                (floor (height / layer) + 1) * layer);
  *layers = (gsize)n;
  return TRUE;
}

static gboolean
check_heights (TrammelSquare *square, GError **error)
{
  if (square->height <= square->step_height + CLOSE)
    return trammel_tool_refuse (error, _ ("height: found %g mm; above step_height, %g mm, is wanted"), square->height,
                                square->step_height);
  return count_layers (square, "step_height", square->step_height, &square->step_layers, error)
         && count_layers (square, "height", square->height, &square->layers, error);
}

/* Beads fill a wall without gaps when their middles lie area/layer apart: what the rounded sides leave open is filled
 * by the overlap. The two beads at the faces are as wide as asked, those between are spread evenly. */
static gboolean
fill_wall (TrammelSquare *square, GError **error)
{
  double filling = trammel_tool_bead_area (&square->tool) / square->tool.layer_height;
  double room = square->wall - square->tool.bead_width;
  double gaps = MAX (round (room / filling), 1);

  square->n_beads = (gsize)gaps + 1;
  square->spacing = room / gaps;
  if (square->spacing >= TIGHTEST_SPACING * filling && square->spacing <= square->tool.bead_width + 1e-9)
    return TRUE;

  gaps = floor (room / filling);
  return trammel_tool_refuse (error,
                              _ ("wall: %g mm cannot be filled evenly with beads %g mm wide; %.3f mm and %.3f mm can"),
                              square->wall, square->tool.bead_width, square->tool.bead_width + gaps * filling,
                              square->tool.bead_width + (gaps + 1) * filling);
}

static gboolean
is_of_sane_length (const TrammelSquare *square, GError **error)
{
  double loops = (double)square->n_beads * square->layers;

  if (loops <= MOST_LOOPS)
    return TRUE;
  g_set_error (
      error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
      _ ("the square would take %.0f rounds of beads (%zu across the wall, %zu layers); at most %d are wanted"), loops,
      square->n_beads, square->layers, MOST_LOOPS);
  return FALSE;
}

static gboolean
lay_out (TrammelSquare *square, GError **error)
{
  const TrammelTool *tool = &square->tool;

  if (!trammel_tool_init (&square->tool, square->machine, error)
      || !trammel_tool_read (tool, square, lengths, G_N_ELEMENTS (lengths), error) || !check_plan_view (square, error))
    return FALSE;
  square->depth = square->step / 2;
  square->arm = step_begins_at (square->size);
  if (tool->filament
      && (!check_heights (square, error) || !fill_wall (square, error) || !is_of_sane_length (square, error)))
    return FALSE;
  if (!trammel_tool_reaches (tool, square->size, square->size, square->height, error))
    return FALSE;

  trammel_square_list_features (square);
  trammel_square_list_outlines (square);
  trammel_square_lay_paths (square);
  return TRUE;
}

TrammelSquare *
trammel_square_new (const TrammelMachine *machine, GError **error)
{
  g_autoptr (TrammelSquare) square = NULL;

  g_return_val_if_fail (machine != NULL, NULL);

  square = g_new0 (TrammelSquare, 1);
  square->machine = trammel_machine_ref (machine);
  if (!trammel_record_is (trammel_machine_piece (machine), "square"))
    {
      trammel_tool_refuse (error, _ ("the machine's piece is not a square"));
      return NULL;
    }
  if (!lay_out (square, error))
    return NULL;
  return g_steal_pointer (&square);
}

void
trammel_square_free (TrammelSquare *square)
{
  if (!square)
    return;
  g_clear_pointer (&square->lower, g_array_unref);
  g_clear_pointer (&square->upper, g_array_unref);
  g_clear_pointer (&square->features, g_array_unref);
  g_clear_pointer (&square->outlines, g_array_unref);
  trammel_machine_unref (square->machine);
  g_free (square);
}
