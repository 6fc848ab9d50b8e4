/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "gcode/square-private.h"

/* Heights, and what the travel leaves: whole within 1 µm. */
#define CLOSE 1e-3
/* Beads less than this part of their own filling distance apart would pile up. */
#define TIGHTEST_SPACING 0.9
#define STEP_WIDTH_OF_SIZE (1.0 / 3)
/* Beads across the wall times layers: a program of about 80 MB. */
#define MOST_LOOPS 100000

/* The lengths and speeds of the record. */
static const struct
{
  const char *key;
  gsize offset;
  gboolean filament_only;
} parameters[] = {
  { "size", G_STRUCT_OFFSET (TrammelSquare, size), FALSE },
  { "wall", G_STRUCT_OFFSET (TrammelSquare, wall), FALSE },
  { "step", G_STRUCT_OFFSET (TrammelSquare, step), FALSE },
  { "height", G_STRUCT_OFFSET (TrammelSquare, height), TRUE },
  { "step_height", G_STRUCT_OFFSET (TrammelSquare, step_height), TRUE },
  { "bead_width", G_STRUCT_OFFSET (TrammelSquare, bead_width), FALSE },
  { "layer_height", G_STRUCT_OFFSET (TrammelSquare, layer_height), TRUE },
  { "speed", G_STRUCT_OFFSET (TrammelSquare, speed), FALSE },
  { "travel_speed", G_STRUCT_OFFSET (TrammelSquare, travel_speed), FALSE },
  { "lift", G_STRUCT_OFFSET (TrammelSquare, lift), TRUE },
  { "origin_x", G_STRUCT_OFFSET (TrammelSquare, origin_x), FALSE },
  { "origin_y", G_STRUCT_OFFSET (TrammelSquare, origin_y), FALSE },
  { "filament_diameter", G_STRUCT_OFFSET (TrammelSquare, filament_diameter), TRUE },
};

G_GNUC_PRINTF (2, 3)
static gboolean
refuse (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *message = NULL;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE, message);
  return FALSE;
}

static gboolean
read_parameters (TrammelSquare *square, GError **error)
{
  square->filament = g_strcmp0 (trammel_record_choice (square->piece, "feed"), "none") != 0;
  for (gsize i = 0; i < G_N_ELEMENTS (parameters); i++)
    {
      double value = trammel_record_value (square->piece, parameters[i].key);

      if (!isfinite (value) && (square->filament || !parameters[i].filament_only))
        return refuse (error, _ ("%s: not set, and the square needs it"), parameters[i].key);
      G_STRUCT_MEMBER (double, square, parameters[i].offset) = value;
    }
  return TRUE;
}

static const TrammelAxis *
find_axis (const TrammelSquare *square, char letter)
{
  int i = trammel_machine_axis_index (square->machine, letter);

  return i < 0 ? NULL : trammel_machine_axis (square->machine, i);
}

/* The square is drawn along straight axes at right angles: X and Y, and Z where it has a height. */
static gboolean
check_axes (const TrammelSquare *square, GError **error)
{
  for (const char *letter = square->filament ? "XYZ" : "XY"; *letter; letter++)
    {
      const TrammelAxis *axis = find_axis (square, *letter);

      if (!axis)
        return refuse (error, _ ("the machine has no axis %c, and the square needs one"), *letter);
      if (trammel_axis_kind (axis) != TRAMMEL_AXIS_LINEAR)
        return refuse (error, _ ("axis %c is a %s axis; the square needs a linear one"), *letter,
                       trammel_axis_kind_label (trammel_axis_kind (axis)));
    }
  return TRUE;
}

