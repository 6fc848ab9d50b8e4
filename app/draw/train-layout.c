/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-layout.h"

#include <math.h>

#include "drive/motor.h"

#define ORDINARY_MOTOR 42.0
#define IMPOSSIBLE 1e-3 /* what the merit of a picture that cannot be built is worth */
#define ASPECT 2.7      /* width to height of a usual picture */
#define MOST_TEETH_OUTLINED 400
#define FARTHEST_PLANE (-1000)

static const TrammelPartLayout *
layout_of_part (const TrammelTrain *train, gsize i)
{
  gsize n = trammel_train_n_stages (train);
  const TrammelRecord *record = i < n ? trammel_train_stage (train, i) : trammel_train_output (train);
  const char *type = trammel_record_kind (record)->type;
  return i < n ? trammel_stage_layout (type) : trammel_output_layout (type);
}

/* How the motor's shaft is best seen. A stage that takes either view is asked what it needs behind it. */
static gboolean
motor_is_lengthwise (const TrammelTrain *train)
{
  const TrammelPartLayout *first = layout_of_part (train, 0);
  if (!first)
    return FALSE;
  if (!first->turns_view || first->lengthwise)
    return first->lengthwise;
  const TrammelPartLayout *second = layout_of_part (train, 1);
  return second && !second->lengthwise;
}

/* The size of the motor is not told: an ordinary one, unless what sits on its shaft is much larger or smaller. */
static double
motor_size (TrammelPen *pen, const TrammelTrain *train)
{
  for (gsize i = 0; i <= trammel_train_n_stages (train); i++)
    {
      const TrammelPartLayout *layout = layout_of_part (train, i);
      const TrammelRecord *record
          = i < trammel_train_n_stages (train) ? trammel_train_stage (train, i) : trammel_train_output (train);
      double size = layout ? layout->first_size (pen, record) : NAN;
      if (!isnan (size))
        return CLAMP (ORDINARY_MOTOR, 1.25 * size, 4 * size);
    }
  return ORDINARY_MOTOR;
}

static void
lay_motor (TrammelPen *pen, gboolean lengthwise)
{
  pen->lengthwise = lengthwise;
  TrammelShape *motor = trammel_pen_add (pen, lengthwise ? TRAMMEL_SHAPE_MOTOR_SIDE : TRAMMEL_SHAPE_MOTOR_FACE);
  motor->radius = motor->tip = pen->body / 2;
  motor->plane = FARTHEST_PLANE;
  pen->reach = pen->body / 2;
  if (!lengthwise)
    return;
  motor->length = 0.85 * pen->body;
  pen->x = motor->length;
}

static double
shaft_turns (const TrammelTrain *train, const TrammelFacts *facts, gsize shaft)
{
  if (!facts)
    return 0;
  double turns = trammel_exact_to_double (facts->shafts[shaft].turns_per_motor_turn);
  return trammel_train_reverse (train) ? -turns : turns;
}

static void
free_shape (gpointer data)
{
  g_free (((TrammelShape *)data)->label);
}

static GArray *
new_shapes (void)
{
  GArray *shapes = g_array_new (FALSE, TRUE, sizeof (TrammelShape));
  g_array_set_clear_func (shapes, free_shape);
  return shapes;
}

static TrammelPen
lay_train (const TrammelTrain *train, const TrammelFacts *facts, const TrammelPen *start, double slope, int run)
{
  TrammelPen pen = *start;
  gsize n = trammel_train_n_stages (train);

  pen.shapes = new_shapes ();
  pen.slope = slope;
  pen.run = run;
  pen.plus = 1;
  pen.module = pen.belt_pitch = pen.chain_pitch = NAN;
  pen.body = motor_size (&pen, train);
  pen.turns = shaft_turns (train, facts, 0);
  lay_motor (&pen, motor_is_lengthwise (train));
  for (gsize i = 0; i <= n; i++)
    {
      const TrammelPartLayout *layout = layout_of_part (train, i);
      pen.part = (int)i + 1;
      pen.next_turns = i < n ? shaft_turns (train, facts, i + 1) : pen.turns;
      if (layout)
        layout->lay (&pen, i < n ? trammel_train_stage (train, i) : trammel_train_output (train));
      pen.turns = pen.next_turns;
    }
  return pen;
}

static TrammelBox
bounds_of_all (GArray *shapes)
{
  TrammelBox all = { INFINITY, INFINITY, -INFINITY, -INFINITY };
  for (guint i = 0; i < shapes->len; i++)
    {
      TrammelBox box = trammel_shape_bounds (&g_array_index (shapes, TrammelShape, i));
      all.x0 = MIN (all.x0, box.x0);
      all.y0 = MIN (all.y0, box.y0);
      all.x1 = MAX (all.x1, box.x1);
      all.y1 = MAX (all.y1, box.y1);
    }
  return all;
}

