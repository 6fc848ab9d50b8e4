/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-notes-private.h"

#include <math.h>

#include <glib/gi18n-lib.h>

#include "draw/display.h"

#define LETTER_FONT "Sans Bold 13px"
#define PAD 2.0
#define EDGE 4.0
#define BAR_PIXELS 80.0
#define ARROW 7.0
#define MANY_LABELS 30
#define SMALL_PIXELS 12.0

double
trammel_view_x (const TrammelView *view, double x)
{
  return view->origin_x + x * view->scale;
}

double
trammel_view_y (const TrammelView *view, double y)
{
  return view->origin_y + y * view->scale;
}

PangoLayout *
trammel_notes_text (const TrammelNotes *notes, const char *text, const char *font)
{
  g_autofree char *key = g_strconcat (font, "\n", text, NULL);
  PangoLayout *layout = g_hash_table_lookup (notes->texts, key);
  if (layout)
    {
      pango_cairo_update_layout (notes->painter->cr, layout);
      return layout;
    }
  layout = pango_cairo_create_layout (notes->painter->cr);
  PangoFontDescription *description = pango_font_description_from_string (font);
  pango_layout_set_font_description (layout, description);
  pango_font_description_free (description);
  pango_layout_set_text (layout, text, -1);
  g_hash_table_insert (notes->texts, g_steal_pointer (&key), layout);
  return layout;
}

void
trammel_notes_show (const TrammelNotes *notes, PangoLayout *layout, double x, double y, TrammelColor color)
{
  cairo_move_to (notes->painter->cr, x, y);
  trammel_color_set (notes->painter->cr, color, 1);
  pango_cairo_show_layout (notes->painter->cr, layout);
  cairo_new_path (notes->painter->cr);
}

static gboolean
boxes_meet (TrammelBox a, TrammelBox b)
{
  return a.x0 < b.x1 && b.x0 < a.x1 && a.y0 < b.y1 && b.y0 < a.y1;
}

static gboolean
disc_meets_box (double x, double y, double radius, TrammelBox box)
{
  double dx = x - CLAMP (x, box.x0, box.x1), dy = y - CLAMP (y, box.y0, box.y1);
  return dx * dx + dy * dy < radius * radius;
}

static gboolean
shape_meets_box (const TrammelNotes *notes, const TrammelShape *shape, TrammelBox box)
{
  const TrammelView *view = notes->view;
  TrammelBox b = trammel_shape_bounds (shape);
  if (trammel_shape_is_round (shape) && shape->orbit == 0)
    return disc_meets_box (trammel_view_x (view, shape->x), trammel_view_y (view, shape->y), shape->tip * view->scale,
                           box);
  b = (TrammelBox){ trammel_view_x (view, b.x0), trammel_view_y (view, b.y0), trammel_view_x (view, b.x1),
                    trammel_view_y (view, b.y1) };
  return boxes_meet (b, box);
}

double
trammel_notes_cost (const TrammelNotes *notes, const TrammelShape *owner, TrammelBox box, gboolean inside)
{
  double cost = 0;
  if (box.x0 < EDGE || box.y0 < EDGE || box.x1 > notes->view->width - EDGE || box.y1 > notes->view->height - EDGE)
    cost += 1000;
  for (guint i = 0; i < notes->taken->len; i++)
    if (boxes_meet (box, g_array_index (notes->taken, TrammelBox, i)))
      cost += 500;
  for (guint i = 0; i < notes->layout->shapes->len; i++)
    {
      const TrammelShape *shape = &g_array_index (notes->layout->shapes, TrammelShape, i);
      if (shape == owner || !shape_meets_box (notes, shape, box))
        continue;
      if (shape->plane > owner->plane)
        cost += 30;
      else if (!inside)
        cost += shape->kind == TRAMMEL_SHAPE_MOTOR_FACE || shape->kind == TRAMMEL_SHAPE_CENTER_LINE ? 4 : 18;
    }
  return cost;
}

typedef struct
{
  double x, y; /* center of the text */
  gboolean inside;
  gboolean on_hub;
} Spot;

#define MOST_SPOTS 13

static double
root_pixels (const TrammelNotes *notes, const TrammelShape *shape)
{
  gboolean gear = shape->kind == TRAMMEL_SHAPE_GEAR || shape->kind == TRAMMEL_SHAPE_BEVEL_FACE;
  return (shape->radius - (gear ? TRAMMEL_GEAR_DEDENDUM : 0.5) * shape->module) * notes->view->scale;
}

/* What a text of half the diagonal @half covers when it stands on the hub: the hub, if there is room within the teeth.
 */
