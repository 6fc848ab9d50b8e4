/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "gcode/ladder-private.h"
#include "gcode/program.h"

static TrammelLadderLine
line_at (const TrammelLadder *ladder, guint i)
{
  return g_array_index (ladder->lines, TrammelLadderLine, i);
}

static double
length_of (const TrammelLadderLine *line)
{
  return hypot (line->to.x - line->from.x, line->to.y - line->from.y);
}

static double
longest_line (const TrammelLadder *ladder)
{
  double longest = 0;

  for (guint i = 0; i < ladder->lines->len; i++)
    {
      const TrammelLadderLine line = line_at (ladder, i);
      longest = MAX (longest, length_of (&line));
    }
  return longest;
}

static void
put_description (TrammelProgram *program, const TrammelLadder *ladder)
{
  trammel_program_put_size (program, "Lines of each comb", ladder->n_lines, "");
  trammel_program_put_size (program, "Spacing", ladder->spacing, "mm");
  if (ladder->vernier > 0)
    trammel_program_put_size (program, "Spacing of lines approached moving up", ladder->spacing + ladder->vernier,
                              "mm");
  trammel_program_put_size (program, "Approach", ladder->approach, "mm");
  trammel_program_put_tool (program);
}

static void
put_comb_title (TrammelProgram *program, const TrammelLadderLine *line)
{
  g_autofree char *title = g_strdup_printf ("%c, lines approached moving %s", line->letter, line->up ? "up" : "down");

  trammel_program_put_comment (program, title);
  if (program->tool->filament)
    trammel_program_zero_feed (program);
}

char *
trammel_ladder_program (const TrammelLadder *ladder)
{
  TrammelProgram program;

  g_return_val_if_fail (ladder != NULL, NULL);

  trammel_program_init (&program, &ladder->tool, longest_line (ladder), "Ladder of lines");
  put_description (&program, ladder);
  trammel_program_start (&program);
  for (guint i = 0; i < ladder->lines->len; i++)
    {
      const TrammelLadderLine line = line_at (ladder, i);
      TrammelPoint points[] = { line.from, line.to };
      const TrammelPath path = { points, G_N_ELEMENTS (points), FALSE };

      if (i % (guint)ladder->n_lines == 0)
        put_comb_title (&program, &line);
      trammel_program_draw (&program, ladder->tool.layer_height, &line.approach, &path);
    }
  if (ladder->tool.filament)
    trammel_program_move_to_height (&program, ladder->tool.layer_height + ladder->tool.lift);
  return trammel_program_finish (&program);
}

void
trammel_ladder_effort (const TrammelLadder *ladder, double *line_length, double *seconds, double *filament)
{
  const TrammelTool *tool;
  double length = 0, time = 0;

  g_return_if_fail (ladder != NULL);

  tool = &ladder->tool;
  for (guint i = 0; i < ladder->lines->len; i++)
    {
      const TrammelLadderLine line = line_at (ladder, i), before = line_at (ladder, i > 0 ? i - 1 : 0);

      length += length_of (&line);
      time += (length_of (&line) + ladder->approach) / tool->speed;
      if (i > 0)
        time += hypot (line.approach.x - before.to.x, line.approach.y - before.to.y) / tool->travel_speed;
      if (tool->filament)
        time += 2 * tool->lift / tool->lift_speed;
    }
  if (line_length)
    *line_length = length;
  if (seconds)
    *seconds = time;
  if (filament)
    *filament = length * trammel_tool_filament_per_mm (tool);
}
