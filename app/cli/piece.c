/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "gcode/test-piece.h"
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

/* What was typed: for each field of any kind of piece, then for each short name, the text or NULL. */
typedef struct
{
  const TrammelField *fields[MOST_FIELDS]; /* each key once */
  gsize n_fields;
  char *names[MOST_FIELDS];
  char *argument_names[MOST_FIELDS];
  char *descriptions[MOST_FIELDS];
  char *texts[MOST_FIELDS];
  char *short_texts[G_N_ELEMENTS (short_names)];
  char *piece; /* kind of piece */
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
      g_free (options->descriptions[i]);
      g_free (options->texts[i]);
    }
  for (gsize i = 0; i < G_N_ELEMENTS (short_names); i++)
    g_free (options->short_texts[i]);
  g_free (options->piece);
  g_free (options->output);
  g_free (options->plan);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
has_field (const Options *options, const char *key)
{
  for (gsize i = 0; i < options->n_fields; i++)
    if (strcmp (options->fields[i]->key, key) == 0)
      return TRUE;
  return FALSE;
}

static void
collect_fields (Options *options)
{
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_piece_kinds (&n);

  for (gsize k = 0; k < n; k++)
    for (gsize i = 0; i < kinds[k]->n_fields && options->n_fields < MOST_FIELDS; i++)
      if (!has_field (options, kinds[k]->fields[i].key))
        options->fields[options->n_fields++] = &kinds[k]->fields[i];
}

/* What stands for the value in the help. (transfer full) */
static char *
argument_name (const TrammelField *field)
{
  if (field->type == TRAMMEL_FIELD_CHOICE)
    return g_strjoinv ("|", (char **)field->choices);
  if (field->type == TRAMMEL_FIELD_INTEGER)
    return g_strdup (_ ("N"));
  if (field->type != TRAMMEL_FIELD_QUANTITY)
    return g_strdup (_ ("TEXT"));
  return g_strdup (field->dimension == TRAMMEL_DIMENSION_SPEED ? _ ("MM/S") : _ ("MM"));
}

/* What the field means, and of which piece it is where that is not every one. (transfer full) */
static char *
description_of (const TrammelField *field)
{
  gsize n, n_with = 0;
  const TrammelRecordKind *const *kinds = trammel_piece_kinds (&n);
  const char *type = NULL;

  for (gsize k = 0; k < n; k++)
    if (trammel_record_kind_field (kinds[k], field->key))
      {
        type = kinds[k]->type;
        n_with++;
      }
  return n_with < n ? g_strdup_printf ("%s: %s", type, _ (field->meaning)) : g_strdup (_ (field->meaning));
}

/* One option per field of a piece's record, `step_height` as --step-height; an array for GOption. (transfer full) */
static GArray *
option_entries (Options *options)
{
  GArray *entries = g_array_new (TRUE, TRUE, sizeof (GOptionEntry));
  const GOptionEntry which = { "piece",
                               0,
                               0,
                               G_OPTION_ARG_STRING,
                               &options->piece,
                               N_ ("Which piece: the calibration square, or the ladder of lines that tells play"),
                               "square|ladder" };
  const GOptionEntry own[] = {
    { "output", 0, 0, G_OPTION_ARG_FILENAME, &options->output,
      N_ ("Write the program to FILE (else to standard output)"), N_ ("FILE") },
    { "plan", 0, 0, G_OPTION_ARG_FILENAME, &options->plan,
      N_ ("Write what to measure to FILE, as CSV with empty “measured”"), N_ ("FILE.csv") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options->as_json, N_ ("Print one JSON object"), NULL },
  };

  g_array_append_val (entries, which);
  for (gsize i = 0; i < options->n_fields; i++)
    {
      const TrammelField *field = options->fields[i];
      GOptionEntry entry = { NULL, 0, 0, G_OPTION_ARG_FILENAME, &options->texts[i], NULL, NULL };

      options->names[i] = g_strdelimit (g_strdup (field->key), "_", '-');
      options->argument_names[i] = argument_name (field);
      options->descriptions[i] = description_of (field);
      entry.long_name = options->names[i];
      entry.description = options->descriptions[i];
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
  for (gsize i = 0; i < options->n_fields; i++)
    if (options->texts[i] && strcmp (options->fields[i]->key, key) == 0)
      return TRUE;
  return FALSE;
}

/* A size alone takes the step with it in proportion (to a tenth of a millimeter), so that another size is one word. */
static gboolean
keep_proportion (const Options *options, const TrammelRecord *before, TrammelRecord **piece, GError **error)
{
  char buffer[G_ASCII_DTOSTR_BUF_SIZE];

  if (!trammel_record_is (before, "square") || !is_typed (options, "size") || is_typed (options, "step"))
    return TRUE;
  double step = trammel_record_value (before, "step") * trammel_record_value (*piece, "size")
                / trammel_record_value (before, "size");
  if (!isfinite (step))
    return TRUE;
  g_ascii_formatd (buffer, sizeof buffer, "%.1f", step);
  return set_field (piece, "step", trammel_record_kind_field (trammel_record_kind (before), "step"), buffer, error);
}

/* The machine's piece, or one of the kind that was typed with what it has in common with it. (transfer full) */
static TrammelRecord *
piece_to_start_from (const TrammelMachine *machine, const Options *options, GError **error)
{
  const TrammelRecord *piece = trammel_machine_piece (machine);

  if (!options->piece || trammel_record_is (piece, options->piece))
    return trammel_record_ref (piece);
  const TrammelRecordKind *kind = trammel_piece_kind (options->piece);
  if (kind)
    return trammel_piece_of_kind (piece, kind);
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--piece: found “%s”; square or ladder is wanted"),
               options->piece);
  return NULL;
}

