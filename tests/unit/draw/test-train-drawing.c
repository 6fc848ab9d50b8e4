/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>

#include "draw/train-drawing.h"
#include "layout-of-text.h"
#include "polygon-gap.h"

static double
distance_at (const TrammelShape *a, const TrammelShape *b, double turns)
{
  double ax, ay, bx, by;
  trammel_shape_center (a, turns, &ax, &ay);
  trammel_shape_center (b, turns, &bx, &by);
  return hypot (ax - bx, ay - by);
}

static double
depth_in_mesh (const TrammelShape *a, Outline outline_a, const TrammelShape *b, Outline outline_b, double turns)
{
  double x, y;
  trammel_shape_center (a, turns, &x, &y);
  Polygon at_a = polygon_of (outline_a.points, outline_a.n, x, y);
  trammel_shape_center (b, turns, &x, &y);
  Polygon at_b = polygon_of (outline_b.points, outline_b.n, x, y);
  if (b->kind == TRAMMEL_SHAPE_RING)
    return MAX (depth_of_points (&at_a, &at_b, TRUE, INFINITY), depth_of_hole_points (&at_b, &at_a, INFINITY));
  return MAX (depth_of_points (&at_a, &at_b, FALSE, INFINITY), depth_of_points (&at_b, &at_a, FALSE, INFINITY));
}

/* Gears at the sum of their pitch radii must mesh; a gear in a ring, at the difference. Returns how many pairs do. */
static int
check_meshes (const char *text, const TrammelLayout *layout, double turns)
{
  int meshes = 0;
  for (guint i = 0; i < layout->shapes->len; i++)
    for (guint j = 0; j < layout->shapes->len; j++)
      {
        const TrammelShape *a = shape_at (layout, i), *b = shape_at (layout, j);
        gboolean ring = b->kind == TRAMMEL_SHAPE_RING;
        if (i == j || a->kind != TRAMMEL_SHAPE_GEAR || a->part != b->part || (b->kind != TRAMMEL_SHAPE_GEAR && !ring)
            || (!ring && i > j))
          continue;
        double wanted = ring ? b->radius - a->radius : a->radius + b->radius;
        if (fabs (distance_at (a, b, turns) - wanted) > 1e-6 * wanted)
          continue;
        Outline outline_a = outline_at (a, turns), outline_b = outline_at (b, turns);
        double depth = depth_in_mesh (a, outline_a, b, outline_b, turns);
        ck_assert_msg (depth < 1e-3 * a->module, "%s: %d and %d are %g deep at %g turns", text, a->teeth, b->teeth,
                       depth, turns);
        ck_assert_msg (depth > -0.03 * a->module, "%s: %d and %d are %g apart at %g turns", text, a->teeth, b->teeth,
                       -depth, turns);
        g_free (outline_a.points);
        g_free (outline_b.points);
        meshes++;
      }
  return meshes;
}

static const struct
{
  const char *train;
  int meshes;
} meshing[] = {
  { "spur driver=12 driven=36;table", 1 },
  { "spur driver=20 driven=60 idlers=15,30,12;table", 4 },
  { "spur driver=12 driven=36 module=0.5_mm;spur driver=40 driven=16 module=2_mm;table", 2 },
  { "internal driver=12 driven=48;table", 1 },
  { "internal driver=60 driven=16 ring=driver;table", 1 },
  { "planetary sun=20 ring=80 held=ring in=sun out=carrier;table", 6 },
  { "planetary sun=24 ring=72 held=carrier in=sun out=ring;table", 6 },
  { "planetary sun=21 ring=63 held=sun in=ring out=carrier;table", 6 },
  { "planetary sun=16 ring=62 held=ring in=sun out=carrier;table", 6 },
};

START_TEST (drawn_teeth_mesh)
{
  TrammelLayout *layout = layout_of (meshing[_i].train, FALSE);
  ck_assert_ptr_null (layout->trouble);
  for (int k = 0; k < 7; k++)
    ck_assert_int_eq (check_meshes (meshing[_i].train, layout, 0.0371 * k * k), meshing[_i].meshes);
  trammel_layout_free (layout);
}
END_TEST

