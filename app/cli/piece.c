/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "gcode/square.h"
#include "machine/readings-csv.h"
#include "machine/store.h"

#define MOST_FIELDS 32

/* Short names of options beside the fields' own. */
static const struct
{
  const char *option, *key;
} short_names[] = {
  { "bead", "bead_width" },
  { "layer", "layer_height" },
};

/* What was typed: for each field of the kind, then for each short name, the text or NULL. */
typedef struct
{
  const TrammelRecordKind *kind;
  char *names[MOST_FIELDS];
  char *argument_names[MOST_FIELDS];
  char *texts[MOST_FIELDS];
  char *short_texts[G_N_ELEMENTS (short_names)];
  char *output, *plan;
  gboolean as_json;
} Options;

static void
options_clear (Options *options)
{
  for (gsize i = 0; i < MOST_FIELDS; i++)
    {
      g_free (options->names[i]);
      g_free (options->argument_names[i]);
      g_free (options->texts[i]);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (short_names); i++)
    g_free (options->short_texts[i]);
  g_free (options->output);
  g_free (options->plan);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* What stands for the value in the help. (transfer full) */
static char *
argument_name (const TrammelField *field)
{
  if (field->type == TRAMMEL_FIELD_CHOICE)
    return g_strjoinv ("|", (char **)field->choices);
  if (field->type != TRAMMEL_FIELD_QUANTITY)
    return g_strdup (_ ("TEXT"));
  return g_strdup (field->dimension == TRAMMEL_DIMENSION_SPEED ? _ ("MM/S") : _ ("MM"));
}

/* One option per field of the piece's record, `step_height` as --step-height; an array for GOption. (transfer full) */
static GArray *
option_entries (Options *options)
{
  GArray *entries = g_array_new (TRUE, TRUE, sizeof (GOptionEntry));
  const GOptionEntry own[] = {
    { "output", 0, 0, G_OPTION_ARG_FILENAME, &options->output,
      N_ ("Write the program to FILE (else to standard output)"), N_ ("FILE") },
    { "plan", 0, 0, G_OPTION_ARG_FILENAME, &options->plan,
      N_ ("Write what to measure to FILE, as CSV with empty “measured”"), N_ ("FILE.csv") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options->as_json, N_ ("Print one JSON object"), NULL },
  };

  for (gsize i = 0; i < options->kind->n_fields; i++)
    {
      const TrammelField *field = &options->kind->fields[i];
      GOptionEntry entry = { NULL, 0, 0, G_OPTION_ARG_FILENAME, &options->texts[i], field->meaning, NULL };

      options->names[i] = g_strdelimit (g_strdup (field->key), "_", '-');
      options->argument_names[i] = argument_name (field);
      entry.long_name = options->names[i];
      entry.arg_description = options->argument_names[i];
      g_array_append_val (entries, entry);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (short_names); i++)
    {
      GOptionEntry entry = {
        short_names[i].option, 0, G_OPTION_FLAG_HIDDEN, G_OPTION_ARG_FILENAME, &options->short_texts[i], "", N_ ("MM")
      };

      g_array_append_val (entries, entry);
    }
  g_array_append_vals (entries, own, G_N_ELEMENTS (own));
  return entries;
}

/* `\n` in a line of the machine's own starts a new line. (transfer full) */
static char *
with_line_breaks (const char *text)
{
  g_auto (GStrv) lines = g_strsplit (text, "\\n", -1);

  return g_strjoinv ("\n", lines);
}

static gboolean
set_field (TrammelRecord **piece, const char *option, const TrammelField *field, const char *typed, GError **error)
{
  g_autofree char *text = NULL;
  g_autofree char *utf8 = cli_argument_to_utf8 (typed);
  TrammelRecord *changed;

  if (!utf8)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: not text"), option);
      return FALSE;
    }
  text = field->type == TRAMMEL_FIELD_TEXT ? with_line_breaks (utf8) : g_steal_pointer (&utf8);
  changed = trammel_record_with_text (*piece, field->key, text, NULL, error);
  if (!changed)
    {
      g_prefix_error (error, "--%s: ", option);
      return FALSE;
    }
  trammel_record_unref (*piece);
  *piece = changed;
  return TRUE;
}

static gboolean
is_typed (const Options *options, const char *key)
{
  for (gsize i = 0; i < options->kind->n_fields; i++)
    if (options->texts[i] && strcmp (options->kind->fields[i].key, key) == 0)
      return TRUE;
  return FALSE;
}

/* A size alone takes the step with it in proportion (to a tenth of a millimeter), so that another size is one word. */
static gboolean
keep_proportion (const Options *options, const TrammelRecord *before, TrammelRecord **piece, GError **error)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];
  double step = trammel_record_value (before, "step") * trammel_record_value (*piece, "size")
                / trammel_record_value (before, "size");

  if (!is_typed (options, "size") || is_typed (options, "step") || !isfinite (step))
    return TRUE;
  g_ascii_formatd (buffer, sizeof buffer, "%.1f", step);
  return set_field (piece, "step", trammel_record_kind_field (options->kind, "step"), buffer, error);
}

