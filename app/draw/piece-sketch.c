/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/dimension-line.h"
#include "draw/label.h"
#include "draw/piece-drawing-private.h"

/* Not to scale: the reading's length always takes this part of the picture. */
#define LENGTH_OF_WIDTH 0.56
#define CARRIAGE 34.0
#define SWITCH 14.0

typedef struct
{
  cairo_t *cr;
  const TrammelPalette *palette;
  const TrammelPieceLook *look;
  TrammelColor color; /* of the axis */
  double length;      /* room along the axis, and across it */
  double left, right; /* the ends of what is measured */
  double y;           /* of the rail, or the middle of the part */
} Sketch;

static void
fill_and_edge (const Sketch *sketch, double alpha)
{
  trammel_color_set (sketch->cr, sketch->palette->metal, alpha);
  cairo_fill_preserve (sketch->cr);
  trammel_color_set (sketch->cr, sketch->palette->metal_edge, MAX (alpha, 0.5));
  cairo_set_line_width (sketch->cr, 1.3);
  cairo_stroke (sketch->cr);
}

static void
add_block (const Sketch *sketch, double left, double right, double half)
{
  cairo_rectangle (sketch->cr, left, sketch->y - half, right - left, 2 * half);
}

static void
paint_dimension_of (const Sketch *sketch, double offset, const char *text)
{
  TrammelDimensionLine line = {
    .x0 = sketch->left,
    .y0 = sketch->y,
    .x1 = sketch->right,
    .y1 = sketch->y,
    .offset = offset,
    .text = text,
    .color = sketch->color,
    .strong = TRUE,
    .font = sketch->look->font,
    .ground = &sketch->palette->ground,
  };
  trammel_dimension_line_paint (sketch->cr, &line);
}

static void
paint_dimension (const Sketch *sketch, double offset)
{
  const TrammelReading *reading = sketch->look->reading;
  g_autofree char *text = NULL;

  if (!isnan (reading->nominal))
    text = trammel_piece_length_text (reading->nominal, sketch->look->unit, TRUE);
  paint_dimension_of (sketch, offset, text);
}

static void
write_below (const Sketch *sketch, const char *text, double x, double xalign)
{
  TrammelLabel label = { .font = sketch->look->font, .scale = 0.9, .xalign = xalign };

  label.halo = &sketch->palette->ground;
  trammel_color_set (sketch->cr, sketch->palette->ink, 0.85);
  trammel_label_paint (sketch->cr, &label, text, x, sketch->y + 13);
}

/* ——— Motion: a carriage on a rail ——— */

static void
paint_rail (const Sketch *sketch)
{
  cairo_t *cr = sketch->cr;
  g_autofree char *letter = trammel_direction_to_text (&sketch->look->reading->along);
  TrammelLabel label = { .font = sketch->look->font, .scale = 1.2, .bold = TRUE, .xalign = 0.5, .yalign = 0.5 };
  double end = sketch->length - 26;

  cairo_rectangle (cr, 8, sketch->y - 4, end - 8, 8);
  fill_and_edge (sketch, 1);
  trammel_color_set (cr, sketch->color, 1);
  trammel_dimension_arrow (cr, end + 10, sketch->y, 0, 10);
  trammel_label_paint (cr, &label, letter, end + 18, sketch->y);
}

