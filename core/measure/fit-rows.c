/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Readings made ready for a fit: checked, weighed, and the unknowns that they touch found. */
#include "measure/fit-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <stdlib.h>
#include <string.h>
#include <sys/mman.h>

#include "base/error.h"

#define LARGE_PAGE ((gsize)2 << 20)

void
trammel_fit_init (TrammelFit *fit, const TrammelAdjustmentInput *input, GCancellable *cancellable)
{
  memset (fit, 0, sizeof *fit);
  fit->input = input;
  fit->cancellable = cancellable;
  fit->sigma = fit->spread = 1;
  fit->strangers = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  trammel_unknowns_init (&fit->unknowns);
  trammel_unknowns_take_instruments (&fit->unknowns, input);
}

void
trammel_fit_clear (TrammelFit *fit)
{
  g_clear_pointer (&fit->fitted, free);
  g_clear_pointer (&fit->datums, g_free);
  g_clear_pointer (&fit->strangers, g_hash_table_unref);
  g_clear_pointer (&fit->parameter_of_column, g_free);
  g_clear_pointer (&fit->column_of_parameter, g_free);
  g_clear_pointer (&fit->values, g_free);
  g_clear_pointer (&fit->covariance, g_free);
  g_clear_pointer (&fit->involved, g_free);
  trammel_triangle_clear (&fit->factor);
  trammel_unknowns_clear (&fit->unknowns);
}

static gboolean
refuse_axis (char axis, const char *axes, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("there is no axis %c; the machine's axes are %s"), axis,
               *axes ? axes : "–");
  return FALSE;
}

static gboolean
check_axes (const TrammelReading *reading, const char *axes, GError **error)
{
  for (int i = 0; i < 3 && reading->along.axes[i] != '\0'; i++)
    if (strchr (axes, reading->along.axes[i]) == NULL)
      return refuse_axis (reading->along.axes[i], axes, error);
  return TRUE;
}

static gboolean
check_row (const TrammelFit *fit, gsize i, GError **error)
{
  const TrammelReading *reading = &fit->input->readings[i];

  if (trammel_reading_check (reading, error) && check_axes (reading, fit->input->axes, error))
    return TRUE;
  g_prefix_error (error, "readings[%" G_GSIZE_FORMAT "]: ", i);
  return FALSE;
}

double
trammel_fit_instrument_u (const TrammelAdjustmentInput *input, const char *name)
{
  for (gsize i = input->n_instruments; i-- > 0;)
    if (strcmp (input->instruments[i].name, name) == 0 && trammel_reading_u_is_usable (input->instruments[i].u))
      return input->instruments[i].u;
  return NAN;
}

double
trammel_fit_with_resolution (const TrammelAdjustmentInput *input, const TrammelReading *reading, double u)
{
  for (gsize i = reading->instrument != NULL ? input->n_instruments : 0; i-- > 0;)
    {
      const TrammelInstrument *instrument = &input->instruments[i];
      if (strcmp (instrument->name, reading->instrument) != 0 || !trammel_instrument_details_are_usable (instrument))
        continue;
      return instrument->resolution > 0 ? hypot (u, trammel_resolution_u (instrument->resolution)) : u;
    }
  return u;
}

static double
instrument_u (TrammelFit *fit, const char *name)
{
  double u = trammel_fit_instrument_u (fit->input, name);

  if (isnan (u) && !g_hash_table_contains (fit->strangers, name))
    g_hash_table_add (fit->strangers, g_strdup (name));
  return u;
}

static double
believed_u (TrammelFit *fit, const TrammelReading *reading)
{
  double u = reading->u;

  if (isnan (u) && reading->instrument != NULL && *reading->instrument != '\0')
    u = instrument_u (fit, reading->instrument);
  return trammel_fit_with_resolution (fit->input, reading, isnan (u) ? TRAMMEL_DEFAULT_U : u);
}

/* Estimated: relative u from their own column, when every one has it; else all alike. */
static gboolean
all_have_own_u (const TrammelFit *fit)
{
  for (gsize i = 0; i < fit->input->n_readings; i++)
    if (trammel_reading_is_fitted (&fit->input->readings[i]) && isnan (fit->input->readings[i].u))
      return FALSE;
  return TRUE;
}