/* Centers as they were given, and where none is, half the sum of the teeth. */
START_TEST (idlers_stand_where_they_are_built)
{
  TrammelLayout *layout
      = layout_of ("spur driver=16 driven=40 idlers=24,30 module=1_mm center=20.2_mm\n27.3_mm;table", FALSE);
  static const struct
  {
    int a, b;
    double distance;
  } meshes[] = { { 16, 24, 20.2 }, { 24, 30, 27.3 }, { 30, 40, 35 } };
  ck_assert_ptr_null (layout->trouble);
  for (gsize i = 0; i < G_N_ELEMENTS (meshes); i++)
    {
      const TrammelShape *a = find_shape (layout, TRAMMEL_SHAPE_GEAR, meshes[i].a);
      const TrammelShape *b = find_shape (layout, TRAMMEL_SHAPE_GEAR, meshes[i].b);
      ck_assert_double_eq_tol (hypot (a->x - b->x, a->y - b->y), meshes[i].distance, 1e-9);
    }
  trammel_layout_free (layout);
}
END_TEST

/* What a dimension line tells of two shafts, by hand: belt of 1:1, 20 teeth of 2 mm, 60 teeth long: (60 − 20)·2/2 = 40;
 * worm (12 + 30·1)/2 = 21; a worm that is not told is 10 modules thick, (10 + 30)/2 = 20 in parentheses; a belt that is
 * told neither length nor distance has none; a distance that is out of all proportion is told as it is. */
static const struct
{
  const char *train;
  double center;
  gboolean assumed;
} told_centers[] = {
  { "spur driver=16 driven=40 module=1_mm;table", 28, FALSE },
  { "spur driver=16 driven=40 module=;table", 28, TRUE },
  { "spur driver=16 driven=40 module= center=28.4_mm;table", 28.4, FALSE },
  { "spur driver=16 driven=40 module=1_mm center=2_m;table", 2000, FALSE },
  { "internal driver=15 driven=60 module=2_mm center=44.8_mm;table", 44.8, FALSE },
  { "belt driver=16 driven=48 pitch=2_mm center=60_mm;table", 60, FALSE },
  { "belt driver=20 driven=20 pitch=2_mm belt_teeth=60;table", 40, FALSE },
  { "belt driver=20 driven=20 pitch=2_mm center=5_m;table", 5000, FALSE },
  { "belt driver=20 driven=20 pitch=2_mm;table", 0, FALSE },
  { "chain driver=12 driven=12 pitch=6.35_mm links=40;table", 14 * 6.35, FALSE },
  { "worm starts=2 wheel=30 module=1_mm diameter=12_mm;table", 21, FALSE },
  { "worm starts=1 wheel=30 module=1_mm;table", 20, TRUE },
};

START_TEST (centers_are_told_as_they_are)
{
  TrammelLayout *layout = layout_of (told_centers[_i].train, FALSE);
  const TrammelShape *owner = NULL;
  for (guint i = 0; i < layout->shapes->len; i++)
    if (shape_at (layout, i)->center > 0)
      {
        ck_assert_ptr_null (owner);
        owner = shape_at (layout, i);
      }
  ck_assert_int_eq (owner != NULL, told_centers[_i].center > 0);
  if (owner != NULL)
    {
      ck_assert_double_eq_tol (owner->center, told_centers[_i].center, 1e-9 * told_centers[_i].center);
      ck_assert_int_eq (owner->center_assumed, told_centers[_i].assumed);
    }
  trammel_layout_free (layout);
}
END_TEST

/* And drawn to scale: the shafts are as far apart. */
START_TEST (belts_are_drawn_as_long_as_they_are)
{
  TrammelLayout *layout = layout_of ("belt driver=16 driven=48 pitch=2_mm center=60_mm;table", FALSE);
  const TrammelShape *belt = find_shape (layout, TRAMMEL_SHAPE_BELT, 0);
  ck_assert_double_eq_tol (hypot (belt->x2 - belt->x, belt->y2 - belt->y), 60, 1e-9);
  trammel_layout_free (layout);
}
END_TEST

