/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Spur pairs, rings and planetary sets. */
#include "draw/train-layout.h"

#include <math.h>

#include "drive/stage-gears.h"

#define MOST_PLANETS 3
/* A distance that was typed, in parts of the one without backlash: beyond that the picture would show nothing else. */
#define NEAREST 0.2
#define FARTHEST 5.0

/* Two gears as they are drawn; b may be a ring. */
typedef struct
{
  TrammelToothForm a, b;
  gboolean ring;
  double distance; /* in modules, as drawn */
  double center;   /* in modules, as it is */
  gboolean placed; /* the center is told */
} Mesh;

/* In core/drive a positive shift thickens the teeth of a ring; in a tooth form it widens the spaces between them. */
static TrammelGear
gear_of_form (const TrammelToothForm *form, gboolean ring)
{
  return (TrammelGear){ form->teeth, 1, form->pressure_angle, ring ? -form->shift : form->shift, ring };
}

static TrammelGearPair
pair_of_mesh (const Mesh *mesh)
{
  return (TrammelGearPair){ gear_of_form (&mesh->a, FALSE), gear_of_form (&mesh->b, mesh->ring) };
}

/* At the distance without backlash; plain gears side by side where these forms have none. */
static Mesh
mesh_of (TrammelToothForm a, TrammelToothForm b, gboolean ring)
{
  Mesh mesh = { .a = a, .b = b, .ring = ring };
  TrammelGearPair pair = pair_of_mesh (&mesh);
  if (trammel_gear_pair_distance (&pair, &mesh.distance, NULL))
    {
      mesh.center = mesh.distance;
      return mesh;
    }
  mesh.a = trammel_tooth_form (a.teeth);
  mesh.b = trammel_tooth_form (b.teeth);
  mesh.distance = mesh.center = (ring ? MAX (b.teeth - a.teeth, 0) : a.teeth + b.teeth) / 2.0;
  return mesh;
}

/* Drawn as built: teeth are thinner only by what the distance lacks of the play that they are drawn with. */
static void
build_at (Mesh *mesh, double distance)
{
  TrammelGearPair pair = pair_of_mesh (mesh);
  if (!(distance > 0) || !trammel_gear_pair_check (&pair, NULL))
    return;
  double natural = mesh->distance, backlash = trammel_gear_pair_at (&pair, distance).backlash;
  mesh->center = distance;
  mesh->placed = TRUE;
  mesh->distance = CLAMP (distance, NEAREST * natural, FARTHEST * natural);
  if (backlash >= 0)
    mesh->a.play = mesh->b.play = MAX (TRAMMEL_INVOLUTE_BACKLASH - backlash, 0) / 2;
}

static double
or_zero (double value)
{
  return isnan (value) ? 0 : value;
}

/* The gear of @key ("driver", "driven") of a pair. */
static TrammelToothForm
form_of (const TrammelRecord *stage, const char *key, gboolean ring)
{
  g_autofree char *shift = g_strconcat ("shift_", key, NULL);
  double angle = trammel_record_value (stage, "angle"), x = or_zero (trammel_record_value (stage, shift));
  TrammelToothForm form = trammel_tooth_form (trammel_teeth (stage, key));
  if (angle > 0)
    form.pressure_angle = angle;
  form.shift = ring ? -x : x;
  return form;
}

/* Gives a gear its teeth. */
static void
shape_teeth (TrammelShape *gear, const TrammelToothForm *form)
{
  gear->form = *form;
  gear->tip = (form->teeth / 2.0 + TRAMMEL_GEAR_ADDENDUM + form->shift) * gear->module;
}

static double
driver_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return trammel_teeth (stage, "driver") * trammel_pen_module (pen, stage);
}

static void
tell_center (TrammelShape *gear, const Mesh *mesh, double module)
{
  gear->center = mesh->center * module;
  gear->center_assumed = gear->assumed && !mesh->placed;
}

/* The second gear of @mesh at the next angle from the first, which is turned to @rest, at the pen. */
static TrammelShape *
mesh_on (TrammelPen *pen, const Mesh *mesh, double rest, double module)
{
  double direction = trammel_pen_next_angle (pen), distance = mesh->distance * module;
  double x = pen->x + distance * cos (direction), y = pen->y + distance * sin (direction);
  trammel_pen_step_to (pen, x, y, (mesh->b.teeth / 2.0 + 1) * module);
  int partner = (int)pen->shapes->len;
  TrammelShape *gear = trammel_pen_add_gear (pen, mesh->b.teeth, module);
  shape_teeth (gear, &mesh->b);
  gear->partner = partner;
  tell_center (gear, mesh, module);
  gear->rest = trammel_involute_mesh (mesh->a.teeth, rest, mesh->b.teeth, direction);
  return gear;
}

