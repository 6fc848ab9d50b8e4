/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/amount.h"
#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "draw/sentences.h"
#include "machine/drift.h"
#include "machine/store.h"

#define DAYS_PER_YEAR 365.25
#define PERCENT 100

static void
write_checks (JsonText *json, const TrammelDrift *drift)
{
  json_text_open (json, "checks", '[');
  for (guint i = 0; i < drift->checks->len; i++)
    {
      const TrammelDriftCheck *check = &g_array_index (drift->checks, TrammelDriftCheck, i);
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
write_chart (JsonText *json, const TrammelDrift *drift)
{
  if (!drift->has_chart)
    {
      json_text_null (json, "chart");
      return;
    }
  json_text_open (json, "chart", '{');
  json_text_number (json, "center", drift->chart.center);
  json_text_number (json, "low", drift->chart.low);
  json_text_number (json, "high", drift->chart.high);
  json_text_number (json, "moving_range", drift->chart.range);
  json_text_number (json, "moving_range_high", drift->chart.range_high);
  json_text_close (json, '}');
}

static void
write_trend (JsonText *json, const TrammelDrift *drift)
{
  g_autofree char *due = trammel_drift_day_to_text (drift->due);

  if (!drift->has_trend)
    {
      json_text_null (json, "trend");
      json_text_null (json, "next_check");
      return;
    }
  json_text_open (json, "trend", '{');
  json_text_number (json, "per_day", drift->slope);
  json_text_number (json, "u", drift->slope_u);
  json_text_number (json, "low", drift->slope_low);
  json_text_number (json, "high", drift->slope_high);
  json_text_number (json, "birge", drift->birge);
  json_text_flag (json, "significant", drift->is_significant);
  json_text_close (json, '}');
  json_text_open (json, "next_check", '{');
  json_text_number (json, "tolerance", drift->tolerance);
  json_text_string (json, "due", due);
  json_text_flag (json, "at_once", drift->is_due_at_once);
  json_text_close (json, '}');
}

static void
print_json (const GPtrArray *drifts)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_open (&json, "axes", '[');
  for (guint i = 0; i < drifts->len; i++)
    {
      const TrammelDrift *drift = g_ptr_array_index (drifts, i);
      const char letter[] = { drift->letter, '\0' };

      json_text_open (&json, NULL, '{');
      json_text_string (&json, "letter", letter);
      write_checks (&json, drift);
      json_text_integer (&json, "set_aside", (gint64)drift->n_set_aside);
      write_chart (&json, drift);
      write_trend (&json, drift);
      json_text_close (&json, '}');
    }
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}

static void
append_check (GString *text, const TrammelDrift *drift, guint i)
{
  const TrammelDriftCheck *check = &g_array_index (drift->checks, TrammelDriftCheck, i);
  g_autofree char *time = trammel_drift_day_to_text (check->day);
  g_autofree char *value = check->u > 0 ? trammel_display_interval (check->value, 1.959963984540054 * check->u)
                                        : trammel_display_significant (check->value, 8);

  g_string_append_printf (text, "   %.10s  %s%s%s\n", time, value, check->is_outside ? _ ("  outside the limits") : "",
                          check->is_jump ? _ ("  a jump") : "");
}

static void
append_chart (GString *text, const TrammelDrift *drift)
{
  g_autofree char *low = trammel_display_significant (drift->chart.low, 8);
  g_autofree char *high = trammel_display_significant (drift->chart.high, 8);
  g_autofree char *range = trammel_display_significant (drift->chart.range_high, 3);

  if (drift->has_chart)
    g_string_append_printf (text, _ ("   Control limits %s to %s; at most %s from one check to the next.\n"), low, high,
                            range);
}

static void
append_due (GString *text, const TrammelDrift *drift)
{
  g_autofree char *due = trammel_drift_day_to_text (drift->due);
  g_autofree char *tolerance = trammel_display_significant (drift->tolerance * PERCENT, 3);

  if (drift->is_due_at_once)
    g_string_append_printf (
        text, _ ("   The checks do not tell the scale within %s %%: check again now, and better.\n"), tolerance);
  else if (due)
    /* translators: a tolerance in percent, then a date */
    g_string_append_printf (text, _ ("   Within %s %% (95 %%) until %.10s: check again by then.\n"), tolerance, due);
  else
    g_string_append_printf (text, _ ("   Within %s %% (95 %%) for ten years to come.\n"), tolerance);
}

static void
append_trend (GString *text, const TrammelDrift *drift)
{
  const double per_year = DAYS_PER_YEAR * PERCENT;
  g_autofree char *slope = NULL;

  if (!drift->has_trend)
    {
      g_string_append (text,
                       _ ("   No trend yet: it takes two checks on different days (three where they have no u).\n"));
      return;
    }
  slope = trammel_display_interval (drift->slope * per_year, (drift->slope_high - drift->slope_low) / 2 * per_year);
  g_string_append_printf (text,
                          drift->is_significant ? _ ("   It drifts: %s %% a year.\n")
                                                : _ ("   No drift can be told: %s %% a year.\n"),
                          slope);
  append_due (text, drift);
}

static void
append_axis (GString *text, const TrammelMachine *machine, const TrammelDrift *drift)
{
  const TrammelAxis *axis = trammel_machine_axis (machine, (gsize)trammel_machine_axis_index (machine, drift->letter));
  g_autofree char *unit = trammel_sentences_counts_unit (axis);

  if (drift->checks->len == 0)
    {
      g_string_append_printf (text, _ ("%c  was never corrected; the log holds no check of it.\n"), drift->letter);
      return;
    }
  g_string_append_printf (text, "%c  %s\n", drift->letter, unit);
  for (guint i = 0; i < drift->checks->len; i++)
    append_check (text, drift, i);
  append_chart (text, drift);
  append_trend (text, drift);
  if (drift->n_set_aside > 0)
    g_string_append (text, _ ("   Checks before another train was put in are left out.\n"));
}

static void
print_words (const TrammelMachine *machine, const GPtrArray *drifts)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < drifts->len; i++)
    append_axis (text, machine, g_ptr_array_index (drifts, i));
  if (drifts->len == 0)
    g_string_append (text, _ ("The machine has no axes.\n"));
  cli_say (stdout, text->str);
}

