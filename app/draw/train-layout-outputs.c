/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-layout.h"

#include <math.h>

#include <glib/gi18n-lib.h>

#include "draw/display.h"
#include "drive/output.h"
#include "drive/screw.h"

#define MOST_SCREWS_DRAWN 3
#define ORDINARY_TRAVEL 100.0
#define CARRIAGE_PLATE 0.14 /* half its height, in motor sides */

/* How much of the travel is shown, in whole steps: all of it if that leaves the train legible. */
static double
window_of (const TrammelPen *pen, double most, double step)
{
  double travel = isnan (pen->travel) ? ORDINARY_TRAVEL : pen->travel;
  double least = 0.8 * pen->body, shown = MIN (MAX (travel, least), MAX (most, least));
  return step * MAX (floor (shown / step), 1);
}

static double
width_so_far (const TrammelPen *pen)
{
  double low = 0, high = 0;
  for (guint i = 0; i < pen->shapes->len; i++)
    {
      TrammelBox box = trammel_shape_bounds (&g_array_index (pen->shapes, TrammelShape, i));
      low = MIN (low, box.x0);
      high = MAX (high, box.x1);
    }
  return high - low;
}

static double
height_so_far (const TrammelPen *pen)
{
  double low = 0, high = 0;
  for (guint i = 0; i < pen->shapes->len; i++)
    {
      TrammelBox box = trammel_shape_bounds (&g_array_index (pen->shapes, TrammelShape, i));
      low = MIN (low, box.y0);
      high = MAX (high, box.y1);
    }
  return high - low;
}

static double
travel_per_turn (const TrammelRecord *output)
{
  TrammelExact travel;
  if (!trammel_output_travel_per_turn (output, &travel, NULL))
    return 0;
  return trammel_exact_to_double (travel);
}

/* Makes @shape move with the output, to the right for positive travel (to the left when the plus end is there). */
static void
let_travel (const TrammelPen *pen, TrammelShape *shape, const TrammelRecord *output, double window)
{
  shape->slide = pen->plus * pen->turns * travel_per_turn (output);
  shape->window = window;
}

static TrammelShape *
add_carriage (TrammelPen *pen, double x, double y, double length, double half_height)
{
  pen->plane++;
  TrammelShape *carriage = trammel_pen_add (pen, TRAMMEL_SHAPE_CARRIAGE);
  carriage->x = x;
  carriage->y = y;
  carriage->length = length;
  carriage->radius = carriage->tip = half_height;
  return carriage;
}

static double
positive_or (double value, double otherwise)
{
  return value > 0 ? CLAMP (value, 1e-6, 1e5) : otherwise;
}

static int
starts_of (const TrammelRecord *output)
{
  gint64 starts = trammel_record_integer (output, "starts");
  return starts > 0 ? (int)starts : 1;
}

/* Ordinary screws: M8 × 1.25 and Tr 8 × 2 alike; not thinner than their lead. */
static double
screw_diameter (const TrammelRecord *output)
{
  double pitch = positive_or (trammel_record_value (output, "pitch"), 2);
  return MAX (pitch * (pitch < 1.5 ? 6.4 : 4), pitch * starts_of (output));
}

static double
screw_size (TrammelPen *pen, const TrammelRecord *output)
{
  return 2 * screw_diameter (output);
}

/* Five digits are more than a builder can measure. */
static char *
length_text (const TrammelPen *pen, double length)
{
  g_autofree char *number = trammel_display_significant (length / trammel_unit_factor (pen->unit), 5);
  return g_strdup_printf ("%s %s", number, trammel_unit_symbol (pen->unit));
}

static char *
lead_label (const TrammelPen *pen, const TrammelRecord *output, gint64 count)
{
  double lead = positive_or (trammel_record_value (output, "pitch"), 2) * starts_of (output);
  g_autofree char *length = length_text (pen, lead);
  /* Translators: of a lead screw: travel per turn. */
  g_autofree char *text = g_strdup_printf (_ ("lead %s"), length);
  if (count > 1)
    return g_strdup_printf ("%" G_GINT64_FORMAT " × %s", count, text);
  return g_steal_pointer (&text);
}

