/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-notes-private.h"

#include <math.h>

#include "draw/dimension-line.h"
#include "draw/display.h"
#include "drive/loop.h"

#define LEADER 18.0
#define ARROW 8.0
#define BESIDE 14.0 /* between a wheel's tips and the dimension line that passes it */
#define PAD 2.0
/* As dimension-line.c places a text that is too long. */
#define NO_ROOM 10.0
#define BESIDE_LINE 9.0
#define BEYOND_END 26.0
/* Pixels; smaller ones would vanish under the texts of their dimensions. */
#define SMALLEST_WHEEL 12.0 /* radius */
#define SMALLEST_DISTANCE 24.0
#define ON_PART 18.0   /* cost of a text on a part */
#define LEFT_OUT 500.0 /* cost of a text that is better left out */

static TrammelColor
dimension_color (const TrammelNotes *notes)
{
  const TrammelPalette *palette = notes->painter->palette;
  return trammel_color_mix (palette->ink, palette->ground, 0.15);
}

/* In parentheses where it follows from a module or pitch that is not told. */
static char *
length_text (const TrammelNotes *notes, const char *before, double length, gboolean assumed)
{
  const TrammelUnit *unit = notes->layout->unit;
  g_autofree char *number = trammel_display_significant (length / trammel_unit_factor (unit), 5);
  return g_strdup_printf (assumed ? "(%s%s %s)" : "%s%s %s", before, number, trammel_unit_symbol (unit));
}

static const TrammelShape *
shape_of_id (const TrammelNotes *notes, int id)
{
  for (guint i = 0; i < notes->layout->shapes->len; i++)
    {
      const TrammelShape *shape = &g_array_index (notes->layout->shapes, TrammelShape, i);
      if (shape->id == id)
        return shape;
    }
  return NULL;
}

static void
take (TrammelNotes *notes, TrammelBox box)
{
  g_array_append_val (notes->taken, box);
}

typedef struct
{
  double x, y; /* where the arrow touches the circle */
  double angle;
  double corner_x, corner_y;
  TrammelBox box;
} Leader;

static Leader
leader_at (const TrammelNotes *notes, const TrammelShape *wheel, double angle, int width, int height)
{
  double x = trammel_view_x (notes->view, wheel->x), y = trammel_view_y (notes->view, wheel->y);
  double radius = wheel->radius * notes->view->scale;
  double out = radius + MAX ((wheel->tip - wheel->radius) * notes->view->scale, 0) + LEADER;
  Leader leader
      = { x + radius * cos (angle), y + radius * sin (angle), angle, x + out * cos (angle), y + out * sin (angle) };
  double left = cos (angle) < 0 ? leader.corner_x - width - 2 * PAD : leader.corner_x;
  leader.box = (TrammelBox){ left, leader.corner_y - height - 1, left + width + 2 * PAD, leader.corner_y + 1 };
  return leader;
}

static void
paint_leader (TrammelNotes *notes, const Leader *leader, PangoLayout *text)
{
  cairo_t *cr = notes->painter->cr;
  TrammelColor color = dimension_color (notes);

  trammel_path_box (cr, leader->box.x0, leader->box.y0 + 1, leader->box.x1, leader->box.y1 - 2, 3);
  trammel_color_set (cr, notes->painter->palette->ground, 0.8);
  cairo_fill (cr);
  trammel_color_set (cr, color, 1);
  cairo_move_to (cr, leader->x, leader->y);
  cairo_line_to (cr, leader->corner_x, leader->corner_y);
  cairo_line_to (cr, cos (leader->angle) < 0 ? leader->box.x0 : leader->box.x1, leader->corner_y);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  trammel_dimension_arrow (cr, leader->x, leader->y, leader->angle + G_PI, ARROW);
  trammel_notes_show (notes, text, leader->box.x0 + PAD, leader->box.y0, color);
  take (notes, leader->box);
}

/* A leader that touches the pitch circle from outside, where there is most room for its text. */
static void
paint_pitch_diameter (TrammelNotes *notes, const TrammelShape *wheel)
{
  static const double angles[] = { -1, 1, -2.1, 2.1, -0.5, 0.5, -2.6, 2.6, -1.5, 1.5 };
  if (wheel->radius * notes->view->scale < SMALLEST_WHEEL)
    return;

  const double diameter = wheel->kind == TRAMMEL_SHAPE_SPROCKET
                              ? trammel_sprocket_diameter (wheel->module, wheel->teeth)
                              : 2 * wheel->radius;
  g_autofree char *words = length_text (notes, "⌀ ", diameter, wheel->assumed);
  PangoLayout *text = trammel_notes_text (notes, words, TRAMMEL_NOTES_FONT);
  Leader best = { 0 };
  double best_cost = INFINITY;
  int width, height;

  pango_layout_get_pixel_size (text, &width, &height);
  for (gsize i = 0; i < G_N_ELEMENTS (angles); i++)
    {
      Leader leader = leader_at (notes, wheel, angles[i], width, height);
      double cost = trammel_notes_cost (notes, wheel, leader.box, FALSE) + 0.1 * i;
      if (cost >= best_cost)
        continue;
      best = leader;
      best_cost = cost;
    }
  if (best_cost < LEFT_OUT)
    paint_leader (notes, &best, text);
}

