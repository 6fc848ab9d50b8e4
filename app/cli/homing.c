/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/homing.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/amount.h"
#include "cli/console.h"

#define USUAL_LAYER 0.2 /* mm; common practice, no source */

/* As typed; NULL for what was not. */
typedef struct
{
  char *readings, *set, *speed, *poll, *layer, *touch, *gauge;
  gboolean as_json;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->readings);
  g_free (options->set);
  g_free (options->speed);
  g_free (options->poll);
  g_free (options->layer);
  g_free (options->touch);
  g_free (options->gauge);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static void
set_clear (CliHomingSet *set)
{
  g_free (set->values);
  g_clear_pointer (&set->outliers, g_array_unref);
}

static void
answer_clear (CliHomingAnswer *answer)
{
  set_clear (&answer->all);
  for (gsize i = 0; i < answer->n_groups; i++)
    set_clear (&answer->groups[i]);
  g_free (answer->groups);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (CliHomingAnswer, answer_clear)

/* --- what was typed --- */

static gboolean
read_positive (const char *option, const char *typed, TrammelDimension dimension, double *out, GError **error)
{
  double u;

  if (!cli_amount_parse (option, typed, dimension, out, &u, error))
    return FALSE;
  if (*out > 0)
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: found “%s”; a value above 0 is wanted"),
               option, typed);
  return FALSE;
}

static gboolean
read_floor (const Options *options, CliHomingAnswer *answer, GError **error)
{
  if (!options->speed && !options->poll)
    return TRUE;
  if (!options->speed || !options->poll)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("--speed and --poll are wanted together"));
      return FALSE;
    }
  if (!read_positive ("speed", options->speed, TRAMMEL_DIMENSION_SPEED, &answer->speed, error)
      || !read_positive ("poll", options->poll, TRAMMEL_DIMENSION_TIME, &answer->delay, error))
    return FALSE;
  answer->floor = trammel_homing_floor (answer->speed, answer->delay);
  answer->has_floor = TRUE;
  return TRUE;
}

static gboolean
read_touches (const char *typed, GArray *touches, GError **error)
{
  g_autofree char *text = cli_argument_to_utf8 (typed);
  g_auto (GStrv) parts = g_strsplit (text ? text : "", text && strchr (text, ';') ? ";" : ",", -1);

  for (gsize i = 0; parts[i]; i++)
    {
      double touch, u;

      if (!cli_amount_parse ("touch", parts[i], TRAMMEL_DIMENSION_LENGTH, &touch, &u, error))
        return FALSE;
      g_array_append_val (touches, touch);
    }
  return TRUE;
}

static gboolean
read_offset (const Options *options, CliHomingAnswer *answer, GError **error)
{
  g_autoptr (GArray) touches = g_array_new (FALSE, FALSE, sizeof (double));
  double gauge = 0, u = 0;

  if (options->gauge && !options->touch)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("--gauge tells what lay on the bed at --touch, which is wanted too"));
      return FALSE;
    }
  if (!options->touch)
    return TRUE;
  if (!read_touches (options->touch, touches, error)
      || (options->gauge && !cli_amount_parse ("gauge", options->gauge, TRAMMEL_DIMENSION_LENGTH, &gauge, &u, error)))
    return FALSE;
  if (touches->len == 0)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("--touch: where the gauge was touched is wanted, such as 1.42,1.43"));
      return FALSE;
    }
  answer->n_touches = touches->len;
  answer->offset = trammel_homing_offset ((const double *)(gconstpointer)touches->data, touches->len,
                                          answer->all.homing.s, gauge, u);
  answer->has_offset = TRUE;
  return TRUE;
}

/* --- analysis --- */

static gboolean
is_outlier (const GArray *outliers, gsize index)
{
  for (guint i = 0; i < outliers->len; i++)
    if (g_array_index (outliers, TrammelHomingOutlier, i).index == index)
      return TRUE;
  return FALSE;
}

static void
analyse_rest (CliHomingSet *set, const double *runs)
{
  g_autofree double *values = g_new (double, set->n);
  g_autofree double *numbers = g_new (double, set->n);
  gsize n = 0;

  for (gsize i = 0; i < set->n; i++)
    if (!is_outlier (set->outliers, i))
      {
        values[n] = set->values[i];
        numbers[n++] = runs ? runs[i] : (double)(i + 1);
      }
  set->has_rest = n < set->n && trammel_homing_analyse (values, numbers, n, &set->without_outliers, NULL);
}

