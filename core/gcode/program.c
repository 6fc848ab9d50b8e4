/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gcode/program.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Controllers' line buffers are short. */
#define COMMENT_WIDTH 70

/* What a comment may hold: printable ASCII, and no parenthesis, which would end it. */
static void
make_fit_for_comment (char *text)
{
  for (char *c = text; *c; c++)
    if (*c == '(')
      *c = '[';
    else if (*c == ')')
      *c = ']';
    else if (*c < ' ' || *c > '~')
      *c = ' ';
}

/* @text in ASCII; NULL when its script has no ASCII form. */
static char *
in_ascii (const char *text)
{
  g_autofree char *ascii = g_str_to_ascii (text, NULL);

  if (strchr (ascii, '?') && !strchr (text, '?'))
    return NULL;
  make_fit_for_comment (ascii);
  return g_steal_pointer (&ascii);
}

static gsize
length_that_fits (const char *text)
{
  gsize length = strlen (text);

  if (length <= COMMENT_WIDTH)
    return length;
  for (length = COMMENT_WIDTH; length > 0; length--)
    if (text[length] == ' ')
      return length;
  return COMMENT_WIDTH;
}

/* One or more lines of comment. */
void
trammel_program_put_comment (TrammelProgram *program, const char *text)
{
  while (*text)
    {
      gsize length = length_that_fits (text);

      g_string_append_printf (program->text, "(%.*s)\n", (int)length, text);
      text += length;
      while (*text == ' ')
        text++;
    }
}

/* A sentence in the user's language where that can be written in ASCII, else in English. */
static void
put_sentence (TrammelProgram *program, const char *sentence)
{
  g_autofree char *ascii = in_ascii (_ (sentence));

  trammel_program_put_comment (program, ascii ? ascii : sentence);
}

/* Numbers in comments are as in the program: C locale. */
static char *
plain (double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  return g_strdup (g_ascii_formatd (buffer, sizeof buffer, "%.6g", value));
}

void
trammel_program_put_size (TrammelProgram *program, const char *what, double value, const char *unit)
{
  g_autofree char *number = plain (value);
  g_autofree char *line = g_strdup_printf ("%s: %s%s%s", what, number, *unit ? " " : "", unit);

  trammel_program_put_comment (program, line);
}

/* The machine's own lines, as they stand. */
static void
put_own_lines (TrammelProgram *program, const char *key)
{
  const char *lines = trammel_record_string (program->tool->piece, key);

  if (!lines || !*lines)
    return;
  g_string_append (program->text, lines);
  if (!g_str_has_suffix (lines, "\n"))
    g_string_append_c (program->text, '\n');
}

/* They may leave other units or incremental moves behind. */
static void
put_start_lines (TrammelProgram *program)
{
  gsize length = program->text->len;

  put_own_lines (program, "start_lines");
  if (program->text->len > length)
    g_string_append (program->text, "G21\nG90\n");
}

static void
put_word (TrammelProgram *program, char letter, double value, const char *format)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  if (fabs (value) < 5e-6)
    value = 0; /* never “-0.0000” */
  g_string_append_printf (program->text, " %c%s", letter, g_ascii_formatd (buffer, sizeof buffer, format, value));
}

static void
put_place (TrammelProgram *program, TrammelPoint point)
{
  put_word (program, 'X', program->tool->origin_x + point.x, "%.4f");
  put_word (program, 'Y', program->tool->origin_y + point.y, "%.4f");
}

/* @speed in mm/s; the word is in mm/min. */
static void
put_speed (TrammelProgram *program, double speed)
{
  put_word (program, 'F', speed * 60, "%.3f");
}

static void
end_line (TrammelProgram *program)
{
  g_string_append_c (program->text, '\n');
}

void
trammel_program_move_to_height (TrammelProgram *program, double z)
{
  g_string_append (program->text, "G0");
  put_word (program, 'Z', z, "%.4f");
  put_speed (program, program->tool->lift_speed);
  end_line (program);
}

static void
travel_to (TrammelProgram *program, TrammelPoint point)
{
  g_string_append (program->text, "G0");
  put_place (program, point);
  put_speed (program, program->tool->travel_speed);
  end_line (program);
}