/* Where the text of a dimension line comes to lie. */
static TrammelBox
box_of_text (const TrammelDimensionLine *line, int width, int height)
{
  double dx = line->x1 - line->x0, dy = line->y1 - line->y0, length = MAX (hypot (dx, dy), 1);
  double nx = dy / length, ny = -dx / length, c = fabs (dx) / length, s = fabs (dy) / length;
  double x = (line->x0 + line->x1) / 2 + nx * line->offset, y = (line->y0 + line->y1) / 2 + ny * line->offset;
  if (width > length - NO_ROOM && s < 0.1) /* it stands beyond the second end then */
    {
      double end = x + (length / 2 + BEYOND_END + width / 2.0) * (dx < 0 ? -1 : 1);
      return (TrammelBox){ end - width / 2.0, y - height / 2.0, end + width / 2.0, y + height / 2.0 };
    }
  if (width > length - NO_ROOM) /* it stands beside the line's middle then */
    return (TrammelBox){ x + BESIDE_LINE, y - height / 2.0, x + BESIDE_LINE + width, y + height / 2.0 };
  double half_width = (c * width + s * height) / 2, half_height = (s * width + c * height) / 2;
  double up = nx * (ny < 0 ? 1 : -1), over = ny * (ny < 0 ? 1 : -1); /* texts stand above the line */
  x += up * height / 2;
  y += over * height / 2;
  return (TrammelBox){ x - half_width, y - half_height, x + half_width, y + half_height };
}

static void
show_line (TrammelNotes *notes, TrammelDimensionLine *line)
{
  line->color = dimension_color (notes);
  line->font = TRAMMEL_NOTES_FONT;
  line->ground = &notes->painter->palette->ground;
  trammel_dimension_line_paint (notes->painter->cr, line);
}

static void
paint_line (TrammelNotes *notes, TrammelDimensionLine *line, const TrammelShape *owner, double offset)
{
  PangoLayout *text = trammel_notes_text (notes, line->text, TRAMMEL_NOTES_FONT);
  TrammelBox best = { 0, 0, 0, 0 };
  double best_cost = INFINITY, chosen = offset;
  int width, height;

  pango_layout_get_pixel_size (text, &width, &height);
  for (int side = 1; side >= -1; side -= 2)
    {
      line->offset = side * offset;
      TrammelBox box = box_of_text (line, width, height);
      double cost = trammel_notes_cost (notes, owner, box, FALSE);
      if (cost >= best_cost)
        continue;
      best = box;
      best_cost = cost;
      chosen = line->offset;
    }
  /* A text that does not fit between the points is left out rather than put on a part. */
  const gboolean fits = width <= hypot (line->x1 - line->x0, line->y1 - line->y0) - NO_ROOM;
  if (best_cost >= (fits ? LEFT_OUT : ON_PART))
    return;
  line->offset = chosen;
  show_line (notes, line);
  take (notes, best);
}

/* Between the centers @a and @b of what stands still, @tip the largest radius there. */
static void
paint_center_distance (TrammelNotes *notes, const TrammelShape *owner, TrammelPoint a, TrammelPoint b, double tip)
{
  const TrammelView *view = notes->view;
  const gboolean turned = a.x > b.x || (a.x == b.x && a.y > b.y);
  const TrammelPoint first = turned ? b : a, second = turned ? a : b;
  g_autofree char *words = length_text (notes, "", owner->center, owner->center_assumed);
  TrammelDimensionLine line = { .text = words };

  line.x0 = trammel_view_x (view, first.x);
  line.y0 = trammel_view_y (view, first.y);
  line.x1 = trammel_view_x (view, second.x);
  line.y1 = trammel_view_y (view, second.y);
  if (hypot (b.x - a.x, b.y - a.y) * view->scale >= SMALLEST_DISTANCE)
    paint_line (notes, &line, owner, tip * view->scale + BESIDE);
}