static gboolean
analyse_set (const TrammelHomingRows *rows, const char *group, CliHomingSet *set, GError **error)
{
  g_autofree double *runs = NULL;

  set->name = group;
  set->values = trammel_homing_rows_values (rows, group, &set->n, &runs);
  if (!trammel_homing_analyse (set->values, runs, set->n, &set->homing, error))
    {
      if (group && *group)
        g_prefix_error (error, "%s: ", group);
      return FALSE;
    }
  set->outliers = trammel_homing_outliers (set->values, set->n);
  analyse_rest (set, runs);
  return TRUE;
}

static gboolean
analyse_groups (CliHomingAnswer *answer, GError **error)
{
  const char *const *names = trammel_homing_rows_groups (answer->rows);
  gsize n = g_strv_length ((char **)names);

  if (n < 2)
    return TRUE;
  answer->groups = g_new0 (CliHomingSet, n);
  for (gsize i = 0; i < n; i++)
    {
      answer->n_groups = i + 1;
      if (!analyse_set (answer->rows, names[i], &answer->groups[i], error))
        return FALSE;
    }
  answer->comparison = trammel_homing_compare (&answer->groups[0].homing, &answer->groups[1].homing);
  answer->has_comparison = n == 2;
  return TRUE;
}

static int
analyse (const CliVerb *verb, const Options *options, const TrammelHomingRows *rows)
{
  g_auto (CliHomingAnswer) answer = { .rows = rows, .layer = USUAL_LAYER };
  g_autoptr (GError) error = NULL;
  g_autofree char *path = g_filename_display_name (options->readings);

  if (!analyse_set (rows, options->set, &answer.all, &error) || (!options->set && !analyse_groups (&answer, &error)))
    return cli_input_error (path, error);
  if ((options->layer && !read_positive ("layer", options->layer, TRAMMEL_DIMENSION_LENGTH, &answer.layer, &error))
      || !read_floor (options, &answer, &error) || !read_offset (options, &answer, &error))
    return cli_usage_error (verb, "%s", error->message);
  if (options->as_json)
    cli_homing_print_json (&answer);
  else
    cli_homing_print_words (&answer);
  return CLI_DONE;
}

int
cli_homing (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "readings", 0, 0, G_OPTION_ARG_FILENAME, &options.readings,
      N_ ("Where the switch fired, home after home: CSV, or a plain list in mm"), N_ ("FILE") },
    { "set", 0, 0, G_OPTION_ARG_STRING, &options.set, N_ ("Only the readings of this set"), N_ ("NAME") },
    { "layer", 0, 0, G_OPTION_ARG_FILENAME, &options.layer, N_ ("Height of the first layer (else 0.2 mm)"), N_ ("MM") },
    { "speed", 0, 0, G_OPTION_ARG_FILENAME, &options.speed, N_ ("How fast the switch is approached"), N_ ("MM/S") },
    { "poll", 0, 0, G_OPTION_ARG_FILENAME, &options.poll, N_ ("How long the controller may take to see it: 1ms"),
      N_ ("SECONDS") },
    { "touch", 0, 0, G_OPTION_ARG_FILENAME, &options.touch,
      N_ ("Where a gauge on the bed was just touched, from the switch on: 1.42,1.43"), N_ ("MM,…") },
    { "gauge", 0, 0, G_OPTION_ARG_FILENAME, &options.gauge, N_ ("Thickness of that gauge: 0.1±0.005"), N_ ("MM±U") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_autoptr (TrammelHomingRows) rows = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  if (!cli_parse (verb, argc, argv, entries,
                  _ ("The readings may be in a column “measured” with “run”, “set”, “approach” and “unit” beside it. "
                     "Two sets are compared."),
                  NULL, &status))
    return status;
  if (!options.readings)
    return cli_usage_error (verb, "%s", _ ("the file of readings is wanted: --readings FILE"));
  rows = trammel_homing_rows_load (options.readings, &error);
  if (!rows)
    return cli_input_error (NULL, error);
  return analyse (verb, &options, rows);
}