typedef struct
{
  double diameter, pitch, lead;
  double window, nut, length;
  gboolean left, nut_turns;
} Screw;

static void
add_screw (TrammelPen *pen, const TrammelRecord *output, const Screw *screw, double y)
{
  TrammelShape *thread = trammel_pen_add (pen, TRAMMEL_SHAPE_THREAD);
  thread->y = y;
  thread->is_screw = TRUE;
  thread->teeth = starts_of (output);
  thread->module = screw->pitch;
  thread->radius = 0.44 * screw->diameter;
  thread->tip = screw->diameter / 2;
  thread->length = screw->length;
  thread->left = screw->left;
  thread->turns = screw->nut_turns ? 0 : pen->turns;
  TrammelShape *bearing = trammel_pen_add (pen, TRAMMEL_SHAPE_BEARING);
  bearing->x = pen->x + screw->length;
  bearing->y = y;
  bearing->length = 0.14 * pen->body;
  bearing->radius = bearing->tip = MAX (0.7 * screw->diameter, 0.16 * pen->body);

  pen->plane++;
  TrammelShape *nut = trammel_pen_add (pen, TRAMMEL_SHAPE_NUT);
  nut->x = pen->x + screw->length / 2;
  nut->y = y;
  nut->length = screw->nut;
  nut->radius = nut->tip = MAX (0.85 * screw->diameter, 0.2 * pen->body);
  nut->turns = screw->nut_turns ? pen->turns : 0;
  let_travel (pen, nut, output, screw->window);
  pen->plane--;
}

/* The belt, seen edge-on, that turns the next screw along with the one at @y. */
static void
link_screws (TrammelPen *pen, double y, double spacing)
{
  double shaft = trammel_pen_shaft_radius (pen), width = 0.1 * pen->body;

  TrammelShape *stub = trammel_pen_add (pen, TRAMMEL_SHAPE_SHAFT);
  stub->x = pen->x - 1.8 * width;
  stub->y = y + spacing;
  stub->length = 1.8 * width;
  stub->radius = stub->tip = shaft;
  TrammelShape *link = trammel_pen_add (pen, TRAMMEL_SHAPE_LINK);
  link->x = pen->x - 1.5 * width;
  link->y = y + spacing / 2;
  link->length = width;
  link->radius = 1.8 * shaft;
  link->tip = spacing / 2 + link->radius;
}

/* A right-hand screw that turns in its positive sense moves its nut to the right; a right-hand nut that turns so moves
 * itself to the left. */
static void
lay_screw (TrammelPen *pen, const TrammelRecord *output)
{
  gint64 count = MAX (trammel_record_integer (output, "count"), 1);
  int drawn = (int)MIN (count, MOST_SCREWS_DRAWN);
  Screw screw = { .diameter = screw_diameter (output) };
  screw.pitch = positive_or (trammel_record_value (output, "pitch"), 2);
  screw.lead = screw.pitch * starts_of (output);
  screw.left = g_strcmp0 (trammel_record_choice (output, "hand"), "left") == 0;
  screw.nut_turns = !trammel_screw_turns (output);
  screw.nut = MAX (0.38 * pen->body, MAX (1.2 * screw.diameter, 2.5 * screw.pitch));
  double spacing = MAX (2.4 * screw.diameter, 0.62 * pen->body);
  double plate = CARRIAGE_PLATE * pen->body, up = 0.2 * pen->body + screw.diameter + 2 * plate;

  pen->plus = screw.nut_turns ? -1 : 1;
  trammel_pen_see_length (pen, up, up + spacing * (drawn - 1), 0);
  screw.window = window_of (pen, MAX (0.8 * width_so_far (pen), 2.2 * pen->body), screw.lead);
  screw.length = screw.window + screw.nut + 0.3 * pen->body;

  double y = pen->y;
  guint label_at = 0;
  for (int i = 0; i < drawn; i++)
    {
      label_at = pen->shapes->len;
      add_screw (pen, output, &screw, y + i * spacing);
      if (i > 0)
        link_screws (pen, y + (i - 1) * spacing, spacing);
    }
  g_array_index (pen->shapes, TrammelShape, label_at).label = lead_label (pen, output, count);

  double nut_top = MAX (0.85 * screw.diameter, 0.2 * pen->body);
  TrammelShape *carriage = add_carriage (pen, pen->x + screw.length / 2, y - nut_top - plate, 1.5 * screw.nut, plate);
  let_travel (pen, carriage, output, screw.window);
  if (drawn == 1)
    return;
  /* A yoke from the first nut to the last. */
  pen->plane -= 2;
  TrammelShape *yoke
      = add_carriage (pen, carriage->x, y + spacing * (drawn - 1) / 2.0, 0.5 * screw.nut, spacing * (drawn - 1) / 2.0);
  yoke->bare = TRUE;
  let_travel (pen, yoke, output, screw.window);
}

