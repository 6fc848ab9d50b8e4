/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Teeth mesh in the picture: at any phase no tooth lies in another, and none has more play than it was given. */
#include <check.h>
#include "layout-of-text.h"
#include "polygon-gap.h"

#define PHASES 7
/* Lengths in modules. */
#define DEEPEST 1e-3
#define MOST_PLAY                                                                                                      \
  0.05 /* at the pitch circle; drawn is TRAMMEL_INVOLUTE_BACKLASH, chords take up to 0.003 per flank                   \
        */

typedef struct
{
  TrammelToothForm a, b;
  double distance, direction;
  gboolean ring;
  TrammelPoint *outline_a, *outline_b;
  gsize n_a, n_b;
} Pair;

static Pair
pair_of (TrammelToothForm a, TrammelToothForm b, double distance, gboolean ring)
{
  Pair pair = { .a = a, .b = b, .distance = distance, .direction = 0.3, .ring = ring };
  pair.outline_a = trammel_involute_external (&pair.a, &pair.n_a);
  pair.outline_b = ring ? trammel_involute_internal (&pair.b, &pair.a, distance, &pair.n_b)
                        : trammel_involute_external (&pair.b, &pair.n_b);
  return pair;
}

static void
clear_pair (Pair *pair)
{
  g_free (pair->outline_a);
  g_free (pair->outline_b);
}

static TrammelPoint *
turned (const TrammelPoint *points, gsize n, double rotation, double x, double y)
{
  TrammelPoint *out = g_new (TrammelPoint, n);
  double c = cos (rotation), s = sin (rotation);
  for (gsize i = 0; i < n; i++)
    out[i] = (TrammelPoint){ x + c * points[i].x - s * points[i].y, y + s * points[i].x + c * points[i].y };
  return out;
}

/* Of two shapes of teeth beside each other, or of a gear and the hole of a ring. */
static double
depth_of_both (const Polygon *a, const Polygon *b, gboolean hole, double enough)
{
  double depth = depth_of_points (a, b, hole, enough);
  if (depth > enough)
    return depth;
  return MAX (depth, hole ? depth_of_hole_points (b, a, enough) : depth_of_points (b, a, FALSE, enough));
}

/* How deep the two are in each other with a turned by @turn_a and b by @off at its pitch circle beyond its place. */
static double
depth_at (const Pair *pair, double turn_a, double off, double enough)
{
  double x = pair->distance * cos (pair->direction), y = pair->distance * sin (pair->direction), turn_b;
  if (pair->ring)
    turn_b = trammel_involute_mesh_ring (pair->a.teeth, 0, pair->b.teeth, pair->direction)
             + turn_a * pair->a.teeth / pair->b.teeth;
  else
    turn_b = trammel_involute_mesh (pair->a.teeth, 0, pair->b.teeth, pair->direction)
             - turn_a * pair->a.teeth / pair->b.teeth;
  turn_b += off * 2 / pair->b.teeth;

  g_autofree TrammelPoint *a = turned (pair->outline_a, pair->n_a, turn_a, pair->ring ? x : 0, pair->ring ? y : 0);
  g_autofree TrammelPoint *b = turned (pair->outline_b, pair->n_b, turn_b, pair->ring ? 0 : x, pair->ring ? 0 : y);
  Polygon at_a = polygon_of (a, pair->n_a, pair->ring ? x : 0, pair->ring ? y : 0);
  Polygon at_b = polygon_of (b, pair->n_b, pair->ring ? 0 : x, pair->ring ? 0 : y);
  return depth_of_both (&at_a, &at_b, pair->ring, enough);
}

static double
phase_angle (const Pair *pair, int phase)
{
  return 2 * G_PI / pair->a.teeth * phase / PHASES;
}

static void
check_clear (const Pair *pair)
{
  for (int phase = 0; phase < PHASES; phase++)
    {
      double depth = depth_at (pair, phase_angle (pair, phase), 0, DEEPEST);
      ck_assert_msg (depth < DEEPEST, "%d %s %d: %.4f deep at phase %d", pair->a.teeth, pair->ring ? "in" : "with",
                     pair->b.teeth, depth, phase);
    }
}

/* So few teeth are undercut so far that at some phases no flanks meet. */
static double
most_play (const Pair *pair)
{
  return MIN (pair->a.teeth, pair->b.teeth) < 8 ? 0.08 : MOST_PLAY;
}

