/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/console.h"
#include "cli/find.h"
#include "drive/finder-grid.h"
#include "machine/gear-bin.h"
#include "machine/plate.h"
#include "machine/store.h"

typedef struct
{
  char *gears, *target, *tolerance, *direction, *order;
  char *machine, *axis, *counts, *travel, *grid;
  int pairs, list;
  gboolean half, unbeaten, as_json;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->gears);
  g_free (options->target);
  g_free (options->tolerance);
  g_free (options->direction);
  g_free (options->order);
  g_free (options->machine);
  g_free (options->axis);
  g_free (options->counts);
  g_free (options->travel);
  g_free (options->grid);
}

G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* In the order of the enumerations. */
static const char *const directions[] = { "any", "same", "opposite" };
static const char *const orders[] = { "error", "gears", "span", "play" };

/* The place of @text among @words; 0 where there is none, −1 where it is another. */
static int
place_of (const char *text, const char *const *words, gsize n)
{
  if (!text)
    return 0;
  for (gsize i = 0; i < n; i++)
    if (strcmp (text, words[i]) == 0)
      return (int)i;
  return -1;
}

/* The gears on the command line, else those kept for the user. (transfer full) */
static TrammelGears *
gears_to_use (const CliVerb *verb, const Options *options, int *status)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *text = options->gears ? cli_argument_to_utf8 (options->gears) : trammel_gear_bin_load (&error);
  TrammelGears *gears;

  if (error)
    {
      *status = cli_input_error (NULL, error);
      return NULL;
    }
  if (!options->gears && text[0] == '\0')
    {
      *status = cli_usage_error (verb, "%s", _ ("--gears is wanted: what is in the bin, as 12,16,24x2,40"));
      return NULL;
    }
  gears = trammel_gears_parse (text ? text : options->gears, &error);
  if (!gears)
    *status = options->gears ? cli_usage_error (verb, "--gears: %s", error->message) : cli_input_error (NULL, error);
  return gears;
}

static int
count_given (const Options *options)
{
  return (options->target ? 1 : 0) + (options->counts ? 1 : 0) + (options->travel ? 1 : 0);
}

/* Counts per unit as wanted of the axis. */
static gboolean
wanted_counts (const Options *options, const TrammelAxis *axis, TrammelExact *out, GError **error)
{
  TrammelQuantity travel;

  if (options->counts)
    return trammel_exact_parse (options->counts, out, error);
  if (trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY)
    return trammel_exact_parse (options->travel, &travel.number, error)
           && trammel_exact_divide (TRAMMEL_EXACT_ONE, travel.number, out, error);
  return trammel_quantity_parse (options->travel, TRAMMEL_DIMENSION_LENGTH, NULL, &travel, error)
         && trammel_quantity_base (travel, out, error) && trammel_exact_divide (TRAMMEL_EXACT_ONE, *out, out, error);
}

/* The axis that --axis names; the only one where there is but one. */
static const TrammelAxis *
axis_to_use (const TrammelMachine *machine, const char *letter)
{
  int index = -1;

  if (!letter && trammel_machine_n_axes (machine) == 1)
    index = 0;
  else if (letter && strlen (letter) == 1)
    index = trammel_machine_axis_index (machine, g_ascii_toupper (letter[0]));
  return index < 0 ? NULL : trammel_machine_axis (machine, (gsize)index);
}

static gboolean
target_of_axis (const CliVerb *verb, const Options *options, TrammelExact *out, int *status)
{
  const char *option = options->counts ? "--counts-per-unit" : "--travel-per-count";
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = NULL;
  const TrammelAxis *axis;
  TrammelExact counts;

  if (!options->machine)
    {
      *status = cli_usage_error (verb, _ ("%s wants --machine and --axis"), option);
      return FALSE;
    }
  machine = trammel_store_load (options->machine, &error);
  if (!machine)
    {
      *status = cli_input_error (NULL, error);
      return FALSE;
    }
  axis = axis_to_use (machine, options->axis);
  if (!axis)
    {
      *status = cli_usage_error (verb, "%s", _ ("--axis: the letter of an axis of the machine is wanted"));
      return FALSE;
    }
  if (!wanted_counts (options, axis, &counts, &error))
    {
      *status = cli_usage_error (verb, "%s: %s", option, error->message);
      return FALSE;
    }
  if (!trammel_finder_target (trammel_axis_train (axis), counts, out, &error))
    {
      *status = cli_input_error (options->machine, error);
      return FALSE;
    }
  return TRUE;
}

