/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The ladder of lines from above, with the ways in which its combs are approached, and an example of reading it. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/dimension-line.h"
#include "draw/display.h"
#include "draw/label.h"
#include "draw/piece-drawing-private.h"

#define ROOM 46.0 /* for numbers and texts, at the left and below */
#define EDGE 12.0
#define NUMBER_GAP 3.0
#define TEXT_GAP 19.0
#define ARROW 9.0
#define LEAST_LINE 1.2
/* Texts and numbers need this much between every fifth line. */
#define ROOM_FOR_NUMBERS 26.0
/* The longer name of a comb leaves so much of it, lest it meets that of the other comb in the corner between them. */
#define ROOM_AT_CORNER 34.0
/* The example needs so much, and takes no more. */
#define LEAST_EXAMPLE 150.0
#define LEAST_EXAMPLE_HEIGHT 96.0
#define MOST_EXAMPLE 300.0
#define EXAMPLE_PAIR 3
#define EXAMPLE_PAIRS 7
/* How much a pair of the example is farther apart than the one before, of the room for a pair. */
#define EXAMPLE_STEP 0.13

typedef struct
{
  cairo_t *cr;
  const TrammelLadder *ladder;
  const TrammelPalette *palette;
  const TrammelPieceLook *look;
  double x, y, scale; /* pixel of the near left corner, pixels per mm */
  double right, top;  /* of the picture */
} View;

typedef struct
{
  double left, right, low, high; /* mm */
} Box;

static View
lay_out (const TrammelLadder *ladder, double width, double height)
{
  const double size = trammel_ladder_size (ladder);
  const double room_x = width - ROOM - EDGE, room_y = height - ROOM - EDGE;
  View view = { .ladder = ladder, .scale = MAX (MIN (room_x, room_y) / size, 1e-3), .right = width - EDGE };

  view.x = ROOM + (room_x - view.scale * size) / 2;
  view.y = EDGE + (room_y + view.scale * size) / 2;
  view.top = EDGE;
  return view;
}

static TrammelPoint
place (const View *view, TrammelPoint p)
{
  return (TrammelPoint){ view->x + p.x * view->scale, view->y - p.y * view->scale };
}

/* Of the lines along @letter; only of @pair unless it is G_MAXINT. */
static Box
box_of (const TrammelLadder *ladder, char letter, int pair)
{
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (ladder, &n);
  Box box = { G_MAXDOUBLE, -G_MAXDOUBLE, G_MAXDOUBLE, -G_MAXDOUBLE };

  for (gsize i = 0; i < n; i++)
    {
      if (lines[i].letter != letter || (pair != G_MAXINT && lines[i].pair != pair))
        continue;
      box.left = MIN (box.left, MIN (lines[i].from.x, lines[i].to.x));
      box.right = MAX (box.right, MAX (lines[i].from.x, lines[i].to.x));
      box.low = MIN (box.low, MIN (lines[i].from.y, lines[i].to.y));
      box.high = MAX (box.high, MAX (lines[i].from.y, lines[i].to.y));
    }
  return box;
}

/* What a feature is read off: the whole ladder with a vernier, else its pair. */
static Box
box_of_feature (const TrammelLadder *ladder, const TrammelFeature *feature)
{
  const double width = trammel_ladder_line_width (ladder);
  const char letter = feature->along.axes[0];
  int pair = G_MAXINT;
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (ladder, &n);

  for (gsize i = 0; i < n && trammel_ladder_vernier (ladder) <= 0; i++)
    if (lines[i].letter == letter && hypot (lines[i].to.x - feature->to.x, lines[i].to.y - feature->to.y) < 1e-6)
      pair = lines[i].pair;
  Box box = box_of (ladder, letter, pair);
  return (Box){ box.left - width, box.right + width, box.low - width, box.high + width };
}

static void
add_box (const View *view, const Box *box)
{
  const TrammelPoint corner = place (view, (TrammelPoint){ box->left, box->high });

  cairo_rectangle (view->cr, corner.x - 2, corner.y - 2, (box->right - box->left) * view->scale + 4,
                   (box->high - box->low) * view->scale + 4);
}