static void
check_play (const Pair *pair)
{
  for (int phase = 0; phase < PHASES; phase++)
    for (int side = -1; side <= 1; side += 2)
      {
        double depth = depth_at (pair, phase_angle (pair, phase), side * most_play (pair) / 2, 0);
        ck_assert_msg (depth > 0, "%d %s %d: play at phase %d, side %d", pair->a.teeth, pair->ring ? "in" : "with",
                       pair->b.teeth, phase, side);
      }
}

static const int counts[] = { 6, 7, 8, 10, 12, 14, 17, 25, 40, 90, 200 };

START_TEST (spur_gears_mesh)
{
  for (gsize j = _i; j < G_N_ELEMENTS (counts); j++)
    {
      TrammelToothForm a = trammel_tooth_form (counts[_i]), b = trammel_tooth_form (counts[j]);
      Pair pair = pair_of (a, b, (a.teeth + b.teeth) / 2.0, FALSE);
      check_clear (&pair);
      check_play (&pair);
      clear_pair (&pair);
    }
}
END_TEST

/* With one to three teeth of difference the tips of a gear of full depth would have to pass through the ring's opposite
 * teeth. */
START_TEST (gears_mesh_in_rings)
{
  static const int differences[] = { 4, 6, 12, 50, 150 };
  for (gsize j = 0; j < G_N_ELEMENTS (differences); j++)
    {
      TrammelToothForm a = trammel_tooth_form (counts[_i]), b = trammel_tooth_form (counts[_i] + differences[j]);
      if (a.teeth > 100 && differences[j] < 12)
        continue; /* thousands of points near each other: takes seconds */
      Pair pair = pair_of (a, b, (b.teeth - a.teeth) / 2.0, TRUE);
      check_clear (&pair);
      check_play (&pair);
      clear_pair (&pair);
    }
}
END_TEST

/* The working pressure angle by bisection: inv α_w = inv α + 2·tan α·(x₁ + x₂)/(z₁ + z₂) (ISO 21771); with the
 * difference of both where the second is a ring. Gives the distance without play. */
static double
distance_without_play (TrammelToothForm a, TrammelToothForm b, gboolean ring)
{
  double alpha = a.pressure_angle, low = 1e-3, high = 1.2;
  double teeth = ring ? b.teeth - a.teeth : a.teeth + b.teeth, shift = ring ? b.shift - a.shift : a.shift + b.shift;
  double wanted = tan (alpha) - alpha + 2 * tan (alpha) * shift / teeth;
  for (int i = 0; i < 60; i++)
    {
      double middle = (low + high) / 2;
      if (tan (middle) - middle < wanted)
        low = middle;
      else
        high = middle;
    }
  return teeth / 2 * cos (alpha) / cos (low);
}

/* Shifted profiles and other pressure angles, at the distance that these give; tips shortened to keep the clearance. */
START_TEST (shifted_gears_mesh)
{
  static const struct
  {
    int a, b;
    double degrees, shift_a, shift_b;
    gboolean ring;
  } cases[] = {
    { 12, 36, 20, 0.3, 0 },         { 8, 30, 20, 0.5, -0.5 },   { 9, 9, 20, 0.4, 0.4 },
    { 20, 40, 14.5, 0, 0 },         { 32, 90, 14.5, 0.2, 0.1 }, { 12, 24, 25, 0, 0 },
    { 10, 50, 25, 0.2, 0.3 },       { 7, 100, 20, 0.6, 0.2 },   { 17, 60, 20, 0.9, 0 },
    { 14, 70, 20, 0.4, 0.4, TRUE }, { 18, 48, 25, 0, 0, TRUE }, { 20, 41, 20, 0.25, 0.5, TRUE },
  };
  for (gsize k = 0; k < G_N_ELEMENTS (cases); k++)
    {
      TrammelToothForm a = trammel_tooth_form (cases[k].a), b = trammel_tooth_form (cases[k].b);
      a.pressure_angle = b.pressure_angle = cases[k].degrees * G_PI / 180;
      a.shift = cases[k].shift_a;
      b.shift = cases[k].shift_b;
      double distance = distance_without_play (a, b, cases[k].ring);
      if (!cases[k].ring)
        a.shorter = b.shorter = MAX ((a.teeth + b.teeth) / 2.0 + a.shift + b.shift - distance, 0);
      Pair pair = pair_of (a, b, distance, cases[k].ring);
      check_clear (&pair);
      check_play (&pair);
      clear_pair (&pair);
    }
}
END_TEST

