/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/periodogram.h"

#include <math.h>

#define FEWEST_PLACES 8
#define MOST_PLACES 1024
/* Frequencies for each that the range can resolve. */
#define OVERSAMPLING 5

static double
power_at (const double *x, const double *y, gsize n, double frequency)
{
  double sine_2 = 0, cosine_2 = 0, y_cos = 0, y_sin = 0, cos_cos = 0, sin_sin = 0;

  for (gsize i = 0; i < n; i++)
    {
      sine_2 += sin (2 * frequency * x[i]);
      cosine_2 += cos (2 * frequency * x[i]);
    }
  const double shift = atan2 (sine_2, cosine_2) / 2;
  for (gsize i = 0; i < n; i++)
    {
      const double c = cos (frequency * x[i] - shift), s = sin (frequency * x[i] - shift);
      y_cos += y[i] * c;
      y_sin += y[i] * s;
      cos_cos += c * c;
      sin_sin += s * s;
    }
  return ((cos_cos > 0 ? y_cos * y_cos / cos_cos : 0) + (sin_sin > 0 ? y_sin * y_sin / sin_sin : 0)) / 2;
}

void
trammel_lomb_scargle (const double *x, const double *y, gsize n, const double *frequency, gsize n_frequencies,
                      double *power)
{
  g_return_if_fail ((x != NULL && y != NULL) || n == 0);
  g_return_if_fail (frequency != NULL && power != NULL);

  for (gsize i = 0; i < n_frequencies; i++)
    power[i] = power_at (x, y, n, frequency[i]);
}

/* Mean deviations less the line, at places in rising order. */
typedef struct
{
  double *x, *y;
  gsize n;
} Places;

static void
places_clear (Places *places)
{
  g_free (places->x);
  g_free (places->y);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Places, places_clear)

static void
gather (const TrammelPositions *positions, Places *places)
{
  gsize n_targets;
  const TrammelPositionTarget *targets = trammel_positions_targets_after (positions, &n_targets);
  const gsize n = MIN (n_targets, MOST_PLACES);

  places->x = g_new0 (double, n);
  places->y = g_new0 (double, n);
  places->n = n;
  g_autofree guint *count = g_new0 (guint, n);
  for (gsize i = 0; i < n_targets; i++)
    {
      const gsize place = i * n / n_targets;
      places->x[place] += targets[i].target;
      places->y[place] += targets[i].mean;
      count[place]++;
    }
  double mean = 0;
  for (gsize i = 0; i < n; i++)
    {
      places->x[i] /= count[i];
      places->y[i] /= count[i];
      mean += places->y[i] / (double)n;
    }
  for (gsize i = 0; i < n; i++)
    places->y[i] -= mean;
}

static double
sum_of_squares (const Places *places)
{
  double square = 0;

  for (gsize i = 0; i < places->n; i++)
    square += places->y[i] * places->y[i];
  return square;
}

/* Of a peak @power among @n values with the sum of squares @square. */
static double
chance_of_peak (double power, double square, gsize n)
{
  const double left = square > 0 ? 1 - 2 * power / square : 1;
  const double of_one = left > 0 ? pow (left, ((double)n - 4) / 2) : 0;

  return of_one < 1 ? -expm1 ((double)n * log1p (-of_one)) : 1;
}

gboolean
trammel_periodogram_search (const TrammelPositions *positions, TrammelPeriodFound *out)
{
  g_auto (Places) places = { NULL };

  g_return_val_if_fail (positions != NULL && out != NULL, FALSE);

  gather (positions, &places);
  if (places.n < FEWEST_PLACES)
    return FALSE;
  const double range = places.x[places.n - 1] - places.x[0];
  const double lowest = 2 * 2 * G_PI / range;
  const double highest = G_PI * (double)(places.n - 1) / range;
  const double step = 2 * G_PI / range / OVERSAMPLING;
  double best = 0, frequency = lowest;

  for (gsize i = 0; lowest + (double)i * step <= highest * (1 + 1e-9); i++)
    {
      const double power = power_at (places.x, places.y, places.n, lowest + (double)i * step);
      if (power > best)
        {
          best = power;
          frequency = lowest + (double)i * step;
        }
    }
  out->period = 2 * G_PI / frequency;
  out->amplitude = sqrt (4 * best / (double)places.n);
  out->p_value = chance_of_peak (best, sum_of_squares (&places), places.n);
  return TRUE;
}
