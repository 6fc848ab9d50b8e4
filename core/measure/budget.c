/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/budget.h"

#include <math.h>

#include "measure/adjustment-private.h"
#include "measure/fit-private.h"

/* A source, with its part of every axis's variance. */
typedef struct
{
  TrammelReadingKind kind;
  const GRefString *instrument; /* borrowed */
  int parameter;                /* −1: readings */
  double parts[TRAMMEL_N_LETTERS];
} Source;

typedef struct
{
  const TrammelAdjustment *adjustment;
  GPtrArray *gains; /* per axis: (RᵀR)⁻¹ e of its scale, a double per column; NULL where the scale is fixed */
  GArray *sources;
  guint last; /* source that was found last */
} Accounts;

/* (RᵀR)⁻¹ e by two triangular solutions. */
static double *
gains_of_axis (const TrammelAdjustment *adjustment, char letter)
{
  const int parameter = adjustment->unknowns.scale[letter - 'A'];
  const int column = parameter >= 0 ? adjustment->column_of_parameter[parameter] : -1;

  if (column < 0)
    return NULL;
  double *gains = g_new0 (double, adjustment->factor.n);
  gains[column] = 1;
  trammel_triangle_solve_transposed (&adjustment->factor, gains);
  trammel_triangle_solve_upper (&adjustment->factor, gains);
  return gains;
}

static gboolean
is_source (const Source *source, const TrammelReading *reading)
{
  if (source->parameter >= 0 || source->kind != (TrammelReadingKind)reading->kind)
    return FALSE;
  return source->instrument == reading->instrument || g_strcmp0 (source->instrument, reading->instrument) == 0;
}

static Source *
source_of (Accounts *accounts, const TrammelReading *reading)
{
  const guint n = accounts->sources->len;
  Source fresh = { .kind = (TrammelReadingKind)reading->kind, .instrument = reading->instrument, .parameter = -1 };

  /* Neighbors mostly share their source. */
  for (guint i = 0; i < n; i++)
    {
      const guint place = (accounts->last + i) % n;
      if (is_source (&g_array_index (accounts->sources, Source, place), reading))
        {
          accounts->last = place;
          return &g_array_index (accounts->sources, Source, place);
        }
    }
  g_array_append_val (accounts->sources, fresh);
  accounts->last = n;
  return &g_array_index (accounts->sources, Source, n);
}

static void
enter_reading (Accounts *accounts, const TrammelReading *reading, const TrammelFitted *fitted)
{
  const TrammelAdjustment *adjustment = accounts->adjustment;
  const gboolean weighted = adjustment->robust && adjustment->scatter == TRAMMEL_SCATTER_STATED;
  const double weight = (weighted ? fitted->weight : 1) / (fitted->u * fitted->u);
  const int datum
      = reading->kind == TRAMMEL_READING_POSITION ? trammel_unknowns_datum (&adjustment->unknowns, reading) : -1;
  Source *source = source_of (accounts, reading);
  TrammelModelRow row;

  trammel_model_evaluate (&adjustment->unknowns, adjustment->values, reading, datum, &row);
  for (guint axis = 0; axis < accounts->gains->len; axis++)
    {
      const double *gains = accounts->gains->pdata[axis];
      double gain = 0;
      for (guint i = 0; gains != NULL && i < row.n; i++)
        {
          const int column = adjustment->column_of_parameter[row.parameter[i]];
          gain += column >= 0 ? row.derivative[i] * gains[column] : 0;
        }
      source->parts[axis] += gain * gain * weight;
    }
}

static void
enter_stated (Accounts *accounts, guint column)
{
  const TrammelAdjustment *adjustment = accounts->adjustment;
  const guint parameter = adjustment->parameter_of_column[column];
  const TrammelParameter *stated = &adjustment->unknowns.parameters[parameter];
  const double sigma = adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED ? adjustment->sigma : 1;
  Source source = { .parameter = (int)parameter };

  if (!stated->has_stated)
    return;
  for (guint axis = 0; axis < accounts->gains->len; axis++)
    {
      const double *gains = accounts->gains->pdata[axis];
      const double gain = gains != NULL ? gains[column] * sigma / stated->stated_u : 0;
      source.parts[axis] = gain * gain;
    }
  g_array_append_val (accounts->sources, source);
}