/* The measures above can fail: half a pitch out of mesh, and a little too far apart. */
START_TEST (bad_meshes_are_seen)
{
  for (int ring = 0; ring < 2; ring++)
    {
      TrammelToothForm a = trammel_tooth_form (16), b = trammel_tooth_form (50);
      double distance = ring ? 17 : 33, apart = ring ? -0.1 : 0.1;
      Pair pair = pair_of (a, b, distance, ring);
      ck_assert_double_gt (depth_at (&pair, 0, G_PI / 2, INFINITY), 0.2);
      ck_assert_double_gt (depth_at (&pair, 0, 0.03, INFINITY), DEEPEST);
      clear_pair (&pair);
      pair = pair_of (a, b, distance + apart, ring);
      ck_assert_double_lt (depth_at (&pair, 0, MOST_PLAY / 2, INFINITY), 0);
      clear_pair (&pair);
      pair = pair_of (a, b, distance - apart, ring);
      ck_assert_double_gt (depth_at (&pair, 0, 0, INFINITY), 0.01);
      clear_pair (&pair);
    }
}
END_TEST

/* Pairs as the file has them: both outlines of the layout, at the distance that it draws them. */
static const struct
{
  const char *train;
  gboolean ring;
  double degrees, shift_a, shift_b, center; /* of the pinion and of what it meets, mm; center 0: not built yet */
} built[] = {
  { "spur driver=16 driven=40 module=1_mm center=28.2_mm;table", FALSE, 20, 0, 0, 28.2 },
  { "spur driver=40 driven=16 module=1_mm shift_driven=0.3;table", FALSE, 20, 0, 0.3, 0 },
  { "spur driver=12 driven=30 module=1_mm shift_driver=0.4 shift_driven=0.2 center=21.6_mm;table", FALSE, 20, 0.4, 0.2,
    21.6 },
  { "spur driver=20 driven=50 module=1_mm angle=14.5_deg center=35.1_mm;table", FALSE, 14.5, 0, 0, 35.1 },
  { "spur driver=15 driven=22 module=1_mm angle=25_deg;table", FALSE, 25, 0, 0, 0 },
  { "internal driver=16 driven=48 module=1_mm center=15.8_mm;table", TRUE, 20, 0, 0, 15.8 },
  { "internal driver=20 driven=60 module=1_mm shift_driver=0.3 shift_driven=-0.4;table", TRUE, 20, 0.3, 0.4, 0 },
};

/* Backlash at the pitch circles: j = 2·a·(inv α_a − inv α_w) from the distance without it, where α_w, to the distance
 * a; of a ring the other way round (ISO 21771; follows from the involute). The mesh is looked at in the middle of it, a
 * little within it and a little beyond. */
START_TEST (pairs_mesh_as_built)
{
  TrammelLayout *layout = layout_of (built[_i].train, FALSE);
  const TrammelShape *wheels[2] = { NULL, NULL };
  for (guint i = 0; i < layout->shapes->len; i++)
    if (shape_at (layout, i)->part == 1 && shape_at (layout, i)->teeth > 0)
      wheels[shape_at (layout, i)->kind == TRAMMEL_SHAPE_RING || wheels[0] != NULL] = shape_at (layout, i);
  gboolean ring = built[_i].ring;
  if (ring && wheels[0]->kind == TRAMMEL_SHAPE_RING)
    ck_abort_msg ("no pinion");
  TrammelToothForm a = trammel_tooth_form (wheels[0]->teeth), b = trammel_tooth_form (wheels[1]->teeth);
  a.pressure_angle = b.pressure_angle = built[_i].degrees * G_PI / 180;
  a.shift = built[_i].shift_a;
  b.shift = built[_i].shift_b;
  double without = distance_without_play (a, b, ring), center = built[_i].center > 0 ? built[_i].center : without;
  double reference = abs (ring ? b.teeth - a.teeth : a.teeth + b.teeth) / 2.0 * cos (a.pressure_angle);
  double at = acos (reference / center), free = acos (reference / without);
  double play = 2 * center * fabs ((tan (at) - at) - (tan (free) - free));
  play = MAX (play, TRAMMEL_INVOLUTE_BACKLASH);

  ck_assert_double_eq_tol (hypot (wheels[0]->x - wheels[1]->x, wheels[0]->y - wheels[1]->y), center, 1e-6);
  for (int phase = 0; phase < PHASES; phase++)
    {
      double turns = 0.2 + phase * 1.0 / wheels[0]->teeth / PHASES;
      static const double parts[] = { 0, 0.8, -0.8, 1.1, -1.1 };
      for (gsize k = 0; k < G_N_ELEMENTS (parts); k++)
        {
          Outline one = outline_at (wheels[0], turns), other = outline_at (wheels[1], turns);
          double beyond = fabs (parts[k]) > 1 ? 0.01 : 0; /* chords */
          double off = parts[k] * (play / 2 + beyond) / wheels[1]->radius, x = wheels[1]->x, y = wheels[1]->y;
          g_autofree TrammelPoint *about = g_memdup2 (other.points, other.n * sizeof *about);
          for (gsize i = 0; i < other.n; i++)
            about[i] = (TrammelPoint){ about[i].x - x, about[i].y - y };
          g_autofree TrammelPoint *moved = turned (about, other.n, off, x, y);
          Polygon p = polygon_of (one.points, one.n, wheels[0]->x, wheels[0]->y), q = polygon_of (moved, other.n, x, y);
          double depth = depth_of_both (&p, &q, ring, DEEPEST);
          ck_assert_msg (fabs (parts[k]) < 1 ? depth < DEEPEST : depth > 0, "%s: %g deep, %g of the play of %g off",
                         built[_i].train, depth, parts[k], play);
          g_free (one.points);
          g_free (other.points);
        }
    }
  trammel_layout_free (layout);
}
END_TEST