static double
rack_module (TrammelPen *pen, const TrammelRecord *output)
{
  if (trammel_record_value (output, "pitch") > 0)
    return CLAMP (trammel_record_value (output, "pitch") / G_PI, 1e-6, 1e5);
  return trammel_pen_module (pen, output);
}

static double
rack_length (const TrammelPen *pen, double pitch, double window)
{
  return window + MAX (4 * pitch, 0.5 * pen->body);
}

static double
rack_size (TrammelPen *pen, const TrammelRecord *output)
{
  return trammel_teeth (output, "teeth") * rack_module (pen, output);
}

/* A rack whose pitch line is @offset from the pen, with the carriage on its back. @phase: where a tooth of it is, from
 * the pen, at rest. */
static void
add_rack (TrammelPen *pen, const TrammelRecord *output, double offset, double module, double window, double phase)
{
  double pitch = G_PI * module, back = MAX (2.2 * module, 0.06 * pen->body), plate = CARRIAGE_PLATE * pen->body;
  int side = offset > 0 ? 1 : -1;

  TrammelShape *rack = trammel_pen_add (pen, TRAMMEL_SHAPE_RACK);
  rack->y = pen->y + offset;
  rack->below = side > 0;
  rack->form = trammel_tooth_form (0);
  rack->module = pitch;
  rack->radius = back;
  rack->tip = back + TRAMMEL_GEAR_DEDENDUM * module;
  rack->length = rack_length (pen, pitch, window);
  rack->rest = phase;
  let_travel (pen, rack, output, window);
  double y = rack->y + side * (rack->tip + plate);
  TrammelShape *carriage = add_carriage (pen, pen->x, y, 0.6 * pen->body, plate);
  carriage->below = side > 0;
  let_travel (pen, carriage, output, window);
}

/* Area of what already stands in a box. */
static double
area_taken (const TrammelPen *pen, TrammelBox box)
{
  double area = 0;
  for (guint i = 0; i < pen->shapes->len; i++)
    {
      TrammelBox b = trammel_shape_bounds (&g_array_index (pen->shapes, TrammelShape, i));
      double width = MIN (b.x1, box.x1) - MAX (b.x0, box.x0), height = MIN (b.y1, box.y1) - MAX (b.y0, box.y0);
      area += MAX (width, 0) * MAX (height, 0);
    }
  return area;
}

/* Over a pinion that turns clockwise a rack moves to the right, under it to the left. It lies where it hides less. */
static void
lay_rack (TrammelPen *pen, const TrammelRecord *output)
{
  double module = rack_module (pen, output), pitch = G_PI * module, radius = rack_size (pen, output) / 2;
  double high = radius + 4 * module + 2 * CARRIAGE_PLATE * pen->body;
  int teeth = trammel_teeth (output, "teeth");

  trammel_pen_see_end (pen, radius + module, radius + module, FALSE);
  trammel_pen_choose_plane (pen, radius + module);
  double window = window_of (pen, MAX (1.6 * pen->body, 1.5 * radius), pitch);
  double half = (window + rack_length (pen, pitch, window)) / 2;
  TrammelBox over = { pen->x - half, pen->y - high, pen->x + half, pen->y - radius };
  TrammelBox under = { pen->x - half, pen->y + radius, pen->x + half, pen->y + high };
  gboolean below = area_taken (pen, over) > 1.05 * area_taken (pen, under);

  trammel_pen_add_gear (pen, teeth, module);
  pen->plus = below ? -1 : 1;
  add_rack (pen, output, below ? radius : -radius, module, window, (teeth / 4.0 + 0.5) * pitch);
}

