/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "base/error.h"
#include "cli/amount.h"
#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/bead-sentences.h"

/* In the order of TrammelBeadGiven. */
static const char *const units[TRAMMEL_BEAD_N_GIVEN]
    = { N_ ("MM±U"), N_ ("MM±U"), N_ ("MM/S±U"),  N_ ("MM±U"), N_ ("MM/S±U"),
        N_ ("MM±U"), N_ ("KG±U"), N_ ("KG/M³±U"), N_ ("S±U") };

typedef struct
{
  char *texts[TRAMMEL_BEAD_N_GIVEN];
  gboolean as_json;
} Options;

static void
options_clear (Options *options)
{
  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    g_free (options->texts[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* --- what was typed --- */

static gboolean
read_given (const Options *options, TrammelBead *bead, GError **error)
{
  const TrammelBeadField *fields = trammel_bead_fields ();

  trammel_bead_init (bead);
  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    {
      TrammelAmount *amount = &bead->given[i];

      if (!options->texts[i])
        continue;
      if (!cli_amount_parse (fields[i].key, options->texts[i], fields[i].dimension, amount, error))
        return FALSE;
      if (amount->value > 0)
        continue;
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: found “%s”; a value above 0 is wanted"),
                   fields[i].key, options->texts[i]);
      return FALSE;
    }
  return TRUE;
}

static gboolean
refuse (GError **error, const char *why)
{
  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, why);
  return FALSE;
}

/* What goes with what. */
static gboolean
check_given (const TrammelBead *bead, GError **error)
{
  gboolean fed = trammel_bead_is_given (bead, TRAMMEL_BEAD_FEED),
           used = trammel_bead_is_given (bead, TRAMMEL_BEAD_LENGTH),
           weighed = trammel_bead_is_given (bead, TRAMMEL_BEAD_MASS);

  if (fed + used + weighed > 1)
    return refuse (error, _ ("only one of --feed, --length and --mass is wanted"));
  if ((used || weighed) != trammel_bead_is_given (bead, TRAMMEL_BEAD_TIME))
    return refuse (error, _ ("--time is wanted with --length or --mass, and only there"));
  if (weighed != trammel_bead_is_given (bead, TRAMMEL_BEAD_DENSITY))
    return refuse (error, _ ("--mass and --density are wanted together"));
  if ((fed || used) && !trammel_bead_is_given (bead, TRAMMEL_BEAD_FILAMENT))
    return refuse (error, _ ("--filament, its diameter, is wanted too"));
  if (!trammel_bead_is_given (bead, TRAMMEL_BEAD_HEIGHT))
    return refuse (error, _ ("the height of the bead is wanted: --height"));
  return TRUE;
}

/* --- what comes out --- */

static void
write_amount (JsonText *json, const char *key, TrammelAmount amount)
{
  json_text_open (json, key, '{');
  json_text_number (json, "value", amount.value);
  json_text_number (json, "u", amount.u);
  json_text_close (json, '}');
}

static void
print_json (const TrammelBead *bead)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  write_amount (&json, "width", bead->width);
  write_amount (&json, "height", bead->given[TRAMMEL_BEAD_HEIGHT]);
  write_amount (&json, "area", bead->area);
  write_amount (&json, "speed", bead->speed);
  write_amount (&json, "flow", bead->flow);
  if (!isnan (bead->feed.value))
    write_amount (&json, "feed", bead->feed);
  json_text_close (&json, '}');
  json_text_print (&json);
}

static void
append_lines (GString *text, const GArray *lines)
{
  glong widest = 0;

  for (guint i = 0; i < lines->len; i++)
    widest = MAX (widest, g_utf8_strlen (g_array_index (lines, TrammelBeadLine, i).label, -1));
  for (guint i = 0; i < lines->len; i++)
    {
      const TrammelBeadLine *line = &g_array_index (lines, TrammelBeadLine, i);

      g_string_append (text, line->label);
      for (glong width = g_utf8_strlen (line->label, -1); width <= widest; width++)
        g_string_append_c (text, ' ');
      g_string_append_printf (text, "%s\n", line->text);
    }
}

static void
print_words (const TrammelBead *bead)
{
  const TrammelUnit *mm = trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  g_autoptr (GString) text = g_string_new (NULL);
  g_autoptr (GArray) lines = trammel_sentences_bead_lines (bead, mm);
  g_autofree char *sentence = trammel_sentences_bead (bead, mm);
  const char *note = trammel_sentences_bead_note (bead);

  append_lines (text, lines);
  g_string_append_printf (text, "%s\n", sentence);
  if (note)
    g_string_append_printf (text, "%s\n", note);
  g_string_append_printf (text, _ ("Caution. %s\n"), trammel_sentences_bead_caution ());
  cli_say (stdout, text->str);
}

int
cli_bead (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  GOptionEntry entries[TRAMMEL_BEAD_N_GIVEN + 2] = { 0 };
  const TrammelBeadField *fields = trammel_bead_fields ();
  g_autoptr (GError) error = NULL;
  TrammelBead bead;
  int status;

  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    entries[i]
        = (GOptionEntry){ fields[i].key, 0, 0, G_OPTION_ARG_FILENAME, &options.texts[i], fields[i].meaning, units[i] };
  entries[TRAMMEL_BEAD_N_GIVEN]
      = (GOptionEntry){ "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL };
  if (!cli_parse (
          verb, argc, argv, entries,
          _ ("Give the height and two of three: the width, the speed, and what flows (--feed; --length or --mass "
             "measured in a --time). The third follows. ± (or +-) tells a standard uncertainty: "
             "--filament 1.75±0.02."),
          NULL, &status))
    return status;
  if (!read_given (&options, &bead, &error) || !check_given (&bead, &error))
    return cli_usage_error (verb, "%s", error->message);
  if (!trammel_bead_solve (&bead, &error))
    return g_error_matches (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE)
               ? cli_input_error ("bead", error)
               : cli_usage_error (verb, "%s", error->message);
  if (options.as_json)
    print_json (&bead);
  else
    print_words (&bead);
  return CLI_DONE;
}
