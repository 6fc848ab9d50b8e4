/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/positions.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>

#include "base/error.h"
#include "measure/position-figures-private.h"
#include "measure/triangle-private.h"

/* ISO 230-2:2014, 5.3.2: at least five targets per metre up to 2 m, five runs from each side. */
#define WANTED_RUNS 5
#define WANTED_TARGETS 5

struct _TrammelPositions
{
  GArray *targets, *after; /* of TrammelPositionTarget */
  TrammelPositionFigures figures, figures_after;
  TrammelPositionLine line;
  gboolean one_direction;
  gsize n_used, n_left_out;
  GPtrArray *notes; /* NULL-terminated */
};

static gboolean
belongs (const TrammelReading *row, char axis, const char *set)
{
  return row->kind == TRAMMEL_READING_POSITION && trammel_reading_is_complete (row)
         && trammel_direction_is_single (&row->along) && row->along.axes[0] == axis && g_strcmp0 (row->set, set) == 0;
}

GArray *
trammel_position_sets (const TrammelReading *rows, gsize n)
{
  GArray *sets = g_array_new (FALSE, FALSE, sizeof (TrammelPositionSet));
  TrammelPositionSet *found = NULL;

  for (gsize i = 0; i < n; i++)
    {
      if (found == NULL || !belongs (&rows[i], found->axis, found->set))
        {
          if (rows[i].kind != TRAMMEL_READING_POSITION || !trammel_reading_is_complete (&rows[i]))
            continue;
          found = NULL;
          for (guint k = 0; k < sets->len && found == NULL; k++)
            {
              TrammelPositionSet *set = &g_array_index (sets, TrammelPositionSet, k);
              found = belongs (&rows[i], set->axis, set->set) ? set : NULL;
            }
        }
      if (found == NULL && trammel_direction_is_single (&rows[i].along))
        {
          TrammelPositionSet set = { rows[i].along.axes[0], rows[i].set, 0 };
          g_array_append_val (sets, set);
          found = &g_array_index (sets, TrammelPositionSet, sets->len - 1);
        }
      if (found != NULL)
        found->n++;
    }
  return sets;
}

/* What is looked at, and how it is to be read. */
typedef struct
{
  const TrammelReading *rows;
  gsize n;
  char axis;
  const char *set;
  gsize n_set;       /* rows of the set */
  gboolean some_say; /* how they were approached */
} Rows;

static gboolean
check_rows (Rows *rows, GError **error)
{
  for (gsize i = 0; i < rows->n; i++)
    {
      if (!belongs (&rows->rows[i], rows->axis, rows->set))
        continue;
      if (!trammel_reading_check (&rows->rows[i], error))
        {
          g_prefix_error (error, "readings[%" G_GSIZE_FORMAT "]: ", i);
          return FALSE;
        }
      rows->some_say |= rows->rows[i].approach != TRAMMEL_APPROACH_NONE;
      rows->n_set++;
    }
  if (rows->n_set > 0)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
               _ ("found no measured position along %c%s%s; rows of kind position with target and measured are wanted"),
               rows->axis, rows->set != NULL ? " " : "", rows->set != NULL ? rows->set : "");
  return FALSE;
}

/* While rows come in, s holds the sum of squares about the mean (B. P. Welford, Technometrics 4 (1962) 419): one pass,
 * and no digits lost to a large common offset. */
static void
add_deviation (TrammelPositionSide *side, double deviation)
{
  const double from_old_mean = deviation - side->mean;

  side->n++;
  side->mean += from_old_mean / (double)side->n;
  side->s += from_old_mean * (deviation - side->mean);
}

/* A row that belongs to the set, by its target. */
typedef struct
{
  double target;
  guint32 row;
} Place;

static int
by_target (gconstpointer a, gconstpointer b)
{
  const Place *left = a, *right = b;

  if (left->target != right->target)
    return left->target < right->target ? -1 : 1;
  return (left->row > right->row) - (left->row < right->row);
}

/* In rising order of target; lists are mostly in order already. */
static GArray *
rows_by_target (const Rows *rows)
{
  GArray *places = g_array_sized_new (FALSE, FALSE, sizeof (Place), (guint)rows->n_set);
  gboolean in_order = TRUE;

  for (gsize i = 0; i < rows->n; i++)
    {
      if (!belongs (&rows->rows[i], rows->axis, rows->set))
        continue;
      const Place place = { rows->rows[i].nominal, (guint32)i };
      if (places->len > 0 && place.target < g_array_index (places, Place, places->len - 1).target)
        in_order = FALSE;
      g_array_append_val (places, place);
    }
  if (!in_order)
    qsort (places->data, places->len, sizeof (Place), by_target);
  return places;
}