static void
paint_chosen (const View *view)
{
  if (!view->look->feature)
    return;
  const Box box = box_of_feature (view->ladder, view->look->feature);
  add_box (view, &box);
  trammel_color_set (view->cr, view->palette->mark, 0.25);
  cairo_fill_preserve (view->cr);
  trammel_color_set (view->cr, view->palette->mark, 1);
  cairo_set_line_width (view->cr, 1.5);
  cairo_stroke (view->cr);
}

static void
paint_lines (const View *view)
{
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (view->ladder, &n);

  cairo_set_line_width (view->cr, MAX (trammel_ladder_line_width (view->ladder) * view->scale, LEAST_LINE));
  cairo_set_line_cap (view->cr, CAIRO_LINE_CAP_ROUND);
  for (gsize i = 0; i < n; i++)
    {
      const TrammelPoint from = place (view, lines[i].from), to = place (view, lines[i].to);
      trammel_color_set (view->cr, trammel_palette_axis (view->palette, lines[i].letter), 1);
      cairo_move_to (view->cr, from.x, from.y);
      cairo_line_to (view->cr, to.x, to.y);
      cairo_stroke (view->cr);
    }
  cairo_set_line_cap (view->cr, CAIRO_LINE_CAP_BUTT);
}

static void
write_text (const View *view, const char *text, TrammelPoint at, gboolean upright, double yalign, double scale)
{
  TrammelLabel label = { .font = view->look->font,
                         .scale = scale,
                         .xalign = 0.5,
                         .yalign = yalign,
                         .angle = upright ? -G_PI_2 : 0,
                         .halo = &view->palette->ground };

  trammel_color_set (view->cr, view->palette->ink, 0.85);
  trammel_label_paint (view->cr, &label, text, at.x, at.y);
}

/* Every fifth pair, at the outer end of its near line. */
static void
paint_numbers (const View *view)
{
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (view->ladder, &n);
  const double apart = 5 * hypot (lines[1].to.x - lines[0].to.x, lines[1].to.y - lines[0].to.y) * view->scale;
  double outer[2] = { -HUGE_VAL, HUGE_VAL }; /* in Y, and in X */

  if (apart < ROOM_FOR_NUMBERS)
    return;
  for (gsize i = 0; i < n; i++)
    {
      const TrammelPoint from = place (view, lines[i].from);
      outer[0] = MAX (outer[0], from.y);
      outer[1] = MIN (outer[1], from.x);
    }
  for (gsize i = 0; i < n; i++)
    {
      if (!lines[i].up || lines[i].pair % 5 != 0)
        continue;
      const TrammelPoint from = place (view, lines[i].from);
      const gboolean along_x = lines[i].letter == 'X';
      const TrammelPoint at
          = along_x ? (TrammelPoint){ from.x, outer[0] + NUMBER_GAP } : (TrammelPoint){ outer[1] - NUMBER_GAP, from.y };
      g_autofree char *number = trammel_display_number (lines[i].pair, 0);
      write_text (view, number, at, !along_x, along_x ? 0 : 1, 0.8);
    }
}

/* The last way that the tool comes: to the first line of a comb that is approached moving up, the last of the other, so
 * that it is seen. */
static void
paint_approach (const View *view, const TrammelLadderLine *line)
{
  const TrammelPoint from = place (view, line->approach), to = place (view, line->from);
  const double angle = atan2 (to.y - from.y, to.x - from.x);
  const double tip_x = to.x - 4 * cos (angle), tip_y = to.y - 4 * sin (angle);

  trammel_color_set (view->cr, view->palette->ink, 0.9);
  cairo_set_line_width (view->cr, 1.6);
  cairo_move_to (view->cr, from.x, from.y);
  cairo_line_to (view->cr, tip_x - 5 * cos (angle), tip_y - 5 * sin (angle));
  cairo_stroke (view->cr);
  trammel_dimension_arrow (view->cr, tip_x, tip_y, angle, ARROW);
}

static void
paint_approaches (const View *view)
{
  gsize n;
  const TrammelLadderLine *lines = trammel_ladder_lines (view->ladder, &n);

  for (gsize i = 0; i < n; i++)
    {
      const gboolean first = i == 0 || lines[i - 1].up != lines[i].up || lines[i - 1].letter != lines[i].letter;
      const gboolean last = i + 1 == n || lines[i + 1].up != lines[i].up || lines[i + 1].letter != lines[i].letter;
      if (lines[i].up ? first : last)
        paint_approach (view, &lines[i]);
    }
}

