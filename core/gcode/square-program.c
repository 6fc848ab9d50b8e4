/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "gcode/program.h"
#include "gcode/square-private.h"

static double
longest_path (const TrammelSquare *square)
{
  double longest = 0;

  for (guint i = 0; i < square->lower->len; i++)
    longest = MAX (longest, trammel_path_length (&g_array_index (square->lower, TrammelPath, i)));
  return longest;
}

static void
put_description (TrammelProgram *program, const TrammelSquare *square)
{
  trammel_program_put_size (program, "Size", square->size, "mm");
  trammel_program_put_size (program, "Wall", square->wall, "mm");
  trammel_program_put_size (program, "Step", square->step, "mm");
  trammel_program_put_tool (program);
  if (!square->tool.filament)
    return;
  trammel_program_put_size (program, "Heights, lower", square->step_height, "mm");
  trammel_program_put_size (program, "Heights, upper", square->height, "mm");
  trammel_program_put_size (program, "Beads across the wall", square->n_beads, "");
}

static void
put_paths (TrammelProgram *program, const GArray *paths, double z)
{
  for (guint i = 0; i < paths->len; i++)
    trammel_program_draw (program, z, NULL, &g_array_index (paths, TrammelPath, i));
}

static void
put_layers (TrammelProgram *program, const TrammelSquare *square)
{
  for (gsize layer = 1; layer <= square->layers; layer++)
    {
      g_autofree char *number = g_strdup_printf ("Layer %zu of %zu", layer, square->layers);

      trammel_program_put_comment (program, number);
      trammel_program_zero_feed (program);
      put_paths (program, layer <= square->step_layers ? square->lower : square->upper,
                 layer * square->tool.layer_height);
    }
  trammel_program_move_to_height (program, square->layers * square->tool.layer_height + square->tool.lift);
}

char *
trammel_square_program (const TrammelSquare *square)
{
  TrammelProgram program;

  g_return_val_if_fail (square != NULL, NULL);

  trammel_program_init (&program, &square->tool, longest_path (square), "Calibration square");
  put_description (&program, square);
  trammel_program_start (&program);
  if (square->tool.filament)
    put_layers (&program, square);
  else /* one pass: the feed is on along the faces and nowhere else */
    put_paths (&program, square->lower, 0);
  return trammel_program_finish (&program);
}

/* Adds the beads and the time of a layer's paths, @times over. */
static void
add_layers (const TrammelSquare *square, const GArray *paths, gsize times, double *beads, double *seconds)
{
  const TrammelTool *tool = &square->tool;

  for (guint i = 0; i < paths->len && times > 0; i++)
    {
      const TrammelPath *path = &g_array_index (paths, TrammelPath, i);
      const TrammelPath *next = &g_array_index (paths, TrammelPath, (i + 1) % paths->len);
      TrammelPoint end = trammel_path_end (path), start = next->points[0];
      gsize n_travels = i + 1 < paths->len ? times : times - 1;
      double length = trammel_path_length (path);

      *beads += times * length;
      *seconds += times * length / tool->speed;
      *seconds += n_travels * hypot (start.x - end.x, start.y - end.y) / tool->travel_speed;
      if (tool->filament)
        *seconds += times * 2 * tool->lift / tool->lift_speed;
    }
}

void
trammel_square_effort (const TrammelSquare *square, double *bead_length, double *seconds, double *filament)
{
  double beads = 0, time = 0;

  g_return_if_fail (square != NULL);

  add_layers (square, square->lower, square->tool.filament ? square->step_layers : 1, &beads, &time);
  add_layers (square, square->upper, square->tool.filament ? square->layers - square->step_layers : 0, &beads, &time);
  if (bead_length)
    *bead_length = beads;
  if (seconds)
    *seconds = time;
  if (filament)
    *filament = beads * trammel_tool_filament_per_mm (&square->tool);
}