/* Returns how many rows do not count. */
static gsize
take_rows (const Rows *rows, GArray *targets)
{
  g_autoptr (GArray) places = rows_by_target (rows);
  gsize left_out = 0;

  for (guint i = 0; i < places->len; i++)
    {
      const Place *place = &g_array_index (places, Place, i);
      const TrammelReading *row = &rows->rows[place->row];
      if (rows->some_say && row->approach == TRAMMEL_APPROACH_NONE)
        {
          left_out++;
          continue;
        }
      if (targets->len == 0 || place->target != g_array_index (targets, TrammelPositionTarget, targets->len - 1).target)
        {
          const TrammelPositionTarget fresh = { .target = place->target };
          g_array_append_val (targets, fresh);
        }
      TrammelPositionTarget *target = &g_array_index (targets, TrammelPositionTarget, targets->len - 1);
      add_deviation (row->approach == TRAMMEL_APPROACH_DOWN ? &target->down : &target->up,
                     row->measured - row->nominal);
    }
  return left_out;
}

static void
finish_side (TrammelPositionSide *side)
{
  side->mean = side->n > 0 ? side->mean : NAN;
  side->s = side->n > 1 ? sqrt (side->s / (double)(side->n - 1)) : NAN;
}

static void
finish_sides (GArray *targets)
{
  for (guint i = 0; i < targets->len; i++)
    {
      finish_side (&g_array_index (targets, TrammelPositionTarget, i).up);
      finish_side (&g_array_index (targets, TrammelPositionTarget, i).down);
    }
}

static void
count (TrammelPositions *self)
{
  gsize n_up = 0, n_down = 0;

  for (guint i = 0; i < self->targets->len; i++)
    {
      n_up += g_array_index (self->targets, TrammelPositionTarget, i).up.n;
      n_down += g_array_index (self->targets, TrammelPositionTarget, i).down.n;
    }
  self->n_used = n_up + n_down;
  self->one_direction = n_up == 0 || n_down == 0;
}

/* The runs at one target from one side enter as their mean with the weight of their number, and their scatter about it
 * apart: the same sums as of the single runs. @a: +1 up, −1 down. */
static void
fold_side (TrammelTriangle *triangle, const TrammelPositionSide *side, double target, int a, guint n_columns)
{
  const guint columns[] = { 0, 1, 2 };
  const double weight = sqrt ((double)side->n);
  const double values[] = { weight, weight * target, -weight * a / 2 };

  if (side->n == 0)
    return;
  trammel_triangle_fold (triangle, columns, values, n_columns, weight * side->mean);
  if (side->n > 1)
    triangle->rest += side->s * side->s * (double)(side->n - 1);
}

static void
fit_line (TrammelPositions *self)
{
  const guint n_columns = self->one_direction ? 2 : 3;
  TrammelTriangle triangle;
  double solution[3] = { 0 }, covariance[9];
  TrammelPositionLine *line = &self->line;

  trammel_triangle_init (&triangle, n_columns);
  for (guint i = 0; i < self->targets->len; i++)
    {
      const TrammelPositionTarget *target = &g_array_index (self->targets, TrammelPositionTarget, i);
      fold_side (&triangle, &target->up, target->target, 1, n_columns);
      fold_side (&triangle, &target->down, target->target, -1, n_columns);
    }
  *line = (TrammelPositionLine){ NAN, NAN, NAN, NAN, NAN, NAN, (gint64)self->n_used - n_columns };
  if (trammel_triangle_solve (&triangle, solution, covariance, NULL) == 0)
    {
      const double square = trammel_triangle_residual_square (&triangle, solution);
      line->sigma = line->dof > 0 ? sqrt (square / (double)line->dof) : NAN;
      line->datum = solution[0];
      line->scale_error = solution[1];
      line->u_scale_error = line->sigma * sqrt (covariance[n_columns + 1]);
      line->lash = self->one_direction ? NAN : solution[2];
      line->u_lash = self->one_direction ? NAN : line->sigma * sqrt (covariance[8]);
    }
  trammel_triangle_clear (&triangle);
}

/* What cannot be told is not taken out. */
static void
take_line_out (TrammelPositions *self)
{
  const double scale = isnan (self->line.scale_error) ? 0 : self->line.scale_error;
  const double lash = isnan (self->line.lash) ? 0 : self->line.lash;

  self->after = g_array_copy (self->targets);
  for (guint i = 0; i < self->after->len; i++)
    {
      TrammelPositionTarget *target = &g_array_index (self->after, TrammelPositionTarget, i);
      target->up.mean -= scale * target->target - lash / 2;
      target->down.mean -= scale * target->target + lash / 2;
    }
}

G_GNUC_PRINTF (2, 3)
static void
note (TrammelPositions *self, const char *format, ...)
{
  va_list arguments;

  va_start (arguments, format);
  g_ptr_array_add (self->notes, g_strdup_vprintf (format, arguments));
  va_end (arguments);
}