static void
paint_carriage (const Sketch *sketch, double x, gboolean ghost)
{
  cairo_t *cr = sketch->cr;
  static const double dashes[] = { 4, 3 };

  cairo_save (cr);
  if (ghost)
    cairo_set_dash (cr, dashes, 2, 0);
  cairo_rectangle (cr, x - CARRIAGE / 2, sketch->y - 17, CARRIAGE, 26);
  fill_and_edge (sketch, ghost ? 0.25 : 1);
  cairo_set_dash (cr, NULL, 0, 0);
  trammel_color_set (cr, sketch->color, ghost ? 0.6 : 1);
  cairo_set_line_width (cr, 2);
  cairo_move_to (cr, x, sketch->y - 17);
  cairo_line_to (cr, x, sketch->y + 9);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* The way the carriage goes, above it. */
static void
paint_way (const Sketch *sketch, double from, double to)
{
  cairo_t *cr = sketch->cr;
  double y = sketch->y - 28, back = to > from ? -6 : 6;

  trammel_color_set (cr, sketch->palette->ink, 0.9);
  cairo_set_line_width (cr, 1.8);
  cairo_move_to (cr, from, y);
  cairo_line_to (cr, to + back, y);
  cairo_stroke (cr);
  trammel_dimension_arrow (cr, to, y, to > from ? 0 : G_PI, 11);
}

/* It came to the start the other way and turned there. */
static void
paint_reversal (const Sketch *sketch)
{
  cairo_t *cr = sketch->cr;
  double start = sketch->left, y = sketch->y - 28;

  trammel_color_set (cr, sketch->palette->mark, 1);
  cairo_set_line_width (cr, 2.4);
  cairo_move_to (cr, start + 44, y - 16);
  cairo_line_to (cr, start, y - 16);
  cairo_arc_negative (cr, start, y - 8, 8, -G_PI_2, G_PI_2);
  cairo_stroke (cr);
}

static void
sketch_travel (Sketch *sketch)
{
  gboolean reversed = sketch->look->reading->approach == TRAMMEL_APPROACH_REVERSED;

  paint_rail (sketch);
  paint_carriage (sketch, sketch->left, TRUE);
  paint_carriage (sketch, sketch->right, FALSE);
  paint_way (sketch, sketch->left, sketch->right);
  if (reversed)
    paint_reversal (sketch);
  paint_dimension (sketch, -46);
  write_below (sketch, reversed ? _ ("start, after coming the other way") : _ ("start"), sketch->left - CARRIAGE / 2,
               0);
  write_below (sketch, _ ("end"), sketch->right, 0.5);
}

static void
sketch_position (Sketch *sketch)
{
  guint8 approach = sketch->look->reading->approach;
  cairo_t *cr = sketch->cr;

  paint_rail (sketch);
  paint_carriage (sketch, sketch->right, FALSE);
  trammel_color_set (cr, sketch->palette->ink, 1);
  cairo_set_line_width (cr, 1.6);
  cairo_move_to (cr, sketch->left, sketch->y - 12);
  cairo_line_to (cr, sketch->left, sketch->y + 12);
  cairo_stroke (cr);
  if (approach == TRAMMEL_APPROACH_UP)
    paint_way (sketch, sketch->right - 60, sketch->right);
  if (approach == TRAMMEL_APPROACH_DOWN)
    paint_way (sketch, sketch->right + 54, sketch->right);
  paint_dimension (sketch, -46);
  write_below (sketch, _ ("datum"), sketch->left, 0.5);
  write_below (sketch, _ ("place"), sketch->right, 0.5);
}

/* A switch beside the rail, its lever against @x from the side that the carriage does not come from. */
static void
paint_switch (const Sketch *sketch, double x, gboolean to_the_right)
{
  cairo_t *cr = sketch->cr;
  double way = to_the_right ? 1 : -1;

  cairo_rectangle (cr, to_the_right ? x + 6 : x - 6 - SWITCH, sketch->y - 16, SWITCH, 24);
  fill_and_edge (sketch, 1);
  trammel_color_set (cr, sketch->palette->mark, 1);
  cairo_set_line_width (cr, 2.4);
  cairo_move_to (cr, x, sketch->y - 14);
  cairo_line_to (cr, x + way * 6, sketch->y - 2);
  cairo_stroke (cr);
}

/* Not where in the machine it is, but from which side it is met: from above unless it is said. */
static void
sketch_home (Sketch *sketch)
{
  const gboolean up = sketch->look->reading->approach == TRAMMEL_APPROACH_UP;
  const double room = CARRIAGE / 2 + 6 + SWITCH + 8; /* for half of the carriage and the switch, before the rail ends */
  const double end = up ? MIN (sketch->right, sketch->length - 26 - room) : MAX (sketch->left, room);
  const double start = up ? sketch->left : sketch->right;
  const double face = up ? end + CARRIAGE / 2 : end - CARRIAGE / 2;

  paint_rail (sketch);
  paint_carriage (sketch, start, TRUE);
  paint_carriage (sketch, end, FALSE);
  paint_switch (sketch, face, up);
  paint_way (sketch, start, end);
  write_below (sketch, _ ("switch"), up ? face : face - 6 - SWITCH, 0);
}

/* One place, reached once from either side. */
static void
sketch_reversal (Sketch *sketch)
{
  const double middle = (sketch->left + sketch->right) / 2, apart = 2.2 * CARRIAGE;
  const TrammelReading *reading = sketch->look->reading;
  g_autofree char *text = NULL;

  if (!isnan (reading->measured))
    text = trammel_piece_length_text (reading->measured, sketch->look->unit, TRUE);
  sketch->left = middle - apart / 2;
  sketch->right = middle + apart / 2;
  paint_rail (sketch);
  paint_carriage (sketch, sketch->left, TRUE);
  paint_carriage (sketch, sketch->right, FALSE);
  paint_way (sketch, sketch->left - 64, sketch->left);
  paint_way (sketch, sketch->right + 64, sketch->right);
  paint_dimension_of (sketch, -46, text);
  write_below (sketch, _ ("reached moving up"), sketch->left - 6, 1);
  write_below (sketch, _ ("reached moving down"), sketch->right + 6, 0);
}

/* ——— A printed part with the faces that are measured ——— */

static void
paint_jaws (const Sketch *sketch, gboolean left_from_outside, gboolean right_from_outside)
{
  trammel_piece_jaw (sketch->cr, sketch->left, sketch->y, left_from_outside ? 0 : G_PI, sketch->palette);
  trammel_piece_jaw (sketch->cr, sketch->right, sketch->y, right_from_outside ? G_PI : 0, sketch->palette);
}

static void
write_direction (const Sketch *sketch, double y)
{
  g_autofree char *along = trammel_direction_to_text (&sketch->look->reading->along);
  TrammelLabel label = { .font = sketch->look->font, .scale = 1.2, .bold = TRUE, .xalign = 0.5 };

  trammel_color_set (sketch->cr, sketch->color, 1);
  trammel_label_paint (sketch->cr, &label, along, (sketch->left + sketch->right) / 2, y);
}

static void
sketch_outside (Sketch *sketch)
{
  add_block (sketch, sketch->left, sketch->right, 26);
  fill_and_edge (sketch, 1);
  paint_jaws (sketch, TRUE, TRUE);
  paint_dimension (sketch, 46);
  write_direction (sketch, sketch->y + 34);
}

static void
sketch_inside (Sketch *sketch)
{
  double wall = 0.09 * sketch->length;

  add_block (sketch, sketch->left - wall, sketch->left, 26);
  fill_and_edge (sketch, 1);
  add_block (sketch, sketch->right, sketch->right + wall, 26);
  fill_and_edge (sketch, 1);
  paint_jaws (sketch, FALSE, FALSE);
  paint_dimension (sketch, 46);
  write_direction (sketch, sketch->y + 34);
}

static void
sketch_center (Sketch *sketch)
{
  double wall = 0.09 * sketch->length;

  add_block (sketch, sketch->left, sketch->left + wall, 26);
  fill_and_edge (sketch, 1);
  add_block (sketch, sketch->right, sketch->right + wall, 26);
  fill_and_edge (sketch, 1);
  paint_jaws (sketch, TRUE, FALSE);
  paint_dimension (sketch, 46);
  write_direction (sketch, sketch->y + 34);
}

static void
sketch_height (Sketch *sketch)
{
  cairo_t *cr = sketch->cr;

  add_block (sketch, sketch->left, sketch->right, 34);
  fill_and_edge (sketch, 1);
  trammel_color_set (cr, sketch->palette->ink, 0.8);
  cairo_set_line_width (cr, 2);
  cairo_move_to (cr, sketch->left, sketch->y - 56);
  cairo_line_to (cr, sketch->left, sketch->y + 56);
  cairo_stroke (cr);
  trammel_piece_jaw (cr, sketch->right, sketch->y, G_PI, sketch->palette);
  paint_dimension (sketch, 50);
}

static void (*const sketches[TRAMMEL_N_READING_KINDS]) (Sketch *sketch) = {
  [TRAMMEL_READING_OUTSIDE] = sketch_outside,   [TRAMMEL_READING_INSIDE] = sketch_inside,
  [TRAMMEL_READING_CENTER] = sketch_center,     [TRAMMEL_READING_HEIGHT] = sketch_height,
  [TRAMMEL_READING_TRAVEL] = sketch_travel,     [TRAMMEL_READING_POSITION] = sketch_position,
  [TRAMMEL_READING_REVERSAL] = sketch_reversal, [TRAMMEL_READING_HOME] = sketch_home,
};

void
trammel_piece_sketch (cairo_t *cr, double width, double height, const TrammelPalette *palette,
                      const TrammelPieceLook *look)
{
  const TrammelReading *reading = look->reading;
  gboolean single = trammel_direction_is_single (&reading->along);
  gboolean upright = single && reading->along.axes[0] == 'Z';
  Sketch sketch = {
    .cr = cr,
    .palette = palette,
    .look = look,
    .color = single ? trammel_palette_axis (palette, reading->along.axes[0]) : palette->ink,
    .length = upright ? height : width,
    .y = (upright ? width : height) / 2,
  };

  sketch.length = MIN (sketch.length, 520);
  sketch.left = sketch.length * (1 - LENGTH_OF_WIDTH) / 2 - 6;
  sketch.right = sketch.left + sketch.length * LENGTH_OF_WIDTH;
  cairo_save (cr);
  if (upright)
    {
      /* What runs to the right on the sketch goes up. */
      cairo_translate (cr, 0, height - (height - sketch.length) / 2);
      cairo_rotate (cr, -G_PI_2);
    }
  else
    cairo_translate (cr, (width - sketch.length) / 2, 0);
  sketches[reading->kind](&sketch);
  cairo_restore (cr);
}
