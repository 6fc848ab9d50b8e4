/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "cli/amount.h"
#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "measure/bead.h"

#define TWO_SIDED_95 1.959963984540054

/* The quantities that can be given, in the order of the options. */
typedef enum
{
  GIVEN_WIDTH,
  GIVEN_HEIGHT,
  GIVEN_SPEED,
  GIVEN_FILAMENT,
  GIVEN_FEED,
  GIVEN_LENGTH,
  GIVEN_MASS,
  GIVEN_DENSITY,
  GIVEN_TIME,
  N_GIVEN
} Given;

static const struct
{
  const char *option;
  TrammelDimension dimension;
  const char *meaning, *unit;
} given[N_GIVEN] = {
  { "width", TRAMMEL_DIMENSION_LENGTH, N_ ("Width of the bead, all of it"), N_ ("MM±U") },
  { "height", TRAMMEL_DIMENSION_LENGTH, N_ ("Its height: that of the layer"), N_ ("MM±U") },
  { "speed", TRAMMEL_DIMENSION_SPEED, N_ ("Speed at which it is laid"), N_ ("MM/S±U") },
  { "filament", TRAMMEL_DIMENSION_LENGTH, N_ ("Diameter of the filament"), N_ ("MM±U") },
  { "feed", TRAMMEL_DIMENSION_SPEED, N_ ("How fast filament is fed"), N_ ("MM/S±U") },
  { "length", TRAMMEL_DIMENSION_LENGTH, N_ ("Measured: the filament used up in --time"), N_ ("MM±U") },
  { "mass", TRAMMEL_DIMENSION_MASS, N_ ("Measured: what came out in --time, such as 1.2g; with --density"),
    N_ ("KG±U") },
  { "density", TRAMMEL_DIMENSION_DENSITY, N_ ("Density of the material, such as 1.24g/cm³"), N_ ("KG/M³±U") },
  { "time", TRAMMEL_DIMENSION_TIME, N_ ("How long it was measured"), N_ ("S±U") },
};

typedef struct
{
  char *texts[N_GIVEN];
  gboolean as_json;
} Options;

static void
options_clear (Options *options)
{
  for (gsize i = 0; i < N_GIVEN; i++)
    g_free (options->texts[i]);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* What is known of a bead; NaN where it is not. */
typedef struct
{
  TrammelAmount in[N_GIVEN];
  TrammelAmount area, width, speed, flow, feed;
} Bead;

/* --- what was typed --- */

static gboolean
is_given (const Bead *bead, Given which)
{
  return !isnan (bead->in[which].value);
}

static gboolean
read_given (const Options *options, Bead *bead, GError **error)
{
  for (gsize i = 0; i < N_GIVEN; i++)
    {
      TrammelAmount *amount = &bead->in[i];

      *amount = (TrammelAmount){ NAN, NAN };
      if (!options->texts[i])
        continue;
      if (!cli_amount_parse (given[i].option, options->texts[i], given[i].dimension, amount, error))
        return FALSE;
      if (amount->value > 0)
        continue;
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: found “%s”; a value above 0 is wanted"),
                   given[i].option, options->texts[i]);
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

/* The flow, where it is told in one of three ways; else NaN. */
static gboolean
find_flow (Bead *bead, GError **error)
{
  const TrammelAmount *in = bead->in;
  gboolean fed = is_given (bead, GIVEN_FEED), used = is_given (bead, GIVEN_LENGTH),
           weighed = is_given (bead, GIVEN_MASS);

  bead->flow = (TrammelAmount){ NAN, NAN };
  if (fed + used + weighed > 1)
    return refuse (error, _ ("only one of --feed, --length and --mass is wanted"));
  if ((used || weighed) != is_given (bead, GIVEN_TIME))
    return refuse (error, _ ("--time is wanted with --length or --mass, and only there"));
  if (weighed != is_given (bead, GIVEN_DENSITY))
    return refuse (error, _ ("--mass and --density are wanted together"));
  if ((fed || used) && !is_given (bead, GIVEN_FILAMENT))
    return refuse (error, _ ("--filament, its diameter, is wanted too"));
  if (fed)
    bead->flow = trammel_bead_flow_of_filament (in[GIVEN_FILAMENT], in[GIVEN_FEED]);
  if (used)
    bead->flow = trammel_bead_flow_of_length (in[GIVEN_FILAMENT], in[GIVEN_LENGTH], in[GIVEN_TIME]);
  if (weighed)
    bead->flow = trammel_bead_flow_of_mass (in[GIVEN_MASS], in[GIVEN_DENSITY], in[GIVEN_TIME]);
  return TRUE;
}

static gboolean
check_given (const Bead *bead, GError **error)
{
  int known = is_given (bead, GIVEN_WIDTH) + is_given (bead, GIVEN_SPEED) + !isnan (bead->flow.value);

  if (!is_given (bead, GIVEN_HEIGHT))
    return refuse (error, _ ("the height of the bead is wanted: --height"));
  if (known == 2)
    return TRUE;
  return refuse (error, known < 2
                            ? _ ("two of the width, the speed and what flows are wanted; the third follows")
                            : _ ("only two of the width, the speed and what flows are wanted; the third follows"));
}

/* --- the third of three --- */

/* Where the flow was told by the filament, its diameter drops out. */
static TrammelAmount
feed_of (const Bead *bead)
{
  const TrammelAmount *in = bead->in;

  if (is_given (bead, GIVEN_FEED))
    return in[GIVEN_FEED];
  if (is_given (bead, GIVEN_LENGTH))
    return trammel_bead_quotient (in[GIVEN_LENGTH], in[GIVEN_TIME]);
  if (is_given (bead, GIVEN_FILAMENT))
    return trammel_bead_feed (bead->flow, in[GIVEN_FILAMENT]);
  return (TrammelAmount){ NAN, NAN };
}

static gboolean
solve (Bead *bead, GError **error)
{
  const TrammelAmount *in = bead->in;

  bead->width = in[GIVEN_WIDTH];
  bead->speed = in[GIVEN_SPEED];
  if (is_given (bead, GIVEN_WIDTH))
    bead->area = trammel_bead_area (bead->width, in[GIVEN_HEIGHT]);
  else
    {
      bead->area = trammel_bead_quotient (bead->flow, bead->speed);
      bead->width = trammel_bead_width (bead->area, in[GIVEN_HEIGHT]);
    }
  if (isnan (bead->area.value) || isnan (bead->width.value))
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("found a bead narrower than it is high; it would not fill its layer"));
      return FALSE;
    }
  if (isnan (bead->speed.value))
    bead->speed = trammel_bead_quotient (bead->flow, bead->area);
  if (isnan (bead->flow.value))
    bead->flow = trammel_bead_flow (bead->area, bead->speed);
  bead->feed = feed_of (bead);
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
print_json (const Bead *bead)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  write_amount (&json, "width", bead->width);
  write_amount (&json, "height", bead->in[GIVEN_HEIGHT]);
  write_amount (&json, "area", bead->area);
  write_amount (&json, "speed", bead->speed);
  write_amount (&json, "flow", bead->flow);
  if (!isnan (bead->feed.value))
    write_amount (&json, "feed", bead->feed);
  json_text_close (&json, '}');
  json_text_print (&json);
}