/* Centers that are hidden behind something nearer, in parts of all. */
static double
hidden_centers (GArray *shapes)
{
  guint hidden = 0, wheels = 0;
  for (guint i = 0; i < shapes->len; i++)
    {
      const TrammelShape *wheel = &g_array_index (shapes, TrammelShape, i);
      if (!trammel_shape_is_round (wheel) || wheel->orbit > 0)
        continue;
      wheels++;
      for (guint j = 0; j < shapes->len; j++)
        {
          const TrammelShape *other = &g_array_index (shapes, TrammelShape, j);
          double distance = hypot (other->x - wheel->x, other->y - wheel->y);
          if (other->plane <= wheel->plane || !trammel_shape_is_round (other) || distance > other->tip
              || distance < 1e-9 * other->tip)
            continue;
          hidden++;
          break;
        }
    }
  return wheels > 0 ? (double)hidden / wheels : 0;
}

/* Area that wheels of different parts have in common, in parts of the smaller one, as a mean over all wheels: what
 * makes a drawing hard to read. By boxes, which is good enough to choose by. */
static double
clutter (GArray *shapes)
{
  double sum = 0;
  guint wheels = 0;
  for (guint i = 0; i < shapes->len; i++)
    {
      const TrammelShape *a = &g_array_index (shapes, TrammelShape, i);
      if (!trammel_shape_is_round (a) || a->orbit > 0)
        continue;
      wheels++;
      for (guint j = i + 1; j < shapes->len; j++)
        {
          const TrammelShape *b = &g_array_index (shapes, TrammelShape, j);
          double apart = hypot (a->x - b->x, a->y - b->y), small = MIN (a->tip, b->tip);
          if (!trammel_shape_is_round (b) || a->part == b->part || apart < 1e-9 * small)
            continue;
          sum += CLAMP ((a->tip + b->tip - apart) / (2 * small), 0, 1);
        }
    }
  return wheels > 0 ? sum / wheels : 0;
}

/* Gears of one part that lie in one plane and do not mesh, but would be in each other's way: a driver and what is
 * behind its idler. A straight row never is. */
static gboolean
gears_collide (GArray *shapes)
{
  for (guint i = 0; i < shapes->len; i++)
    for (guint j = 0; j < i; j++)
      {
        const TrammelShape *a = &g_array_index (shapes, TrammelShape, i);
        const TrammelShape *b = &g_array_index (shapes, TrammelShape, j);
        if (a->kind == TRAMMEL_SHAPE_GEAR && b->kind == TRAMMEL_SHAPE_GEAR && a->part == b->part && a->plane == b->plane
            && a->orbit == 0 && b->orbit == 0 && a->partner != b->id && b->partner != a->id
            && hypot (a->x - b->x, a->y - b->y) < a->tip + b->tip)
          return TRUE;
      }
  return FALSE;
}

static double
merit (const TrammelPen *pen)
{
  TrammelBox box = bounds_of_all (pen->shapes);
  double scale = MIN (ASPECT / (box.x1 - box.x0), 1 / (box.y1 - box.y0));
  if (gears_collide (pen->shapes))
    scale *= IMPOSSIBLE;
  return scale * (1 - 0.5 * hidden_centers (pen->shapes)) / (1 + 0.4 * clutter (pen->shapes));
}

/* Zigzags of several slopes and lengths; the one that is largest in the picture and hides the least wins. */
static TrammelPen
lay_train_well (const TrammelTrain *train, const TrammelFacts *facts, const TrammelPen *start)
{
  static const double slopes[] = { 0, 0.3, -0.3, 0.6, -0.6, 0.9, -0.9, 1.2 };
  static const int runs[] = { 1, 2, 4, 7 };
  TrammelPen best = { .shapes = NULL };
  double best_merit = -1;

  for (gsize i = 0; i < G_N_ELEMENTS (slopes); i++)
    for (gsize j = 0; j < (slopes[i] == 0 ? 1 : G_N_ELEMENTS (runs)); j++)
      {
        TrammelPen pen = lay_train (train, facts, start, slopes[i], runs[j]);
        double pen_merit = merit (&pen);
        GArray *loser = pen.shapes;
        if (pen_merit > best_merit * 1.02)
          {
            loser = best.shapes;
            best = pen;
            best_merit = pen_merit;
          }
        if (loser)
          g_array_unref (loser);
      }
  return best;
}

typedef struct
{
  TrammelPoint *points;
  TrammelPoint *normals;
  gsize n;
} Outline;

static void
free_outline (gpointer data)
{
  Outline *outline = data;
  g_free (outline->points);
  g_free (outline->normals);
  g_free (outline);
}

static TrammelPoint
normal_of_line (TrammelPoint from, TrammelPoint to)
{
  double length = MAX (hypot (to.x - from.x, to.y - from.y), 1e-12);
  return (TrammelPoint){ (to.y - from.y) / length, (from.x - to.x) / length };
}