/* Gear @i of a spur stage, from the driver on. */
static TrammelToothForm
form_at (const TrammelRecord *stage, gsize i)
{
  TrammelToothForm driver = form_of (stage, "driver", FALSE);
  gsize n_idlers;
  const gint64 *idlers = trammel_record_integers (stage, "idlers", &n_idlers);
  if (i == 0)
    return driver;
  if (i > n_idlers)
    return form_of (stage, "driven", FALSE);
  TrammelToothForm idler = trammel_tooth_form ((int)idlers[i - 1]);
  idler.pressure_angle = driver.pressure_angle;
  return idler;
}

/* Its mesh with the next one. An idler, which is in two, keeps the play that fits everywhere. */
static Mesh
spur_mesh (const TrammelRecord *stage, gsize i, double module)
{
  Mesh mesh = mesh_of (form_at (stage, i), form_at (stage, i + 1), FALSE);
  double play_a = mesh.a.play, play_b = mesh.b.play;
  build_at (&mesh, trammel_stage_center (stage, i) / module);
  if (i > 0)
    mesh.a.play = play_a;
  if (i + 1 < trammel_stage_meshes (stage))
    mesh.b.play = play_b;
  return mesh;
}

static void
lay_spur (TrammelPen *pen, const TrammelRecord *stage)
{
  double module = trammel_pen_module (pen, stage), rest = 0, turns = pen->turns;
  gsize meshes = trammel_stage_meshes (stage);
  Mesh mesh = spur_mesh (stage, 0, module);
  double reach = (mesh.a.teeth / 2.0 + 1) * module;

  trammel_pen_see_end (pen, reach, reach, FALSE);
  trammel_pen_choose_plane (pen, reach);
  shape_teeth (trammel_pen_add_gear (pen, mesh.a.teeth, module), &mesh.a);
  for (gsize i = 0; i < meshes; i++)
    {
      mesh = spur_mesh (stage, i, module);
      TrammelShape *shape = mesh_on (pen, &mesh, rest, module);
      turns *= -(double)mesh.a.teeth / mesh.b.teeth;
      shape->turns = i + 1 < meshes ? turns : pen->next_turns;
      rest = shape->rest;
    }
}

/* The ring of @mesh. Its wall is as thick as its teeth are high, at least. */
static TrammelShape *
add_ring (TrammelPen *pen, const Mesh *mesh, double module)
{
  TrammelShape *ring = trammel_pen_add_gear (pen, mesh->b.teeth, module);
  ring->kind = TRAMMEL_SHAPE_RING;
  ring->form = mesh->b;
  ring->mate = mesh->a;
  ring->apart = mesh->distance;
  ring->tip = trammel_involute_ring_root (&ring->form) * module + MAX (2.0 * module, 0.08 * ring->radius);
  return ring;
}

static double
pinion_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return MIN (trammel_teeth (stage, "driver"), trammel_teeth (stage, "driven")) * trammel_pen_module (pen, stage);
}

static void
lay_internal (TrammelPen *pen, const TrammelRecord *stage)
{
  double module = trammel_pen_module (pen, stage);
  gboolean ring_drives = g_strcmp0 (trammel_record_choice (stage, "ring"), "driver") == 0;
  Mesh mesh = mesh_of (form_of (stage, ring_drives ? "driven" : "driver", FALSE),
                       form_of (stage, ring_drives ? "driver" : "driven", TRUE), TRUE);
  build_at (&mesh, trammel_stage_center (stage, 0) / module);
  int pinion_teeth = mesh.a.teeth, ring_teeth = mesh.b.teeth;
  double offset = mesh.distance * module;
  double direction = ring_drives ? 0 : G_PI; /* from the ring's center to the pinion's */
  double reach = (ring_teeth / 2.0 + 3) * module, left = ring_drives ? reach : reach - offset;

  /* On the motor's own shaft it leaves enough of the motor to see. */
  trammel_pen_see_end (pen, reach, left, pen->part > 1);
  double x = pen->x, y = pen->y;
  TrammelShape *ring = add_ring (pen, &mesh, module);
  ring->x = ring_drives ? x : x + offset;
  ring->turns = ring_drives ? pen->turns : pen->next_turns;
  ring->rest = trammel_involute_mesh_ring (pinion_teeth, 0, ring_teeth, direction);
  double ring_tip = ring->tip;

  int ring_id = ring->id;

  pen->plane++;
  TrammelShape *pinion = trammel_pen_add_gear (pen, pinion_teeth, module);
  shape_teeth (pinion, &mesh.a);
  pinion->partner = ring_id;
  tell_center (pinion, &mesh, module);
  pinion->x = ring_drives ? x + offset : x;
  pinion->turns = ring_drives ? pen->next_turns : pen->turns;
  trammel_pen_step_to (pen, x + offset, y, ring_drives ? pinion->tip : ring_tip);
  pen->crowded = !ring_drives;
}

typedef struct
{
  int sun, ring, planet;
  double module;
  double sun_turns, ring_turns, carrier_turns;
} Planetary;