static double
hub_cover (const TrammelNotes *notes, const TrammelShape *shape, double half)
{
  double root = root_pixels (notes, shape);
  return MIN (MAX (half + 1, 2 * shape->shaft * notes->view->scale), MAX (root - 1.5, half));
}

static gsize
spots_of_wheel (const TrammelNotes *notes, const TrammelShape *shape, double width, double height, Spot *spots)
{
  static const double directions[] = { G_PI / 2, -G_PI / 2, 0, G_PI, 0.8, 2.3, -0.8, -2.3 };
  double x = trammel_view_x (notes->view, shape->x), y = trammel_view_y (notes->view, shape->y),
         scale = notes->view->scale;
  double root = root_pixels (notes, shape), hub = 1.9 * shape->shaft * scale;
  double ring = (hub + root) / 2, out = shape->tip * scale + 3;
  gboolean hollow = shape->kind == TRAMMEL_SHAPE_RING;
  gsize n = 0;

  if (!hollow && root - hub > height + 3)
    for (int i = 0; i < 4; i++)
      spots[n++] = (Spot){ x + ring * cos (directions[i]), y + ring * sin (directions[i]), TRUE };
  else if (!hollow && !shape->hubless && shape->kind != TRAMMEL_SHAPE_ROLLER && root > hypot (width, 0.7 * height) / 2)
    spots[n++] = (Spot){ x, y, TRUE, TRUE };
  for (int i = 0; i < 8; i++)
    {
      double dx = cos (directions[i]), dy = sin (directions[i]);
      spots[n++] = (Spot){ x + (out + width / 2) * dx, y + (out + height / 2) * dy, FALSE };
    }
  return n;
}

/* Half the height of the highest block on the axis of @shape, so that a text clears a nut. */
static double
tallest_of_part (const TrammelNotes *notes, const TrammelShape *shape)
{
  double tallest = shape->tip;
  for (guint i = 0; i < notes->layout->shapes->len; i++)
    {
      const TrammelShape *other = &g_array_index (notes->layout->shapes, TrammelShape, i);
      if (other->kind == TRAMMEL_SHAPE_NUT && other->part == shape->part)
        tallest = MAX (tallest, other->tip);
    }
  return tallest;
}

static gsize
spots_of_body (const TrammelNotes *notes, const TrammelShape *shape, double height, Spot *spots)
{
  double left = trammel_view_x (notes->view, shape->x), length = shape->length * notes->view->scale;
  double y = trammel_view_y (notes->view, shape->y),
         out = tallest_of_part (notes, shape) * notes->view->scale + 4 + height / 2;
  gsize n = 0;

  if (shape->kind == TRAMMEL_SHAPE_GEARBOX)
    spots[n++] = (Spot){ left + 0.5 * length, y, TRUE };
  for (int i = 0; i < 3; i++)
    {
      static const double along[] = { 0.5, 0.2, 0.8 };
      spots[n++] = (Spot){ left + along[i] * length, y + out, FALSE };
      spots[n++] = (Spot){ left + along[i] * length, y - out, FALSE };
    }
  return n;
}

static void
label_shape (TrammelNotes *notes, const TrammelShape *shape)
{
  PangoLayout *layout = trammel_notes_text (notes, shape->label, TRAMMEL_NOTES_FONT);
  const TrammelPalette *palette = notes->painter->palette;
  cairo_t *cr = notes->painter->cr;
  Spot spots[MOST_SPOTS];
  int width, height;

  pango_layout_get_pixel_size (layout, &width, &height);
  gsize n = trammel_shape_is_round (shape) ? spots_of_wheel (notes, shape, width, height, spots)
                                           : spots_of_body (notes, shape, height, spots);
  gsize best = 0;
  double best_cost = INFINITY;
  TrammelBox best_box = { 0, 0, 0, 0 };
  for (gsize i = 0; i < n; i++)
    {
      double half = width / 2.0 + PAD, tall = height / 2.0;
      TrammelBox box = { spots[i].x - half, spots[i].y - tall, spots[i].x + half, spots[i].y + tall };
      double cost = trammel_notes_cost (notes, shape, box, spots[i].inside) + (spots[i].inside ? 0 : 6) + 0.1 * i;
      if (cost >= best_cost)
        continue;
      best = i;
      best_cost = cost;
      best_box = box;
    }
  if (best_cost >= 500)
    return;

  TrammelColor behind = spots[best].inside ? trammel_painter_face (notes->painter, shape) : palette->ground;
  if (spots[best].on_hub)
    trammel_path_circle (cr, spots[best].x, spots[best].y, hub_cover (notes, shape, hypot (width, 0.7 * height) / 2));
  else
    trammel_path_box (cr, best_box.x0, best_box.y0 + 1, best_box.x1, best_box.y1 - 1, 4);
  trammel_color_set (cr, behind, spots[best].on_hub ? 1 : 0.85);
  cairo_fill (cr);
  trammel_notes_show (notes, layout, best_box.x0 + PAD, best_box.y0, palette->ink);
  g_array_append_val (notes->taken, best_box);
}