static gboolean
target_to_use (const CliVerb *verb, const Options *options, TrammelExact *out, int *status)
{
  g_autoptr (GError) error = NULL;

  if (count_given (options) != 1)
    {
      *status = cli_usage_error (verb, "%s", _ ("one of --target, --counts-per-unit and --travel-per-count is wanted"));
      return FALSE;
    }
  if (!options->target)
    return target_of_axis (verb, options, out, status);
  if (trammel_exact_parse (options->target, out, &error))
    return TRUE;
  *status = cli_usage_error (verb, "--target: %s", error->message);
  return FALSE;
}

/* The plate of holes, @out->pitch 0 where there is none. */
static gboolean
read_grid (const Options *options, TrammelHoleGrid *out, GError **error)
{
  *out = (TrammelHoleGrid){ .half = options->half };
  if (!options->grid && !options->half)
    return TRUE;
  if (!options->grid)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("--half tells more about --grid, which is wanted too"));
      return FALSE;
    }
  g_autoptr (TrammelRecord) bare = trammel_record_new (trammel_plate_kind ());
  g_autoptr (TrammelRecord) plate = trammel_record_with_text (bare, "pitch", options->grid, NULL, error);
  if (!plate)
    return FALSE;
  out->pitch = trammel_plate_grid (plate).pitch;
  return TRUE;
}

/* The rest of @query; FALSE and the status to end with where an option is out of bounds. */
static gboolean
read_wishes (const CliVerb *verb, const Options *options, TrammelFinderQuery *query, int *status)
{
  const int direction = place_of (options->direction, directions, G_N_ELEMENTS (directions));
  const int order = place_of (options->order, orders, G_N_ELEMENTS (orders));
  g_autoptr (GError) error = NULL;

  *status = CLI_WRONG_USAGE;
  if (options->tolerance
      && !trammel_quantity_parse_value (options->tolerance, TRAMMEL_DIMENSION_NUMBER, NULL, &query->tolerance, &error))
    cli_usage_error (verb, "--tolerance: %s", error->message);
  else if (!(query->tolerance >= 0))
    cli_usage_error (verb, "--tolerance: %s", _ ("0 or more is wanted"));
  else if (options->pairs < 1 || options->pairs > TRAMMEL_FINDER_MOST_PAIRS)
    cli_usage_error (verb, _ ("--pairs: found %d; 1 to %d are wanted"), options->pairs, TRAMMEL_FINDER_MOST_PAIRS);
  else if (options->list < 1 || options->list > TRAMMEL_FINDER_MOST_LISTED)
    cli_usage_error (verb, _ ("--list: found %d; 1 to %d are wanted"), options->list, TRAMMEL_FINDER_MOST_LISTED);
  else if (direction < 0)
    cli_usage_error (verb, _ ("--direction: found “%s”; any, same or opposite is wanted"), options->direction);
  else if (order < 0)
    cli_usage_error (verb, _ ("--order: found “%s”; error, gears, span or play is wanted"), options->order);
  else
    {
      query->most_pairs = options->pairs;
      query->list = (gsize)options->list;
      query->direction = (TrammelFinderDirection)direction;
      query->order = (TrammelFinderOrder)order;
      query->unbeaten = options->unbeaten;
      return TRUE;
    }
  return FALSE;
}