/* Over the tips of the larger wheel; from a worm, across to its axis. */
static void
paint_distance_of_mesh (TrammelNotes *notes, const TrammelShape *wheel)
{
  const TrammelShape *partner = shape_of_id (notes, wheel->partner);
  if (!partner)
    return;
  const gboolean worm = partner->kind == TRAMMEL_SHAPE_THREAD;
  paint_center_distance (notes, wheel, (TrammelPoint){ worm ? wheel->x : partner->x, partner->y },
                         (TrammelPoint){ wheel->x, wheel->y }, worm ? wheel->tip : MAX (wheel->tip, partner->tip));
}

/* Over the outside of the belt or chain. */
static void
paint_distance_of_loop (TrammelNotes *notes, const TrammelShape *loop)
{
  paint_center_distance (notes, loop, (TrammelPoint){ loop->x, loop->y }, (TrammelPoint){ loop->x2, loop->y2 },
                         MAX (loop->radius, loop->radius2) + loop->module);
}

/* Whether @box meets another part of the output, what travels taken where it stands at rest: in passing it may. */
static gboolean
stands_on_part (const TrammelNotes *notes, const TrammelShape *screw, TrammelBox box)
{
  const TrammelView *view = notes->view;
  for (guint i = 0; i < notes->layout->shapes->len; i++)
    {
      TrammelShape other = g_array_index (notes->layout->shapes, TrammelShape, i);
      if (other.part != screw->part || other.id == screw->id)
        continue;
      other.window = 0;
      TrammelBox b = trammel_shape_bounds (&other);
      if (box.x0 < trammel_view_x (view, b.x1) && trammel_view_x (view, b.x0) < box.x1
          && box.y0 < trammel_view_y (view, b.y1) && trammel_view_y (view, b.y0) < box.y1)
        return TRUE;
    }
  return FALSE;
}

/* Once around the screw, near its far end; left out where its text would stand on something else, since the nut tells
 * the lead too. */
static void
paint_lead (TrammelNotes *notes, const TrammelShape *screw)
{
  const TrammelView *view = notes->view;
  double lead = screw->module * screw->teeth, end = screw->x + screw->length - 0.03 * screw->length;
  double left = trammel_view_x (view, end - lead), right = trammel_view_x (view, end);
  double y = trammel_view_y (view, screw->y - screw->tip);
  g_autofree char *words = length_text (notes, "", lead, FALSE);
  PangoLayout *text = trammel_notes_text (notes, words, TRAMMEL_NOTES_FONT);
  int width, height;

  if (lead > 0.9 * screw->length || lead * view->scale < 2)
    return;
  pango_layout_get_pixel_size (text, &width, &height);
  /* A text that is too long stands beyond the second point: over the thread, else over the bearing. */
  const TrammelDimensionLine ways[]
      = { { .x0 = right, .y0 = y, .x1 = left, .y1 = y, .offset = -BESIDE, .text = words },
          { .x0 = left, .y0 = y, .x1 = right, .y1 = y, .offset = BESIDE, .text = words } };
  for (gsize i = 0; i < G_N_ELEMENTS (ways); i++)
    {
      TrammelDimensionLine line = ways[i];
      TrammelBox box = box_of_text (&line, width, height);
      if (trammel_notes_cost (notes, screw, box, FALSE) >= LEFT_OUT || stands_on_part (notes, screw, box))
        continue;
      show_line (notes, &line);
      take (notes, box);
      return;
    }
}

static gboolean
has_pitch_circle (const TrammelShape *shape)
{
  return shape->teeth > 0 && shape->label && shape->orbit == 0 && trammel_shape_is_round (shape)
         && shape->kind != TRAMMEL_SHAPE_CARRIER;
}

void
trammel_paint_dimensions (TrammelNotes *notes)
{
  GArray *shapes = notes->layout->shapes;
  gboolean lead_shown = FALSE;

  for (guint i = 0; i < shapes->len; i++)
    {
      const TrammelShape *shape = &g_array_index (shapes, TrammelShape, i);
      if (shape->partner > 0 && shape->orbit == 0)
        paint_distance_of_mesh (notes, shape);
      if (shape->partner == 0 && shape->center > 0)
        paint_distance_of_loop (notes, shape);
      if (shape->kind == TRAMMEL_SHAPE_THREAD && shape->is_screw && !lead_shown)
        {
          paint_lead (notes, shape);
          lead_shown = TRUE;
        }
    }
  for (guint i = 0; i < shapes->len; i++)
    {
      const TrammelShape *shape = &g_array_index (shapes, TrammelShape, i);
      if (has_pitch_circle (shape))
        paint_pitch_diameter (notes, shape);
    }
}