/* Among very many wheels the small ones go without their number. */
static void
label_shapes (TrammelNotes *notes)
{
  GArray *shapes = notes->layout->shapes;
  guint labels = 0;
  for (guint i = 0; i < shapes->len; i++)
    labels += g_array_index (shapes, TrammelShape, i).label != NULL;
  for (guint i = shapes->len; i > 0; i--)
    {
      const TrammelShape *shape = &g_array_index (shapes, TrammelShape, i - 1);
      double pixels = shape->tip * notes->view->scale;
      if (shape->label && (labels <= MANY_LABELS || pixels > SMALL_PIXELS || !trammel_shape_is_round (shape)))
        label_shape (notes, shape);
    }
}

/* The arrow head ends at (x, y). */
static void
arrow_head (cairo_t *cr, double x, double y, double direction)
{
  double back_x = x - ARROW * cos (direction), back_y = y - ARROW * sin (direction);
  double side_x = -0.5 * ARROW * sin (direction), side_y = 0.5 * ARROW * cos (direction);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, back_x + side_x, back_y + side_y);
  cairo_line_to (cr, back_x - side_x, back_y - side_y);
  cairo_close_path (cr);
  cairo_fill (cr);
}

static void
plus_sign (TrammelNotes *notes, double x, double y)
{
  cairo_t *cr = notes->painter->cr;
  TrammelBox box = { x - 6, y - 6, x + 6, y + 6 };
  cairo_move_to (cr, x - 4, y);
  cairo_line_to (cr, x + 4, y);
  cairo_move_to (cr, x, y - 4);
  cairo_line_to (cr, x, y + 4);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
  g_array_append_val (notes->taken, box);
}

/* A line as long as the window of travel at y, an arrow toward where positive counts go, a plus where positive is. */
static void
travel_arrow (TrammelNotes *notes, double middle, double half, double y)
{
  cairo_t *cr = notes->painter->cr;
  int to = notes->layout->direction;
  TrammelBox box = { middle - half, y - 5, middle + half, y + 5 };

  trammel_color_set (cr, notes->painter->accent, 1);
  cairo_set_line_width (cr, 1.5);
  cairo_move_to (cr, middle - half, y - 3);
  cairo_line_to (cr, middle - half, y + 3);
  cairo_move_to (cr, middle + half, y - 3);
  cairo_line_to (cr, middle + half, y + 3);
  cairo_move_to (cr, middle - half, y);
  cairo_line_to (cr, middle + half, y);
  cairo_stroke (cr);
  if (to != 0)
    arrow_head (cr, middle + to * (half - 1), y, to > 0 ? 0 : G_PI);
  plus_sign (notes, middle + notes->layout->plus * (half + 9), y);
  g_array_append_val (notes->taken, box);
}

static void
turn_arrow (TrammelNotes *notes, const TrammelShape *table)
{
  cairo_t *cr = notes->painter->cr;
  double x = trammel_view_x (notes->view, table->x), y = trammel_view_y (notes->view, table->y);
  double radius = 1.08 * table->radius * notes->view->scale, from = -1.2, to = -0.35;
  int direction = notes->layout->direction;

  trammel_color_set (cr, notes->painter->accent, 1);
  cairo_set_line_width (cr, 1.5);
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, radius, from, to);
  cairo_stroke (cr);
  if (direction > 0)
    arrow_head (cr, x + radius * cos (to + 0.04), y + radius * sin (to + 0.04), to + G_PI / 2);
  else if (direction < 0)
    arrow_head (cr, x + radius * cos (from - 0.04), y + radius * sin (from - 0.04), from - G_PI / 2);
  plus_sign (notes, x + (radius + 4) * cos (to + 0.2), y + (radius + 4) * sin (to + 0.2));
}

static void
letter_on (const TrammelNotes *notes, double x, double y, TrammelColor color)
{
  char letter[] = { notes->painter->letter, 0 };
  int width, height;

  if (!g_ascii_isalnum (letter[0]))
    return;
  PangoLayout *layout = trammel_notes_text (notes, letter, LETTER_FONT);
  pango_layout_get_pixel_size (layout, &width, &height);
  trammel_notes_show (notes, layout, x - width / 2.0, y - height / 2.0, color);
}