void
trammel_program_zero_feed (TrammelProgram *program)
{
  program->fed = 0;
  g_string_append_printf (program->text, "G92 %c0\n", program->tool->feed_letter);
}

static void
draw_path (TrammelProgram *program, const TrammelPath *path)
{
  const TrammelTool *tool = program->tool;
  TrammelPoint at = path->points[0];

  for (gsize i = 1; i < path->n_points + (path->closed ? 1 : 0); i++)
    {
      TrammelPoint next = path->points[i % path->n_points];

      g_string_append (program->text, "G1");
      put_place (program, next);
      if (tool->filament)
        {
          program->fed += hypot (next.x - at.x, next.y - at.y) * trammel_tool_filament_per_mm (tool);
          put_word (program, tool->feed_letter, program->fed, "%.5f");
        }
      if (i == 1)
        put_speed (program, tool->speed);
      end_line (program);
      at = next;
    }
}

static void
go_to_start (TrammelProgram *program, const TrammelPoint *approach, const TrammelPath *path)
{
  travel_to (program, approach ? *approach : path->points[0]);
  if (!approach)
    return;
  g_string_append (program->text, "G1");
  put_place (program, path->points[0]);
  put_speed (program, program->tool->speed);
  end_line (program);
}

void
trammel_program_draw (TrammelProgram *program, double z, const TrammelPoint *approach, const TrammelPath *path)
{
  if (program->tool->filament)
    {
      trammel_program_move_to_height (program, z + program->tool->lift);
      go_to_start (program, approach, path);
      trammel_program_move_to_height (program, z);
      draw_path (program, path);
      return;
    }
  go_to_start (program, approach, path);
  put_own_lines (program, "lower_lines");
  put_own_lines (program, "feed_on");
  draw_path (program, path);
  put_own_lines (program, "feed_off");
  put_own_lines (program, "lift_lines");
}

static void
put_cautions (TrammelProgram *program, double longest)
{
  put_sentence (program, N_ ("CAUTION: moving carriages pinch; keep hands, hair and sleeves away."));
  if (program->tool->filament)
    {
      put_sentence (program, N_ ("CAUTION: the hot tip and fresh plastic burn."));
      put_sentence (program, N_ ("CAUTION: ventilate; molten plastic gives off fumes."));
      put_sentence (program, N_ ("CAUTION: never leave a heated machine alone."));
      return;
    }
  put_sentence (program, N_ ("CAUTION: a pen held on past its rated time overheats."));
  trammel_program_put_size (program, "Longest time held on", ceil (longest / program->tool->speed), "s");
  put_sentence (program, N_ ("CAUTION: never leave a running machine alone."));
}

static void
put_title (TrammelProgram *program, const char *title)
{
  const char *name = trammel_machine_name (program->tool->machine);
  g_autofree char *whole = g_strdup_printf ("%s%s%s", title, name && *name ? " for " : "", name ? name : "");
  g_autofree char *ascii = g_str_to_ascii (whole, "C");

  make_fit_for_comment (ascii);
  trammel_program_put_comment (program, ascii);
}

void
trammel_program_init (TrammelProgram *program, const TrammelTool *tool, double longest, const char *title)
{
  *program = (TrammelProgram){ tool, g_string_new (NULL), 0 };
  put_cautions (program, longest);
  put_title (program, title);
}

void
trammel_program_put_tool (TrammelProgram *program)
{
  const TrammelTool *tool = program->tool;

  trammel_program_put_size (program, tool->filament ? "Bead width" : "Line width", tool->bead_width, "mm");
  trammel_program_put_size (program, "Speed", tool->speed, "mm/s");
  if (!tool->filament)
    return;
  trammel_program_put_size (program, "Layer height", tool->layer_height, "mm");
  trammel_program_put_size (program, "Filament diameter", tool->filament_diameter, "mm");
}

void
trammel_program_start (TrammelProgram *program)
{
  g_string_append (program->text, "G21\nG90\n");
  put_start_lines (program);
  if (program->tool->filament)
    return;
  put_own_lines (program, "feed_off");
  put_own_lines (program, "lift_lines");
}

char *
trammel_program_finish (TrammelProgram *program)
{
  put_own_lines (program, "end_lines");
  g_string_append (program->text, "M2\n");
  return g_string_free (g_steal_pointer (&program->text), FALSE);
}