/* The machine's piece with what was typed; NULL with @error. (transfer full) */
static TrammelRecord *
piece_as_typed (const TrammelMachine *machine, const Options *options, GError **error)
{
  const TrammelRecord *before = trammel_machine_piece (machine);
  g_autoptr (TrammelRecord) piece = trammel_record_ref (before);

  for (gsize i = 0; i < options->kind->n_fields; i++)
    if (options->texts[i]
        && !set_field (&piece, options->names[i], &options->kind->fields[i], options->texts[i], error))
      return NULL;
  for (gsize i = 0; i < G_N_ELEMENTS (short_names); i++)
    if (options->short_texts[i]
        && !set_field (&piece, short_names[i].option, trammel_record_kind_field (options->kind, short_names[i].key),
                       options->short_texts[i], error))
      return NULL;
  if (!keep_proportion (options, before, &piece, error))
    return NULL;
  return g_steal_pointer (&piece);
}

static void
print_json (const Options *options, const TrammelSquare *square, const char *program)
{
  double beads, seconds, filament;
  gsize n;
  const TrammelFeature *features = trammel_square_features (square, &n);
  JsonText json;

  trammel_square_effort (square, &beads, &seconds, &filament);
  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_open (&json, "plan", '[');
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *along = trammel_direction_to_text (&features[i].along);

      json_text_open (&json, NULL, '{');
      json_text_string (&json, "kind", trammel_reading_kind_key (features[i].kind));
      json_text_string (&json, "along", along);
      json_text_number (&json, "nominal", features[i].nominal);
      json_text_close (&json, '}');
    }
  json_text_close (&json, ']');
  json_text_number (&json, "bead_length", beads);
  json_text_number (&json, "seconds", seconds);
  json_text_number (&json, "filament", filament);
  json_text_string (&json, "program", options->output ? NULL : program);
  json_text_close (&json, '}');
  json_text_print (&json);
}

static gboolean
is_heated (const TrammelMachine *machine)
{
  return g_strcmp0 (trammel_record_choice (trammel_machine_piece (machine), "feed"), "none") != 0;
}

/* What will happen, and what to mind, where the program itself is out of sight. */
static void
print_words (const Options *options, const TrammelMachine *machine, const TrammelSquare *square)
{
  double beads, seconds, filament;
  g_autofree char *meters = NULL;
  g_autofree char *minutes = NULL;
  g_autofree char *text = NULL;

  trammel_square_effort (square, &beads, &seconds, &filament);
  meters = trammel_display_significant (beads / 1000, 3);
  minutes = trammel_display_significant (seconds / 60, 2);
  text = g_strdup_printf (_ ("%s: %s m of bead, about %s min.\n"), options->output, meters, minutes);
  cli_say (stdout, text);
  cli_say (stdout,
           is_heated (machine)
               ? _ ("Caution: the hot tip and fresh plastic burn; moving carriages pinch; ventilate; never leave a "
                    "heated machine alone.\n")
               : _ ("Caution: moving carriages pinch; a pen held on past its rated time overheats.\n"));
}

static int
write_files (const char *path, const Options *options, const TrammelMachine *machine, const TrammelSquare *square)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *program = trammel_square_program (square, &error);
  g_autoptr (TrammelReadings) plan = trammel_square_plan (square);
  g_autofree char *csv = trammel_readings_csv_write (plan);

  if (!program)
    return cli_input_error (path, error);
  if (options->plan && !trammel_store_write_text (options->plan, csv, strlen (csv), &error))
    return cli_input_error (NULL, error);
  if (options->output && !trammel_store_write_text (options->output, program, strlen (program), &error))
    return cli_input_error (NULL, error);
  if (options->as_json)
    print_json (options, square, program);
  else if (options->output)
    print_words (options, machine, square);
  else
    cli_put (program, strlen (program));
  return CLI_DONE;
}

static int
make_piece (const CliVerb *verb, const char *path, const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) stored = trammel_store_load (path, &error);
  g_autoptr (TrammelMachine) machine = NULL;
  g_autoptr (TrammelRecord) piece = NULL;
  g_autoptr (TrammelSquare) square = NULL;

  if (!stored)
    return cli_input_error (NULL, error);
  piece = piece_as_typed (stored, options, &error);
  if (!piece)
    return cli_usage_error (verb, "%s", error->message);
  machine = trammel_machine_with_piece (stored, piece);
  square = trammel_square_new (machine, &error);
  if (!square)
    return cli_input_error (path, error);
  return write_files (path, options, machine, square);
}

int
cli_piece (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { trammel_piece_kind ("square") };
  g_autoptr (GArray) entries = option_entries (&options);
  g_autofree char *path = NULL;
  int status;

  if (!cli_parse (
          verb, argc, argv, (const GOptionEntry *)(gpointer)entries->data,
          _ ("What is not given is as in the machine file. Quantities may carry units: --size 4in. A size alone "
             "takes the step with it in proportion. In the machine's own lines “\\n” starts a new line."),
          &path, &status))
    return status;
  return make_piece (verb, path, &options);
}