static void
take_notes (TrammelPositions *self)
{
  const gsize runs = trammel_positions_fewest_runs (self);

  self->notes = g_ptr_array_new_with_free_func (g_free);
  if (runs < WANTED_RUNS)
    note (self,
          g_dngettext (GETTEXT_PACKAGE, "Some target has only %u run from a side; ISO 230-2 wants %u.",
                       "Some target has only %u runs from a side; ISO 230-2 wants %u.", runs),
          (guint)runs, WANTED_RUNS);
  if (runs < 2)
    note (self, "%s", _ ("Repeatability and accuracy need two runs or more at each target from each side."));
  if (self->targets->len < WANTED_TARGETS)
    note (self,
          g_dngettext (GETTEXT_PACKAGE, "Only %u target; ISO 230-2 wants five per metre, and five at least.",
                       "Only %u targets; ISO 230-2 wants five per metre, and five at least.", self->targets->len),
          self->targets->len);
  if (self->one_direction)
    note (self, "%s", _ ("Approached from one side only: play on reversal does not show."));
  if (self->n_left_out > 0)
    note (self,
          g_dngettext (GETTEXT_PACKAGE, "%u row does not say how it was approached, and is left out.",
                       "%u rows do not say how they were approached, and are left out.", self->n_left_out),
          (guint)self->n_left_out);
  g_ptr_array_add (self->notes, NULL);
}

TrammelPositions *
trammel_positions_new (const TrammelReading *rows, gsize n, char axis, const char *set, GError **error)
{
  g_return_val_if_fail (rows != NULL || n == 0, NULL);

  Rows all = { rows, n, axis, set, 0, FALSE };
  if (!check_rows (&all, error))
    return NULL;

  TrammelPositions *self = g_new0 (TrammelPositions, 1);
  self->targets = g_array_new (FALSE, TRUE, sizeof (TrammelPositionTarget));
  self->n_left_out = take_rows (&all, self->targets);
  finish_sides (self->targets);
  count (self);
  fit_line (self);
  take_line_out (self);
  self->figures = trammel_position_figures (self->targets, self->one_direction);
  self->figures_after = trammel_position_figures (self->after, self->one_direction);
  take_notes (self);
  return self;
}

void
trammel_positions_free (TrammelPositions *positions)
{
  if (positions == NULL)
    return;
  g_array_unref (positions->targets);
  g_array_unref (positions->after);
  g_ptr_array_unref (positions->notes);
  g_free (positions);
}

static const TrammelPositionTarget *
elements (const GArray *targets, gsize *n)
{
  if (n != NULL)
    *n = targets->len;
  return (const TrammelPositionTarget *)(gconstpointer)targets->data;
}

const TrammelPositionTarget *
trammel_positions_targets (const TrammelPositions *positions, gsize *n)
{
  g_return_val_if_fail (positions != NULL, NULL);

  return elements (positions->targets, n);
}

const TrammelPositionTarget *
trammel_positions_targets_after (const TrammelPositions *positions, gsize *n)
{
  g_return_val_if_fail (positions != NULL, NULL);

  return elements (positions->after, n);
}

TrammelPositionFigures
trammel_positions_before (const TrammelPositions *positions)
{
  return positions->figures;
}

TrammelPositionFigures
trammel_positions_after (const TrammelPositions *positions)
{
  return positions->figures_after;
}

TrammelPositionLine
trammel_positions_line (const TrammelPositions *positions)
{
  return positions->line;
}

gboolean
trammel_positions_is_one_direction (const TrammelPositions *positions)
{
  g_return_val_if_fail (positions != NULL, FALSE);

  return positions->one_direction;
}

gsize
trammel_positions_n_used (const TrammelPositions *positions)
{
  g_return_val_if_fail (positions != NULL, 0);

  return positions->n_used;
}

gsize
trammel_positions_n_left_out (const TrammelPositions *positions)
{
  g_return_val_if_fail (positions != NULL, 0);

  return positions->n_left_out;
}

gsize
trammel_positions_fewest_runs (const TrammelPositions *positions)
{
  gsize fewest = G_MAXSIZE;

  g_return_val_if_fail (positions != NULL, 0);

  for (guint i = 0; i < positions->targets->len; i++)
    {
      const TrammelPositionTarget *target = &g_array_index (positions->targets, TrammelPositionTarget, i);
      if (target->up.n > 0)
        fewest = MIN (fewest, target->up.n);
      if (target->down.n > 0)
        fewest = MIN (fewest, target->down.n);
    }
  return fewest;
}

const char *const *
trammel_positions_notes (const TrammelPositions *positions)
{
  g_return_val_if_fail (positions != NULL, NULL);

  return (const char *const *)(gconstpointer)positions->notes->pdata;
}
