/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-layout.h"

#include <math.h>

#include <glib/gi18n-lib.h>

#include "draw/display.h"
#include "drive/efficiency.h"
#include "drive/loop.h"

#define ORDINARY_CHAIN_PITCH 6.35
#define BEVEL_FACE_WIDTH (1.0 / 3)
/* Shafts that are told to be farther apart than that many ordinary distances are drawn as far: the picture would show
 * nothing else. */
#define FARTHEST 5.0

static double
driver_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return trammel_teeth (stage, "driver") * trammel_pen_module (pen, stage);
}

typedef struct
{
  double module;
  double driver, driven; /* pitch radii */
  double cone;           /* distance from the apex to the large end */
  double face;
} Bevel;

static Bevel
bevel_of (TrammelPen *pen, const TrammelRecord *stage)
{
  Bevel bevel = { .module = trammel_pen_module (pen, stage), .face = BEVEL_FACE_WIDTH };
  bevel.driver = trammel_teeth (stage, "driver") * bevel.module / 2;
  bevel.driven = trammel_teeth (stage, "driven") * bevel.module / 2;
  bevel.cone = hypot (bevel.driver, bevel.driven);
  return bevel;
}

static TrammelShape *
add_bevel (TrammelPen *pen, TrammelShapeKind kind, int teeth, double radius, const Bevel *bevel)
{
  TrammelShape *shape = trammel_pen_add (pen, kind);
  double other = sqrt (MAX (bevel->cone * bevel->cone - radius * radius, 0));
  shape->teeth = teeth;
  shape->form = trammel_tooth_form (teeth);
  shape->module = bevel->module;
  shape->radius = radius;
  shape->face = bevel->face;
  shape->tip = radius + bevel->module * other / bevel->cone;
  shape->label = g_strdup_printf ("%d", teeth);
  return shape;
}

/* Seen from the driven gear's side. The driven gear lies in front of the driver, on its right; reversed, on its left
 * with its shaft across. */
static void
bevel_to_length (TrammelPen *pen, const TrammelRecord *stage)
{
  Bevel bevel = bevel_of (pen, stage);
  int side = trammel_record_flag (stage, "reverse") ? -1 : 1;

  trammel_pen_choose_plane (pen, bevel.driver);
  add_bevel (pen, TRAMMEL_SHAPE_BEVEL_FACE, trammel_teeth (stage, "driver"), bevel.driver, &bevel);
  double hub = 0.2 * bevel.driven + trammel_pen_shaft_radius (pen);
  double clear = trammel_pen_clear_x (pen, bevel.driven, bevel.driven);

  pen->plane++;
  pen->turns = pen->next_turns;
  double from = side > 0 ? pen->x + bevel.driver : pen->x - bevel.driver;
  TrammelShape *shaft = trammel_pen_add (pen, TRAMMEL_SHAPE_SHAFT);
  shaft->x = from;
  shaft->radius = shaft->tip = trammel_pen_shaft_radius (pen);
  shaft->length = MAX (clear, pen->x + bevel.driver + hub) - from;
  double end = shaft->x + shaft->length;

  TrammelShape *driven
      = add_bevel (pen, TRAMMEL_SHAPE_BEVEL_SIDE, trammel_teeth (stage, "driven"), bevel.driven, &bevel);
  driven->length = side * bevel.driver;
  trammel_pen_step_to (pen, end, pen->y, 0);
  pen->lengthwise = TRUE;
}

/* The same seen along the driven gear: the driver lies in front of it, on its right with the shaft across; reversed, on
 * its left. */
static void
bevel_to_end (TrammelPen *pen, const TrammelRecord *stage)
{
  Bevel bevel = bevel_of (pen, stage);
  int side = trammel_record_flag (stage, "reverse") ? -1 : 1;
  double half = MAX (bevel.driver, bevel.driven) + bevel.module, hub = 0.2 * bevel.driver;
  double from = pen->x, in_turns = pen->turns;

  double center = trammel_pen_clear_x (pen, half, half) + bevel.driven + (side < 0 ? hub : bevel.module);
  pen->x = center;
  pen->turns = pen->next_turns;
  add_bevel (pen, TRAMMEL_SHAPE_BEVEL_FACE, trammel_teeth (stage, "driven"), bevel.driven, &bevel);

  pen->plane++;
  pen->turns = in_turns;
  TrammelShape *shaft = trammel_pen_add (pen, TRAMMEL_SHAPE_SHAFT);
  shaft->x = from;
  shaft->length = center + side * bevel.driven - from;
  shaft->radius = shaft->tip = trammel_pen_shaft_radius (pen);
  TrammelShape *driver
      = add_bevel (pen, TRAMMEL_SHAPE_BEVEL_SIDE, trammel_teeth (stage, "driver"), bevel.driver, &bevel);
  driver->length = side * bevel.driven;
  trammel_pen_step_to (pen, center, pen->y, bevel.driven);
  pen->lengthwise = FALSE;
  pen->crowded = TRUE;
}

