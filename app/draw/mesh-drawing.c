/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/mesh-drawing.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>

#include "draw/dimension-line.h"
#include "draw/display.h"
#include "draw/involute.h"
#include "draw/label.h"

#define EDGE 16.0
#define LEGEND_ROOM 26.0
#define LEAST_TOOTH 2.5 /* pixels per module from which teeth are drawn */
#define MOST_TEETH 400
#define WALL 2.0       /* of a ring behind its root, in modules */
#define BORE 1.2       /* radius of a gear's bore, in modules, at most a fifth of the gear */
#define NEAR_ENOUGH 12 /* pixels */
#define TINT 0.3
#define HOLE 2.2 /* radius of the mark of a hole, pixels */
#define MARK 4.5
/* How much nearer than without backlash, or farther than that, holes are marked; in modules, at least a pitch. */
#define MARKED_AROUND 4.0

/* Where the picture lies: the fixed gear's hole in pixels, and the scale. y of the plate goes up. */
typedef struct
{
  double x, y, scale;
  double width, height;
} Place;

typedef enum
{
  HOLE_PLAIN,
  HOLE_RUNS,
  HOLE_BINDS,
  HOLE_LOOSE,
  N_HOLE_MARKS
} HoleMark;

static const TrammelGear *
fixed_gear (const TrammelMeshPicture *picture)
{
  return picture->pair->b.internal ? &picture->pair->b : &picture->pair->a;
}

static const TrammelGear *
moved_gear (const TrammelMeshPicture *picture)
{
  return picture->pair->b.internal ? &picture->pair->a : &picture->pair->b;
}

static double
outer_radius (const TrammelGear *gear)
{
  if (gear->internal)
    return trammel_gear_root_diameter (*gear) / 2 + WALL * gear->module;
  return trammel_gear_tip_diameter (*gear) / 2;
}

/* Of the moved gear's center from the fixed one's, mm. */
static void
offset_shown (const TrammelMeshPicture *picture, double *dx, double *dy)
{
  *dx = picture->distance;
  *dy = 0;
  if (picture->chosen < 0 || (gsize)picture->chosen >= picture->n_offsets)
    return;
  *dx = picture->offsets[picture->chosen].dx;
  *dy = picture->offsets[picture->chosen].dy;
}

static Place
place_picture (const TrammelMeshPicture *picture, double width, double height)
{
  const double fixed = outer_radius (fixed_gear (picture)), moved = outer_radius (moved_gear (picture));
  double dx, dy;
  offset_shown (picture, &dx, &dy);

  const double left = fmax (fixed, moved - dx), right = fmax (fixed, dx + moved);
  const double below = fmax (fixed, moved - dy), top = fmax (fixed, dy + moved);
  const double room_x = fmax (width - 2 * EDGE, 1), room_y = fmax (height - 2 * EDGE - LEGEND_ROOM, 1);
  Place place = { .width = width, .height = height };
  place.scale = fmin (room_x / (left + right), room_y / (below + top));
  place.x = width / 2 + place.scale * (left - right) / 2;
  place.y = EDGE + (room_y + place.scale * (top - below)) / 2;
  return place;
}

static TrammelToothForm
form_of (const TrammelGear *gear)
{
  /* A ring is shifted outwards in the drawing of teeth, inwards in the geometry of gears. */
  return (TrammelToothForm){ .teeth = gear->teeth,
                             .pressure_angle = gear->angle,
                             .shift = gear->internal ? -gear->shift : gear->shift };
}

static void
add_circle (cairo_t *cr, double radius)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, 0, 0, radius, 0, 2 * G_PI);
}