static void
note_travel (TrammelNotes *notes, const TrammelShape *shape)
{
  const TrammelView *view = notes->view;
  double half = MAX (shape->window / 2 * view->scale, 14), top = trammel_view_y (view, shape->y - shape->radius);
  double x = trammel_view_x (view, shape->x + trammel_shape_slide (shape, notes->painter->turns));

  double bottom = trammel_view_y (view, shape->y + shape->radius);
  travel_arrow (notes, trammel_view_x (view, shape->x), half, shape->below ? bottom + 9 : MAX (top - 9, 8));
  if (shape->radius * view->scale > 6)
    letter_on (notes, x, trammel_view_y (view, shape->y), notes->painter->palette->ground);
}

static void
note_feed (TrammelNotes *notes, const TrammelShape *strip)
{
  const TrammelView *view = notes->view;
  double end = trammel_view_x (view, strip->x + strip->length), y = trammel_view_y (view, strip->y - strip->radius) - 9;
  travel_arrow (notes, end - 26, 16, y);
  letter_on (notes, end - 26, y - 13, notes->painter->accent);
}

static void
note_output (TrammelNotes *notes)
{
  for (guint i = 0; i < notes->layout->shapes->len; i++)
    {
      const TrammelShape *shape = &g_array_index (notes->layout->shapes, TrammelShape, i);
      if (shape->kind == TRAMMEL_SHAPE_CARRIAGE && !shape->bare)
        note_travel (notes, shape);
      else if (shape->kind == TRAMMEL_SHAPE_STRIP)
        note_feed (notes, shape);
      else if (shape->kind == TRAMMEL_SHAPE_TABLE)
        {
          turn_arrow (notes, shape);
          letter_on (notes, trammel_view_x (notes->view, shape->x),
                     trammel_view_y (notes->view, shape->y) + 0.45 * shape->radius * notes->view->scale,
                     notes->painter->accent);
        }
    }
}

/* The nearest of 1, 2, 5 times a power of ten. */
static double
round_length (double length)
{
  double power = pow (10, floor (log10 (length))), first = length / power;
  return power * (first < 1.5 ? 1 : first < 3.5 ? 2 : first < 7.5 ? 5 : 10);
}

static void
scale_bar (TrammelNotes *notes)
{
  cairo_t *cr = notes->painter->cr;
  const TrammelPalette *palette = notes->painter->palette;
  double factor = trammel_unit_factor (notes->layout->unit), pixel = notes->view->scale * factor;
  double length = round_length (BAR_PIXELS / pixel), pixels = length * pixel;
  double x = 14, y = notes->view->height - 12;
  int height;

  trammel_color_set (cr, trammel_color_mix (palette->ink, palette->ground, 0.3), 1);
  cairo_set_line_width (cr, 1);
  cairo_move_to (cr, x + 0.5, y - 4);
  cairo_line_to (cr, x + 0.5, y + 0.5);
  cairo_line_to (cr, x + pixels + 0.5, y + 0.5);
  cairo_line_to (cr, x + pixels + 0.5, y - 4);
  cairo_stroke (cr);

  g_autofree char *number = trammel_display_significant (length, 3);
  g_autofree char *text = g_strdup_printf ("%s %s", number, trammel_unit_symbol (notes->layout->unit));
  PangoLayout *layout = trammel_notes_text (notes, text, TRAMMEL_NOTES_FONT);
  pango_layout_get_pixel_size (layout, NULL, &height);
  trammel_notes_show (notes, layout, x + pixels + 7, y - height / 2.0 - 1,
                      trammel_color_mix (palette->ink, palette->ground, 0.2));
}

static void
trouble_note (TrammelNotes *notes)
{
  const TrammelPalette *palette = notes->painter->palette;
  cairo_t *cr = notes->painter->cr;
  int width, height;
  PangoLayout *layout = trammel_notes_text (notes, notes->layout->trouble, TRAMMEL_NOTES_FONT);

  pango_layout_set_width (layout, (int)(MAX (notes->view->width - 28, 40) * PANGO_SCALE));
  pango_layout_set_wrap (layout, PANGO_WRAP_WORD_CHAR);
  pango_layout_get_pixel_size (layout, &width, &height);
  trammel_path_box (cr, 8, 6, 20 + width, 14 + height, 5);
  trammel_color_set (cr, palette->ground, 0.9);
  cairo_fill (cr);
  trammel_notes_show (notes, layout, 14, 10, palette->trouble);
}

void
trammel_paint_notes (const TrammelPainter *painter, const TrammelLayout *layout, const TrammelView *view,
                     gboolean dimensions, GHashTable *texts)
{
  g_autoptr (GArray) taken = g_array_new (FALSE, FALSE, sizeof (TrammelBox));
  TrammelNotes notes = { painter, layout, view, texts, taken };

  note_output (&notes);
  if (dimensions)
    trammel_paint_dimensions (&notes);
  label_shapes (&notes);
  scale_bar (&notes);
  if (layout->trouble)
    trouble_note (&notes);
}
