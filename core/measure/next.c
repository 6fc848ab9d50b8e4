/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/next.h"

#include <math.h>
#include <string.h>

#include "measure/adjustment-private.h"
#include "measure/fit-private.h"

/* What would leave more than this of u is not worth the work. */
#define WORTH_IT 0.98

static void
clear_next (gpointer data)
{
  trammel_reading_clear (&((TrammelNext *)data)->reading);
}

GArray *
trammel_next_array_new (void)
{
  GArray *array = g_array_new (FALSE, FALSE, sizeof (TrammelNext));

  g_array_set_clear_func (array, clear_next);
  return array;
}

/* One candidate as a row under the factor of the fit. */
typedef struct
{
  const TrammelAdjustment *adjustment;
  double *row;        /* of the factor's columns, whitened */
  double noise;       /* standard uncertainty of the row's reading, with the unknowns that only it touches */
  double of_new_axis; /* derivative by the scale asked for, where the fit has none */
  gboolean is_open;   /* it touches another unknown about which nothing is known */
} Row;

static double
reading_u (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input, const TrammelReading *reading)
{
  double u = reading->u;

  if (adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED)
    return isnan (u) ? 1 : u;
  if (isnan (u) && reading->instrument != NULL)
    u = trammel_fit_instrument_u (input, reading->instrument);
  return trammel_fit_with_resolution (input, reading, isnan (u) ? TRAMMEL_DEFAULT_U : u);
}

/* The candidate's own unknowns, with what is stated about them. */
static gboolean
find_unknowns (const TrammelAdjustmentInput *input, const TrammelReading *candidate, TrammelUnknowns *unknowns)
{
  trammel_unknowns_init (unknowns);
  trammel_unknowns_take_instruments (unknowns, input);
  return trammel_unknowns_touch (unknowns, candidate) && trammel_unknowns_arrange (unknowns, input, NULL);
}

static int
parameter_of_fit (const TrammelAdjustment *adjustment, const char *name)
{
  for (guint i = 0; i < adjustment->unknowns.n; i++)
    if (g_str_equal (adjustment->unknowns.parameters[i].name, name))
      return (int)i;
  return -1;
}

static double *
values_of (const TrammelAdjustment *adjustment, const TrammelUnknowns *unknowns)
{
  double *values = g_new0 (double, MAX (unknowns->n, 1));

  for (guint i = 0; i < unknowns->n; i++)
    {
      const TrammelParameter *parameter = &unknowns->parameters[i];
      const int known = parameter_of_fit (adjustment, parameter->name);
      values[i] = known >= 0 ? adjustment->values[known] : parameter->has_stated ? parameter->stated_value : 0;
    }
  return values;
}

/* In the units of the factor, where σ of a reading of u 1 is 1 and what is stated was weighed by the σ of the fit. */
static double
stated_u (const TrammelAdjustment *adjustment, const TrammelParameter *parameter)
{
  return adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? parameter->stated_u / adjustment->sigma
                                                          : parameter->stated_u;
}

static void
take_term (Row *row, const TrammelParameter *parameter, double derivative, char letter)
{
  const TrammelAdjustment *adjustment = row->adjustment;
  const int known = parameter_of_fit (adjustment, parameter->name);

  if (known >= 0)
    {
      if (adjustment->column_of_parameter[known] >= 0)
        row->row[adjustment->column_of_parameter[known]] += derivative;
    }
  else if (parameter->has_stated)
    row->noise = hypot (row->noise, derivative * stated_u (adjustment, parameter));
  else if (parameter->kind == TRAMMEL_PARAMETER_SCALE && parameter->axes[0] == letter)
    row->of_new_axis = derivative;
  else
    row->is_open = row->is_open || derivative != 0;
}

/* FALSE when there is no such reading. */
static gboolean
find_row (Row *row, const TrammelAdjustmentInput *input, const TrammelReading *candidate, char letter)
{
  TrammelUnknowns unknowns;
  TrammelModelRow terms;
  gboolean found = find_unknowns (input, candidate, &unknowns);

  if (found)
    {
      g_autofree double *values = values_of (row->adjustment, &unknowns);
      trammel_model_evaluate (&unknowns, values, candidate, unknowns.datums->len > 0 ? 0 : -1, &terms);
      for (guint i = 0; i < terms.n; i++)
        take_term (row, &unknowns.parameters[terms.parameter[i]], terms.derivative[i], letter);
      for (guint i = 0; i < row->adjustment->factor.n; i++)
        row->row[i] /= row->noise;
    }
  trammel_unknowns_clear (&unknowns);
  return found;
}

static double
dot (const double *a, const double *b, guint n)
{
  double sum = 0;

  for (guint i = 0; i < n; i++)
    sum += a[i] * b[i];
  return sum;
}