/* The teeth as a path, in modules, about the origin. */
static void
add_teeth (cairo_t *cr, const TrammelMeshPicture *picture, const TrammelGear *gear, double distance, double scale)
{
  if (gear->teeth > MOST_TEETH || scale * gear->module < LEAST_TOOTH)
    {
      add_circle (cr, trammel_gear_tip_diameter (*gear) / (2 * gear->module));
      return;
    }
  const TrammelToothForm form = form_of (gear), mate = form_of (&picture->pair->a);
  gsize n;
  g_autofree TrammelPoint *points = gear->internal
                                        ? trammel_involute_internal (&form, &mate, distance / gear->module, &n)
                                        : trammel_involute_external (&form, &n);
  cairo_new_sub_path (cr);
  for (gsize i = 0; i < n; i++)
    cairo_line_to (cr, points[i].x, points[i].y);
  cairo_close_path (cr);
}

static void
stroke (cairo_t *cr, double pixels)
{
  cairo_save (cr);
  cairo_identity_matrix (cr);
  cairo_set_line_width (cr, pixels);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
paint_pitch_circle (cairo_t *cr, const TrammelGear *gear, const TrammelPalette *palette)
{
  const double dash[] = { 9, 3, 2, 3 };
  add_circle (cr, gear->teeth / 2.0);
  trammel_color_set (cr, palette->faint, 0.9);
  cairo_save (cr);
  cairo_identity_matrix (cr);
  cairo_set_dash (cr, dash, G_N_ELEMENTS (dash), 0);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_restore (cr);
}

/* @x, @y: its center, in pixels. */
static void
paint_gear (cairo_t *cr, const TrammelMeshPicture *picture, const TrammelGear *gear, double x, double y,
            double rotation, double distance, double scale, TrammelColor face, const TrammelPalette *palette)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, rotation);
  cairo_scale (cr, scale * gear->module, scale * gear->module);
  cairo_set_fill_rule (cr, CAIRO_FILL_RULE_EVEN_ODD);
  add_teeth (cr, picture, gear, distance, scale);
  if (gear->internal)
    add_circle (cr, outer_radius (gear) / gear->module);
  else
    add_circle (cr, fmin (BORE, gear->teeth / 10.0));
  trammel_color_set (cr, face, 0.85);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, palette->metal_edge, 1);
  stroke (cr, 1);
  paint_pitch_circle (cr, gear, palette);
  cairo_restore (cr);
}

/* The gear that is moved, in a tint of the axis's color, so that marks show on it. */
static TrammelColor
tint (TrammelColor metal, TrammelColor accent)
{
  return (TrammelColor){ metal.r + TINT * (accent.r - metal.r), metal.g + TINT * (accent.g - metal.g),
                         metal.b + TINT * (accent.b - metal.b) };
}

static void
paint_gears (cairo_t *cr, const TrammelMeshPicture *picture, const Place *place, const TrammelPalette *palette)
{
  const TrammelGear *fixed = fixed_gear (picture), *moved = moved_gear (picture);
  double dx, dy;
  offset_shown (picture, &dx, &dy);

  /* A tooth of a pinion on the line of centers; on the screen y goes down. */
  const double distance = hypot (dx, dy), direction = atan2 (-dy, dx);
  const double fixed_rotation
      = fixed->internal ? trammel_involute_mesh_ring (moved->teeth, direction, fixed->teeth, direction) : direction;
  const double moved_rotation
      = fixed->internal ? direction : trammel_involute_mesh (fixed->teeth, direction, moved->teeth, direction);
  paint_gear (cr, picture, fixed, place->x, place->y, fixed_rotation, distance, place->scale, palette->metal, palette);
  paint_gear (cr, picture, moved, place->x + dx * place->scale, place->y - dy * place->scale, moved_rotation, distance,
              place->scale, tint (palette->metal, picture->accent), palette);
}

static HoleMark
mark_of_offset (const TrammelMeshPicture *picture, const TrammelMeshOffset *offset)
{
  const double around = fmax (MARKED_AROUND * picture->pair->a.module, picture->grid.pitch);
  const gboolean in_sight = fabs (offset->mesh.distance - picture->distance) <= around;
  switch (offset->mesh.state)
    {
    case TRAMMEL_MESH_RUNS:
      return HOLE_RUNS;
    case TRAMMEL_MESH_BINDS:
    case TRAMMEL_MESH_BOTTOMS:
    case TRAMMEL_MESH_TIPS_MEET:
      return in_sight ? HOLE_BINDS : HOLE_PLAIN;
    case TRAMMEL_MESH_SHORT:
    case TRAMMEL_MESH_APART:
    default:
      return in_sight ? HOLE_LOOSE : HOLE_PLAIN;
    }
}