static gboolean
check_feed_letter (TrammelSquare *square, GError **error)
{
  const char *text = trammel_record_string (square->piece, "feed_letter");
  const TrammelAxis *axis;

  if (!text || !g_ascii_isupper (text[0]) || text[1] != '\0' || strchr ("XYZFGMNT", text[0]))
    return refuse (error, _ ("feed_letter: found “%s”; one capital letter is wanted, not one of F G M N T X Y Z"),
                   text ? text : "");
  axis = find_axis (square, text[0]);
  if (axis && trammel_axis_kind (axis) != TRAMMEL_AXIS_FEED)
    return refuse (error, _ ("feed_letter: %c is a %s axis of this machine; a feed axis is wanted"), text[0],
                   trammel_axis_kind_label (trammel_axis_kind (axis)));
  square->feed_letter = text[0];
  return TRUE;
}

static gboolean
has_lines (const TrammelSquare *square, const char *key)
{
  const char *lines = trammel_record_string (square->piece, key);

  return lines && *lines;
}

/* A feed that is only on or off is switched by the machine's own lines; what is put down must be taken up again. */
static gboolean
check_own_lines (const TrammelSquare *square, GError **error)
{
  gboolean feed = has_lines (square, "feed_on"), lower = has_lines (square, "lower_lines");

  if (!feed && !lower)
    return refuse (error, _ ("feed_on: empty; with feed “none” the machine's own lines that put the pen down (feed_on, "
                             "or lower_lines) are needed"));
  if (feed && !has_lines (square, "feed_off"))
    return refuse (error, _ ("feed_off: empty; what feed_on starts must be stopped again"));
  if (lower && !has_lines (square, "lift_lines"))
    return refuse (error, _ ("lift_lines: empty; what lower_lines puts down must be lifted again"));
  return TRUE;
}

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

  while (clear_inside (square, size) < square->bead_width)
    size += 1;
  return size;
}

static gboolean
check_plan_view (const TrammelSquare *square, GError **error)
{
  if (!(square->bead_width > 0) || !(square->speed > 0) || !(square->travel_speed > 0))
    return refuse (error, _ ("bead_width, speed and travel_speed must be above 0"));
  if (!(square->step > 0))
    return refuse (error, _ ("step: found %g mm; above 0 is wanted, so that there are two outside sizes"),
                   square->step);
  if (square->wall < 2 * square->bead_width)
    return refuse (error, _ ("wall: found %g mm; at least two beads are wanted, %g mm"), square->wall,
                   2 * square->bead_width);
  if (clear_inside (square, square->size) < square->bead_width)
    return refuse (
        error,
        _ ("size: %g mm is too small for a wall of %g mm and a step of %g mm; at least %g mm is wanted, or a "
           "thinner wall"),
        square->size, square->wall, square->step, smallest_size (square));
  return TRUE;
}

static gboolean
count_layers (const TrammelSquare *square, const char *key, double height, gsize *layers, GError **error)
{
  double layer = square->layer_height;
  double n = round (height / layer);

  if (n < 1)
    return refuse (error, _ ("%s: found %g mm; at least one layer of %g mm is wanted"), key, height, layer);
  if (fabs (n * layer - height) > CLOSE)
    return refuse (error, _ ("%s: %g mm is not a whole number of %g mm layers; %g mm and %g mm are"), key, height,
                   layer, MAX (floor (height / layer), 1) * layer, (floor (height / layer) + 1) * layer);
  *layers = (gsize)n;
  return TRUE;
}

static gboolean
check_heights (TrammelSquare *square, GError **error)
{
  if (!(square->layer_height > 0) || square->layer_height > square->bead_width)
    return refuse (error, _ ("layer_height: found %g mm; above 0 and not above the bead's width, %g mm, is wanted"),
                   square->layer_height, square->bead_width);
  if (!(square->filament_diameter > 0) || !(square->lift >= 0))
    return refuse (error, _ ("filament_diameter must be above 0, and lift not below"));
  if (square->height <= square->step_height + CLOSE)
    return refuse (error, _ ("height: found %g mm; above step_height, %g mm, is wanted"), square->height,
                   square->step_height);
  return count_layers (square, "step_height", square->step_height, &square->step_layers, error)
         && count_layers (square, "height", square->height, &square->layers, error);
}