static int
compare_shares (gconstpointer a, gconstpointer b)
{
  const TrammelBudgetLine *one = a, *other = b;

  return one->share < other->share ? 1 : one->share > other->share ? -1 : 0;
}

static void
clear_line (gpointer data)
{
  TrammelBudgetLine *line = data;

  g_free (line->parameter);
  g_clear_pointer (&line->instrument, g_ref_string_release);
}

static TrammelBudgetLine
make_line (const TrammelAdjustment *adjustment, const Source *source, const TrammelAxisScale *axis, double share)
{
  TrammelBudgetLine line = { .letter = axis->letter, .share = share, .u = sqrt (share) * axis->u };

  line.is_stated = source->parameter >= 0;
  if (line.is_stated)
    line.parameter = g_strdup (adjustment->unknowns.parameters[source->parameter].name);
  else
    {
      line.kind = source->kind;
      line.instrument = source->instrument != NULL ? g_ref_string_new (source->instrument) : NULL;
    }
  return line;
}

static void
close_axis (const Accounts *accounts, guint axis, GArray *budget)
{
  g_autoptr (GArray) lines = g_array_new (FALSE, FALSE, sizeof (TrammelBudgetLine));
  double total = 0;

  for (guint i = 0; i < accounts->sources->len; i++)
    total += g_array_index (accounts->sources, Source, i).parts[axis];
  if (!(total > 0))
    return;
  for (guint i = 0; i < accounts->sources->len; i++)
    {
      const Source *source = &g_array_index (accounts->sources, Source, i);
      if (source->parts[axis] == 0)
        continue;
      TrammelBudgetLine line
          = make_line (accounts->adjustment, source, &accounts->adjustment->axes[axis], source->parts[axis] / total);
      g_array_append_val (lines, line);
    }
  g_array_sort (lines, compare_shares);
  g_array_append_vals (budget, lines->data, lines->len);
}

GArray *
trammel_budget (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input)
{
  GArray *budget = g_array_new (FALSE, FALSE, sizeof (TrammelBudgetLine));

  g_array_set_clear_func (budget, clear_line);
  g_return_val_if_fail (adjustment != NULL && input != NULL, budget);
  g_return_val_if_fail (input->n_readings == adjustment->n_readings, budget);

  Accounts accounts = { .adjustment = adjustment,
                        .gains = g_ptr_array_new_with_free_func (g_free),
                        .sources = g_array_new (FALSE, FALSE, sizeof (Source)) };
  for (guint i = 0; i < adjustment->n_axes; i++)
    g_ptr_array_add (accounts.gains, gains_of_axis (adjustment, adjustment->axes[i].letter));
  for (gsize i = 0; i < input->n_readings; i++)
    if (trammel_fit_row_takes_part (&adjustment->fitted[i]))
      enter_reading (&accounts, &input->readings[i], &adjustment->fitted[i]);
  for (guint column = 0; column < adjustment->factor.n; column++)
    enter_stated (&accounts, column);
  for (guint i = 0; i < adjustment->n_axes; i++)
    close_axis (&accounts, i, budget);
  g_ptr_array_unref (accounts.gains);
  g_array_unref (accounts.sources);
  return budget;
}

char *
trammel_budget_line_key (const TrammelBudgetLine *line)
{
  g_return_val_if_fail (line != NULL, NULL);

  if (line->is_stated)
    return g_strdup (line->parameter);
  if (line->instrument == NULL || *line->instrument == '\0')
    return g_strdup (trammel_reading_kind_key (line->kind));
  return g_strdup_printf ("%s.%s", trammel_reading_kind_key (line->kind), line->instrument);
}
