/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "cli/drift.h"
#include "cli/json-text.h"

static void
write_checks (JsonText *json, const TrammelDriftSeries *series)
{
  json_text_open (json, "checks", '[');
  for (guint i = 0; i < series->checks->len; i++)
    {
      const TrammelDriftCheck *check = &g_array_index (series->checks, TrammelDriftCheck, i);
      g_autofree char *time = trammel_drift_day_to_text (check->day);

      json_text_open (json, NULL, '{');
      json_text_string (json, "time", time);
      json_text_number (json, "value", check->value);
      json_text_number (json, "u", check->u);
      json_text_number (json, "moving_range", check->moving_range);
      json_text_flag (json, "outside", check->is_outside);
      json_text_flag (json, "jump", check->is_jump);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_chart (JsonText *json, const TrammelDriftSeries *series)
{
  if (!series->has_chart)
    {
      json_text_null (json, "chart");
      return;
    }
  json_text_open (json, "chart", '{');
  json_text_number (json, "center", series->chart.center);
  json_text_number (json, "low", series->chart.low);
  json_text_number (json, "high", series->chart.high);
  json_text_number (json, "moving_range", series->chart.range);
  json_text_number (json, "moving_range_high", series->chart.range_high);
  json_text_close (json, '}');
}

static void
write_trend (JsonText *json, const TrammelDriftSeries *series)
{
  if (!series->has_trend)
    {
      json_text_null (json, "trend");
      return;
    }
  json_text_open (json, "trend", '{');
  json_text_number (json, "per_day", series->slope);
  json_text_number (json, "u", series->slope_u);
  json_text_number (json, "low", series->slope_low);
  json_text_number (json, "high", series->slope_high);
  json_text_number (json, "birge", series->birge);
  json_text_flag (json, "significant", series->is_significant);
  json_text_close (json, '}');
}

static void
write_next_check (JsonText *json, const TrammelDriftSeries *series)
{
  g_autofree char *due = trammel_drift_day_to_text (series->due);

  if (!series->has_trend || isnan (series->tolerance))
    {
      json_text_null (json, "next_check");
      return;
    }
  json_text_open (json, "next_check", '{');
  json_text_number (json, "tolerance", series->tolerance);
  json_text_string (json, "due", due);
  json_text_flag (json, "at_once", series->is_due_at_once);
  json_text_close (json, '}');
}

/* The members of an object, the braces not. */
static void
write_series (JsonText *json, const TrammelDriftSeries *series)
{
  write_checks (json, series);
  json_text_integer (json, "set_aside", (gint64)series->n_set_aside);
  write_chart (json, series);
  write_trend (json, series);
  write_next_check (json, series);
}

static void
write_axis (JsonText *json, const TrammelDrift *drift)
{
  const char letter[] = { drift->letter, '\0' };
  g_autofree char *since = trammel_drift_day_to_text (drift->since);

  json_text_open (json, NULL, '{');
  json_text_string (json, "letter", letter);
  json_text_string (json, "since", since);
  write_series (json, &drift->series[TRAMMEL_DRIFT_COUNTS]);
  json_text_open (json, "lash", '{');
  write_series (json, &drift->series[TRAMMEL_DRIFT_LASH]);
  json_text_close (json, '}');
  json_text_open (json, "home", '{');
  write_series (json, &drift->series[TRAMMEL_DRIFT_HOME]);
  json_text_close (json, '}');
  json_text_close (json, '}');
}

void
cli_drift_print_json (const GPtrArray *drifts)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_open (&json, "axes", '[');
  for (guint i = 0; i < drifts->len; i++)
    write_axis (&json, g_ptr_array_index (drifts, i));
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}