static int
find_trains (const CliVerb *verb, const Options *options)
{
  TrammelExact target;
  TrammelFinderQuery query;
  TrammelHoleGrid grid;
  int status;
  g_autoptr (TrammelGears) gears = NULL;
  g_autoptr (TrammelFinderResult) result = NULL;
  g_autoptr (GError) error = NULL;
  CliProgress *progress;

  if (!target_to_use (verb, options, &target, &status))
    return status;
  query = trammel_finder_query (target);
  if (!read_wishes (verb, options, &query, &status))
    return status;
  if (!read_grid (options, &grid, &error))
    return cli_usage_error (verb, "--grid: %s", error->message);
  if (grid.pitch > 0)
    {
      query.fits = trammel_finder_fits_grid;
      query.fits_data = &grid;
    }
  gears = gears_to_use (verb, options, &status);
  if (!gears)
    return status;
  progress = cli_progress_begin (_ ("Searching the bin…"));
  result = trammel_finder_search (gears, &query, NULL, &error);
  cli_progress_end (progress);
  if (!result)
    return cli_usage_error (verb, "%s", error->message);
  if (options->as_json)
    cli_find_print_json (&query, result, grid);
  else
    cli_find_print_words (&query, result, grid);
  return CLI_DONE;
}

int
cli_find (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { .pairs = 3, .list = 20 };
  const GOptionEntry entries[] = {
    { "gears", 0, 0, G_OPTION_ARG_FILENAME, &options.gears, N_ ("What is in the bin: 12,16,24x2,20@0.5"),
      N_ ("GEARS") },
    { "target", 0, 0, G_OPTION_ARG_FILENAME, &options.target, N_ ("Turns in for one turn out: 25/3, 2.5, 127/100, pi"),
      N_ ("RATIO") },
    { "counts-per-unit", 0, 0, G_OPTION_ARG_FILENAME, &options.counts,
      N_ ("What the ratio is to give with an axis's motor and output: per mm, of a rotary axis per degree"),
      N_ ("COUNTS") },
    { "counts-per-mm", 0, 0, G_OPTION_ARG_FILENAME, &options.counts, N_ ("The same"), N_ ("COUNTS") },
    { "travel-per-count", 0, 0, G_OPTION_ARG_FILENAME, &options.travel,
      N_ ("The same the other way round: a length, of a rotary axis degrees"), N_ ("LENGTH") },
    { "machine", 0, 0, G_OPTION_ARG_FILENAME, &options.machine, N_ ("The machine of that axis"), N_ ("FILE") },
    { "axis", 0, 0, G_OPTION_ARG_FILENAME, &options.axis, N_ ("Its letter"), N_ ("LETTER") },
    { "pairs", 0, 0, G_OPTION_ARG_INT, &options.pairs, N_ ("At most so many pairs, 1 to 4 (3)"), N_ ("NUMBER") },
    { "tolerance", 0, 0, G_OPTION_ARG_FILENAME, &options.tolerance,
      N_ ("Largest relative error (0.002); 0: only exact trains"), N_ ("ERROR") },
    { "list", 0, 0, G_OPTION_ARG_INT, &options.list, N_ ("At most so many trains (20)"), N_ ("NUMBER") },
    { "direction", 0, 0, G_OPTION_ARG_FILENAME, &options.direction, N_ ("How the last shaft turns"),
      "any|same|opposite" },
    { "order", 0, 0, G_OPTION_ARG_FILENAME, &options.order, N_ ("What comes first"), "error|gears|span|play" },
    { "grid", 0, 0, G_OPTION_ARG_FILENAME, &options.grid,
      N_ ("Only trains each mesh of which runs in two holes of a plate with holes so far apart"), N_ ("LENGTH") },
    { "half", 0, 0, G_OPTION_ARG_NONE, &options.half, N_ ("With half of that distance too"), NULL },
    { "unbeaten", 0, 0, G_OPTION_ARG_NONE, &options.unbeaten,
      N_ ("Only trains that no other beats in error, number of gears and span"), NULL },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  int status;

  if (!cli_parse (verb, argc, argv, entries,
                  _ ("A gear is its teeth, perhaps how many of it there are (24x2) and its module (20@0.5; 1 mm where "
                     "none is said); only gears of equal module mesh. Without --gears, the bin kept for you is used."),
                  NULL, &status))
    return status;
  return find_trains (verb, &options);
}