/* Gears of one stage lie in one plane: where two of them do not mesh they must clear each other. */
START_TEST (gears_over_idlers_clear_each_other)
{
  static const char *const trains[] = {
    "spur driver=16 driven=40 idlers=24;screw pitch=2_mm",
    "spur driver=40 driven=40 idlers=8,12,8;table",
    "spur driver=12 driven=60 idlers=10;spur driver=12 driven=36 idlers=9,9;belt teeth=20 pitch=2_mm",
  };
  for (gsize k = 0; k < G_N_ELEMENTS (trains); k++)
    {
      TrammelLayout *layout = layout_of (trains[k], FALSE);
      for (guint i = 0; i < layout->shapes->len; i++)
        for (guint j = 0; j < i; j++)
          {
            const TrammelShape *a = shape_at (layout, i), *b = shape_at (layout, j);
            if (a->kind == TRAMMEL_SHAPE_GEAR && b->kind == TRAMMEL_SHAPE_GEAR && a->part == b->part
                && a->partner != b->id && b->partner != a->id)
              ck_assert_double_gt (hypot (a->x - b->x, a->y - b->y), a->tip + b->tip);
          }
      trammel_layout_free (layout);
    }
}
END_TEST

/* By hand: travel per motor turn towards positive counts, mm. */
static const struct
{
  const char *train;
  gboolean reverse;
  double travel;
} travels[] = {
  { "screw pitch=2_mm starts=4", FALSE, 8 },
  { "screw pitch=2_mm starts=4 hand=left", FALSE, -8 },
  { "screw pitch=2_mm starts=4 turning=nut", FALSE, 8 },
  { "screw pitch=2_mm starts=4", TRUE, -8 },
  { "spur driver=12 driven=36;screw pitch=2_mm starts=4", FALSE, -8.0 / 3 },
  { "spur driver=12 driven=36 idlers=15;screw pitch=2_mm starts=4", FALSE, 8.0 / 3 },
  { "belt driver=20 driven=60;rack teeth=15 module=1_mm", FALSE, 5 * G_PI },
  { "belt driver=20 driven=60 crossed=yes;rack teeth=15 module=1_mm", FALSE, -5 * G_PI },
  { "worm starts=1 wheel=40;rack teeth=15 module=1_mm", FALSE, 15 * G_PI / 40 },
  { "worm starts=1 wheel=40 hand=left;rack teeth=15 module=1_mm", FALSE, -15 * G_PI / 40 },
  { "worm-rack starts=2 module=1_mm", FALSE, 2 * G_PI },
  { "belt teeth=20 pitch=2_mm", FALSE, 40 },
  { "belt teeth=20 pitch=2_mm fall=2", FALSE, 20 },
  { "bevel driver=16 driven=32 reverse=yes;screw pitch=2_mm starts=4", FALSE, -4 },
};

START_TEST (carriage_travels_truly)
{
  TrammelLayout *layout = layout_of (travels[_i].train, travels[_i].reverse);
  const TrammelShape *carriage = find_shape (layout, TRAMMEL_SHAPE_CARRIAGE, 0);
  double little = 0.001;
  ck_assert_double_eq_tol (trammel_shape_slide (carriage, little) * layout->plus, travels[_i].travel * little, 1e-9);
  ck_assert_int_eq (layout->direction * layout->plus, travels[_i].travel > 0 ? 1 : -1);
  /* However far it goes, it stays in sight. */
  for (double turns = -1000; turns < 1000; turns += 77.7)
    {
      double slide = trammel_shape_slide (carriage, turns),
             whole = (slide - carriage->slide * turns) / carriage->window;
      ck_assert_double_le (fabs (slide), carriage->window / 2 * (1 + 1e-9));
      ck_assert_double_eq_tol (whole, round (whole), 1e-6);
    }
  trammel_layout_free (layout);
}
END_TEST

/* Sun 20, ring 80 held, sun driven: the carrier turns at 1/5 (Budynas & Nisbett, Shigley's Mechanical Engineering
 * Design, gear-train example of chapter 13, from memory); the planet of 30 by the Willis equation at
 * 1/5 − (1 − 1/5)·20/30 = −1/3. */
