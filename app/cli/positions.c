/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/console.h"
#include "cli/gather.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "machine/store.h"
#include "measure/positions.h"

/* What was typed. */
typedef struct
{
  char *machine_path;
  char *readings_path;
  char *axis;
  char *set;
  gboolean only, as_json;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->machine_path);
  g_free (options->readings_path);
  g_free (options->axis);
  g_free (options->set);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* The figures of an axis with their names in JSON and what they are for people, in the order in which they are told. */
static const struct
{
  const char *key, *symbol, *meaning;
  gsize offset;
} figures[] = {
  { "A", "A", N_ ("accuracy, both directions"), G_STRUCT_OFFSET (TrammelPositionFigures, a) },
  { "A_up", "A↑", N_ ("accuracy moving up"), G_STRUCT_OFFSET (TrammelPositionFigures, a_up) },
  { "A_down", "A↓", N_ ("accuracy moving down"), G_STRUCT_OFFSET (TrammelPositionFigures, a_down) },
  { "R", "R", N_ ("repeatability, both directions"), G_STRUCT_OFFSET (TrammelPositionFigures, r) },
  { "R_up", "R↑", N_ ("repeatability moving up"), G_STRUCT_OFFSET (TrammelPositionFigures, r_up) },
  { "R_down", "R↓", N_ ("repeatability moving down"), G_STRUCT_OFFSET (TrammelPositionFigures, r_down) },
  { "E", "E", N_ ("systematic deviation, both directions"), G_STRUCT_OFFSET (TrammelPositionFigures, e) },
  { "E_up", "E↑", N_ ("systematic deviation moving up"), G_STRUCT_OFFSET (TrammelPositionFigures, e_up) },
  { "E_down", "E↓", N_ ("systematic deviation moving down"), G_STRUCT_OFFSET (TrammelPositionFigures, e_down) },
  { "M", "M", N_ ("range of the mean deviation"), G_STRUCT_OFFSET (TrammelPositionFigures, m) },
  { "B", "B", N_ ("greatest reversal"), G_STRUCT_OFFSET (TrammelPositionFigures, b) },
  { "B_mean", "B̄", N_ ("mean reversal"), G_STRUCT_OFFSET (TrammelPositionFigures, b_mean) },
};

static double
figure (const TrammelPositionFigures *of, gsize i)
{
  return G_STRUCT_MEMBER (double, of, figures[i].offset);
}

static void
write_side (JsonText *json, const char *key, const TrammelPositionSide *side)
{
  json_text_open (json, key, '{');
  json_text_integer (json, "n", (gint64)side->n);
  json_text_number (json, "mean", side->mean);
  json_text_number (json, "s", side->s);
  json_text_close (json, '}');
}