static TrammelColor
color_of_mark (HoleMark mark, const TrammelPalette *palette)
{
  switch (mark)
    {
    case HOLE_RUNS:
      return trammel_palette_axis (palette, 'Z');
    case HOLE_BINDS:
      return palette->trouble;
    case HOLE_LOOSE:
    case HOLE_PLAIN:
    case N_HOLE_MARKS:
    default:
      return palette->ink;
    }
}

static void
paint_cross (cairo_t *cr, double x, double y, double size)
{
  cairo_move_to (cr, x - size, y - size);
  cairo_line_to (cr, x + size, y + size);
  cairo_move_to (cr, x - size, y + size);
  cairo_line_to (cr, x + size, y - size);
}

static void
paint_mark (cairo_t *cr, HoleMark mark, double x, double y, const TrammelPalette *palette)
{
  cairo_new_path (cr);
  if (mark == HOLE_BINDS)
    paint_cross (cr, x, y, MARK * 0.8);
  else
    cairo_arc (cr, x, y, mark == HOLE_PLAIN ? HOLE : MARK, 0, 2 * G_PI);
  if (mark == HOLE_RUNS)
    {
      trammel_color_set (cr, color_of_mark (mark, palette), 1);
      cairo_fill_preserve (cr);
      trammel_color_set (cr, palette->ground, 1);
      cairo_set_line_width (cr, 1);
      cairo_stroke (cr);
      return;
    }
  /* A light edge around, so that the mark shows on the gears too. */
  if (mark != HOLE_PLAIN)
    {
      trammel_color_set (cr, palette->ground, 0.9);
      cairo_set_line_width (cr, 4);
      cairo_stroke_preserve (cr);
    }
  trammel_color_set (cr, color_of_mark (mark, palette), mark == HOLE_PLAIN ? 0.35 : 1);
  cairo_set_line_width (cr, mark == HOLE_PLAIN ? 1 : 2);
  cairo_stroke (cr);
}

static double
grid_step (const TrammelMeshPicture *picture)
{
  return picture->grid.half ? picture->grid.pitch / 2 : picture->grid.pitch;
}

/* The offset of so many steps to the right and up or any other way; NULL beyond those there are. */
static const TrammelMeshOffset *
offset_at_steps (const TrammelMeshPicture *picture, GHashTable *by_steps, int i, int j)
{
  const int more = MAX (abs (i), abs (j)), less = MIN (abs (i), abs (j));
  return g_hash_table_lookup (by_steps, GINT_TO_POINTER (more * (TRAMMEL_HOLE_GRID_MOST_STEPS + 1) + less));
}

static GHashTable *
offsets_by_steps (const TrammelMeshPicture *picture)
{
  GHashTable *table = g_hash_table_new (NULL, NULL);
  for (gsize k = 0; k < picture->n_offsets; k++)
    {
      const TrammelMeshOffset *offset = &picture->offsets[k];
      const int i = (int)lround (offset->dx / grid_step (picture)), j = (int)lround (offset->dy / grid_step (picture));
      g_hash_table_insert (table, GINT_TO_POINTER (i * (TRAMMEL_HOLE_GRID_MOST_STEPS + 1) + j), (gpointer)offset);
    }
  return table;
}

