/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/dimension-line.h"
#include "draw/display.h"
#include "draw/label.h"
#include "draw/piece-drawing-private.h"
#include "draw/ticks.h"

#define DIMENSION_ROOM 40.0 /* for what stands outside the piece, at the left and below */
#define EDGE 14.0
#define OUTSIDE_OFFSET 24.0
/* For the view from the side, and what of it the piece itself does not get. */
#define SIDE_ROOM 118.0
#define LEAST_SIDE_ROOM 76.0
#define SIDE_ROOM_OF_HEIGHT 0.25
#define SIDE_MARGIN 52.0
#define SIDE_TEXT_ROOM 84.0 /* for the greatest height, at the right */
#define NEAR_ENOUGH 10.0
/* How much wider than the view from the side its title may be. */
#define MOST_TITLE_OVERHANG 60.0
/* Below this size of the piece in pixels, dimensions other than the chosen one would be a tangle. */
#define ROOM_FOR_ALL 190.0

/* Where the views are, and their scale. */
typedef struct
{
  double x, y;       /* pixel of the near left corner from above */
  double scale;      /* pixels per mm */
  double side_x;     /* pixel of the left end of the view from the side */
  double side_y;     /* of the bed */
  double side_scale; /* of lengths */
  double tall_scale; /* of heights */
  double tall_times; /* heights are drawn so many times larger than lengths */
  double size, height;
} Views;

static double
greatest (const TrammelOutline *outlines, gsize n, gboolean of_heights)
{
  double most = 0;

  for (gsize i = 0; i < n; i++)
    for (gsize j = 0; j < outlines[i].n_points; j++)
      most = MAX (most, of_heights ? outlines[i].z_high : MAX (outlines[i].points[j].x, outlines[i].points[j].y));
  return most;
}

static void
place_side_view (Views *views, double x, double y, double width, double height)
{
  if (views->height <= 0)
    return;
  views->side_scale = MIN (views->scale, width / views->size);
  views->tall_times = MAX (trammel_ticks_round_down (height / (views->height * views->side_scale)), 1);
  views->tall_scale = views->side_scale * views->tall_times;
  views->side_x = x + (width - views->size * views->side_scale) / 2;
  views->side_y = y;
}

static Views
lay_out (const TrammelSquare *square, double width, double height)
{
  gsize n;
  const TrammelOutline *outlines = trammel_square_outlines (square, &n);
  Views views = { .size = greatest (outlines, n, FALSE), .height = greatest (outlines, n, TRUE) };
  gboolean flat = views.height <= 0, wide = !flat && width > 1.5 * height;
  double side_room = CLAMP (SIDE_ROOM_OF_HEIGHT * height, LEAST_SIDE_ROOM, SIDE_ROOM);
  double side_height = side_room - SIDE_MARGIN;
  double plan_width = wide ? width * 0.56 : width, plan_height = flat || wide ? height : height - side_room;
  double room_x = plan_width - DIMENSION_ROOM - EDGE, room_y = plan_height - DIMENSION_ROOM - EDGE;

  views.scale = MAX (MIN (room_x, room_y) / views.size, 1e-3);
  views.x = DIMENSION_ROOM + (room_x - views.scale * views.size) / 2;
  views.y = EDGE + (room_y + views.scale * views.size) / 2;
  if (wide)
    place_side_view (&views, plan_width + 30, (height + side_height) / 2, width - plan_width - 30 - SIDE_TEXT_ROOM,
                     side_height);
  else
    place_side_view (&views, DIMENSION_ROOM, height - 32, width - DIMENSION_ROOM - SIDE_TEXT_ROOM, side_height);
  return views;
}

static TrammelPoint
on_plan (const Views *views, TrammelPoint p)
{
  return (TrammelPoint){ views->x + p.x * views->scale, views->y - p.y * views->scale };
}

static void
add_outline (cairo_t *cr, const Views *views, const TrammelOutline *outline)
{
  cairo_new_sub_path (cr);
  for (gsize i = 0; i < outline->n_points; i++)
    {
      TrammelPoint p = on_plan (views, outline->points[i]);
      cairo_line_to (cr, p.x, p.y);
    }
  cairo_close_path (cr);
}

static void
fill_and_edge (cairo_t *cr, const TrammelPalette *palette, double alpha)
{
  trammel_color_set (cr, palette->metal, alpha);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, palette->metal_edge, 1);
  cairo_set_line_width (cr, 1.3);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  cairo_stroke (cr);
}