START_TEST (wheels_turn_truly)
{
  TrammelLayout *layout = layout_of ("planetary sun=20 ring=80 held=ring in=sun out=carrier;table", FALSE);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 20)->turns, 1, 1e-12);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 30)->turns, -1.0 / 3, 1e-12);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_RING, 80)->turns, 0, 1e-12);
  ck_assert (find_shape (layout, TRAMMEL_SHAPE_RING, 80)->held);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_CARRIER, 0)->turns, 0.2, 1e-12);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 30)->orbit_turns, 0.2, 1e-12);
  trammel_layout_free (layout);

  layout = layout_of ("spur driver=12 driven=36 idlers=24;spur driver=10 driven=40;table", TRUE);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 12)->turns, -1, 1e-12);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 24)->turns, 0.5, 1e-12);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 36)->turns, -1.0 / 3, 1e-12);
  ck_assert_double_eq_tol (find_shape (layout, TRAMMEL_SHAPE_GEAR, 40)->turns, 1.0 / 12, 1e-12);
  trammel_layout_free (layout);
}
END_TEST

/* On the line through the pinion's center a space of the one faces a tooth of the other, at any angle. */
START_TEST (rack_meshes)
{
  static const char *const trains[]
      = { "rack teeth=15 module=1_mm", "worm starts=1 wheel=40;rack teeth=13 module=2_mm" };
  for (gsize k = 0; k < G_N_ELEMENTS (trains); k++)
    {
      TrammelLayout *layout = layout_of (trains[k], FALSE);
      const TrammelShape *rack = find_shape (layout, TRAMMEL_SHAPE_RACK, 0);
      const TrammelShape *pinion = find_shape (layout, TRAMMEL_SHAPE_GEAR, k == 0 ? 15 : 13);
      double side = rack->below ? G_PI / 2 : -G_PI / 2, along = rack->below ? -1 : 1;
      ck_assert_double_eq_tol (fabs (rack->y - pinion->y), pinion->radius, 1e-9);
      for (double turns = 0; turns < 9; turns += 0.173)
        {
          double pitches = (side - trammel_shape_rotation (pinion, turns)) * pinion->teeth / (2 * G_PI);
          double tooth = rack->rest + trammel_shape_slide (rack, turns); /* from the pinion's center */
          double difference = along * tooth / rack->module + pitches - 0.5;
          ck_assert_double_eq_tol (difference, round (difference), 1e-6);
        }
      trammel_layout_free (layout);
    }
}
END_TEST

static cairo_surface_t *
painted_with (TrammelTrainDrawing *drawing, int width, int height, double turns, gboolean dark, int selected,
              gboolean dimensions)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);
  TrammelTrainPicture picture = { .width = width,
                                  .height = height,
                                  .motor_turns = turns,
                                  .palette = trammel_palette (dark),
                                  .axis_letter = 'X',
                                  .selected_part = selected,
                                  .dimensions = dimensions };
  trammel_train_drawing_paint (drawing, cr, &picture);
  ck_assert_int_eq (cairo_status (cr), CAIRO_STATUS_SUCCESS);
  cairo_destroy (cr);
  cairo_surface_flush (surface);
  return surface;
}

static cairo_surface_t *
painted (TrammelTrainDrawing *drawing, int width, int height, double turns, gboolean dark, int selected)
{
  return painted_with (drawing, width, height, turns, dark, selected, FALSE);
}

/* In parts of all pixels: those that differ clearly. */
static double
difference (cairo_surface_t *a, cairo_surface_t *b)
{
  int width = cairo_image_surface_get_width (a), height = cairo_image_surface_get_height (a), different = 0;
  for (int y = 0; y < height; y++)
    for (int x = 0; x < 4 * width; x++)
      {
        gsize at = (gsize)y * cairo_image_surface_get_stride (a) + x;
        different += abs (cairo_image_surface_get_data (a)[at] - cairo_image_surface_get_data (b)[at]) > 24;
      }
  return different / (4.0 * width * height);
}

