/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/console.h"
#include "cli/gather.h"
#include "cli/positions.h"
#include "machine/encoding.h"
#include "machine/file-reader.h"
#include "machine/position-list.h"
#include "machine/store.h"
#include "measure/compensation.h"

/* What was typed. */
typedef struct
{
  char *machine_path;
  char *readings_path;
  char *list_path;
  char *axis;
  char *set;
  gboolean only, as_json, as_table;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->machine_path);
  g_free (options->readings_path);
  g_free (options->list_path);
  g_free (options->axis);
  g_free (options->set);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* The set that is asked for; without --axis and --set the first there is. NULL with @error. */
static const TrammelPositionSet *
choose_set (GArray *sets, const TrammelMachine *machine, const Options *options, const char *place, GError **error)
{
  for (guint i = 0; i < sets->len; i++)
    {
      const TrammelPositionSet *set = &g_array_index (sets, TrammelPositionSet, i);
      if (trammel_machine_axis_index (machine, set->axis) < 0)
        continue;
      if ((!options->axis || options->axis[0] == set->axis)
          && (!options->set || g_strcmp0 (options->set, set->set) == 0))
        return set;
    }
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND,
               _ ("%s: no measured positions%s%s%s%s; rows of kind position with along, nominal (the target), measured "
                  "and approach (+ or -) are wanted"),
               place, options->axis ? _ (" along ") : "", options->axis ? options->axis : "",
               options->set ? _ (" in set ") : "", options->set ? options->set : "");
  return NULL;
}

/* The axis of a list: the one that is asked for, else the first. NULL with @error. */
static const TrammelAxis *
axis_of_list (const TrammelMachine *machine, const Options *options, GError **error)
{
  const int i = options->axis ? trammel_machine_axis_index (machine, options->axis[0]) : 0;

  if (i >= 0 && (gsize)i < trammel_machine_n_axes (machine))
    return trammel_machine_axis (machine, (gsize)i);
  g_set_error (error, G_IO_ERROR, G_IO_ERROR_NOT_FOUND, _ ("%s: there is no axis %s"), options->machine_path,
               options->axis ? options->axis : "");
  return NULL;
}

/* The readings of a plain list; @falling: its values fall while the targets rise. NULL with @error. */
static TrammelReadings *
read_list (const TrammelMachine *machine, const Options *options, gboolean *falling, GError **error)
{
  const TrammelAxis *axis = axis_of_list (machine, options, error);
  g_autoptr (GBytes) bytes = axis ? trammel_file_map (options->list_path, error) : NULL;
  gsize length;
  g_auto (TrammelPositionList) list = { NULL };

  if (!bytes)
    return NULL;
  const char *data = g_bytes_get_data (bytes, &length);
  const TrammelPositionListOptions of_list = {
    .letter = trammel_axis_letter (axis),
    .rotary = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY,
    .set = options->set,
  };
  if (!trammel_encoding_check (&data, &length, error))
    {
      g_prefix_error (error, "%s: ", options->list_path);
      return NULL;
    }
  g_autofree char *text = length > 0 ? g_strndup (data, length) : g_strdup ("");
  if (!trammel_position_list_read (text, &of_list, &list, error))
    {
      g_prefix_error (error, "%s: ", options->list_path);
      return NULL;
    }
  *falling = list.values == TRAMMEL_LIST_VALUES_FALLING;
  return g_steal_pointer (&list.readings);
}

/* For a program: a point whatever the locale, and no header. */
static void
print_compensation (const TrammelPositions *analysed, const TrammelAxisCycles *cycles)
{
  g_autofree char *text = trammel_compensation_to_text (analysed, cycles ? cycles->cycles : NULL);
  cli_say (stdout, text);
}

static int
positions (const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_store_load (options->machine_path, &error);
  g_autoptr (TrammelReadings) readings = NULL;
  g_autoptr (GArray) sets = NULL;
  const char *place = options->readings_path ? options->readings_path
                                             : (options->list_path ? options->list_path : options->machine_path);
  gboolean falling = FALSE;
  gsize n;

  if (!machine)
    return cli_input_error (NULL, error);
  readings = options->list_path ? read_list (machine, options, &falling, &error)
                                : cli_gather_readings (machine, options->readings_path, options->only, &error);
  if (!readings)
    return cli_input_error (NULL, error);
  const TrammelReading *rows = trammel_readings_rows (readings, &n);
  sets = trammel_position_sets (rows, n);
  const TrammelPositionSet *set = choose_set (sets, machine, options, place, &error);
  if (!set)
    return cli_input_error (NULL, error);
  g_autoptr (TrammelPositions) analysed = trammel_positions_new (rows, n, set->axis, set->set, &error);
  if (!analysed)
    return cli_input_error (place, error);
  const int i_axis = trammel_machine_axis_index (machine, set->axis);
  const TrammelAxis *axis = trammel_machine_axis (machine, (gsize)i_axis);
  /* A train that does not work only tells nothing about its parts. */
  g_autoptr (TrammelAxisCycles) cycles = trammel_axis_cycles_new (axis, analysed, NULL);
  const char *remark = falling ? _ ("The values fall while the targets rise: the instrument counts the other way, and "
                                    "they are taken with the other sign.")
                               : NULL;
  if (options->as_table)
    print_compensation (analysed, cycles);
  else if (options->as_json)
    cli_positions_print_json (set, analysed, cycles, remark);
  else
    cli_positions_print_words (trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY ? NULL
                                                                               : trammel_machine_display_unit (machine),
                               set, analysed, cycles, remark);
  return CLI_DONE;
}

int
cli_positions (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "readings", 0, 0, G_OPTION_ARG_FILENAME, &options.readings_path, N_ ("Take the readings of FILE too"),
      N_ ("FILE.csv") },
    { "list", 0, 0, G_OPTION_ARG_FILENAME, &options.list_path,
      N_ ("Take a plain list alone: a target and what was shown there on each line"), N_ ("FILE") },
    { "only", 0, 0, G_OPTION_ARG_NONE, &options.only, N_ ("With --readings: those of the file alone"), NULL },
    { "axis", 0, 0, G_OPTION_ARG_STRING, &options.axis, N_ ("The axis; else the first that has positions"),
      N_ ("LETTER") },
    { "set", 0, 0, G_OPTION_ARG_STRING, &options.set, N_ ("The set of positions; else the first of the axis"),
      N_ ("NAME") },
    { "compensation", 0, 0, G_OPTION_ARG_NONE, &options.as_table,
      N_ ("Print the compensation table alone: target and correction"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &options.machine_path, &status))
    return status;
  if (options.only && !options.readings_path)
    return cli_usage_error (verb, "%s", _ ("--only goes with --readings"));
  if (options.list_path && options.readings_path)
    return cli_usage_error (verb, "%s", _ ("--list and --readings do not go together"));
  if (options.as_table && options.as_json)
    return cli_usage_error (verb, "%s", _ ("--compensation and --json do not go together"));
  if (options.axis && (!g_ascii_isupper (options.axis[0]) || options.axis[1] != '\0'))
    return cli_usage_error (verb, _ ("--axis: found “%s”; a letter from A to Z is wanted"), options.axis);
  return positions (&options);
}