/* Beads fill a wall without gaps when their middles lie area/layer apart: what the rounded sides leave open is filled
 * by the overlap. The two beads at the faces are as wide as asked, those between are spread evenly. */
static gboolean
fill_wall (TrammelSquare *square, GError **error)
{
  double filling = trammel_square_bead_area (square) / square->layer_height;
  double room = square->wall - square->bead_width;
  double gaps = MAX (round (room / filling), 1);

  square->n_beads = (gsize)gaps + 1;
  square->spacing = room / gaps;
  if (square->spacing >= TIGHTEST_SPACING * filling && square->spacing <= square->bead_width + 1e-9)
    return TRUE;

  gaps = floor (room / filling);
  return refuse (error, _ ("wall: %g mm cannot be filled evenly with beads %g mm wide; %.3f mm and %.3f mm can"),
                 square->wall, square->bead_width, square->bead_width + gaps * filling,
                 square->bead_width + (gaps + 1) * filling);
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
fits_travel (const TrammelSquare *square, char letter, double origin, double length, GError **error)
{
  double travel = trammel_axis_travel_value (find_axis (square, letter));

  if (!isfinite (travel))
    return TRUE;
  if (origin < 0)
    return refuse (error, _ ("origin_%c: found %g mm; the axis travels from 0 to %g mm"), g_ascii_tolower (letter),
                   origin, travel);
  if (origin + length <= travel + CLOSE)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
               letter == 'Z' ? _ ("the square needs %g mm in %c (%g mm lift + %g mm) and the axis travels %g mm")
                             : _ ("the square needs %g mm in %c (%g mm origin + %g mm) and the axis travels %g mm"),
               origin + length, letter, origin, length, travel);
  return FALSE;
}

static gboolean
check_travel (const TrammelSquare *square, GError **error)
{
  return fits_travel (square, 'X', square->origin_x, square->size, error)
         && fits_travel (square, 'Y', square->origin_y, square->size, error)
         && (!square->filament || fits_travel (square, 'Z', square->lift, square->height, error));
}

/* What the axis can do at most; infinite when its drive does not tell. */
static double
top_speed (const TrammelSquare *square, char letter)
{
  const TrammelAxis *axis = find_axis (square, letter);
  g_autoptr (TrammelFacts) facts = axis ? trammel_train_facts (trammel_axis_train (axis), NULL) : NULL;

  return facts && isfinite (facts->top_speed) ? facts->top_speed : INFINITY;
}

/* No axis is asked for more than its drive can follow: it would lose counts, and the piece its size. */
static void
hold_speeds (TrammelSquare *square)
{
  double across = MIN (top_speed (square, 'X'), top_speed (square, 'Y'));

  square->speed = MIN (square->speed, across);
  square->travel_speed = MIN (square->travel_speed, across);
  square->lift_speed = square->travel_speed;
  if (!square->filament)
    return;
  square->lift_speed = MIN (square->travel_speed, top_speed (square, 'Z'));
  square->speed = MIN (square->speed, top_speed (square, square->feed_letter) * G_PI * square->filament_diameter
                                          * square->filament_diameter / 4 / trammel_square_bead_area (square));
}

static gboolean
lay_out (TrammelSquare *square, GError **error)
{
  if (!trammel_record_check (square->piece, error) || !read_parameters (square, error) || !check_axes (square, error)
      || !check_plan_view (square, error))
    return FALSE;
  square->depth = square->step / 2;
  square->arm = step_begins_at (square->size);
  if (square->filament)
    {
      if (!check_heights (square, error) || !fill_wall (square, error) || !is_of_sane_length (square, error)
          || !check_feed_letter (square, error))
        return FALSE;
    }
  else if (!check_own_lines (square, error))
    return FALSE;
  if (!check_travel (square, error))
    return FALSE;

  hold_speeds (square);
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
  square->piece = trammel_machine_piece (machine);
  if (!square->piece || !trammel_record_is (square->piece, "square"))
    {
      refuse (error, _ ("the machine's piece is not a square"));
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
