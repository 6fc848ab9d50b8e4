/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/quantity.h"
#include "gcode/square-private.h"

/* Controllers' line buffers are short. */
#define COMMENT_WIDTH 70

/* The program as it grows. */
typedef struct
{
  const TrammelSquare *square;
  GString *text;
  double fed; /* mm of filament since G92 */
} Writer;

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
static void
put_comment (Writer *writer, const char *text)
{
  while (*text)
    {
      gsize length = length_that_fits (text);

      g_string_append_printf (writer->text, "(%.*s)\n", (int)length, text);
      text += length;
      while (*text == ' ')
        text++;
    }
}

/* A sentence in the user's language where that can be written in ASCII, else in English. */
static void
put_sentence (Writer *writer, const char *sentence)
{
  g_autofree char *ascii = in_ascii (_ (sentence));

  put_comment (writer, ascii ? ascii : sentence);
}

/* Numbers in comments are as in the program: C locale. */
static char *
plain (double value)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  return g_strdup (g_ascii_formatd (buffer, sizeof buffer, "%.6g", value));
}

static void
put_size (Writer *writer, const char *what, double value, const char *unit)
{
  g_autofree char *number = plain (value);
  g_autofree char *line = g_strdup_printf ("%s: %s%s%s", what, number, *unit ? " " : "", unit);

  put_comment (writer, line);
}

/* The machine's own lines, as they stand. */
static void
put_own_lines (Writer *writer, const char *key)
{
  const char *lines = trammel_record_string (writer->square->piece, key);

  if (!lines || !*lines)
    return;
  g_string_append (writer->text, lines);
  if (!g_str_has_suffix (lines, "\n"))
    g_string_append_c (writer->text, '\n');
}

/* They may leave other units or incremental moves behind. */
static void
put_start_lines (Writer *writer)
{
  gsize length = writer->text->len;

  put_own_lines (writer, "start_lines");
  if (writer->text->len > length)
    g_string_append (writer->text, "G21\nG90\n");
}

static void
put_word (Writer *writer, char letter, double value, const char *format)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  if (fabs (value) < 5e-6)
    value = 0; /* never “-0.0000” */
  g_string_append_printf (writer->text, " %c%s", letter, g_ascii_formatd (buffer, sizeof buffer, format, value));
}

static void
put_place (Writer *writer, TrammelPoint point)
{
  put_word (writer, 'X', writer->square->origin_x + point.x, "%.4f");
  put_word (writer, 'Y', writer->square->origin_y + point.y, "%.4f");
}

/* @speed in mm/s; the word is in mm/min. */
static void
put_speed (Writer *writer, double speed)
{
  put_word (writer, 'F', speed * 60, "%.3f");
}

static void
end_line (Writer *writer)
{
  g_string_append_c (writer->text, '\n');
}

static void
move_to_height (Writer *writer, double z)
{
  g_string_append (writer->text, "G0");
  put_word (writer, 'Z', z, "%.4f");
  put_speed (writer, writer->square->lift_speed);
  end_line (writer);
}

static void
travel_to (Writer *writer, TrammelPoint point)
{
  g_string_append (writer->text, "G0");
  put_place (writer, point);
  put_speed (writer, writer->square->travel_speed);
  end_line (writer);
}

static void
zero_feed (Writer *writer)
{
  writer->fed = 0;
  g_string_append_printf (writer->text, "G92 %c0\n", writer->square->feed_letter);
}

static double
filament_per_mm (const TrammelSquare *square)
{
  double radius = square->filament_diameter / 2;

  return square->filament ? trammel_square_bead_area (square) / (G_PI * radius * radius) : 0;
}

static void
draw_path (Writer *writer, const TrammelPath *path)
{
  const TrammelSquare *square = writer->square;
  TrammelPoint at = path->points[0];

  for (gsize i = 1; i < path->n_points + (path->closed ? 1 : 0); i++)
    {
      TrammelPoint next = path->points[i % path->n_points];

      g_string_append (writer->text, "G1");
      put_place (writer, next);
      if (square->filament)
        {
          writer->fed += hypot (next.x - at.x, next.y - at.y) * filament_per_mm (square);
          put_word (writer, square->feed_letter, writer->fed, "%.5f");
        }
      if (i == 1)
        put_speed (writer, square->speed);
      end_line (writer);
      at = next;
    }
}

/* Seconds for which the longest path keeps the feed on. */
static double
longest_stroke (const TrammelSquare *square)
{
  double longest = 0;

  for (guint i = 0; i < square->lower->len; i++)
    longest = MAX (longest, trammel_path_length (&g_array_index (square->lower, TrammelPath, i)));
  return longest / square->speed;
}

static void
put_cautions (Writer *writer)
{
  put_sentence (writer, N_ ("CAUTION: moving carriages pinch; keep hands, hair and sleeves away."));
  if (writer->square->filament)
    {
      put_sentence (writer, N_ ("CAUTION: the hot tip and fresh plastic burn."));
      put_sentence (writer, N_ ("CAUTION: ventilate; molten plastic gives off fumes."));
      put_sentence (writer, N_ ("CAUTION: never leave a heated machine alone."));
      return;
    }
  put_sentence (writer, N_ ("CAUTION: a pen held on past its rated time overheats."));
  put_size (writer, "Longest time held on", ceil (longest_stroke (writer->square)), "s");
  put_sentence (writer, N_ ("CAUTION: never leave a running machine alone."));
}

