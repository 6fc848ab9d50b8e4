/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/homing.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/amount.h"
#include "cli/console.h"
#include "draw/homing-sentences.h"
#include "machine/homing-csv.h"
#include "machine/store.h"

/* As typed; NULL for what was not. */
typedef struct
{
  char *machine, *readings, *axis, *set, *speed, *poll, *layer, *touch, *gauge;
  gboolean as_json;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->machine);
  g_free (options->readings);
  g_free (options->axis);
  g_free (options->set);
  g_free (options->speed);
  g_free (options->poll);
  g_free (options->layer);
  g_free (options->touch);
  g_free (options->gauge);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* --- what was typed --- */

static gboolean
read_positive (const char *option, const char *typed, TrammelDimension dimension, double *out, GError **error)
{
  if (!cli_value_parse (option, typed, dimension, out, error))
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
      double touch;

      if (!cli_value_parse ("touch", parts[i], TRAMMEL_DIMENSION_LENGTH, &touch, error))
        return FALSE;
      g_array_append_val (touches, touch);
    }
  return TRUE;
}

static gboolean
read_offset (const Options *options, CliHomingAnswer *answer, GError **error)
{
  g_autoptr (GArray) touches = g_array_new (FALSE, FALSE, sizeof (double));
  TrammelAmount gauge = { 0, 0 };

  if (options->gauge && !options->touch)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("--gauge tells what lay on the bed at --touch, which is wanted too"));
      return FALSE;
    }
  if (!options->touch)
    return TRUE;
  if (!read_touches (options->touch, touches, error)
      || (options->gauge && !cli_amount_parse ("gauge", options->gauge, TRAMMEL_DIMENSION_LENGTH, &gauge, error)))
    return FALSE;
  if (touches->len == 0)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("--touch: where the gauge was touched is wanted, such as 1.42,1.43"));
      return FALSE;
    }
  answer->n_touches = touches->len;
  answer->offset = trammel_homing_offset ((const double *)(gconstpointer)touches->data, touches->len,
                                          &answer->report->all.homing, gauge.value, gauge.u);
  answer->has_offset = TRUE;
  return TRUE;
}

static gboolean
read_layer (const Options *options, CliHomingAnswer *answer, GError **error)
{
  answer->layer = TRAMMEL_HOMING_USUAL_LAYER;
  answer->has_layer = options->layer || ((answer->axis == '\0' || answer->axis == 'Z') && answer->unit);
  return !options->layer || read_positive ("layer", options->layer, TRAMMEL_DIMENSION_LENGTH, &answer->layer, error);
}

/* Millimetres mean nothing to an axis that turns. */
static gboolean
check_lengths (const Options *options, const CliHomingAnswer *answer, GError **error)
{
  if (answer->unit || (!options->layer && !options->speed && !options->poll && !options->touch && !options->gauge))
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("axis %c turns; --layer, --speed, --poll, --touch and --gauge are for axes that move in a line"),
               answer->axis);
  return FALSE;
}

/* --- homes of a file, or of a machine --- */

static gboolean
find_trouble_of_group (const TrammelHomingReport *report, const char *place, int *status)
{
  for (gsize i = 0; i < report->n_groups; i++)
    if (report->groups[i].trouble)
      {
        const TrammelHomingSet *set = &report->groups[i];
        g_autofree char *what
            = *set->name ? g_strdup_printf ("%s: %s", set->name, set->trouble) : g_strdup (set->trouble);
        *status = cli_input_fault (place, what);
        return TRUE;
      }
  return FALSE;
}