static double
worm_rack_radius (const TrammelRecord *output, double module)
{
  return module * MAX (5, 4 + 0.8 * starts_of (output));
}

static double
worm_rack_size (TrammelPen *pen, const TrammelRecord *output)
{
  return 2 * worm_rack_radius (output, rack_module (pen, output));
}

static void
lay_worm_rack (TrammelPen *pen, const TrammelRecord *output)
{
  double module = rack_module (pen, output), pitch = G_PI * module;
  int starts = starts_of (output);
  double radius = worm_rack_radius (output, module), length = MAX (6 * pitch, 0.6 * pen->body);
  double window = window_of (pen, MAX (0.8 * width_so_far (pen), 1.6 * pen->body), pitch);
  double half = (window + rack_length (pen, pitch, window)) / 2;

  trammel_pen_see_length (pen, radius + 0.5 * pen->body, radius + module, MAX (half - length / 2, 0));
  TrammelShape *worm = trammel_pen_add (pen, TRAMMEL_SHAPE_THREAD);
  worm->teeth = starts;
  worm->module = pitch;
  worm->radius = radius;
  worm->tip = radius + module;
  worm->length = length;
  worm->label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d start", "%d starts", starts), starts);
  pen->x += length / 2;
  add_rack (pen, output, -radius, module, window, pitch / 2);
}

static double
output_pulley_size (TrammelPen *pen, const TrammelRecord *output)
{
  return trammel_teeth (output, "teeth") * trammel_pen_belt_pitch (pen, output) / G_PI;
}

/* What the belts of both falls have in common: the driving pulley at the pen, an idler to the right of it, and room for
 * the carriage between. */
typedef struct
{
  int teeth;
  double pitch, radius;
  double carriage; /* its length */
  double window;
  double distance; /* between the pulleys */
  double middle;   /* x of the carriage at rest */
} Belt;

static Belt
belt_of (TrammelPen *pen, const TrammelRecord *output)
{
  Belt belt = { .teeth = trammel_teeth (output, "teeth"), .pitch = trammel_pen_belt_pitch (pen, output) };
  belt.radius = belt.teeth * belt.pitch / (2 * G_PI);
  belt.carriage = MAX (0.6 * pen->body, 3 * belt.pitch);
  if (trammel_record_integer (output, "fall") == 2)
    belt.carriage += belt.radius + 2 * belt.pitch;
  trammel_pen_see_end (pen, belt.radius + belt.pitch, belt.radius + belt.pitch, FALSE);
  trammel_pen_choose_plane (pen, belt.radius + belt.pitch);
  double clear = MAX (pen->reach, belt.radius) + 0.1 * pen->body + belt.carriage / 2;
  belt.window = window_of (pen, MAX (0.8 * width_so_far (pen), 2.2 * pen->body), belt.pitch);
  double wanted = clear + belt.window + belt.carriage / 2 + belt.radius + 0.3 * pen->body;
  belt.distance = ceil (wanted / (belt.pitch / 2)) * (belt.pitch / 2);
  belt.middle = pen->x + clear + belt.window / 2;
  return belt;
}

static void
add_belt_pulleys (TrammelPen *pen, const Belt *belt, const TrammelShape *loop)
{
  trammel_pen_add_pulley (pen, belt->teeth, belt->pitch);
  TrammelShape *idler = trammel_pen_add_pulley (pen, belt->teeth, belt->pitch);
  double pitches = -belt->teeth / 4.0 + belt->distance / belt->pitch;
  idler->x = loop->x2;
  idler->rest = -G_PI / 2 - 2 * G_PI / belt->teeth * pitches;
  g_clear_pointer (&idler->label, g_free);
}

/* The carriage, on the upper run; under two falls, behind the pulleys that it bears. */
static void
add_belt_carriage (TrammelPen *pen, const TrammelRecord *output, const Belt *belt, double y, double half_height)
{
  TrammelShape *carriage = add_carriage (pen, belt->middle, y, belt->carriage, half_height);
  let_travel (pen, carriage, output, belt->window);
}

