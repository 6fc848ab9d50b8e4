/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/drift.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

#define SECONDS_PER_DAY 86400.0
#define SAME_NOMINAL 1e-9

/* A change of the axis in the log. */
typedef struct
{
  gsize entry;
  double day;
  const TrammelLogChange *change;
  gboolean is_put_right; /* the nominal is in force, which no reading was needed for */
} Event;

static gboolean
day_of (const char *time, double *out)
{
  g_autoptr (GTimeZone) utc = g_time_zone_new_utc ();
  g_autoptr (GDateTime) parsed = g_date_time_new_from_iso8601 (time, utc);

  if (parsed == NULL)
    return FALSE;
  *out = ((double)g_date_time_to_unix (parsed) + g_date_time_get_microsecond (parsed) / 1e6) / SECONDS_PER_DAY;
  return TRUE;
}

static int
compare_events (gconstpointer a, gconstpointer b)
{
  const Event *one = a, *other = b;

  if (one->day != other->day)
    return one->day < other->day ? -1 : 1;
  return one->entry < other->entry ? -1 : one->entry > other->entry;
}

static gboolean
has_value (const TrammelLogChange *change)
{
  return isfinite (change->after) && change->after != 0;
}

/* An entry from before the log knew nominals tells it by its note: an adoption has none. */
static gboolean
is_put_right (const TrammelLogEntry *entry, const TrammelLogChange *change)
{
  if (!has_value (change) || change->after_u != 0)
    return FALSE;
  return change->nominal > 0 ? fabs (change->after / change->nominal - 1) < SAME_NOMINAL : entry->note != NULL;
}

/* (transfer full): the changes of axis @letter in the order of time. */
static GArray *
events_of (const TrammelMachine *machine, char letter)
{
  GArray *events = g_array_new (FALSE, FALSE, sizeof (Event));

  for (gsize i = 0; i < trammel_machine_n_log (machine); i++)
    {
      const TrammelLogEntry *entry = trammel_machine_log (machine, i);

      for (gsize k = 0; k < entry->n_changes; k++)
        {
          Event event = { .entry = i, .change = &entry->changes[k] };

          if (event.change->letter != letter || !day_of (entry->time, &event.day))
            continue;
          event.is_put_right = is_put_right (entry, event.change);
          g_array_append_val (events, event);
        }
    }
  g_array_sort (events, compare_events);
  return events;
}

/* The first event of the train that is there now. */
static guint
find_beginning (const GArray *events)
{
  double value = NAN, nominal = NAN;
  guint first = 0;

  for (guint i = 0; i < events->len; i++)
    {
      const Event *event = &g_array_index (events, Event, i);
      const double new_value = has_value (event->change) ? event->change->after : value;
      const double new_nominal = event->change->nominal > 0 ? event->change->nominal : nominal;

      if (event->is_put_right || fabs (new_nominal / nominal - 1) > SAME_NOMINAL
          || fabs (new_value / value - 1) > TRAMMEL_DRIFT_BREAK)
        first = i;
      value = new_value;
      nominal = new_nominal;
    }
  return first;
}

/* NaN where nothing went before. */
static double
beginning_of (const GArray *events, guint first)
{
  if (events->len == 0)
    return NAN;
  const Event *event = &g_array_index (events, Event, first);
  return first > 0 || event->is_put_right ? event->day : NAN;
}

static double
u_of_scatter (double s, double freedom)
{
  return s / sqrt (2 * freedom);
}

static gboolean
take_value (TrammelDriftQuantity quantity, const Event *event, TrammelDriftCheck *check)
{
  const TrammelLogChange *change = event->change;

  switch (quantity)
    {
    case TRAMMEL_DRIFT_LASH:
      check->value = change->lash.value;
      check->u = change->lash.u;
      return change->has_lash;
    case TRAMMEL_DRIFT_HOME:
      check->value = change->home.s;
      check->freedom = (double)change->home.dof;
      check->u = u_of_scatter (check->value, check->freedom);
      return change->has_home;
    case TRAMMEL_DRIFT_COUNTS:
    default:
      check->value = change->after;
      check->u = change->after_u;
      return has_value (change) && !event->is_put_right;
    }
}

static void
take_checks (TrammelDriftSeries *series, TrammelDriftQuantity quantity, const GArray *events, guint first)
{
  for (guint i = 0; i < events->len; i++)
    {
      const Event *event = &g_array_index (events, Event, i);
      TrammelDriftCheck check = { .entry = event->entry, .day = event->day, .freedom = NAN, .moving_range = NAN };

      if (!take_value (quantity, event, &check))
        continue;
      check.u_in_trend = check.u;
      if (i < first)
        series->n_set_aside++;
      else
        g_array_append_val (series->checks, check);
    }
}

static void
weigh_by_pooled_scatter (TrammelDriftSeries *series)
{
  double squares = 0, freedom = 0;

  for (guint i = 0; i < series->checks->len; i++)
    {
      const TrammelDriftCheck *check = &g_array_index (series->checks, TrammelDriftCheck, i);

      squares += check->freedom * check->value * check->value;
      freedom += check->freedom;
    }
  for (guint i = 0; i < series->checks->len; i++)
    {
      TrammelDriftCheck *check = &g_array_index (series->checks, TrammelDriftCheck, i);

      check->u_in_trend = u_of_scatter (sqrt (squares / freedom), check->freedom);
    }
}

static void
follow_homing (TrammelDriftSeries *series)
{
  weigh_by_pooled_scatter (series);
  trammel_drift_series_work_out (series, FALSE);
  series->chart.low = MAX (series->chart.low, 0);
}

TrammelDrift *
trammel_drift_new (const TrammelMachine *machine, char letter, double tolerance, double lash_tolerance, GError **error)
{
  g_return_val_if_fail (machine != NULL && tolerance > 0, NULL);
  g_return_val_if_fail (isnan (lash_tolerance) || lash_tolerance > 0, NULL);

  if (trammel_machine_axis_index (machine, letter) < 0)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("the machine has no axis %c"), letter);
      return NULL;
    }
  const double tolerances[TRAMMEL_N_DRIFT_QUANTITIES]
      = { [TRAMMEL_DRIFT_COUNTS] = tolerance, [TRAMMEL_DRIFT_LASH] = lash_tolerance, [TRAMMEL_DRIFT_HOME] = NAN };
  g_autoptr (GArray) events = events_of (machine, letter);
  const guint first = find_beginning (events);
  TrammelDrift *drift = g_new0 (TrammelDrift, 1);
  drift->letter = letter;
  drift->since = beginning_of (events, first);
  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    {
      trammel_drift_series_init (&drift->series[i], tolerances[i]);
      take_checks (&drift->series[i], (TrammelDriftQuantity)i, events, first);
    }
  trammel_drift_series_work_out (&drift->series[TRAMMEL_DRIFT_COUNTS], TRUE);
  trammel_drift_series_work_out (&drift->series[TRAMMEL_DRIFT_LASH], FALSE);
  follow_homing (&drift->series[TRAMMEL_DRIFT_HOME]);
  return drift;
}

void
trammel_drift_free (TrammelDrift *drift)
{
  if (drift == NULL)
    return;
  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    trammel_drift_series_clear (&drift->series[i]);
  g_free (drift);
}

char *
trammel_drift_day_to_text (double day)
{
  g_autoptr (GDateTime) time = isfinite (day) ? g_date_time_new_from_unix_utc ((gint64)(day * SECONDS_PER_DAY)) : NULL;

  return time != NULL ? g_date_time_format (time, "%Y-%m-%dT%H:%M:%SZ") : NULL;
}