/* @all: homes of any axis. */
static int
analyse (const CliVerb *verb, const Options *options, const char *path, const TrammelHomingRows *all,
         const TrammelMachine *machine)
{
  g_autoptr (TrammelHomingRows) rows = trammel_homing_rows_along (all, options->axis ? *options->axis : '\0');
  g_autoptr (TrammelHomingReport) report = NULL;
  g_autoptr (GError) error = NULL;
  g_autofree char *place = g_filename_display_name (path);
  CliHomingAnswer answer = { .rows = rows, .unit = trammel_unit_base (TRAMMEL_DIMENSION_LENGTH) };
  gsize n;
  const TrammelHomingRow *first = trammel_homing_rows_get (rows, &n);
  int status;

  if (n == 0 && options->axis)
    {
      g_autofree char *why = g_strdup_printf (_ ("no home readings along %c"), *options->axis);
      return cli_input_fault (place, why);
    }
  if (n > 0)
    answer.axis = first->axis;
  const int i = machine ? trammel_machine_axis_index (machine, answer.axis) : -1;
  if (i >= 0)
    answer.unit = trammel_axis_kind (trammel_machine_axis (machine, (gsize)i)) == TRAMMEL_AXIS_ROTARY
                      ? NULL
                      : trammel_machine_display_unit (machine);
  report = trammel_homing_report_new (rows, options->set, &error);
  if (!report)
    return cli_input_error (place, error);
  if (find_trouble_of_group (report, place, &status))
    return status;
  answer.report = report;
  if (!check_lengths (options, &answer, &error) || !read_layer (options, &answer, &error)
      || !read_floor (options, &answer, &error) || !read_offset (options, &answer, &error))
    return cli_usage_error (verb, "%s", error->message);
  if (options->as_json)
    cli_homing_print_json (&answer);
  else
    cli_homing_print_words (&answer);
  return CLI_DONE;
}

static int
homes_of_file (const CliVerb *verb, const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelHomingRows) rows = trammel_homing_csv_load (options->readings, &error);

  return rows ? analyse (verb, options, options->readings, rows, NULL) : cli_input_error (NULL, error);
}

static int
homes_of_machine (const CliVerb *verb, const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_store_load (options->machine, &error);
  g_autoptr (TrammelHomingRows) rows = NULL;
  g_autofree char *place = g_filename_display_name (options->machine);
  g_autofree char *why = NULL;
  gsize n;

  if (!machine)
    return cli_input_error (NULL, error);
  rows = trammel_homing_rows_of_readings (trammel_machine_readings (machine), &error);
  if (!rows)
    return cli_input_error (place, error);
  const TrammelHomingRow *homes = trammel_homing_rows_get (rows, &n);
  if (n == 0)
    return cli_input_fault (place, _ ("no home readings; rows of kind home with along and measured are wanted"));
  if (options->axis && trammel_machine_axis_index (machine, *options->axis) < 0)
    why = g_strdup_printf (_ ("the machine has no axis %c"), *options->axis);
  for (gsize i = 0; i < n && !why; i++)
    if (trammel_machine_axis_index (machine, homes[i].axis) < 0)
      why = g_strdup_printf (_ ("readings[%u]: the machine has no axis %c"), (guint)homes[i].index, homes[i].axis);
  return why ? cli_input_fault (place, why) : analyse (verb, options, options->machine, rows, machine);
}

int
cli_homing (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "readings", 0, 0, G_OPTION_ARG_FILENAME, &options.readings,
      N_ ("In place of a machine, where the switch fired, home after home: CSV, or a plain list in mm"), N_ ("FILE") },
    { "axis", 0, 0, G_OPTION_ARG_STRING, &options.axis, N_ ("The axis; else the first that has homes"), N_ ("LETTER") },
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
  int status;

  if (!cli_parse_with_or_without_machine (
          verb, argc, argv, entries,
          _ ("The homes are the readings of kind home of the machine, or those of the file: in a column “measured”, with "
             "“run”, “set”, “approach” and “unit” beside it. Two sets are compared."),
          &options.machine, &status))
    return status;
  if (!options.machine == !options.readings)
    return cli_usage_error (verb, "%s", _ ("a machine file or --readings FILE is wanted, one of them"));
  if (options.axis && (!g_ascii_isupper (options.axis[0]) || options.axis[1] != '\0'))
    return cli_usage_error (verb, _ ("--axis: found “%s”; a letter from A to Z is wanted"), options.axis);
  return options.machine ? homes_of_machine (verb, &options) : homes_of_file (verb, &options);
}
