/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/model-private.h"

#include <math.h>

static inline void
depend (TrammelModelRow *row, int parameter, double derivative)
{
  if (parameter < 0)
    {
      row->complete = FALSE;
      return;
    }
  row->parameter[row->n] = (gint16)parameter;
  row->derivative[row->n++] = derivative;
}

static inline double
value_at (const double *values, int parameter)
{
  return parameter < 0 ? 0 : values[parameter];
}

/* |A v| along one axis. Left without the bars: the same wherever 1+e > 0, and linear. */
static inline double
landed_along_axis (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading, double shrunk,
                   TrammelModelRow *row)
{
  int scale = unknowns->scale[reading->along.axes[0] - 'A'];

  depend (row, scale, reading->nominal * shrunk);
  return (1 + value_at (values, scale)) * reading->nominal;
}

/* |A v| for v = nominal · vector; derivatives are multiplied by @shrunk. */
static double
landed_length (const TrammelUnknowns *unknowns, const double *values, const double vector[3], double nominal,
               double shrunk, TrammelModelRow *row)
{
  const gint16 *scales = &unknowns->scale['X' - 'A'];
  double w[3], half_gradient[3];
  double square = 0;

  for (int i = 0; i < 3; i++)
    {
      w[i] = half_gradient[i] = vector[i] == 0 ? 0 : (1 + value_at (values, scales[i])) * vector[i] * nominal;
      square += w[i] * w[i];
    }
  for (int k = 0; k < TRAMMEL_N_SKEWS; k++)
    {
      int i = trammel_skew_axes[k][0], j = trammel_skew_axes[k][1];
      double sine = sin (value_at (values, unknowns->skew[k]));
      square -= 2 * w[i] * w[j] * sine;
      half_gradient[i] -= w[j] * sine;
      half_gradient[j] -= w[i] * sine;
    }

  double length = sqrt (MAX (square, 0));
  double per_length = length > 0 ? shrunk / length : 0;
  for (int i = 0; i < 3; i++)
    if (vector[i] != 0)
      depend (row, scales[i], vector[i] * nominal * half_gradient[i] * per_length);
  for (int k = 0; k < TRAMMEL_N_SKEWS; k++)
    {
      int i = trammel_skew_axes[k][0], j = trammel_skew_axes[k][1];
      if (vector[i] != 0 && vector[j] != 0)
        depend (row, unknowns->skew[k], -w[i] * w[j] * cos (value_at (values, unknowns->skew[k])) * per_length);
    }
  return length;
}

static double
landed (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading, double shrunk,
        TrammelModelRow *row)
{
  double vector[3];

  if (reading->along.axes[1] == '\0')
    return landed_along_axis (unknowns, values, reading, shrunk, row);
  trammel_direction_vector (&reading->along, vector);
  return landed_length (unknowns, values, vector, reading->nominal, shrunk, row);
}

double
trammel_model_bead_reach (const TrammelReading *reading)
{
  double vector[3];

  if (reading->kind != TRAMMEL_READING_OUTSIDE && reading->kind != TRAMMEL_READING_INSIDE)
    return 0;
  trammel_direction_vector (&reading->along, vector);
  double reach = 2 * (fabs (vector[0]) + fabs (vector[1]));
  return reading->kind == TRAMMEL_READING_OUTSIDE ? reach : -reach;
}

static void
evaluate_printed (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading,
                  TrammelModelRow *row)
{
  double shrunk = 1 - value_at (values, unknowns->shrink);
  double length = landed (unknowns, values, reading, shrunk, row);
  double reach = trammel_model_bead_reach (reading);

  row->predicted = length * shrunk;
  depend (row, unknowns->shrink, -length);
  if (reading->kind == TRAMMEL_READING_HEIGHT)
    {
      row->predicted += value_at (values, unknowns->foot);
      depend (row, unknowns->foot, 1);
    }
  if (reach != 0)
    {
      row->predicted += reach * value_at (values, unknowns->bead);
      depend (row, unknowns->bead, reach);
    }
}

static inline void
lose_lash (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading, double share,
           TrammelLashSource source, TrammelModelRow *row)
{
  int lash = unknowns->lash[reading->along.axes[0] - 'A'][source];

  row->predicted -= share * value_at (values, lash);
  depend (row, lash, -share);
}

static void
evaluate_length (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading, int datum,
                 TrammelModelRow *row)
{
  if (trammel_reading_kind_is_printed (reading->kind))
    {
      evaluate_printed (unknowns, values, reading, row);
      return;
    }

  if (reading->kind == TRAMMEL_READING_REVERSAL)
    {
      row->predicted = 0;
      lose_lash (unknowns, values, reading, -1, TRAMMEL_LASH_FROM_REVERSALS, row);
      return;
    }
  row->predicted = landed (unknowns, values, reading, 1, row);
  if (reading->kind == TRAMMEL_READING_TRAVEL)
    {
      if (reading->approach == TRAMMEL_APPROACH_REVERSED)
        lose_lash (unknowns, values, reading, 1, TRAMMEL_LASH_FROM_TRAVEL, row);
      return;
    }

  int parameter = datum < 0 ? -1 : (int)unknowns->first_datum + datum;
  row->predicted += value_at (values, parameter);
  depend (row, parameter, 1);
  if (reading->approach == TRAMMEL_APPROACH_UP)
    lose_lash (unknowns, values, reading, 0.5, TRAMMEL_LASH_FROM_POSITIONS, row);
  else if (reading->approach == TRAMMEL_APPROACH_DOWN)
    lose_lash (unknowns, values, reading, -0.5, TRAMMEL_LASH_FROM_POSITIONS, row);
}

/* What the instrument shows of the length in @row. */
static void
show_by_instrument (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading,
                    TrammelModelRow *row)
{
  const TrammelGauge *gauge = trammel_unknowns_gauge (unknowns, reading);
  const int scale = gauge != NULL ? gauge->scale : -1;
  double correction = 1;

  if (gauge != NULL)
    correction += gauge->strain;
  if (trammel_reading_kind_is_printed (reading->kind))
    correction -= unknowns->part_strain;

  const double length = row->predicted / correction;
  const double factor = (1 + value_at (values, scale)) / correction;
  row->predicted *= factor;
  for (guint i = 0; i < row->n; i++)
    row->derivative[i] *= factor;
  if (gauge != NULL && gauge->scale_u > 0)
    depend (row, scale, length);
}

void
trammel_model_evaluate (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading, int datum,
                        TrammelModelRow *row)
{
  row->n = 0;
  row->complete = TRUE;
  evaluate_length (unknowns, values, reading, datum, row);
  if (unknowns->gauges->len > 0 || unknowns->part_strain != 0)
    show_by_instrument (unknowns, values, reading, row);
}
