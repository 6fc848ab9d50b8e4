/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/time-ticks.h"

#include <math.h>

#define SECONDS_PER_DAY 86400.0
#define MONTHS_PER_YEAR 12
#define MOST_POWERS 4 /* of ten years */

typedef enum
{
  HOURS,
  DAYS,
  MONTHS,
} Kind;

typedef struct
{
  Kind kind;
  int by;
} Step;

/* From fine to coarse; further ones are 1, 2, 5, 10, … years. Days begin anew with each month. */
static const Step steps[] = {
  { HOURS, 1 }, { HOURS, 3 }, { HOURS, 6 },  { HOURS, 12 }, { DAYS, 1 },   { DAYS, 2 },   { DAYS, 5 },
  { DAYS, 10 }, { DAYS, 15 }, { MONTHS, 1 }, { MONTHS, 2 }, { MONTHS, 3 }, { MONTHS, 6 },
};

static Step
step_at (guint i)
{
  static const int digits[] = { 1, 2, 5 };

  if (i < G_N_ELEMENTS (steps))
    return steps[i];
  i -= G_N_ELEMENTS (steps);
  return (Step){ MONTHS, MONTHS_PER_YEAR * digits[i % 3] * (int)pow (10, i / 3) };
}

static double
day_of (GDateTime *time)
{
  return (double)g_date_time_to_unix (time) / SECONDS_PER_DAY;
}

/* Days 1, 1 + by, … of a month; what would stand close to the next 1st gives way to it. */
static gboolean
is_close_to_next_month (int day, int by)
{
  return day > 31 - by / 2;
}

/* The last place at or before @low; (nullable) */
static GDateTime *
place_before (double low, Step step)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_unix_utc ((gint64)floor (low * SECONDS_PER_DAY));

  if (!time)
    return NULL;
  const int year = g_date_time_get_year (time), month = g_date_time_get_month (time);
  const int day = g_date_time_get_day_of_month (time), hour = g_date_time_get_hour (time);
  if (step.kind == HOURS)
    return g_date_time_new_utc (year, month, day, hour / step.by * step.by, 0, 0);
  if (step.kind == DAYS)
    {
      const int place = (day - 1) / step.by * step.by + 1;
      return g_date_time_new_utc (year, month, is_close_to_next_month (place, step.by) ? place - step.by : place, 0, 0,
                                  0);
    }
  const int months = (year * MONTHS_PER_YEAR + month - 1) / step.by * step.by;
  return g_date_time_new_utc (MAX (months / MONTHS_PER_YEAR, 1), months % MONTHS_PER_YEAR + 1, 1, 0, 0, 0);
}

/* (nullable) */
static GDateTime *
place_after (GDateTime *place, Step step)
{
  if (step.kind == HOURS)
    return g_date_time_add_hours (place, step.by);
  if (step.kind == MONTHS)
    return g_date_time_add_months (place, step.by);
  g_autoptr (GDateTime) next = g_date_time_add_days (place, step.by);
  if (next && g_date_time_get_month (next) == g_date_time_get_month (place)
      && !is_close_to_next_month (g_date_time_get_day_of_month (next), step.by))
    return g_steal_pointer (&next);
  g_autoptr (GDateTime) first
      = g_date_time_new_utc (g_date_time_get_year (place), g_date_time_get_month (place), 1, 0, 0, 0);
  return g_date_time_add_months (first, 1);
}

static char *
text_of (GDateTime *place, Step step)
{
  if (step.kind == HOURS && g_date_time_get_hour (place) > 0)
    return g_date_time_format (place, "%H:%M");
  if (step.kind == HOURS || step.kind == DAYS)
    return g_date_time_format (place, "%Y-%m-%d");
  return g_date_time_format (place, step.by % MONTHS_PER_YEAR == 0 ? "%Y" : "%Y-%m");
}

static void
tick_clear (gpointer tick)
{
  g_free (((TrammelTimeTick *)tick)->text);
}

/* FALSE: there are more than @most. */
static gboolean
fill (GArray *ticks, double low, double high, int most, Step step)
{
  GDateTime *place = place_before (low, step);

  g_array_set_size (ticks, 0);
  while (place && day_of (place) <= high && ticks->len <= (guint)most)
    {
      GDateTime *next = place_after (place, step);
      const TrammelTimeTick tick = { day_of (place), text_of (place, step) };
      g_array_append_val (ticks, tick);
      if (tick.day < low)
        g_array_set_size (ticks, 0);
      g_date_time_unref (place);
      place = next;
    }
  g_clear_pointer (&place, g_date_time_unref);
  return ticks->len <= (guint)most;
}

GArray *
trammel_time_ticks (double low, double high, int most)
{
  GArray *ticks = g_array_new (FALSE, FALSE, sizeof (TrammelTimeTick));

  g_array_set_clear_func (ticks, tick_clear);
  g_return_val_if_fail (isfinite (low) && isfinite (high) && low < high, ticks);

  most = MAX (most, 2);
  for (guint i = 0; i < G_N_ELEMENTS (steps) + 3 * MOST_POWERS && !fill (ticks, low, high, most, step_at (i)); i++)
    ;
  return ticks;
}