/* 12:36 and a table of a whole turn per third of the motor's: after 3 turns every part is where it was. */
START_TEST (picture_repeats_after_whole_turns)
{
  g_autoptr (TrammelTrain) train = train_of ("spur driver=12 driven=36;table", FALSE);
  g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, NAN, NULL);
  cairo_surface_t *rest = painted (drawing, 700, 300, 0, FALSE, -1);
  cairo_surface_t *repeated = painted (drawing, 700, 300, 3, FALSE, -1);
  cairo_surface_t *far = painted (drawing, 700, 300, 3e6, FALSE, -1);
  cairo_surface_t *turned = painted (drawing, 700, 300, 1, FALSE, -1);
  ck_assert_double_lt (difference (rest, repeated), 1e-4);
  ck_assert_double_lt (difference (rest, far), 1e-4);
  ck_assert_double_gt (difference (rest, turned), 1e-3);
  cairo_surface_destroy (rest);
  cairo_surface_destroy (repeated);
  cairo_surface_destroy (far);
  cairo_surface_destroy (turned);
}
END_TEST

START_TEST (every_part_can_be_hit)
{
  static const char *const trains[] = {
    "spur driver=12 driven=36;belt driver=20 driven=40;screw pitch=2_mm starts=4",
    "worm starts=1 wheel=30;planetary sun=20 ring=80;rack teeth=15 module=1_mm",
    "gearbox ratio=5;coupling;bevel driver=16 driven=24;roller diameter=11_mm",
    "internal driver=12 driven=48;chain driver=10 driven=20;table",
  };
  for (gsize k = 0; k < G_N_ELEMENTS (trains); k++)
    {
      g_autoptr (TrammelTrain) train = train_of (trains[k], FALSE);
      g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, 180, NULL);
      TrammelTrainPicture picture = { .width = 700, .height = 300 };
      guint found = 0, n = (guint)trammel_train_n_stages (train);
      for (int y = 0; y < 300; y += 3)
        for (int x = 0; x < 700; x += 3)
          {
            int part = trammel_train_drawing_part_at (drawing, &picture, x, y);
            ck_assert_int_ge (part, -1);
            ck_assert_int_le (part, (int)n + 1);
            if (part >= 0)
              found |= 1u << part;
          }
      ck_assert_uint_eq (found, (1u << (n + 2)) - 1);
      ck_assert_int_eq (trammel_train_drawing_part_at (drawing, &picture, 1, 1), -1);
    }
}
END_TEST

/* Marking a part changes the picture. */
START_TEST (selected_part_is_marked)
{
  g_autoptr (TrammelTrain) train = train_of ("spur driver=12 driven=36;screw pitch=2_mm starts=4", FALSE);
  g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, NAN, NULL);
  cairo_surface_t *plain = painted (drawing, 700, 300, 0, FALSE, -1);
  for (int part = 0; part <= 2; part++)
    {
      cairo_surface_t *marked = painted (drawing, 700, 300, 0, FALSE, part);
      ck_assert_double_gt (difference (plain, marked), 5e-4);
      cairo_surface_destroy (marked);
    }
  cairo_surface_destroy (plain);
}
END_TEST

/* By the definition of zooming: a point's part is found where the point has gone; and what is asked for at the pointer
 * stays there. */
