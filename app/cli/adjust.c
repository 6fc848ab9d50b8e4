/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/adjust.h"
#include "cli/console.h"
#include "cli/gather.h"
#include "machine/foresight.h"
#include "machine/store.h"

/* What was typed. */
typedef struct
{
  char *machine_path;
  char *readings_path;
  char *scatter_key;
  char *output;
  char **stated_texts;
  gboolean only, robust, adopt, as_json;
  gint64 trials, seed;

  TrammelScatter scatter;
  GArray *stated; /* of TrammelStated */
} Options;

static void
clear_stated (gpointer data)
{
  g_clear_pointer (&((TrammelStated *)data)->name, g_ref_string_release);
}

static void
options_clear (Options *options)
{
  g_free (options->machine_path);
  g_free (options->readings_path);
  g_free (options->scatter_key);
  g_free (options->output);
  g_strfreev (options->stated_texts);
  g_clear_pointer (&options->stated, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

static gboolean
parse_scatter (Options *options)
{
  if (!options->scatter_key || strcmp (options->scatter_key, "stated") == 0)
    options->scatter = TRAMMEL_SCATTER_STATED;
  else if (strcmp (options->scatter_key, "estimated") == 0)
    options->scatter = TRAMMEL_SCATTER_ESTIMATED;
  else
    return FALSE;
  return TRUE;
}

static gboolean
parse_stated (Options *options, GError **error)
{
  options->stated = g_array_new (FALSE, TRUE, sizeof (TrammelStated));
  g_array_set_clear_func (options->stated, clear_stated);
  for (char **typed = options->stated_texts; typed && *typed; typed++)
    {
      g_autofree char *text = cli_argument_to_utf8 (*typed);
      TrammelStated stated = { NULL };

      if (!text || !trammel_stated_parse (text, &stated, error))
        {
          g_prefix_error (error, "--stated %s: ", text ? text : "?");
          return FALSE;
        }
      g_array_append_val (options->stated, stated);
    }
  return TRUE;
}

/* 0, or the status to end with. */
static int
check_usage (const CliVerb *verb, Options *options)
{
  g_autoptr (GError) error = NULL;

  if (options->only && !options->readings_path)
    return cli_usage_error (verb, "%s", _ ("--only goes with --readings"));
  if (options->output && !options->adopt)
    return cli_usage_error (verb, "%s", _ ("--output goes with --adopt"));
  if (options->trials != 0
      && (options->trials < TRAMMEL_MONTE_CARLO_FEWEST_TRIALS || options->trials > TRAMMEL_MONTE_CARLO_MOST_TRIALS))
    return cli_usage_error (verb, _ ("--trials: found %d; a number from %d to %d is wanted"),
                            (int)CLAMP (options->trials, G_MININT, G_MAXINT), TRAMMEL_MONTE_CARLO_FEWEST_TRIALS,
                            TRAMMEL_MONTE_CARLO_MOST_TRIALS);
  if (!parse_scatter (options))
    return cli_usage_error (verb, _ ("--scatter: found “%s”; stated or estimated is wanted"), options->scatter_key);
  if (!parse_stated (options, &error))
    return cli_usage_error (verb, "%s", error ? error->message : _ ("--stated: not text"));
  return CLI_DONE;
}

static gboolean
any_to_fit (const TrammelReadings *readings)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);

  for (gsize i = 0; i < n; i++)
    if (trammel_reading_is_fitted (&rows[i]))
      return TRUE;
  return FALSE;
}

static TrammelAdjustOptions
how_to_fit (const TrammelReadings *readings, const Options *options)
{
  return (TrammelAdjustOptions){
    .scatter = options->scatter,
    .robust = options->robust,
    .readings = readings,
    .stated = (const TrammelStated *)(gpointer)options->stated->data,
    .n_stated = options->stated->len,
  };
}

static TrammelAdjustment *
fit (const TrammelMachine *machine, const TrammelAdjustOptions *how, GError **error)
{
  CliProgress *progress = cli_progress_begin (_ ("Fitting the readings…"));
  TrammelAdjustment *adjustment = trammel_machine_adjust (machine, how, NULL, error);

  cli_progress_end (progress);
  return adjustment;
}

static gboolean
adopt (const TrammelMachine *machine, const TrammelAdjustment *adjustment, const TrammelReadings *readings,
       const Options *options, GError **error)
{
  g_autofree char *time = cli_time_now ();
  g_autoptr (TrammelMachine) adopted = trammel_machine_adopt (machine, adjustment, readings, NULL, time, error);

  if (!adopted)
    {
      g_prefix_error (error, "%s: ", options->machine_path);
      return FALSE;
    }
  return trammel_store_save (adopted, options->output ? options->output : options->machine_path, error);
}