static void
paint_holes (cairo_t *cr, const TrammelMeshPicture *picture, const Place *place, const TrammelPalette *palette)
{
  const double step = grid_step (picture) * place->scale;
  if (!(step > 0))
    return;

  g_autoptr (GHashTable) by_steps = offsets_by_steps (picture);
  const gboolean plain = step >= 3 * HOLE, marks = step >= MARK;
  const int left = (int)floor (place->x / step), right = (int)floor ((place->width - place->x) / step);
  const int up = (int)floor (place->y / step);
  const int down = (int)floor ((place->height - LEGEND_ROOM - place->y) / step);
  for (int i = -left; marks && i <= right; i++)
    for (int j = -down; j <= up; j++)
      {
        const TrammelMeshOffset *offset = offset_at_steps (picture, by_steps, i, j);
        const HoleMark mark = offset != NULL ? mark_of_offset (picture, offset) : HOLE_PLAIN;
        if (mark != HOLE_PLAIN || plain)
          paint_mark (cr, mark, place->x + i * step, place->y - j * step, palette);
      }
}

static void
paint_dimension (cairo_t *cr, const TrammelMeshPicture *picture, const Place *place, const TrammelPalette *palette)
{
  double dx, dy;
  offset_shown (picture, &dx, &dy);
  const int decimals = trammel_unit_factor (picture->unit) == 1 ? 3 : 4;
  g_autofree char *text = trammel_display_length (hypot (dx, dy), picture->unit, decimals);
  const TrammelDimensionLine line = { .x0 = place->x,
                                      .y0 = place->y,
                                      .x1 = place->x + dx * place->scale,
                                      .y1 = place->y - dy * place->scale,
                                      .text = text,
                                      .color = palette->ink,
                                      .strong = TRUE,
                                      .font = picture->font,
                                      .ground = &palette->ground };
  trammel_dimension_line_paint (cr, &line);
}

static void
paint_legend (cairo_t *cr, const TrammelMeshPicture *picture, const Place *place, const TrammelPalette *palette)
{
  const char *const texts[] = { NULL, _ ("runs"), _ ("binds"), _ ("loose") };
  const TrammelLabel label = { .font = picture->font, .scale = 0.9, .yalign = 0.5 };
  const double y = place->height - LEGEND_ROOM / 2;
  double x = EDGE;

  for (HoleMark mark = HOLE_RUNS; mark < N_HOLE_MARKS; mark++)
    {
      double width;
      paint_mark (cr, mark, x, y, palette);
      trammel_color_set (cr, palette->ink, 1);
      trammel_label_paint (cr, &label, texts[mark], x + 10, y);
      trammel_label_size (cr, &label, texts[mark], &width, NULL);
      x += width + 30;
    }
}

void
trammel_mesh_drawing_paint (cairo_t *cr, double width, double height, const TrammelMeshPicture *picture,
                            const TrammelPalette *palette)
{
  g_return_if_fail (cr != NULL && picture != NULL && picture->pair != NULL && palette != NULL);

  const Place place = place_picture (picture, width, height);
  cairo_save (cr);
  paint_gears (cr, picture, &place, palette);
  paint_holes (cr, picture, &place, palette);
  paint_dimension (cr, picture, &place, palette);
  if (picture->grid.pitch > 0)
    paint_legend (cr, picture, &place, palette);
  cairo_restore (cr);
}

gssize
trammel_mesh_drawing_offset_at (const TrammelMeshPicture *picture, double width, double height, double x, double y)
{
  g_return_val_if_fail (picture != NULL && picture->pair != NULL, -1);

  const Place place = place_picture (picture, width, height);
  const double step = grid_step (picture) * place.scale;
  if (!(step > 0))
    return -1;
  const double i = round ((x - place.x) / step), j = round ((place.y - y) / step);
  if (hypot (place.x + i * step - x, place.y - j * step - y) > NEAR_ENOUGH)
    return -1;

  g_autoptr (GHashTable) by_steps = offsets_by_steps (picture);
  if (fmax (fabs (i), fabs (j)) > TRAMMEL_HOLE_GRID_MOST_STEPS)
    return -1;
  const TrammelMeshOffset *offset = offset_at_steps (picture, by_steps, (int)i, (int)j);
  return offset != NULL ? offset - picture->offsets : -1;
}