static void
paint_from_above (cairo_t *cr, const Views *views, const TrammelSquare *square, const TrammelPalette *palette)
{
  gsize n;
  const TrammelOutline *outlines = trammel_square_outlines (square, &n);

  cairo_save (cr);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  for (gsize i = 0; i < n; i++)
    if (outlines[i].z_low <= 0)
      add_outline (cr, views, &outlines[i]);
  fill_and_edge (cr, palette, 0.55);
  for (gsize i = 0; i < n; i++)
    if (outlines[i].z_low > 0)
      add_outline (cr, views, &outlines[i]);
  fill_and_edge (cr, palette, 1);
  cairo_restore (cr);
}

/* What stands between two heights as seen from the front: its width there, filled up. */
static void
add_side_of (cairo_t *cr, const Views *views, const TrammelOutline *outline)
{
  double low = G_MAXDOUBLE, high = -G_MAXDOUBLE;

  for (gsize i = 0; i < outline->n_points; i++)
    {
      low = MIN (low, outline->points[i].x);
      high = MAX (high, outline->points[i].x);
    }
  cairo_rectangle (cr, views->side_x + low * views->side_scale, views->side_y - outline->z_high * views->tall_scale,
                   (high - low) * views->side_scale, (outline->z_high - outline->z_low) * views->tall_scale);
}

static void
paint_side_title (cairo_t *cr, const Views *views, const TrammelPalette *palette, const TrammelPieceLook *look)
{
  TrammelLabel label = { .font = look->font, .scale = 0.85, .xalign = 0.5, .halo = &palette->ground };
  g_autofree char *times = trammel_display_significant (views->tall_times, 4);
  g_autofree char *title = views->tall_times > 1 ? g_strdup_printf (_ ("From the side, heights %s× larger"), times)
                                                 : g_strdup (_ ("From the side"));
  double title_width;

  trammel_label_size (cr, &label, title, &title_width, NULL);
  if (views->tall_times > 1 && title_width > views->size * views->side_scale + MOST_TITLE_OVERHANG)
    {
      g_free (title);
      title = g_strdup_printf (_ ("Heights %s×"), times);
    }
  trammel_color_set (cr, palette->ink, 0.75);
  trammel_label_paint (cr, &label, title, views->side_x + views->size * views->side_scale / 2, views->side_y + 10);
}

static void
paint_from_side (cairo_t *cr, const Views *views, const TrammelSquare *square, const TrammelPalette *palette,
                 const TrammelPieceLook *look)
{
  gsize n;
  const TrammelOutline *outlines = trammel_square_outlines (square, &n);

  if (views->height <= 0)
    return;
  for (gsize i = 0; i < n; i++)
    {
      if (outlines[i].hole)
        continue;
      add_side_of (cr, views, &outlines[i]);
      fill_and_edge (cr, palette, outlines[i].z_low > 0 ? 1 : 0.55);
    }
  trammel_color_set (cr, palette->ink, 0.7);
  cairo_set_line_width (cr, 1.5);
  cairo_move_to (cr, views->side_x - 14, views->side_y + 0.5);
  cairo_line_to (cr, views->side_x + views->size * views->side_scale + 14, views->side_y + 0.5);
  cairo_stroke (cr);
  paint_side_title (cr, views, palette, look);
}

/* ——— Dimensions ——— */

static TrammelColor
color_of_direction (const TrammelPalette *palette, const TrammelDirection *along)
{
  return trammel_direction_is_single (along) ? trammel_palette_axis (palette, along->axes[0]) : palette->ink;
}

/* Over both ends of the piece: then the dimension stands outside of it. */
static gboolean
spans_piece (const Views *views, const TrammelFeature *feature)
{
  return trammel_direction_is_single (&feature->along) && feature->nominal >= views->size * (1 - 1e-9);
}

static TrammelDimensionLine
height_line (const Views *views, const TrammelFeature *feature)
{
  double x = views->side_x + feature->from.x * views->side_scale;
  double top = views->side_y - feature->nominal * views->tall_scale;
  gboolean corner = feature->nominal >= views->height * (1 - 1e-9);

  /* The greatest height stands at the right end, clear of the piece. */
  if (corner)
    x = views->side_x + views->size * views->side_scale;
  return (TrammelDimensionLine){ .x0 = x, .y0 = views->side_y, .x1 = x, .y1 = top, .offset = corner ? -18 : -16 };
}