/* So that no pass has to look up names. */
static void
note_datum (TrammelFit *fit, gsize i)
{
  if (fit->input->readings[i].kind != TRAMMEL_READING_POSITION)
    return;
  if (fit->datums == NULL)
    {
      fit->datums = g_new (guint16, fit->input->n_readings);
      memset (fit->datums, 0xff, fit->input->n_readings * sizeof (guint16));
    }
  fit->datums[i] = (guint16)fit->unknowns.last_datum;
}

static double
weighing_u (TrammelFit *fit, const TrammelReading *reading, gboolean own_u)
{
  if (fit->input->scatter == TRAMMEL_SCATTER_STATED)
    return believed_u (fit, reading);
  return own_u ? reading->u : 1;
}

static gboolean
touch_rows (TrammelFit *fit, GError **error)
{
  const TrammelAdjustmentInput *input = fit->input;
  gboolean own_u = input->scatter == TRAMMEL_SCATTER_ESTIMATED && all_have_own_u (fit);

  for (gsize i = 0; i < input->n_readings; i++)
    {
      const TrammelReading *reading = &input->readings[i];
      if (i % TRAMMEL_FIT_BLOCK == 0 && g_cancellable_set_error_if_cancelled (fit->cancellable, error))
        return FALSE;
      fit->fitted[i] = (TrammelFitted){ NAN, NAN, NAN, NAN, 1, FALSE };
      if (!trammel_reading_is_fitted (reading))
        {
          fit->n_skipped += trammel_reading_kind_is_fitted (reading->kind) ? 1 : 0;
          continue;
        }
      if (!check_row (fit, i, error))
        return FALSE;
      if (!trammel_unknowns_touch (&fit->unknowns, reading))
        {
          g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
                       _ ("more than %d sets of positions, each with its own datum"), TRAMMEL_MAX_PARAMETERS);
          return FALSE;
        }
      note_datum (fit, i);
      fit->fitted[i].u = weighing_u (fit, reading, own_u);
      double whitened = reading->measured / fit->fitted[i].u;
      fit->measured_square += whitened * whitened;
      fit->n_used++;
    }
  return TRUE;
}

/* Columns in the reverse order of the parameters: a datum, which few rows touch, before a scale, which many do. */
static void
arrange_columns (TrammelFit *fit)
{
  guint n = fit->unknowns.n;

  fit->values = g_new0 (double, n);
  fit->column_of_parameter = g_new (int, n);
  fit->parameter_of_column = g_new (guint, n);
  for (guint i = n; i-- > 0;)
    {
      const TrammelParameter *parameter = &fit->unknowns.parameters[i];
      fit->values[i] = parameter->has_stated ? parameter->stated_value : 0;
      fit->column_of_parameter[i] = -1;
      if (trammel_parameter_is_fixed (parameter))
        continue;
      fit->n_stated += parameter->has_stated ? 1 : 0;
      fit->column_of_parameter[i] = (int)fit->n_columns;
      fit->parameter_of_column[fit->n_columns++] = i;
    }
  fit->covariance = g_new0 (double, (gsize)fit->n_columns * fit->n_columns);
  fit->involved = g_new0 (double, fit->n_columns);
}

/* For a million rows, most of the time would go into the kernel's handing out the memory in pages of 4 kB. Freed with
 * free(). */
static TrammelFitted *
allocate_fitted (gsize n)
{
  gsize size = MAX (n, 1) * sizeof (TrammelFitted);

  if (size < 2 * LARGE_PAGE)
    return malloc (size);
  size = (size + LARGE_PAGE - 1) / LARGE_PAGE * LARGE_PAGE;
  TrammelFitted *fitted = aligned_alloc (LARGE_PAGE, size);
#ifdef MADV_HUGEPAGE
  if (fitted != NULL)
    madvise (fitted, size, MADV_HUGEPAGE); /* advice only: nothing is lost when it is not taken */
#endif
  return fitted;
}

gboolean
trammel_fit_take_rows (TrammelFit *fit, GError **error)
{
  gsize n = fit->input->n_readings;

  fit->fitted = n <= TRAMMEL_MAX_READINGS ? allocate_fitted (n) : NULL;
  if (fit->fitted == NULL)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE, _ ("more than %d readings"), TRAMMEL_MAX_READINGS);
      return FALSE;
    }
  if (!touch_rows (fit, error))
    return FALSE;
  if (fit->n_used == 0)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                           _ ("there is no complete reading; kind, along, nominal and measured are wanted"));
      return FALSE;
    }
  if (!trammel_unknowns_arrange (&fit->unknowns, fit->input, error))
    return FALSE;
  arrange_columns (fit);
  return TRUE;
}