/* u of the column's unknown, for σ = 1, when the row is folded in. @y: R⁻ᵀ of it. */
static double
updated_u (const TrammelTriangle *factor, guint column, const double *y)
{
  const guint n = factor->n;
  const double square = dot (y, y, n);
  g_autofree double *z = g_new0 (double, n);

  z[column] = 1;
  trammel_triangle_solve_transposed (factor, z);
  if (!(square > 0))
    return sqrt (dot (z, z, n));
  const double along = dot (z, y, n) / square;
  for (guint i = 0; i < n; i++)
    z[i] -= along * y[i];
  return sqrt (dot (z, z, n) + along * along * square / (1 + square));
}

static int
column_of_scale (const TrammelAdjustment *adjustment, char letter)
{
  const int parameter = g_ascii_isupper (letter) ? adjustment->unknowns.scale[letter - 'A'] : -1;
  return parameter >= 0 ? adjustment->column_of_parameter[parameter] : -1;
}

static double
u_now (const TrammelAdjustment *adjustment, char letter)
{
  const TrammelAxisScale *scale = trammel_adjustment_axis (adjustment, letter);
  return scale != NULL ? scale->u : NAN;
}

double
trammel_next_after (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input,
                    const TrammelReading *candidate, char letter, double *u)
{
  g_return_val_if_fail (adjustment != NULL && input != NULL && candidate != NULL, NAN);

  const TrammelTriangle *factor = &adjustment->factor;
  const int column = column_of_scale (adjustment, letter);
  const double own_u = reading_u (adjustment, input, candidate);
  g_autofree double *y = g_new0 (double, factor->n);
  Row row = { .adjustment = adjustment, .row = y, .noise = own_u };

  if (u != NULL)
    *u = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? own_u * adjustment->sigma : own_u;
  if (!find_row (&row, input, candidate, letter) || row.is_open)
    return u_now (adjustment, letter);
  trammel_triangle_solve_transposed (factor, y);
  if (column >= 0)
    return row.of_new_axis != 0 ? NAN : adjustment->spread * updated_u (factor, (guint)column, y);
  if (row.of_new_axis == 0)
    return NAN;
  return adjustment->spread * row.noise * sqrt (1 + dot (y, y, factor->n)) / fabs (row.of_new_axis);
}

char
trammel_next_worst_axis (const TrammelAdjustment *adjustment)
{
  const TrammelAxisScale *worst = NULL;

  g_return_val_if_fail (adjustment != NULL, '\0');

  for (guint i = 0; i < adjustment->n_axes; i++)
    if (worst == NULL || adjustment->axes[i].u > worst->u)
      worst = &adjustment->axes[i];
  return worst != NULL ? worst->letter : '\0';
}

static int
compare_next (gconstpointer a, gconstpointer b)
{
  const TrammelNext *one = a, *other = b;

  if (one->u_after != other->u_after)
    return one->u_after < other->u_after ? -1 : 1;
  if (one->reading.kind != other->reading.kind)
    return one->reading.kind - other->reading.kind;
  return one->reading.nominal < other->reading.nominal ? -1 : one->reading.nominal > other->reading.nominal;
}

static gboolean
has_like (GArray *chosen, const TrammelReading *reading)
{
  for (guint i = 0; i < chosen->len; i++)
    {
      const TrammelReading *other = &g_array_index (chosen, TrammelNext, i).reading;
      if (other->kind == reading->kind && trammel_direction_equal (&other->along, &reading->along))
        return TRUE;
    }
  return FALSE;
}

static void
take_next (GArray *chosen, const TrammelNext *next)
{
  TrammelNext copy = *next;

  trammel_reading_copy (&next->reading, &copy.reading);
  g_array_append_val (chosen, copy);
}

GArray *
trammel_next_rank (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input, const double *travels,
                   char letter, guint most)
{
  GArray *chosen = trammel_next_array_new ();
  g_autoptr (GArray) all = g_array_new (FALSE, FALSE, sizeof (TrammelNext));

  g_return_val_if_fail (adjustment != NULL && input != NULL && travels != NULL, chosen);

  if (letter == '\0')
    letter = trammel_next_worst_axis (adjustment);
  g_autoptr (GArray) candidates = trammel_next_candidates (adjustment, input, travels);
  for (guint i = 0; i < candidates->len; i++)
    {
      TrammelNext next = { .reading = g_array_index (candidates, TrammelReading, i),
                           .letter = letter,
                           .u_now = u_now (adjustment, letter) };
      next.u_after = trammel_next_after (adjustment, input, &next.reading, letter, &next.u);
      if (next.u_after <= WORTH_IT * next.u_now || (isnan (next.u_now) && !isnan (next.u_after)))
        g_array_append_val (all, next);
    }
  g_array_sort (all, compare_next);
  for (guint i = 0; i < all->len && chosen->len < most; i++)
    if (!has_like (chosen, &g_array_index (all, TrammelNext, i).reading))
      take_next (chosen, &g_array_index (all, TrammelNext, i));
  return chosen;
}