static void
lay_belt (TrammelPen *pen, const TrammelRecord *output)
{
  gboolean fall = trammel_record_integer (output, "fall") == 2;
  Belt belt = belt_of (pen, output);
  double plate = CARRIAGE_PLATE * pen->body, moving = MAX (0.5 * belt.radius, 2.5 * belt.pitch / G_PI);

  if (fall)
    add_belt_carriage (pen, output, &belt, pen->y - belt.radius - moving, MAX (plate, 1.25 * moving));
  TrammelShape loop = { .kind = fall ? TRAMMEL_SHAPE_FALL_BELT : TRAMMEL_SHAPE_BELT, .part = pen->part };
  loop.plane = pen->plane;
  loop.x = pen->x;
  loop.y = loop.y2 = pen->y;
  loop.x2 = pen->x + belt.distance;
  loop.radius = loop.radius2 = belt.radius;
  loop.module = belt.pitch;
  loop.teeth = belt.teeth;
  loop.turns = pen->turns;
  add_belt_pulleys (pen, &belt, &loop);
  if (fall)
    {
      loop.length = belt.carriage;
      loop.tip = moving;
      loop.middle = belt.middle;
      let_travel (pen, &loop, output, belt.window);
    }
  g_array_append_val (pen->shapes, loop);
  if (!fall)
    add_belt_carriage (pen, output, &belt, pen->y - belt.radius - 0.2 * belt.pitch, plate);
}

static double
diameter_of (const TrammelRecord *output)
{
  return positive_or (trammel_record_value (output, "diameter"), 8);
}

static double
roller_size (TrammelPen *pen, const TrammelRecord *output)
{
  return 1.4 * diameter_of (output);
}

static void
lay_roller (TrammelPen *pen, const TrammelRecord *output)
{
  double radius = diameter_of (output) / 2, thick = MIN (0.42 * radius, 0.05 * pen->body + 0.1 * radius);
  double pinch = MAX (0.7 * radius, 0.08 * pen->body);

  trammel_pen_see_end (pen, radius, 2 * radius, FALSE);
  trammel_pen_choose_plane (pen, radius);
  TrammelShape *roller = trammel_pen_add (pen, TRAMMEL_SHAPE_ROLLER);
  roller->radius = roller->tip = radius;
  g_autofree char *diameter = length_text (pen, 2 * radius);
  roller->label = g_strdup_printf ("⌀ %s", diameter);

  double left = MAX (1.1 * pen->reach, 2 * radius);
  TrammelShape *strip = trammel_pen_add (pen, TRAMMEL_SHAPE_STRIP);
  strip->x = pen->x - left;
  strip->length = 2 * left + pen->body;
  strip->y = pen->y - radius - thick;
  strip->radius = thick;
  strip->tip = thick;
  strip->slide = pen->turns * 2 * G_PI * radius;

  TrammelShape *other = trammel_pen_add (pen, TRAMMEL_SHAPE_ROLLER);
  other->radius = other->tip = pinch;
  other->y = pen->y - radius - 2 * thick - pinch;
  other->turns = -pen->turns * radius / pinch;
}

static double
table_size (TrammelPen *pen, const TrammelRecord *output)
{
  return NAN;
}

static void
lay_table (TrammelPen *pen, const TrammelRecord *output)
{
  double radius = MAX (0.75 * pen->body, 0.42 * height_so_far (pen));

  trammel_pen_see_end (pen, 1.15 * radius, 1.15 * radius, TRUE);
  TrammelShape *table = trammel_pen_add (pen, TRAMMEL_SHAPE_TABLE);
  table->radius = radius;
  table->tip = 1.22 * radius;
}

static const TrammelPartLayout layouts[] = {
  { "screw", TRUE, FALSE, screw_size, lay_screw },
  { "rack", FALSE, FALSE, rack_size, lay_rack },
  { "worm-rack", TRUE, FALSE, worm_rack_size, lay_worm_rack },
  { "belt", FALSE, FALSE, output_pulley_size, lay_belt },
  { "roller", FALSE, FALSE, roller_size, lay_roller },
  { "table", FALSE, FALSE, table_size, lay_table },
};

const TrammelPartLayout *
trammel_output_layout (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (layouts); i++)
    if (g_strcmp0 (layouts[i].type, type) == 0)
      return &layouts[i];
  return NULL;
}