static TrammelDimensionLine
plan_line (const Views *views, const TrammelFeature *feature)
{
  TrammelPoint from = feature->from, to = feature->to;
  TrammelDimensionLine line = { 0 };

  if (spans_piece (views, feature) && feature->along.axes[0] == 'X')
    {
      from.y = to.y = 0;
      line.offset = -OUTSIDE_OFFSET;
    }
  else if (spans_piece (views, feature))
    {
      from.x = to.x = 0;
      line.offset = OUTSIDE_OFFSET;
    }
  from = on_plan (views, from);
  to = on_plan (views, to);
  line.x0 = from.x;
  line.y0 = from.y;
  line.x1 = to.x;
  line.y1 = to.y;
  return line;
}

static TrammelDimensionLine
line_of (const Views *views, const TrammelFeature *feature)
{
  if (feature->kind == TRAMMEL_READING_HEIGHT)
    return height_line (views, feature);
  return plan_line (views, feature);
}

/* So that the texts of lines that cross do not. */
static double
text_place (const Views *views, const TrammelFeature *feature)
{
  if (feature->kind == TRAMMEL_READING_INSIDE || spans_piece (views, feature))
    return 0.5;
  return trammel_direction_is_single (&feature->along) ? 0.72 : 0.3;
}

static void
paint_dimension (cairo_t *cr, const Views *views, const TrammelFeature *feature, gboolean chosen,
                 const TrammelPalette *palette, const TrammelPieceLook *look)
{
  TrammelDimensionLine line = line_of (views, feature);
  g_autofree char *text = trammel_piece_length_text (feature->nominal, look->unit, chosen);

  line.text = text;
  line.text_at = text_place (views, feature);
  line.color = chosen ? color_of_direction (palette, &feature->along) : palette->ink;
  line.alpha = chosen ? 1 : 0.5;
  line.strong = chosen;
  line.font = look->font;
  line.ground = &palette->ground;
  trammel_dimension_line_paint (cr, &line);
}

static void
paint_jaws (cairo_t *cr, const Views *views, const TrammelFeature *feature, const TrammelPalette *palette)
{
  TrammelPoint from = on_plan (views, feature->from), to = on_plan (views, feature->to);
  double inwards = feature->kind == TRAMMEL_READING_INSIDE ? G_PI : 0;
  double angle = atan2 (to.y - from.y, to.x - from.x);

  if (feature->kind == TRAMMEL_READING_HEIGHT)
    {
      double x = views->side_x + feature->from.x * views->side_scale;
      trammel_piece_jaw (cr, x, views->side_y - feature->nominal * views->tall_scale, G_PI_2, palette);
      return;
    }
  trammel_piece_jaw (cr, from.x, from.y, angle + inwards, palette);
  trammel_piece_jaw (cr, to.x, to.y, angle + G_PI + inwards, palette);
}

static void
paint_other_dimensions (cairo_t *cr, const Views *views, const TrammelSquare *square, const TrammelPalette *palette,
                        const TrammelPieceLook *look)
{
  const GArray *features = trammel_square_features (square);

  if (!look->all_dimensions || views->scale * views->size < ROOM_FOR_ALL)
    return;
  for (guint i = 0; i < features->len; i++)
    {
      const TrammelFeature *feature = &g_array_index (features, TrammelFeature, i);
      if (feature != look->feature)
        paint_dimension (cr, views, feature, FALSE, palette, look);
    }
}

/* ——— ——— */

void
trammel_square_drawing_paint (cairo_t *cr, double width, double height, const TrammelSquare *square,
                              const TrammelPalette *palette, const TrammelPieceLook *look)
{
  Views views = lay_out (square, width, height);

  paint_from_above (cr, &views, square, palette);
  paint_from_side (cr, &views, square, palette, look);
  trammel_piece_axes (cr, views.x - DIMENSION_ROOM + 6, views.y + DIMENSION_ROOM - 8, palette, look->font);
  paint_other_dimensions (cr, &views, square, palette, look);
  if (!look->feature)
    return;
  paint_dimension (cr, &views, look->feature, TRUE, palette, look);
  paint_jaws (cr, &views, look->feature, palette);
}

const TrammelFeature *
trammel_square_drawing_feature_at (const TrammelSquare *square, double width, double height, double x, double y)
{
  const GArray *features = trammel_square_features (square);
  double nearest = NEAR_ENOUGH;
  const TrammelFeature *found = NULL;
  Views views = lay_out (square, width, height);

  for (guint i = 0; i < features->len; i++)
    {
      const TrammelFeature *feature = &g_array_index (features, TrammelFeature, i);
      TrammelDimensionLine line = line_of (&views, feature);
      double distance = trammel_dimension_line_distance (&line, x, y);
      if (distance >= nearest)
        continue;
      nearest = distance;
      found = feature;
    }
  return found;
}