static void
put_description (Writer *writer)
{
  const TrammelSquare *square = writer->square;
  const char *name = trammel_machine_name (square->machine);
  g_autofree char *title = g_strdup_printf ("Calibration square%s%s", name && *name ? " for " : "", name ? name : "");
  g_autofree char *ascii = g_str_to_ascii (title, "C");

  make_fit_for_comment (ascii);
  put_comment (writer, ascii);
  put_size (writer, "Size", square->size, "mm");
  put_size (writer, "Wall", square->wall, "mm");
  put_size (writer, "Step", square->step, "mm");
  put_size (writer, square->filament ? "Bead width" : "Line width", square->bead_width, "mm");
  put_size (writer, "Speed", square->speed, "mm/s");
  if (!square->filament)
    return;
  put_size (writer, "Heights, lower", square->step_height, "mm");
  put_size (writer, "Heights, upper", square->height, "mm");
  put_size (writer, "Layer height", square->layer_height, "mm");
  put_size (writer, "Beads across the wall", square->n_beads, "");
  put_size (writer, "Filament diameter", square->filament_diameter, "mm");
}

static void
put_layer (Writer *writer, gsize layer)
{
  const TrammelSquare *square = writer->square;
  GArray *paths = layer <= square->step_layers ? square->lower : square->upper;
  double z = layer * square->layer_height;

  g_string_append_printf (writer->text, "(Layer %zu of %zu)\n", layer, square->layers);
  zero_feed (writer);
  for (guint i = 0; i < paths->len; i++)
    {
      const TrammelPath *path = &g_array_index (paths, TrammelPath, i);

      move_to_height (writer, z + square->lift);
      travel_to (writer, path->points[0]);
      move_to_height (writer, z);
      draw_path (writer, path);
    }
}

static void
put_layers (Writer *writer)
{
  const TrammelSquare *square = writer->square;

  for (gsize layer = 1; layer <= square->layers; layer++)
    put_layer (writer, layer);
  move_to_height (writer, square->layers * square->layer_height + square->lift);
}

/* One pass: the feed is on along the faces and nowhere else. */
static void
put_strokes (Writer *writer)
{
  const TrammelSquare *square = writer->square;

  put_own_lines (writer, "feed_off");
  put_own_lines (writer, "lift_lines");
  for (guint i = 0; i < square->lower->len; i++)
    {
      const TrammelPath *path = &g_array_index (square->lower, TrammelPath, i);

      travel_to (writer, path->points[0]);
      put_own_lines (writer, "lower_lines");
      put_own_lines (writer, "feed_on");
      draw_path (writer, path);
      put_own_lines (writer, "feed_off");
      put_own_lines (writer, "lift_lines");
    }
}

char *
trammel_square_program (const TrammelSquare *square, GError **error)
{
  Writer writer = { square, NULL, 0 };

  g_return_val_if_fail (square != NULL, NULL);

  writer.text = g_string_new (NULL);
  put_cautions (&writer);
  put_description (&writer);
  g_string_append (writer.text, "G21\nG90\n");
  put_start_lines (&writer);
  if (square->filament)
    put_layers (&writer);
  else
    put_strokes (&writer);
  put_own_lines (&writer, "end_lines");
  g_string_append (writer.text, "M2\n");
  return g_string_free (writer.text, FALSE);
}

/* Adds the beads and the time of a layer's paths, @times over. */
static void
add_layers (const TrammelSquare *square, const GArray *paths, gsize times, double *beads, double *seconds)
{
  for (guint i = 0; i < paths->len && times > 0; i++)
    {
      const TrammelPath *path = &g_array_index (paths, TrammelPath, i);
      const TrammelPath *next = &g_array_index (paths, TrammelPath, (i + 1) % paths->len);
      TrammelPoint end = trammel_path_end (path), start = next->points[0];
      gsize n_travels = i + 1 < paths->len ? times : times - 1;
      double length = trammel_path_length (path);

      *beads += times * length;
      *seconds += times * length / square->speed;
      *seconds += n_travels * hypot (start.x - end.x, start.y - end.y) / square->travel_speed;
      if (square->filament)
        *seconds += times * 2 * square->lift / square->lift_speed;
    }
}

void
trammel_square_effort (const TrammelSquare *square, double *bead_length, double *seconds, double *filament)
{
  double beads = 0, time = 0;

  g_return_if_fail (square != NULL);

  add_layers (square, square->lower, square->filament ? square->step_layers : 1, &beads, &time);
  add_layers (square, square->upper, square->filament ? square->layers - square->step_layers : 0, &beads, &time);
  if (bead_length)
    *bead_length = beads;
  if (seconds)
    *seconds = time;
  if (filament)
    *filament = beads * filament_per_mm (square);
}