/* Closes a row of teeth over a back @deep behind it (y grows away from the pinion where @deep is positive). */
static TrammelPoint *
with_back (const TrammelPoint *teeth, gsize n, double deep)
{
  TrammelPoint *points = g_new (TrammelPoint, n + 2);
  memcpy (points, teeth, n * sizeof *points);
  points[n] = (TrammelPoint){ teeth[n - 1].x, teeth[n - 1].y + deep };
  points[n + 1] = (TrammelPoint){ teeth[0].x, teeth[0].y + deep };
  return points;
}

/* @off: how far the row is moved along, mm. */
static double
depth_in_row (const TrammelShape *wheel, double turns, const TrammelPoint *row, gsize n, double off)
{
  g_autofree TrammelPoint *moved = g_memdup2 (row, n * sizeof *moved);
  double x, y;
  for (gsize i = 0; i < n; i++)
    moved[i].x += off;
  trammel_shape_center (wheel, turns, &x, &y);
  Outline outline = outline_at (wheel, turns);
  Polygon a = polygon_of (outline.points, outline.n, x, y), b = polygon_of (moved, n, x, y);
  double depth = depth_of_both (&a, &b, FALSE, DEEPEST);
  g_free (outline.points);
  return depth;
}

static void
check_row (const char *text, const TrammelShape *wheel, double turns, const TrammelPoint *row, gsize n)
{
  double play = wheel->teeth < 8 ? 0.08 : MOST_PLAY;
  double depth = depth_in_row (wheel, turns, row, n, 0);
  ck_assert_msg (depth < DEEPEST, "%s: %.4f deep at %g turns", text, depth, turns);
  ck_assert_msg (depth_in_row (wheel, turns, row, n, play / 2) > 0, "%s: play at %g turns", text, turns);
  ck_assert_msg (depth_in_row (wheel, turns, row, n, -play / 2) > 0, "%s: play at %g turns", text, turns);
}

START_TEST (pinions_mesh_with_racks)
{
  g_autofree char *text = g_strdup_printf ("rack teeth=%d module=1_mm", counts[_i]);
  TrammelLayout *layout = layout_of (text, FALSE);
  const TrammelShape *rack = find_shape (layout, TRAMMEL_SHAPE_RACK, 0);
  const TrammelShape *pinion = find_shape (layout, TRAMMEL_SHAPE_GEAR, counts[_i]);
  for (int phase = 0; phase < PHASES; phase++)
    {
      gsize n;
      double turns = 0.31 + phase * 1.0 / counts[_i] / PHASES;
      g_autofree TrammelPoint *teeth = trammel_shape_rack_teeth (rack, turns, &n);
      g_autofree TrammelPoint *row = with_back (teeth, n, rack->below ? 2 : -2);
      check_row (text, pinion, turns, row, n + 2);
    }
  trammel_layout_free (layout);
}
END_TEST

