/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/compensation.h"

#include <math.h>

#include "base/number.h"

#define ROWS_OF_A_PERIOD 16
/* Finer than any axis goes. */
#define STEPS_PER_UNIT 1e5

static gboolean
takes_part (const TrammelCycle *cycle)
{
  return cycle->significant && cycle->sight == TRAMMEL_CYCLE_SEEN;
}

static double
cycles_at (const GArray *cycles, double place)
{
  double sum = 0;

  for (guint i = 0; cycles != NULL && i < cycles->len; i++)
    {
      const TrammelCycle *cycle = &g_array_index (cycles, TrammelCycle, i);
      if (takes_part (cycle))
        sum += cycle->amplitude * cos (2 * G_PI * place / cycle->period - cycle->phase);
    }
  return sum;
}

/* How far apart rows may be; infinite without cycles. */
static double
longest_step (const GArray *cycles)
{
  double step = INFINITY;

  for (guint i = 0; cycles != NULL && i < cycles->len; i++)
    if (takes_part (&g_array_index (cycles, TrammelCycle, i)))
      step = fmin (step, g_array_index (cycles, TrammelCycle, i).period / ROWS_OF_A_PERIOD);
  return step;
}

/* What was found, in the targets of the test. */
typedef struct
{
  const TrammelPositionTarget *targets;
  gsize n;
  double datum;
  const GArray *cycles;
  gsize gap; /* between this target and the next one the last place lay */
} Found;

static double
left_at_target (const Found *found, gsize i)
{
  const TrammelPositionTarget *target = &found->targets[i];
  return target->mean - found->datum - cycles_at (found->cycles, target->target);
}

/* Places are asked for in rising order. Beyond the targets what is left stays as it is at the last. */
static double
deviation_at (Found *found, double place)
{
  while (found->gap + 2 < found->n && found->targets[found->gap + 1].target < place)
    found->gap++;
  const double from = left_at_target (found, found->gap);
  if (found->n < 2)
    return from + cycles_at (found->cycles, place);
  const double low = found->targets[found->gap].target, high = found->targets[found->gap + 1].target;
  const double share = CLAMP ((place - low) / (high - low), 0, 1);
  return from + share * (left_at_target (found, found->gap + 1) - from) + cycles_at (found->cycles, place);
}

GArray *
trammel_compensation_table (const TrammelPositions *positions, const GArray *cycles)
{
  gsize n;
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (TrammelCompensation));

  g_return_val_if_fail (positions != NULL, rows);

  const TrammelPositionTarget *targets = trammel_positions_targets_after (positions, &n);
  const TrammelPositionLine line = trammel_positions_line (positions);
  Found found = { targets, n, line.datum, cycles, 0 };
  if (n == 0 || isnan (line.datum) || !(line.scale_error > -1))
    return rows;

  double step = longest_step (cycles);
  if ((double)n + (targets[n - 1].target - targets[0].target) / step > TRAMMEL_COMPENSATION_MOST_ROWS)
    step = INFINITY;
  for (gsize i = 0; i < n; i++)
    {
      const double here = targets[i].target, gap = i + 1 < n ? targets[i + 1].target - here : 0;
      const guint parts = gap > step ? (guint)ceil (gap / step * (1 - 1e-9)) : 1;
      for (guint k = 0; k < parts; k++)
        {
          const double target = here + gap * k / parts;
          const TrammelCompensation row = { target, -deviation_at (&found, target / (1 + line.scale_error)) };
          g_array_append_val (rows, row);
        }
    }
  return rows;
}

static void
append_number (GString *text, double value, char end)
{
  /* No minus before a zero */
  g_autofree char *number = trammel_number_to_text (round (value * STEPS_PER_UNIT) / STEPS_PER_UNIT + 0.0);
  g_string_append (text, number);
  g_string_append_c (text, end);
}

char *
trammel_compensation_to_text (const TrammelPositions *positions, const GArray *cycles)
{
  g_return_val_if_fail (positions != NULL, NULL);

  g_autoptr (GArray) rows = trammel_compensation_table (positions, cycles);
  GString *text = g_string_new (NULL);

  for (guint i = 0; i < rows->len; i++)
    {
      append_number (text, g_array_index (rows, TrammelCompensation, i).target, '\t');
      append_number (text, g_array_index (rows, TrammelCompensation, i).correction, '\n');
    }
  return g_string_free (text, FALSE);
}