/* What the combs of an axis are called, in fewer words where there is little room. FALSE: there is none. */
static gboolean
find_names (const View *view, char letter, double room, char **up, char **down)
{
  TrammelLabel label = { .font = view->look->font, .scale = 0.9 };
  double width;

  *down = g_strdup_printf (_ ("%c approached moving down"), letter);
  *up = g_strdup_printf (_ ("%c approached moving up"), letter);
  trammel_label_size (view->cr, &label, *down, &width, NULL);
  if (width <= room - ROOM_AT_CORNER)
    return TRUE;
  g_free (*down);
  g_free (*up);
  *down = g_strdup_printf (_ ("%c moving down"), letter);
  *up = g_strdup_printf (_ ("%c moving up"), letter);
  trammel_label_size (view->cr, &label, *down, &width, NULL);
  return width <= room;
}

/* What each comb is, along its outer edge. */
static void
name_combs (const View *view)
{
  for (const char *letter = "XY"; *letter; letter++)
    {
      const gboolean along_x = *letter == 'X';
      const Box box = box_of (view->ladder, *letter, G_MAXINT);
      const TrammelPoint low = place (view, (TrammelPoint){ box.left, box.low });
      const TrammelPoint high = place (view, (TrammelPoint){ box.right, box.high });
      const TrammelPoint middle = { (low.x + high.x) / 2, (low.y + high.y) / 2 };
      const double room = along_x ? high.x - low.x : low.y - high.y;
      g_autofree char *up = NULL;
      g_autofree char *down = NULL;

      if (!find_names (view, *letter, room, &up, &down))
        continue;
      write_text (view, up,
                  along_x ? (TrammelPoint){ middle.x, low.y + TEXT_GAP } : (TrammelPoint){ low.x - TEXT_GAP, middle.y },
                  !along_x, along_x ? 0 : 1, 0.9);
      write_text (view, down, along_x ? (TrammelPoint){ middle.x, high.y - 6 } : (TrammelPoint){ high.x + 6, middle.y },
                  !along_x, along_x ? 1 : 0, 0.9);
    }
}

/* ——— An example of reading it, in the free corner ——— */

typedef struct
{
  double left, top, width, height; /* pixels */
} Frame;

/* FALSE: no room. */
static gboolean
find_frame (const View *view, Frame *frame)
{
  const Box x = box_of (view->ladder, 'X', G_MAXINT), y = box_of (view->ladder, 'Y', G_MAXINT);
  const TrammelPoint corner = place (view, (TrammelPoint){ y.right, x.high });
  const double top = MAX (view->y - trammel_ladder_size (view->ladder) * view->scale, view->top);

  frame->left = corner.x + 44;
  frame->width = MIN (view->right - frame->left, MOST_EXAMPLE);
  frame->height = MIN (corner.y - 44 - top, frame->width * 0.62);
  frame->top = top + (corner.y - 44 - top - frame->height) / 2;
  return frame->width >= LEAST_EXAMPLE && frame->height >= LEAST_EXAMPLE_HEIGHT;
}

static void
paint_example_line (const View *view, double x, double from, double to, gboolean strong)
{
  trammel_color_set (view->cr, strong ? view->palette->mark : view->palette->ink, strong ? 1 : 0.75);
  cairo_set_line_width (view->cr, strong ? 4 : 3);
  cairo_move_to (view->cr, x, from);
  cairo_line_to (view->cr, x, to);
  cairo_stroke (view->cr);
}

static void
caption (const View *view, const Frame *frame, const char *title, const char *text)
{
  const double middle = frame->left + frame->width / 2;
  TrammelLabel label = { .font = view->look->font, .scale = 0.95 };
  double width;

  write_text (view, title, (TrammelPoint){ middle, frame->top }, FALSE, 0, 0.95);
  trammel_label_size (view->cr, &label, text, &width, NULL);
  if (width <= frame->width)
    write_text (view, text, (TrammelPoint){ middle, frame->top + frame->height }, FALSE, 1, 0.95);
}