static gboolean
read_tolerance (const char *typed, double *out, GError **error)
{
  double u;

  *out = TRAMMEL_DRIFT_TOLERANCE;
  if (!typed)
    return TRUE;
  if (!cli_amount_parse ("tolerance", typed, TRAMMEL_DIMENSION_NUMBER, out, &u, error))
    return FALSE;
  if (*out > 0 && *out < 1)
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("--tolerance: found “%s”; a part between 0 and 1 such as 0.1%% is wanted"), typed);
  return FALSE;
}

/* (transfer full) (nullable) */
static GPtrArray *
find_drifts (const TrammelMachine *machine, const char *letter, double tolerance, GError **error)
{
  g_autoptr (GPtrArray) drifts = g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_drift_free);

  for (gsize i = 0; letter || i < trammel_machine_n_axes (machine); i++)
    {
      char asked = letter ? *letter : trammel_axis_letter (trammel_machine_axis (machine, i));
      TrammelDrift *drift = trammel_drift_new (machine, asked, tolerance, error);

      if (!drift)
        return NULL;
      g_ptr_array_add (drifts, drift);
      if (letter)
        break;
    }
  return g_steal_pointer (&drifts);
}

int
cli_drift (const CliVerb *verb, int argc, char **argv)
{
  g_autofree char *axis = NULL;
  g_autofree char *typed_tolerance = NULL;
  gboolean as_json = FALSE;
  const GOptionEntry entries[] = {
    { "axis", 0, 0, G_OPTION_ARG_STRING, &axis, N_ ("This axis only"), "X" },
    { "tolerance", 0, 0, G_OPTION_ARG_STRING, &typed_tolerance, N_ ("Scale drift that is borne (default 0.1%)"),
      "0.1%" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_autofree char *path = NULL;
  g_autoptr (TrammelMachine) machine = NULL;
  g_autoptr (GPtrArray) drifts = NULL;
  g_autoptr (GError) error = NULL;
  double tolerance;
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &path, &status))
    return status;
  if (axis && (strlen (axis) != 1 || !g_ascii_isupper (*axis)))
    return cli_usage_error (verb, _ ("--axis: found “%s”; a letter from A to Z is wanted"), axis);
  if (!read_tolerance (typed_tolerance, &tolerance, &error))
    return cli_usage_error (verb, "%s", error->message);
  machine = trammel_store_load (path, &error);
  if (!machine)
    return cli_input_error (NULL, error);
  drifts = find_drifts (machine, axis, tolerance, &error);
  if (!drifts)
    return cli_input_error (path, error);
  if (as_json)
    print_json (drifts);
  else
    print_words (machine, drifts);
  return CLI_DONE;
}