static void
lay_bevel (TrammelPen *pen, const TrammelRecord *stage)
{
  if (pen->lengthwise)
    {
      bevel_to_end (pen, stage);
      return;
    }
  trammel_pen_see_end (pen, driver_size (pen, stage) / 2, driver_size (pen, stage) / 2, FALSE);
  bevel_to_length (pen, stage);
}

/* As told, but with room for its threads. */
static double
worm_radius (const TrammelRecord *stage, double module)
{
  double radius = trammel_record_value (stage, "diameter") / 2;
  if (radius > 0)
    return CLAMP (radius, 1.5 * module, 50 * module);
  return module * MAX (TRAMMEL_WORM_USUAL_THICKNESS / 2, 4 + 0.8 * trammel_teeth (stage, "starts"));
}

static double
worm_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return 2 * worm_radius (stage, trammel_pen_module (pen, stage));
}

/* A right-hand worm that turns in its positive sense moves its threads to the right: over the wheel, that turns it
 * clockwise. */
static void
lay_worm (TrammelPen *pen, const TrammelRecord *stage)
{
  double module = trammel_pen_module (pen, stage);
  int starts = trammel_teeth (stage, "starts"), teeth = trammel_teeth (stage, "wheel");
  gboolean below = !trammel_record_flag (stage, "reverse");
  double radius = worm_radius (stage, module), length = MAX (4.5 * G_PI, 0.6 * sqrt (teeth) + 8) * module;
  double wheel = (teeth / 2.0 + 1) * module, across = radius + 2 * wheel;

  trammel_pen_see_length (pen, below ? radius + module : across, below ? across : radius + module,
                          MAX (wheel - length / 2, 0));
  TrammelShape *worm = trammel_pen_add (pen, TRAMMEL_SHAPE_THREAD);
  worm->teeth = starts;
  worm->module = G_PI * module;
  worm->radius = radius;
  worm->tip = radius + module;
  worm->length = length;
  worm->left = g_strcmp0 (trammel_record_choice (stage, "hand"), "left") == 0;
  worm->below = below;
  worm->label = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%d start", "%d starts", starts), starts);
  int partner = worm->id;

  double middle = worm->x + length / 2, distance = radius + teeth * module / 2;
  trammel_pen_step_to (pen, middle, pen->y + (below ? distance : -distance), wheel);
  TrammelShape *gear = trammel_pen_add_gear (pen, teeth, module);
  gear->turns = pen->next_turns;
  gear->rest = (below ? -G_PI / 2 : G_PI / 2) - G_PI / teeth;
  gear->partner = partner;
  double diameter = trammel_record_value (stage, "diameter");
  gear->center = ((diameter > 0 ? diameter : 2 * radius) + teeth * module) / 2;
  gear->center_assumed = gear->assumed || !(diameter > 0);
  pen->lengthwise = FALSE;
}

static double
pulley_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return trammel_teeth (stage, "driver") * trammel_pen_belt_pitch (pen, stage) / G_PI;
}

/* Turned so that what is at the first pulley's tangent point, in pitches, is also at the second one's. */
static double
rest_of_second (const TrammelShape *loop, int teeth_a, int teeth_b)
{
  double normal = trammel_loop_normal (loop);
  double pitches = normal * teeth_a / (2 * G_PI) + trammel_loop_straight (loop) / loop->module;
  return normal - 2 * G_PI / teeth_b * pitches;
}

/* A distance that looks well: of an open loop one that goes with whole pitches. */
static double
ordinary_distance (double radius_a, double radius_b, double pitch, gboolean crossed)
{
  double wanted = 1.2 * (radius_a + radius_b) + 3 * pitch;
  const TrammelLoop loop = { .radius = { radius_a, radius_b }, .per_radian = { radius_a, radius_b } };
  if (crossed)
    return 1.5 * (radius_a + radius_b);
  return trammel_loop_center (&loop, pitch * ceil (trammel_loop_length (&loop, wanted) / pitch));
}

