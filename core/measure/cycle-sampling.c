/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/cycles.h"

#include <math.h>

#define N_SPACINGS 4000
/* The shortest spacing that is offered, against the longest. */
#define SHORTEST 0.7

/* Length of the mean of n unit vectors whose phases rise by @step: |sin (n·step/2)/(n·sin (step/2))|. */
static double
mean_vector (double step, guint n)
{
  const double below = sin (step / 2);

  return fabs (below) < 1e-12 ? 1 : fabs (sin (n * step / 2) / (n * below));
}

/* How evenly equidistant targets meet a cycle: 1 minus the length of the mean of its phases as unit vectors; of the
 * doubled phases too, since opposite phases alone show only one of sine and cosine. */
static double
evenness (double period, double spacing, guint n_targets)
{
  const double step = 2 * G_PI * spacing / period;

  return 1 - fmax (mean_vector (step, n_targets), mean_vector (2 * step, n_targets));
}

static double
worst_evenness (const TrammelTurningPart *parts, gsize n_parts, double spacing, guint n_targets)
{
  double worst = 1;

  for (gsize i = 0; i < n_parts; i++)
    for (guint order = 1; order <= TRAMMEL_CYCLE_ORDERS; order++)
      worst = fmin (worst, evenness (parts[i].travel_per_turn / order, spacing, n_targets));
  return worst;
}

double
trammel_cycles_propose_spacing (const TrammelTurningPart *parts, gsize n_parts, double length, guint n_targets,
                                double *coverage)
{
  g_return_val_if_fail (parts != NULL || n_parts == 0, NAN);
  g_return_val_if_fail (length > 0 && n_targets >= 2, NAN);

  const double longest = length / (n_targets - 1);
  double best = longest, best_evenness = -1;

  /* From the longest down, so that of equals the one that covers more of the axis is proposed */
  for (guint i = 0; i <= N_SPACINGS; i++)
    {
      const double spacing = longest * (1 - (1 - SHORTEST) * i / N_SPACINGS);
      const double even = worst_evenness (parts, n_parts, spacing, n_targets);
      if (even > best_evenness + 0.01)
        {
          best_evenness = even;
          best = spacing;
        }
    }
  if (coverage != NULL)
    *coverage = best_evenness;
  return best;
}