/* The section of the worm in the plane of the wheel, from what its picture is made of. */
static TrammelPoint *
section_of_worm (const TrammelShape *worm, double turns, gsize *n)
{
  TrammelThread thread = trammel_shape_thread (worm, turns);
  GArray *row = g_array_new (FALSE, FALSE, sizeof (TrammelPoint));
  double side = worm->below ? 1 : -1;
  for (double at = thread.first; at < worm->x + worm->length + 2 * fabs (thread.lead); at += thread.pitch)
    {
      double x = worm->below ? at : at - thread.lead / 2;
      TrammelPoint points[] = { { x - thread.half_root, thread.y + side * thread.root },
                                { x - thread.half_tip, thread.y + side * thread.tip },
                                { x + thread.half_tip, thread.y + side * thread.tip },
                                { x + thread.half_root, thread.y + side * thread.root } };
      g_array_append_vals (row, points, G_N_ELEMENTS (points));
    }
  *n = row->len;
  return (TrammelPoint *)g_array_free (row, FALSE);
}

static const char *const worms[] = {
  "worm starts=1 wheel=40;table",
  "worm starts=2 wheel=30;table",
  "worm starts=4 wheel=17;table",
  "worm starts=1 wheel=10 hand=left;table",
  "worm starts=1 wheel=200 reverse=yes;table",
  "worm starts=3 wheel=24 hand=left reverse=yes;table",
};

START_TEST (worms_mesh_with_wheels)
{
  TrammelLayout *layout = layout_of (worms[_i], FALSE);
  const TrammelShape *worm = find_shape (layout, TRAMMEL_SHAPE_THREAD, 0);
  const TrammelShape *wheel = find_shape (layout, TRAMMEL_SHAPE_GEAR, 0);
  for (int phase = 0; phase < PHASES; phase++)
    {
      gsize n;
      double turns = 2.3 + 1.0 * phase / PHASES / worm->teeth;
      g_autofree TrammelPoint *teeth = section_of_worm (worm, turns, &n);
      g_autofree TrammelPoint *row = with_back (teeth, n, worm->below ? -2 : 2);
      check_row (worms[_i], wheel, turns, row, n + 2);
    }
  trammel_layout_free (layout);
}
END_TEST

START_TEST (worm_meshes_with_rack)
{
  TrammelLayout *layout = layout_of ("worm-rack starts=2 module=1_mm", FALSE);
  const TrammelShape *worm = find_shape (layout, TRAMMEL_SHAPE_THREAD, 0);
  const TrammelShape *rack = find_shape (layout, TRAMMEL_SHAPE_RACK, 0);
  for (int phase = 0; phase < PHASES; phase++)
    {
      gsize n, m;
      double turns = 1.7 + 0.1 * phase, middle = worm->x + worm->length / 2;
      g_autofree TrammelPoint *teeth = section_of_worm (worm, turns, &n);
      g_autofree TrammelPoint *row = with_back (teeth, n, 2);
      g_autofree TrammelPoint *rack_teeth = trammel_shape_rack_teeth (rack, turns, &m);
      g_autofree TrammelPoint *rack_row = with_back (rack_teeth, m, -2);
      Polygon a = polygon_of (row, n + 2, middle, worm->y), b = polygon_of (rack_row, m + 2, middle, worm->y);
      double depth = depth_of_both (&a, &b, FALSE, INFINITY);
      ck_assert_msg (depth < DEEPEST && depth > -MOST_PLAY, "%g deep at %g turns", depth, turns);
    }
  trammel_layout_free (layout);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("mesh drawing");
  TCase *tcase = tcase_create ("outlines");
  tcase_set_timeout (tcase, 60);
  tcase_add_loop_test (tcase, spur_gears_mesh, 0, G_N_ELEMENTS (counts));
  tcase_add_loop_test (tcase, gears_mesh_in_rings, 0, G_N_ELEMENTS (counts));
  tcase_add_test (tcase, shifted_gears_mesh);
  tcase_add_test (tcase, bad_meshes_are_seen);
  tcase_add_loop_test (tcase, pairs_mesh_as_built, 0, G_N_ELEMENTS (built));
  tcase_add_loop_test (tcase, pinions_mesh_with_racks, 0, G_N_ELEMENTS (counts));
  tcase_add_loop_test (tcase, worms_mesh_with_wheels, 0, G_N_ELEMENTS (worms));
  tcase_add_test (tcase, worm_meshes_with_rack);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