static void
lay_loop (TrammelPen *pen, const TrammelRecord *stage, double pitch, gboolean chain)
{
  int teeth_a = trammel_teeth (stage, "driver"), teeth_b = trammel_teeth (stage, "driven");
  double radius_a = teeth_a * pitch / (2 * G_PI), radius_b = teeth_b * pitch / (2 * G_PI);
  gboolean crossed = trammel_record_flag (stage, "crossed");
  double distance = ordinary_distance (radius_a, radius_b, pitch, crossed);
  double center = trammel_loop_center_of_stage (stage);
  if (center > 0)
    distance = CLAMP (center, radius_a + radius_b + pitch, FARTHEST * distance);

  trammel_pen_see_end (pen, radius_a + pitch, radius_a + pitch, FALSE);
  trammel_pen_choose_plane (pen, radius_a + pitch);
  TrammelShapeKind wheels = chain ? TRAMMEL_SHAPE_SPROCKET : TRAMMEL_SHAPE_PULLEY;
  trammel_pen_add_pulley (pen, teeth_a, pitch)->kind = wheels;

  double direction = trammel_pen_next_angle (pen), x = pen->x, y = pen->y;
  trammel_pen_step_to (pen, x + distance * cos (direction), y + distance * sin (direction), radius_b + 0.55 * pitch);
  TrammelShape loop = { .x = x, .y = y, .x2 = pen->x, .y2 = pen->y };
  loop.radius = radius_a;
  loop.radius2 = radius_b;
  loop.module = pitch;
  loop.crossed = crossed;
  loop.center = center > 0 ? center : 0;

  TrammelShape *driven = trammel_pen_add_pulley (pen, teeth_b, pitch);
  driven->kind = wheels;
  driven->turns = pen->next_turns;
  driven->rest = crossed ? 0 : rest_of_second (&loop, teeth_a, teeth_b);

  TrammelShape *belt = trammel_pen_add (pen, chain ? TRAMMEL_SHAPE_CHAIN : TRAMMEL_SHAPE_BELT);
  loop.kind = belt->kind;
  loop.part = belt->part;
  loop.plane = belt->plane;
  loop.turns = belt->turns;
  loop.teeth = teeth_a;
  *belt = loop;
}

static void
lay_belt (TrammelPen *pen, const TrammelRecord *stage)
{
  lay_loop (pen, stage, trammel_pen_belt_pitch (pen, stage), FALSE);
}

static double
chain_pitch (TrammelPen *pen, const TrammelRecord *stage)
{
  double pitch = trammel_record_value (stage, "pitch");
  pen->assumed = !(pitch > 0);
  if (pitch > 0)
    pen->chain_pitch = pitch;
  return isnan (pen->chain_pitch) ? ORDINARY_CHAIN_PITCH : pen->chain_pitch;
}

static double
sprocket_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return trammel_teeth (stage, "driver") * chain_pitch (pen, stage) / G_PI;
}

static void
lay_chain (TrammelPen *pen, const TrammelRecord *stage)
{
  lay_loop (pen, stage, chain_pitch (pen, stage), TRUE);
}

static double
no_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return NAN;
}

static void
lay_gearbox (TrammelPen *pen, const TrammelRecord *stage)
{
  double half = 0.36 * pen->body;
  g_autofree char *ratio = trammel_record_text (stage, "ratio");

  trammel_pen_see_length (pen, half, half, 0);
  TrammelShape *box = trammel_pen_add (pen, TRAMMEL_SHAPE_GEARBOX);
  box->length = 0.85 * pen->body;
  box->radius = box->tip = half;
  box->label = g_strdup_printf ("%s : 1", ratio ? ratio : "?");
  pen->x += box->length;
}

static void
lay_coupling (TrammelPen *pen, const TrammelRecord *stage)
{
  double half = 0.2 * pen->body;

  trammel_pen_see_length (pen, half, half, 0);
  TrammelShape *coupling = trammel_pen_add (pen, TRAMMEL_SHAPE_COUPLING);
  coupling->length = 0.55 * pen->body;
  coupling->radius = coupling->tip = half;
  pen->x += coupling->length;
}

static const TrammelPartLayout layouts[] = {
  { "bevel", FALSE, TRUE, driver_size, lay_bevel }, { "worm", TRUE, TRUE, worm_size, lay_worm },
  { "belt", FALSE, FALSE, pulley_size, lay_belt },  { "chain", FALSE, FALSE, sprocket_size, lay_chain },
  { "gearbox", TRUE, FALSE, no_size, lay_gearbox }, { "coupling", TRUE, FALSE, no_size, lay_coupling },
};

const TrammelPartLayout *
trammel_stage_layout (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (layouts); i++)
    if (g_strcmp0 (layouts[i].type, type) == 0)
      return &layouts[i];
  return trammel_gears_layout (type);
}