static void
write_targets (JsonText *json, const TrammelPositionTarget *targets, gsize n)
{
  json_text_open (json, "targets", '[');
  for (gsize i = 0; i < n; i++)
    {
      json_text_open (json, NULL, '{');
      json_text_number (json, "target", targets[i].target);
      write_side (json, "up", &targets[i].up);
      write_side (json, "down", &targets[i].down);
      json_text_number (json, "mean", targets[i].mean);
      json_text_number (json, "reversal", targets[i].reversal);
      json_text_number (json, "repeatability", targets[i].repeatability);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_figures (JsonText *json, const TrammelPositionFigures *of)
{
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    json_text_number (json, figures[i].key, figure (of, i));
}

static void
write_state (JsonText *json, const char *key, const TrammelPositionFigures *of, const TrammelPositionTarget *targets,
             gsize n)
{
  json_text_open (json, key, '{');
  write_figures (json, of);
  write_targets (json, targets, n);
  json_text_close (json, '}');
}

static void
write_line (JsonText *json, const TrammelPositionLine *line)
{
  json_text_open (json, "line", '{');
  json_text_number (json, "datum", line->datum);
  json_text_number (json, "scale_error", line->scale_error);
  json_text_number (json, "u_scale_error", line->u_scale_error);
  json_text_number (json, "lash", line->lash);
  json_text_number (json, "u_lash", line->u_lash);
  json_text_number (json, "sigma", line->sigma);
  json_text_integer (json, "dof", line->dof);
  json_text_close (json, '}');
}

static void
print_json (const TrammelPositions *positions, const TrammelPositionSet *set)
{
  const char axis[] = { set->axis, '\0' };
  const TrammelPositionFigures before = trammel_positions_before (positions);
  const TrammelPositionFigures after = trammel_positions_after (positions);
  const TrammelPositionLine line = trammel_positions_line (positions);
  const char *const *notes = trammel_positions_notes (positions);
  gsize n;
  const TrammelPositionTarget *targets = trammel_positions_targets (positions, &n);
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_string (&json, "axis", axis);
  json_text_string (&json, "set", set->set);
  write_targets (&json, targets, n);
  write_figures (&json, &before);
  write_state (&json, "before", &before, targets, n);
  write_state (&json, "after", &after, trammel_positions_targets_after (positions, NULL), n);
  write_line (&json, &line);
  json_text_open (&json, "notes", '[');
  for (gsize i = 0; notes[i]; i++)
    json_text_string (&json, NULL, notes[i]);
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}

static void
append_cell (GString *text, double value, const char *unit)
{
  g_autofree char *number = isnan (value) ? g_strdup ("–") : trammel_display_number (value, 4);

  for (glong i = g_utf8_strlen (number, -1); i < 10; i++)
    g_string_append_c (text, ' ');
  g_string_append_printf (text, "%s %s", number, unit);
}

static void
append_figures (GString *text, const TrammelPositionFigures *before, const TrammelPositionFigures *after,
                const char *unit)
{
  g_string_append_printf (text, "%s\n", _ ("       measured     corrected"));
  for (gsize i = 0; i < G_N_ELEMENTS (figures); i++)
    {
      if (isnan (figure (before, i)))
        continue;
      g_string_append (text, figures[i].symbol);
      append_cell (text, figure (before, i), unit);
      append_cell (text, figure (after, i), unit);
      g_string_append_printf (text, "  %s\n", _ (figures[i].meaning));
    }
}

static void
append_line (GString *text, const TrammelPositionLine *line, const char *unit)
{
  g_autofree char *scale = trammel_display_number (100 * fabs (line->scale_error), 4);
  g_autofree char *lash = trammel_display_number (line->lash, 4);

  if (isnan (line->scale_error))
    return;
  g_string_append_printf (text, line->scale_error < 0 ? _ ("It moves %s %% short.") : _ ("It moves %s %% too far."),
                          scale);
  if (!isnan (line->lash))
    {
      g_string_append_c (text, ' ');
      g_string_append_printf (text, _ ("Lost motion on reversal: %s %s."), lash, unit);
    }
  g_string_append_c (text, '\n');
}

static void
print_words (const TrammelMachine *machine, const TrammelPositions *positions, const TrammelPositionSet *set)
{
  const TrammelPositionFigures before = trammel_positions_before (positions);
  const TrammelPositionFigures after = trammel_positions_after (positions);
  const TrammelPositionLine line = trammel_positions_line (positions);
  const char *const *notes = trammel_positions_notes (positions);
  const int i_axis = trammel_machine_axis_index (machine, set->axis);
  const char *unit = trammel_axis_unit (trammel_machine_axis (machine, (gsize)i_axis));
  g_autoptr (GString) text = g_string_new (NULL);
  gsize n;

  trammel_positions_targets (positions, &n);
  g_string_append_printf (text, _ ("%c%s%s: %u targets, %u readings."), set->axis, set->set ? ", " : "",
                          set->set ? set->set : "", (guint)n, (guint)trammel_positions_n_used (positions));
  g_string_append_c (text, '\n');
  append_line (text, &line, unit);
  append_figures (text, &before, &after, unit);
  for (gsize i = 0; notes[i]; i++)
    g_string_append_printf (text, "%s\n", notes[i]);
  cli_say (stdout, text->str);
}

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

static int
positions (const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_store_load (options->machine_path, &error);
  g_autoptr (TrammelReadings) readings = NULL;
  g_autoptr (GArray) sets = NULL;
  const char *place = options->readings_path ? options->readings_path : options->machine_path;
  gsize n;

  if (!machine)
    return cli_input_error (NULL, error);
  readings = cli_gather_readings (machine, options->readings_path, options->only, &error);
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
  if (options->as_json)
    print_json (analysed, set);
  else
    print_words (machine, analysed, set);
  return CLI_DONE;
}

int
cli_positions (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "readings", 0, 0, G_OPTION_ARG_FILENAME, &options.readings_path, N_ ("Take the readings of FILE too"),
      N_ ("FILE.csv") },
    { "only", 0, 0, G_OPTION_ARG_NONE, &options.only, N_ ("With --readings: those of the file alone"), NULL },
    { "axis", 0, 0, G_OPTION_ARG_STRING, &options.axis, N_ ("The axis; else the first that has positions"),
      N_ ("LETTER") },
    { "set", 0, 0, G_OPTION_ARG_STRING, &options.set, N_ ("The set of positions; else the first of the axis"),
      N_ ("NAME") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &options.machine_path, &status))
    return status;
  if (options.only && !options.readings_path)
    return cli_usage_error (verb, "%s", _ ("--only goes with --readings"));
  if (options.axis && (!g_ascii_isupper (options.axis[0]) || options.axis[1] != '\0'))
    return cli_usage_error (verb, _ ("--axis: found “%s”; a letter from A to Z is wanted"), options.axis);
  return positions (&options);
}