static double
member_turns (const TrammelPen *pen, const TrammelRecord *stage, const char *member)
{
  if (g_strcmp0 (trammel_record_choice (stage, "in"), member) == 0)
    return pen->turns;
  return g_strcmp0 (trammel_record_choice (stage, "out"), member) == 0 ? pen->next_turns : 0;
}

static gboolean
is_held (const TrammelRecord *stage, const char *member)
{
  return g_strcmp0 (trammel_record_choice (stage, "held"), member) == 0;
}

/* Planets fit where sun and ring are both in step: every 1/(sun + ring) of a turn. */
static double
planet_angle (const Planetary *set, int planet, int planets)
{
  int places = set->sun + set->ring;
  return -G_PI / 2 + 2 * G_PI * round ((double)places * planet / planets) / places;
}

static int
planets_that_fit (const Planetary *set)
{
  double distance = (set->sun + set->ring) / 4.0;
  int n = MOST_PLANETS;
  while (n > 1 && 2 * distance * sin (G_PI / n) < set->planet + 2.3)
    n--;
  return n;
}

/* Returns the rotation that the ring needs to mesh with them. */
static double
add_planets (TrammelPen *pen, const TrammelRecord *stage, const Planetary *set)
{
  double ring_rest = 0;
  int planets = planets_that_fit (set);
  double distance = (set->sun + set->ring) * set->module / 4;
  double spin = set->carrier_turns - (set->sun_turns - set->carrier_turns) * set->sun / set->planet;

  for (int i = 0; i < planets; i++)
    {
      double angle = planet_angle (set, i, planets);
      double rest = trammel_involute_mesh (set->sun, 0, set->planet, angle);
      if (i == 0)
        ring_rest = trammel_involute_mesh_ring (set->planet, rest, set->ring, angle);
      TrammelShape *planet = trammel_pen_add_gear (pen, set->planet, set->module);
      planet->rest = rest;
      planet->turns = spin;
      planet->orbit = distance;
      planet->orbit_rest = angle;
      planet->orbit_turns = set->carrier_turns;
      g_clear_pointer (&planet->label, g_free);
    }
  pen->plane++;
  TrammelShape *carrier = trammel_pen_add (pen, TRAMMEL_SHAPE_CARRIER);
  carrier->arms = planets;
  carrier->radius = distance;
  carrier->module = set->module;
  carrier->teeth = set->sun + set->ring;
  carrier->tip = distance + set->planet * set->module / 4;
  carrier->turns = set->carrier_turns;
  carrier->rest = -G_PI / 2;
  carrier->held = is_held (stage, "carrier");
  return ring_rest;
}

static double
sun_size (TrammelPen *pen, const TrammelRecord *stage)
{
  return trammel_teeth (stage, "sun") * trammel_pen_module (pen, stage);
}

static void
lay_planetary (TrammelPen *pen, const TrammelRecord *stage)
{
  Planetary set = {
    .sun = trammel_teeth (stage, "sun"),
    .ring = MAX (trammel_teeth (stage, "ring"), 3),
    .module = trammel_pen_module (pen, stage),
    .sun_turns = member_turns (pen, stage, "sun"),
    .ring_turns = member_turns (pen, stage, "ring"),
    .carrier_turns = member_turns (pen, stage, "carrier"),
  };
  set.planet = (set.ring - set.sun) / 2;
  double reach = (set.ring / 2.0 + 4) * set.module;

  trammel_pen_see_end (pen, reach, reach, TRUE);
  Mesh mesh = { .a = trammel_tooth_form (MAX (set.planet, 0)),
                .b = trammel_tooth_form (set.ring),
                .ring = TRUE,
                .distance = (set.sun + set.ring) / 4.0 };
  TrammelShape *ring = add_ring (pen, &mesh, set.module);
  double ring_tip = ring->tip;
  ring->turns = set.ring_turns;
  ring->held = is_held (stage, "ring");
  ring->bare = TRUE;

  guint ring_index = pen->shapes->len - 1;
  TrammelShape *sun = trammel_pen_add_gear (pen, set.sun, set.module);
  sun->turns = set.sun_turns;
  sun->held = is_held (stage, "sun");
  if (set.planet >= 1)
    {
      double rest = add_planets (pen, stage, &set);
      g_array_index (pen->shapes, TrammelShape, ring_index).rest = rest;
    }
  pen->reach = ring_tip;
  pen->crowded = TRUE;
}

static const TrammelPartLayout layouts[] = {
  { "spur", FALSE, FALSE, driver_size, lay_spur },
  { "internal", FALSE, FALSE, pinion_size, lay_internal },
  { "planetary", FALSE, FALSE, sun_size, lay_planetary },
};

const TrammelPartLayout *
trammel_gears_layout (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (layouts); i++)
    if (g_strcmp0 (layouts[i].type, type) == 0)
      return &layouts[i];
  return NULL;
}