/* Near lines below, far lines above; pair k of the near ones stands k steps farther to the right, less the play. */
static void
paint_vernier_example (const View *view, const Frame *frame)
{
  const double cell = frame->width / EXAMPLE_PAIRS, middle = frame->top + frame->height * 0.48;
  const double length = frame->height * 0.2;
  g_autofree char *step = trammel_piece_length_text (trammel_ladder_vernier (view->ladder), view->look->unit, TRUE);
  g_autofree char *play
      = trammel_piece_length_text (EXAMPLE_PAIR * trammel_ladder_vernier (view->ladder), view->look->unit, TRUE);
  g_autofree char *title = g_strdup_printf (_ ("Where pair %d meets:"), EXAMPLE_PAIR);
  /* Translators: number of a pair of lines, the step of the vernier "0.05 mm", play "0.15 mm" */
  g_autofree char *text = g_strdup_printf (_ ("%d × %s = %s of play"), EXAMPLE_PAIR, step, play);

  for (int i = 0; i < EXAMPLE_PAIRS; i++)
    {
      const double x = frame->left + (i + 0.5) * cell, longer = i == 0 ? 1.35 : 1;
      g_autofree char *number = trammel_display_number (i, 0);

      paint_example_line (view, x, middle - 2, middle - 2 - longer * length, i == EXAMPLE_PAIR);
      paint_example_line (view, x + (i - EXAMPLE_PAIR) * EXAMPLE_STEP * cell, middle + 2, middle + 2 + longer * length,
                          i == EXAMPLE_PAIR);
      write_text (view, number, (TrammelPoint){ x, middle + 4 + 1.35 * length }, FALSE, 0, 0.8);
    }
  caption (view, frame, title, text);
}

static void
paint_pair_example (const View *view, const Frame *frame)
{
  const double middle = frame->top + frame->height * 0.38, length = frame->height * 0.17;
  const double left = frame->left + frame->width / 2 - 22, right = left + 44;
  const double end = middle + 2 + length;
  TrammelDimensionLine line = { .x0 = left,
                                .y0 = end,
                                .x1 = right,
                                .y1 = end,
                                .offset = -20,
                                .text = _ ("play"),
                                .color = view->palette->ink,
                                .strong = TRUE,
                                .font = view->look->font,
                                .ground = &view->palette->ground };

  paint_example_line (view, left, middle + 2, middle + 2 + length, FALSE);
  paint_example_line (view, right, middle - 2, middle - 2 - length, FALSE);
  trammel_color_set (view->cr, view->palette->ink, 0.5);
  cairo_set_line_width (view->cr, 1);
  cairo_move_to (view->cr, right, middle);
  cairo_line_to (view->cr, right, end);
  cairo_stroke (view->cr);
  trammel_dimension_line_paint (view->cr, &line);
  caption (view, frame, _ ("Two lines of a pair:"), _ ("measured center to center"));
}

static void
paint_example (const View *view)
{
  Frame frame;

  if (!find_frame (view, &frame))
    return;
  if (trammel_ladder_vernier (view->ladder) > 0)
    paint_vernier_example (view, &frame);
  else
    paint_pair_example (view, &frame);
}

/* ——— ——— */

void
trammel_ladder_drawing_paint (cairo_t *cr, double width, double height, const TrammelLadder *ladder,
                              const TrammelPalette *palette, const TrammelPieceLook *look)
{
  View view = lay_out (ladder, width, height);

  view.cr = cr;
  view.palette = palette;
  view.look = look;
  paint_chosen (&view);
  paint_lines (&view);
  paint_approaches (&view);
  paint_numbers (&view);
  name_combs (&view);
  paint_example (&view);
  trammel_piece_axes (cr, view.x - ROOM + 8, view.y + ROOM - 10, palette, look->font);
}

const TrammelFeature *
trammel_ladder_drawing_feature_at (const TrammelLadder *ladder, double width, double height, double x, double y)
{
  const GArray *features = trammel_ladder_features (ladder);
  const View view = lay_out (ladder, width, height);

  for (guint i = 0; i < features->len; i++)
    {
      const TrammelFeature *feature = &g_array_index (features, TrammelFeature, i);
      const Box box = box_of_feature (ladder, feature);
      const TrammelPoint low = place (&view, (TrammelPoint){ box.left, box.low });
      const TrammelPoint high = place (&view, (TrammelPoint){ box.right, box.high });
      if (x >= low.x - 4 && x <= high.x + 4 && y <= low.y + 4 && y >= high.y - 4)
        return feature;
    }
  return NULL;
}