START_TEST (zoom_and_pan_move_what_is_hit)
{
  g_autoptr (TrammelTrain) train = train_of ("spur driver=12 driven=36;screw pitch=2_mm starts=4", FALSE);
  g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, NAN, NULL);
  TrammelTrainPicture all = { .width = 700, .height = 300 }, picture = all;
  double wheel_x = 0, wheel_y = 0;
  for (int y = 0; y < 300 && wheel_x == 0; y += 2)
    for (int x = 0; x < 700 && wheel_x == 0; x += 2)
      if (trammel_train_drawing_part_at (drawing, &all, x, y) == 1)
        {
          wheel_x = x + 4;
          wheel_y = y + 6;
        }
  ck_assert_int_eq (trammel_train_drawing_part_at (drawing, &all, wheel_x, wheel_y), 1);

  trammel_train_drawing_zoom (drawing, &picture, 3, wheel_x, wheel_y);
  ck_assert_double_eq_tol (picture.zoom, 3, 1e-12);
  ck_assert_int_eq (trammel_train_drawing_part_at (drawing, &picture, wheel_x, wheel_y), 1);
  trammel_train_drawing_move (drawing, &picture, 60, -40);
  ck_assert_int_eq (trammel_train_drawing_part_at (drawing, &picture, wheel_x + 60, wheel_y - 40), 1);
  trammel_train_drawing_move (drawing, &picture, -60, 40);
  trammel_train_drawing_zoom (drawing, &picture, 1 / 3.0, wheel_x, wheel_y);
  ck_assert_double_eq_tol (picture.zoom, 1, 1e-12);
  ck_assert_double_eq_tol (picture.pan_x, 0, 1e-9);
  ck_assert_double_eq_tol (picture.pan_y, 0, 1e-9);

  /* However far: some of it stays in sight, and the zoom has ends. */
  double x, y, width, height;
  trammel_train_drawing_extent (drawing, &x, &y, &width, &height);
  trammel_train_drawing_move (drawing, &picture, 1e9, -1e9);
  ck_assert_double_le (fabs (picture.pan_x), width / 2 * (1 + 1e-12));
  ck_assert_double_le (fabs (picture.pan_y), height / 2 * (1 + 1e-12));
  trammel_train_drawing_zoom (drawing, &picture, 1e9, 0, 0);
  ck_assert_double_eq (picture.zoom, TRAMMEL_MOST_ZOOM);
  trammel_train_drawing_zoom (drawing, &picture, 1e-9, 0, 0);
  ck_assert_double_eq (picture.zoom, TRAMMEL_LEAST_ZOOM);
}
END_TEST

/* Dimensions change the picture; so does the unit. */
START_TEST (dimensions_are_shown)
{
  g_autoptr (TrammelTrain) train = train_of ("spur driver=12 driven=36;screw pitch=2_mm starts=4", FALSE);
  const TrammelUnit *inch = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "in");
  g_autoptr (TrammelTrainDrawing) metric = trammel_train_drawing_new (train, NAN, NULL);
  g_autoptr (TrammelTrainDrawing) imperial = trammel_train_drawing_new (train, NAN, inch);
  cairo_surface_t *plain = painted (metric, 700, 300, 0, FALSE, -1);
  cairo_surface_t *with = painted_with (metric, 700, 300, 0, FALSE, -1, TRUE);
  cairo_surface_t *in_inches = painted_with (imperial, 700, 300, 0, FALSE, -1, TRUE);
  ck_assert_double_gt (difference (plain, with), 5e-3);
  ck_assert_double_gt (difference (with, in_inches), 5e-4);
  cairo_surface_destroy (plain);
  cairo_surface_destroy (with);
  cairo_surface_destroy (in_inches);
}
END_TEST

static const char *const stages[] = {
  "spur",
  "spur driver=1 driven=10000",
  "spur driver=10000 driven=1 module=1000_mm",
  "spur driver=2 driven=3 idlers=1,2,3,4 module=0.001_mm",
  "internal",
  "internal driver=1 driven=2",
  "internal driver=9999 driven=10000",
  "bevel",
  "bevel driver=1 driven=10000 reverse=yes",
  "worm",
  "worm starts=10000 wheel=1 hand=left reverse=yes",
  "belt",
  "belt driver=1 driven=10000 pitch=1000_mm",
  "belt driver=3 driven=4 crossed=yes pitch=0.001_mm",
  "chain",
  "chain driver=1 driven=1 pitch=",
  "planetary",
  "planetary sun=1 ring=3",
  "planetary sun=1 ring=9999",
  "planetary sun=30 ring=20",
  "gearbox ratio=1000000",
  "coupling",
};

static const char *const outputs[] = {
  "screw",        "screw pitch=1000_mm starts=100 hand=left turning=nut count=16",
  "rack",         "rack teeth=10000 module=0.001_mm",
  "rack module=", /* neither module nor pitch */
  "worm-rack",    "worm-rack starts=10000",
  "belt",         "belt teeth=1 pitch=0.001_mm fall=2",
  "roller",       "roller diameter=10000_mm",
  "table",
};