static void
append_line (GString *text, const char *label, TrammelAmount amount, const char *unit)
{
  g_autofree char *shown = amount.u > 0 ? trammel_display_interval (amount.value, TWO_SIDED_95 * amount.u)
                                        : trammel_display_significant (amount.value, 5);
  glong width = g_utf8_strlen (label, -1);

  g_string_append (text, label);
  for (; width < 14; width++)
    g_string_append_c (text, ' ');
  g_string_append_printf (text, "%s %s\n", shown, unit);
}

static void
print_words (const Bead *bead)
{
  g_autoptr (GString) text = g_string_new (NULL);
  gboolean uncertain = FALSE;

  for (gsize i = 0; i < N_GIVEN; i++)
    uncertain = uncertain || bead->in[i].u > 0;
  append_line (text, _ ("Bead width"), bead->width, "mm");
  append_line (text, _ ("Bead height"), bead->in[GIVEN_HEIGHT], "mm");
  append_line (text, _ ("Section"), bead->area, "mm²");
  append_line (text, _ ("Speed"), bead->speed, "mm/s");
  append_line (text, _ ("Flow"), bead->flow, "mm³/s");
  if (!isnan (bead->feed.value))
    append_line (text, _ ("Filament feed"), bead->feed, "mm/s");
  if (uncertain)
    g_string_append (text, _ ("What stands behind ± is 95 %.\n"));
  g_string_append (text, _ ("Caution: the hot tip and fresh plastic burn; a pen held on past its rated time overheats; "
                            "ventilate; never leave a heated machine alone.\n"));
  cli_say (stdout, text->str);
}

int
cli_bead (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  GOptionEntry entries[N_GIVEN + 2] = { 0 };
  g_autoptr (GError) error = NULL;
  Bead bead;
  int status;

  for (gsize i = 0; i < N_GIVEN; i++)
    entries[i] = (GOptionEntry){ given[i].option, 0, 0, G_OPTION_ARG_FILENAME, &options.texts[i], given[i].meaning,
                                 given[i].unit };
  entries[N_GIVEN]
      = (GOptionEntry){ "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL };
  if (!cli_parse (
          verb, argc, argv, entries,
          _ ("Give the height and two of three: the width, the speed, and what flows (--feed; --length or --mass "
             "measured in a --time). The third follows. ± (or +-) tells a standard uncertainty: "
             "--filament 1.75±0.02."),
          NULL, &status))
    return status;
  if (!read_given (&options, &bead, &error) || !find_flow (&bead, &error) || !check_given (&bead, &error))
    return cli_usage_error (verb, "%s", error->message);
  if (!solve (&bead, &error))
    return cli_input_error ("bead", error);
  if (options.as_json)
    print_json (&bead);
  else
    print_words (&bead);
  return CLI_DONE;
}
