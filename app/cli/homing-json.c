/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "cli/homing.h"
#include "cli/json-text.h"

static void
write_interval (JsonText *json, const char *key, double low, double high)
{
  json_text_open (json, key, '{');
  json_text_number (json, "low", low);
  json_text_number (json, "high", high);
  json_text_number (json, "confidence", TRAMMEL_HOMING_CONFIDENCE);
  json_text_close (json, '}');
}

static void
write_tolerance (JsonText *json, const TrammelHoming *homing)
{
  json_text_open (json, "tolerance", '{');
  json_text_number (json, "low", homing->tolerance_low);
  json_text_number (json, "high", homing->tolerance_high);
  json_text_number (json, "coverage", TRAMMEL_HOMING_COVERAGE);
  json_text_number (json, "confidence", TRAMMEL_HOMING_CONFIDENCE);
  json_text_string (json, "method", "exact");
  json_text_number (json, "factor", homing->factor);
  json_text_number (json, "factor_howe", homing->factor_howe);
  json_text_close (json, '}');
}

static void
write_figures (JsonText *json, const TrammelHoming *homing)
{
  json_text_integer (json, "n", (gint64)homing->n);
  json_text_number (json, "mean", homing->mean);
  json_text_number (json, "s", homing->s);
  json_text_number (json, "low", homing->low);
  json_text_number (json, "high", homing->high);
  json_text_number (json, "range", homing->range);
  json_text_open (json, "drift", '{');
  json_text_number (json, "slope", homing->drift.slope);
  json_text_number (json, "u", homing->drift.u);
  json_text_number (json, "p_value", homing->drift.p_value);
  json_text_close (json, '}');
}

static void
write_outliers (JsonText *json, const TrammelHomingSet *set)
{
  json_text_open (json, "outliers", '[');
  for (guint i = 0; i < set->outliers->len; i++)
    {
      const TrammelHomingOutlier *outlier = &g_array_index (set->outliers, TrammelHomingOutlier, i);

      json_text_open (json, NULL, '{');
      json_text_integer (json, "index", (gint64)set->indices[outlier->index]);
      json_text_number (json, "measured", set->values[outlier->index]);
      json_text_number (json, "g", outlier->g);
      json_text_number (json, "critical", outlier->critical);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

/* The members of an object, the braces not. */
static void
write_set (JsonText *json, const TrammelHomingSet *set)
{
  write_figures (json, &set->homing);
  write_outliers (json, set);
  write_interval (json, "prediction", set->homing.prediction_low, set->homing.prediction_high);
  write_tolerance (json, &set->homing);
  if (!set->has_rest)
    {
      json_text_null (json, "without_outliers");
      return;
    }
  json_text_open (json, "without_outliers", '{');
  write_figures (json, &set->without_outliers);
  write_interval (json, "prediction", set->without_outliers.prediction_low, set->without_outliers.prediction_high);
  write_tolerance (json, &set->without_outliers);
  json_text_close (json, '}');
}

static void
write_comparison (JsonText *json, const CliHomingAnswer *answer)
{
  const TrammelHomingComparison *compared = &answer->report->comparison;

  json_text_open (json, "comparison", '{');
  json_text_open (json, "groups", '[');
  json_text_string (json, NULL, answer->report->groups[0].name);
  json_text_string (json, NULL, answer->report->groups[1].name);
  json_text_close (json, ']');
  json_text_open (json, "f_test", '{');
  json_text_number (json, "ratio", compared->ratio);
  json_text_number (json, "p_value", compared->f_p);
  json_text_close (json, '}');
  json_text_open (json, "welch", '{');
  json_text_number (json, "difference", compared->difference);
  json_text_number (json, "u", compared->u);
  json_text_number (json, "t", compared->t);
  json_text_number (json, "dof", compared->freedom);
  json_text_number (json, "p_value", compared->t_p);
  json_text_close (json, '}');
  json_text_close (json, '}');
}

static void
write_groups (JsonText *json, const CliHomingAnswer *answer)
{
  if (answer->report->n_groups == 0)
    return;
  json_text_open (json, "groups", '[');
  for (gsize i = 0; i < answer->report->n_groups; i++)
    {
      json_text_open (json, NULL, '{');
      json_text_string (json, "group", answer->report->groups[i].name);
      write_set (json, &answer->report->groups[i]);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
  if (answer->report->has_comparison)
    write_comparison (json, answer);
}

static void
write_readings (JsonText *json, const CliHomingAnswer *answer)
{
  gsize n;
  const TrammelHomingRow *rows = trammel_homing_rows_get (answer->rows, &n);

  json_text_open (json, "readings", '[');
  for (gsize i = 0; i < n; i++)
    {
      json_text_open (json, NULL, '{');
      json_text_integer (json, "index", (gint64)rows[i].index);
      json_text_number (json, "measured", rows[i].measured);
      json_text_number (json, "run", rows[i].run);
      json_text_string (json, "group", rows[i].group);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_layer (JsonText *json, const CliHomingAnswer *answer)
{
  g_autofree char *meaning = trammel_homing_meaning (&answer->report->all.homing, answer->layer);

  if (!answer->has_layer)
    {
      json_text_null (json, "layer");
      return;
    }
  json_text_open (json, "layer", '{');
  json_text_number (json, "height", answer->layer);
  json_text_string (json, "meaning", meaning);
  json_text_close (json, '}');
}

void
cli_homing_print_json (const CliHomingAnswer *answer)
{
  const char letter[] = { answer->axis, '\0' };
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  if (answer->axis != '\0')
    json_text_string (&json, "axis", letter);
  else
    json_text_null (&json, "axis");
  write_set (&json, &answer->report->all);
  write_layer (&json, answer);
  if (answer->has_floor)
    {
      json_text_open (&json, "floor", '{');
      json_text_number (&json, "range", answer->floor.range);
      json_text_number (&json, "s", answer->floor.s);
      json_text_close (&json, '}');
    }
  if (answer->has_offset)
    {
      json_text_open (&json, "offset", '{');
      json_text_integer (&json, "n", (gint64)answer->n_touches);
      json_text_number (&json, "value", answer->offset.value);
      json_text_number (&json, "u", answer->offset.u);
      json_text_number (&json, "dof", answer->offset.freedom);
      json_text_number (&json, "low", answer->offset.low);
      json_text_number (&json, "high", answer->offset.high);
      json_text_close (&json, '}');
    }
  write_groups (&json, answer);
  write_readings (&json, answer);
  json_text_close (&json, '}');
  json_text_print (&json);
}