/* The machine's piece with what was typed; NULL with @error. (transfer full) */
static TrammelRecord *
piece_as_typed (const TrammelMachine *machine, const Options *options, GError **error)
{
  g_autoptr (TrammelRecord) before = piece_to_start_from (machine, options, error);
  g_autoptr (TrammelRecord) piece = before ? trammel_record_ref (before) : NULL;

  if (!piece)
    return NULL;
  const TrammelRecordKind *kind = trammel_record_kind (piece);
  for (gsize i = 0; i < options->n_fields; i++)
    {
      const TrammelField *field = trammel_record_kind_field (kind, options->fields[i]->key);
      if (!options->texts[i])
        continue;
      if (!field)
        {
          g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: not of this piece (%s)"),
                       options->names[i], kind->type);
          return NULL;
        }
      if (!set_field (&piece, options->names[i], field, options->texts[i], error))
        return NULL;
    }
  for (gsize i = 0; i < G_N_ELEMENTS (short_names); i++)
    if (options->short_texts[i]
        && !set_field (&piece, short_names[i].option, trammel_record_kind_field (kind, short_names[i].key),
                       options->short_texts[i], error))
      return NULL;
  if (!keep_proportion (options, before, &piece, error))
    return NULL;
  return g_steal_pointer (&piece);
}

static void
print_json (const Options *options, const TrammelTestPiece *piece, const char *program)
{
  double beads, seconds, filament;
  gsize n;
  const TrammelFeature *features = trammel_test_piece_features (piece, &n);
  JsonText json;

  trammel_test_piece_effort (piece, &beads, &seconds, &filament);
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
      if (isfinite (features[i].u))
        json_text_number (&json, "u", features[i].u);
      if (features[i].note)
        json_text_string (&json, "note", features[i].note);
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
print_words (const Options *options, const TrammelMachine *machine, const TrammelTestPiece *piece)
{
  double beads, seconds, filament;
  g_autofree char *meters = NULL;
  g_autofree char *minutes = NULL;
  g_autofree char *text = NULL;

  trammel_test_piece_effort (piece, &beads, &seconds, &filament);
  meters = trammel_display_significant (beads / 1000, 3);
  minutes = trammel_display_significant (seconds / 60, 2);
  text = g_strdup_printf (trammel_test_piece_ladder (piece) ? _ ("%s: %s m of line, about %s min.\n")
                                                            : _ ("%s: %s m of bead, about %s min.\n"),
                          options->output, meters, minutes);
  cli_say (stdout, text);
  cli_say (stdout,
           is_heated (machine)
               ? _ ("Caution: the hot tip and fresh plastic burn; moving carriages pinch; ventilate; never leave a "
                    "heated machine alone.\n")
               : _ ("Caution: moving carriages pinch; a pen held on past its rated time overheats.\n"));
}

static int
write_files (const Options *options, const TrammelMachine *machine, const TrammelTestPiece *piece)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *program = trammel_test_piece_program (piece);
  g_autoptr (TrammelReadings) plan = trammel_test_piece_plan (piece);
  g_autofree char *csv = trammel_readings_csv_write (plan);

  if (options->plan && !trammel_store_write_text (options->plan, csv, strlen (csv), &error))
    return cli_input_error (NULL, error);
  if (options->output && !trammel_store_write_text (options->output, program, strlen (program), &error))
    return cli_input_error (NULL, error);
  if (options->as_json)
    print_json (options, piece, program);
  else if (options->output)
    print_words (options, machine, piece);
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
  g_autoptr (TrammelTestPiece) laid_out = NULL;

  if (!stored)
    return cli_input_error (NULL, error);
  piece = piece_as_typed (stored, options, &error);
  if (!piece)
    return cli_usage_error (verb, "%s", error->message);
  machine = trammel_machine_with_piece (stored, piece);
  laid_out = trammel_test_piece_new (machine, &error);
  if (!laid_out)
    return cli_input_error (path, error);
  return write_files (options, machine, laid_out);
}

int
cli_piece (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  g_autoptr (GArray) entries = NULL;
  g_autofree char *path = NULL;
  int status;

  collect_fields (&options);
  entries = option_entries (&options);

  if (!cli_parse (
          verb, argc, argv, (const GOptionEntry *)(gpointer)entries->data,
          _ ("What is not given is as in the machine file. Quantities may carry units: --size 4in. A size alone "
             "takes the step with it in proportion. In the machine's own lines “\\n” starts a new line."),
          &path, &status))
    return status;
  if (!cli_check_apart (verb, "--output", options.output, path) || !cli_check_apart (verb, "--plan", options.plan, path)
      || !cli_check_apart (verb, "--plan", options.plan, options.output))
    return CLI_WRONG_USAGE;
  return make_piece (verb, path, &options);
}