/* At each point half way between the normals of its two lines, longer the sharper the corner, but not for ever. */
static TrammelPoint *
normals_of (const TrammelPoint *points, gsize n)
{
  TrammelPoint *normals = g_new (TrammelPoint, n);
  for (gsize i = 0; i < n; i++)
    {
      TrammelPoint a = normal_of_line (points[(i + n - 1) % n], points[i]);
      TrammelPoint b = normal_of_line (points[i], points[(i + 1) % n]);
      double stretch = MAX (1 + a.x * b.x + a.y * b.y, 0.4);
      normals[i] = (TrammelPoint){ (a.x + b.x) / stretch, (a.y + b.y) / stretch };
    }
  return normals;
}

static Outline *
new_outline (const TrammelShape *shape)
{
  Outline *outline = g_new0 (Outline, 1);
  if (shape->kind == TRAMMEL_SHAPE_RING)
    outline->points = trammel_involute_internal (&shape->form, shape->mate.teeth > 0 ? &shape->mate : NULL,
                                                 shape->apart, &outline->n);
  else
    outline->points = trammel_involute_external (&shape->form, &outline->n);
  outline->normals = normals_of (outline->points, outline->n);
  return outline;
}

static gboolean
has_outline (const TrammelShape *shape)
{
  gboolean toothed = shape->kind == TRAMMEL_SHAPE_GEAR || shape->kind == TRAMMEL_SHAPE_RING
                     || shape->kind == TRAMMEL_SHAPE_BEVEL_FACE;
  int fewest = shape->kind == TRAMMEL_SHAPE_RING ? 3 : 1;
  return toothed && shape->teeth >= fewest && shape->teeth <= MOST_TEETH_OUTLINED;
}

static char *
outline_key (const TrammelShape *shape)
{
  const TrammelToothForm *form = &shape->form, *mate = &shape->mate;
  g_autofree char *own
      = g_strdup_printf ("%d %a %a %a %a", form->teeth, form->pressure_angle, form->shift, form->shorter, form->play);
  if (shape->kind != TRAMMEL_SHAPE_RING)
    return g_steal_pointer (&own);
  return g_strdup_printf ("%s in %d %a %a %a", own, mate->teeth, mate->shift, mate->shorter, shape->apart);
}

/* Equal gears share one outline. */
static void
find_outlines (TrammelLayout *layout)
{
  layout->outlines = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, free_outline);
  for (guint i = 0; i < layout->shapes->len; i++)
    {
      TrammelShape *shape = &g_array_index (layout->shapes, TrammelShape, i);
      if (!has_outline (shape))
        continue;
      g_autofree char *key = outline_key (shape);
      Outline *outline = g_hash_table_lookup (layout->outlines, key);
      if (!outline)
        {
          outline = new_outline (shape);
          g_hash_table_insert (layout->outlines, g_steal_pointer (&key), outline);
        }
      shape->outline = outline->points;
      shape->normals = outline->normals;
      shape->n_outline = outline->n;
    }
}

/* Hubs behind a nearer wheel on the same shaft need not be drawn. */
static void
drop_hidden_hubs (GArray *shapes)
{
  for (guint i = 0; i < shapes->len; i++)
    for (guint j = i + 1; j < shapes->len; j++)
      {
        TrammelShape *far = &g_array_index (shapes, TrammelShape, i);
        const TrammelShape *near = &g_array_index (shapes, TrammelShape, j);
        if (trammel_shape_is_round (near) && near->plane > far->plane && far->orbit == 0 && near->orbit == 0
            && near->radius > 2.5 * near->shaft && hypot (near->x - far->x, near->y - far->y) < 1e-9 * near->tip)
          far->hubless = TRUE;
      }
}

static int
by_plane (gconstpointer a, gconstpointer b)
{
  return ((const TrammelShape *)a)->plane - ((const TrammelShape *)b)->plane;
}

TrammelLayout *
trammel_layout_new (const TrammelTrain *train, double travel, const TrammelUnit *unit)
{
  TrammelLayout *layout = g_new0 (TrammelLayout, 1);
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, &error);

  TrammelPen start = { .travel = travel, .unit = unit };
  TrammelPen pen = lay_train_well (train, facts, &start);
  layout->unit = unit;
  layout->shapes = pen.shapes;
  layout->box = bounds_of_all (pen.shapes);
  layout->plus = pen.plus;
  layout->direction = facts ? facts->direction * pen.plus : 0;
  layout->rotary = facts && facts->rotary;
  layout->trouble = error ? g_strdup (error->message) : NULL;
  g_array_sort (layout->shapes, by_plane); /* a merge sort: what is added later stays in front */
  drop_hidden_hubs (layout->shapes);
  find_outlines (layout);
  return layout;
}

void
trammel_layout_free (TrammelLayout *layout)
{
  g_array_unref (layout->shapes);
  g_hash_table_unref (layout->outlines);
  g_free (layout->trouble);
  g_free (layout);
}