static void
tell_adopted (const Options *options)
{
  g_autofree char *text = g_strdup_printf (_ ("Adopted, and saved as %s. Hand the new values to the controller "
                                              "(trammel-cli export), print and measure again.\n"),
                                           options->output ? options->output : options->machine_path);

  cli_say (stdout, text);
}

/* FALSE with @error: they cannot be made. */
static gboolean
make_trials (const TrammelMachine *machine, const TrammelAdjustment *adjustment, const TrammelAdjustOptions *how,
             CliTrials *trials, GError **error)
{
  const TrammelMonteCarloOptions wanted = { .trials = (gsize)trials->n, .seed = (guint64)trials->seed };

  if (trials->n == 0)
    return TRUE;
  CliProgress *progress = cli_progress_begin (_ ("Making the trials…"));
  trials->axes = trammel_machine_monte_carlo (machine, adjustment, how, &wanted, error);
  cli_progress_end (progress);
  return trials->axes != NULL;
}

static int
adjust (const Options *options)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_store_load (options->machine_path, &error);
  g_autoptr (TrammelReadings) readings = NULL;
  g_autoptr (TrammelAdjustment) adjustment = NULL;
  const char *place = options->only ? options->readings_path : options->machine_path;

  if (!machine)
    return cli_input_error (NULL, error);
  readings = cli_gather_readings (machine, options->readings_path, options->only, &error);
  if (!readings)
    return cli_input_error (NULL, error);
  if (!any_to_fit (readings))
    return cli_input_fault (place, _ ("no measured readings; give some with --readings FILE.csv, or type them in the "
                                      "window (trammel-cli piece --plan writes what to measure)"));
  const TrammelAdjustOptions how = how_to_fit (readings, options);
  adjustment = fit (machine, &how, &error);
  if (!adjustment)
    return cli_input_error (place, error);
  CliTrials trials = { options->trials, options->seed, NULL };
  if (!make_trials (machine, adjustment, &how, &trials, &error))
    return cli_input_error (place, error);
  g_autoptr (GArray) trial_axes G_GNUC_UNUSED = trials.axes;
  if (options->adopt && !adopt (machine, adjustment, readings, options, &error))
    return cli_input_error (NULL, error);

  if (options->as_json)
    cli_adjust_print_json (machine, adjustment, &how, &trials);
  else
    cli_adjust_print_words (machine, adjustment, &how, &trials);
  if (options->adopt && !options->as_json)
    tell_adopted (options);
  return CLI_DONE;
}

int
cli_adjust (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { NULL };
  const GOptionEntry entries[] = {
    { "readings", 0, 0, G_OPTION_ARG_FILENAME, &options.readings_path, N_ ("Fit the readings of FILE too"),
      N_ ("FILE.csv") },
    { "only", 0, 0, G_OPTION_ARG_NONE, &options.only, N_ ("With --readings: those of the file alone"), NULL },
    { "scatter", 0, 0, G_OPTION_ARG_FILENAME, &options.scatter_key,
      N_ ("Believe each reading's uncertainty (stated), or find it from the residuals (estimated)"),
      "stated|estimated" },
    { "stated", 0, 0, G_OPTION_ARG_FILENAME_ARRAY, &options.stated_texts,
      N_ ("What you believe beforehand: shrink=0.003±0.001 (or +-); bead=0 fixes a value. May be repeated"),
      N_ ("NAME=VALUE±U") },
    { "robust", 0, 0, G_OPTION_ARG_NONE, &options.robust, N_ ("Let grossly mis-read values count for little"), NULL },
    { "trials", 0, 0, G_OPTION_ARG_INT64, &options.trials,
      N_ ("Check the intervals with N trials of the whole model (Monte Carlo, JCGM 101)"), N_ ("N") },
    { "seed", 0, 0, G_OPTION_ARG_INT64, &options.seed, N_ ("With --trials: where the random numbers start"), N_ ("N") },
    { "adopt", 0, 0, G_OPTION_ARG_NONE, &options.adopt, N_ ("Put the corrected values in force, log it and save"),
      NULL },
    { "output", 0, 0, G_OPTION_ARG_FILENAME, &options.output, N_ ("With --adopt: save as FILE, not in place"),
      N_ ("FILE") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &options.machine_path, &status))
    return status;
  status = check_usage (verb, &options);
  if (status != CLI_DONE)
    return status;
  if (!cli_check_apart (verb, "--output", options.output, options.readings_path))
    return CLI_WRONG_USAGE;
  return adjust (&options);
}