/* Whatever the numbers, and whether or not the train works: an extent, a picture, in a short time. */
START_TEST (any_train_is_drawn)
{
  for (gsize k = 0; k < G_N_ELEMENTS (outputs); k++)
    {
      double x, y, width, height;
      g_autofree char *text = g_strdup_printf ("%s;%s", stages[_i], outputs[k]);
      g_autoptr (TrammelTrain) train = train_of (text, k % 2);
      g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, k % 3 ? 180 : NAN, NULL);
      trammel_train_drawing_extent (drawing, &x, &y, &width, &height);
      ck_assert_msg (isfinite (x) && isfinite (y) && width > 0 && height > 0 && isfinite (width + height), "%s", text);

      cairo_surface_t *nothing = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, 500, 240);
      cairo_surface_t *picture = painted_with (drawing, 500, 240, 0.3, k % 2, (int)k % 4 - 1, k % 2 == 0);
      ck_assert_msg (difference (nothing, picture) > 1e-3, "%s is not to be seen", text);
      cairo_surface_destroy (nothing);
      cairo_surface_destroy (picture);
      cairo_surface_destroy (painted_with (drawing, 1, 1, 1e12, FALSE, 1, TRUE));
      cairo_surface_destroy (painted (drawing, 40, 300, NAN, TRUE, 0));
    }
}
END_TEST

START_TEST (longest_train_is_drawn)
{
  GString *text = g_string_new (NULL);
  for (int i = 0; i < TRAMMEL_TRAIN_MAX_STAGES; i++)
    g_string_append_printf (text, "%s;", stages[i % G_N_ELEMENTS (stages)]);
  g_string_append (text, "table");
  g_autoptr (TrammelTrain) train = train_of (text->str, FALSE);
  g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, NAN, NULL);
  cairo_surface_destroy (painted (drawing, 700, 300, 0.2, FALSE, 64));
  g_string_free (text, TRUE);
}
END_TEST

/* Cairo's coarse smoothing (CAIRO_ANTIALIAS_FAST, 1.16) wrote past its own memory for threads in a row of this size. */
START_TEST (no_size_is_too_much_for_cairo)
{
  g_autoptr (TrammelTrain) train = train_of ("coupling;internal driver=20 driven=60;screw pitch=2_mm starts=1", FALSE);
  g_autoptr (TrammelTrainDrawing) drawing = trammel_train_drawing_new (train, 200, NULL);
  for (int height = 60; height < 260; height += 20)
    for (int width = 359; width < 440; width += 37)
      cairo_surface_destroy (painted (drawing, width, height, 0, FALSE, -1));
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("train drawing");
  TCase *tcase = tcase_create ("drawing");
  tcase_set_timeout (tcase, 60);
  tcase_add_loop_test (tcase, drawn_teeth_mesh, 0, G_N_ELEMENTS (meshing));
  tcase_add_test (tcase, idlers_stand_where_they_are_built);
  tcase_add_loop_test (tcase, centers_are_told_as_they_are, 0, G_N_ELEMENTS (told_centers));
  tcase_add_test (tcase, belts_are_drawn_as_long_as_they_are);
  tcase_add_test (tcase, gears_over_idlers_clear_each_other);
  tcase_add_loop_test (tcase, carriage_travels_truly, 0, G_N_ELEMENTS (travels));
  tcase_add_test (tcase, wheels_turn_truly);
  tcase_add_test (tcase, rack_meshes);
  tcase_add_test (tcase, picture_repeats_after_whole_turns);
  tcase_add_test (tcase, every_part_can_be_hit);
  tcase_add_test (tcase, selected_part_is_marked);
  tcase_add_test (tcase, zoom_and_pan_move_what_is_hit);
  tcase_add_test (tcase, dimensions_are_shown);
  tcase_add_loop_test (tcase, any_train_is_drawn, 0, G_N_ELEMENTS (stages));
  tcase_add_test (tcase, longest_train_is_drawn);
  tcase_add_test (tcase, no_size_is_too_much_for_cairo);
  suite_add_tcase (suite, tcase);

  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
