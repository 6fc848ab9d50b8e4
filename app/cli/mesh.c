/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "base/quantity.h"
#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "drive/mesh-grid.h"

#define DEGREE (G_PI / 180)

/* As typed; NULL for what was not. */
typedef struct
{
  char *teeth, *module, *angle, *shift, *grid;
  int reach;
  gboolean half, internal, as_json;
} Options;

static void
options_clear (Options *options)
{
  g_free (options->teeth);
  g_free (options->module);
  g_free (options->angle);
  g_free (options->shift);
  g_free (options->grid);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Options, options_clear)

/* What was asked for. The pair's first gear is external; @swapped: it was typed second. */
typedef struct
{
  TrammelGearPair pair;
  gboolean swapped;
  TrammelHoleGrid grid; /* pitch 0: none */
  double distance;
  TrammelMesh at_distance;
  TrammelMeshOffset *offsets; /* owned */
  gsize n_offsets;
} Answer;

static void
answer_clear (Answer *answer)
{
  g_free (answer->offsets);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Answer, answer_clear)

/* A quantity of @dimension above 0 in its base unit; @standing when nothing was typed. */
static gboolean
read_quantity (const char *option, const char *typed, TrammelDimension dimension, double standing, double *out,
               GError **error)
{
  g_autofree char *text = typed ? cli_argument_to_utf8 (typed) : NULL;

  *out = standing;
  if (!typed)
    return TRUE;
  if (!text)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: not text"), option);
      return FALSE;
    }
  if (!trammel_quantity_parse_value (text, dimension, NULL, out, error))
    {
      g_prefix_error (error, "--%s: ", option);
      return FALSE;
    }
  if (*out > 0)
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: found %s; a value above 0 is wanted"), option,
               text);
  return FALSE;
}

/* Two numbers, as "16,40" or "0.3; -0.1". */
static gboolean
read_two (const char *option, const char *typed, double out[2], GError **error)
{
  g_autofree char *text = cli_argument_to_utf8 (typed);
  g_auto (GStrv) parts = g_strsplit (text ? text : "", text && strchr (text, ';') ? ";" : ",", -1);

  if (g_strv_length (parts) == 2
      && trammel_quantity_parse_value (parts[0], TRAMMEL_DIMENSION_NUMBER, NULL, &out[0], NULL)
      && trammel_quantity_parse_value (parts[1], TRAMMEL_DIMENSION_NUMBER, NULL, &out[1], NULL))
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("--%s: found “%s”; two numbers with a comma between them are wanted"), option, text ? text : "");
  return FALSE;
}

static gboolean
read_teeth (const Options *options, double teeth[2], GError **error)
{
  if (!options->teeth)
    {
      g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                           _ ("the teeth of both gears are wanted: --teeth 16,40"));
      return FALSE;
    }
  if (!read_two ("teeth", options->teeth, teeth, error))
    return FALSE;
  for (int i = 0; i < 2; i++)
    if (teeth[i] != floor (teeth[i]) || teeth[i] < TRAMMEL_GEAR_FEWEST_TEETH || teeth[i] > TRAMMEL_GEAR_MOST_TEETH)
      {
        g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                     _ ("--teeth: found %g; a whole number from %d to %d is wanted"), teeth[i],
                     TRAMMEL_GEAR_FEWEST_TEETH, TRAMMEL_GEAR_MOST_TEETH);
        return FALSE;
      }
  return TRUE;
}

static gboolean
read_pair (const Options *options, Answer *answer, GError **error)
{
  double teeth[2], shifts[2] = { 0, 0 }, module, angle;

  if (!read_teeth (options, teeth, error)
      || !read_quantity ("module", options->module, TRAMMEL_DIMENSION_MODULE, 1, &module, error)
      || !read_quantity ("angle", options->angle, TRAMMEL_DIMENSION_ANGLE, TRAMMEL_GEAR_USUAL_ANGLE, &angle, error)
      || (options->shift && !read_two ("shift", options->shift, shifts, error)))
    return FALSE;
  /* Whichever is larger is the ring. */
  answer->swapped = options->internal && teeth[0] > teeth[1];
  int first = answer->swapped ? 1 : 0, second = 1 - first;
  answer->pair.a = (TrammelGear){ (int)teeth[first], module, angle, shifts[first], FALSE };
  answer->pair.b = (TrammelGear){ (int)teeth[second], module, angle, shifts[second], options->internal };
  return TRUE;
}

static gboolean
read_grid (const Options *options, Answer *answer, GError **error)
{
  answer->grid.half = options->half;
  answer->grid.reach = options->reach;
  if (options->reach < 0)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("--reach: found %d; a number of holes above 0 is wanted"), options->reach);
      return FALSE;
    }
  if (options->grid)
    return read_quantity ("grid", options->grid, TRAMMEL_DIMENSION_LENGTH, 0, &answer->grid.pitch, error);
  if (!options->half && options->reach == 0)
    return TRUE;
  g_set_error_literal (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                       _ ("--half and --reach tell more about --grid, which is wanted too"));
  return FALSE;
}

static gboolean
find_answer (Answer *answer, GError **error)
{
  if (!trammel_gear_pair_distance (&answer->pair, &answer->distance, error))
    return FALSE;
  answer->at_distance = trammel_gear_pair_at (&answer->pair, answer->distance);
  if (answer->grid.pitch == 0)
    return TRUE;
  answer->offsets = trammel_mesh_grid_offsets (&answer->pair, answer->grid, &answer->n_offsets, error);
  return answer->offsets != NULL;
}

/* Number @i as typed. */
static TrammelGear
gear_as_typed (const Answer *answer, int i)
{
  return (i == 0) != answer->swapped ? answer->pair.a : answer->pair.b;
}

static void
print_json (const Answer *answer)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_number (&json, "center_distance", answer->distance);
  json_text_open (&json, "diameters", '[');
  for (int i = 0; i < 2; i++)
    {
      TrammelGear gear = gear_as_typed (answer, i);

      json_text_open (&json, NULL, '{');
      json_text_integer (&json, "teeth", gear.teeth);
      json_text_number (&json, "reference", trammel_gear_reference_diameter (gear));
      json_text_number (&json, "base", trammel_gear_base_diameter (gear));
      json_text_number (&json, "tip", trammel_gear_tip_diameter (gear));
      json_text_number (&json, "root", trammel_gear_root_diameter (gear));
      json_text_close (&json, '}');
    }
  json_text_close (&json, ']');
  json_text_number (&json, "contact_ratio", answer->at_distance.contact_ratio);
  json_text_open (&json, "offsets", '[');
  for (gsize i = 0; i < answer->n_offsets; i++)
    {
      const TrammelMeshOffset *offset = &answer->offsets[i];

      json_text_open (&json, NULL, '{');
      json_text_number (&json, "dx", offset->dx);
      json_text_number (&json, "dy", offset->dy);
      json_text_number (&json, "distance", offset->mesh.distance);
      json_text_flag (&json, "fits", offset->mesh.state == TRAMMEL_MESH_RUNS);
      json_text_number (&json, "backlash", offset->mesh.backlash);
      json_text_number (&json, "contact_ratio", offset->mesh.contact_ratio);
      json_text_number (&json, "working_angle", offset->mesh.working_angle / DEGREE);
      json_text_close (&json, '}');
    }
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}

/* @number flush right in @width columns. */
static void
append_number (GString *text, double number, int decimals, int width)
{
  g_autofree char *shown = trammel_display_number (number, decimals);

  for (glong i = g_utf8_strlen (shown, -1); i < width; i++)
    g_string_append_c (text, ' ');
  g_string_append (text, shown);
}

static void
append_heading (GString *text, const char *heading, int width)
{
  for (glong i = g_utf8_strlen (heading, -1); i < width; i++)
    g_string_append_c (text, ' ');
  g_string_append (text, heading);
}

static void
append_gears (GString *text, const Answer *answer)
{
  const char *const headings[] = { _ ("teeth"), _ ("reference"), _ ("base"), _ ("tip"), _ ("root") };

  for (gsize i = 0; i < G_N_ELEMENTS (headings); i++)
    append_heading (text, headings[i], i == 0 ? 7 : 11);
  g_string_append (text, _ ("   (diameters in mm)\n"));
  for (int i = 0; i < 2; i++)
    {
      TrammelGear gear = gear_as_typed (answer, i);

      append_number (text, gear.teeth, 0, 7);
      append_number (text, trammel_gear_reference_diameter (gear), 3, 11);
      append_number (text, trammel_gear_base_diameter (gear), 3, 11);
      append_number (text, trammel_gear_tip_diameter (gear), 3, 11);
      append_number (text, trammel_gear_root_diameter (gear), 3, 11);
      g_string_append (text, gear.internal ? _ ("   ring\n") : "\n");
    }
}

/* What is the matter with the gears themselves. */
static void
append_warnings (GString *text, const Answer *answer)
{
  for (int i = 0; i < 2; i++)
    {
      TrammelGear gear = gear_as_typed (answer, i);

      if (trammel_gear_is_undercut (gear))
        {
          g_autofree char *shift = trammel_display_number (trammel_gear_undercut_shift (gear.teeth, gear.angle), 2);

          g_string_append_printf (
              text,
              _ ("%d teeth are undercut, weaker at the root: fewer than %d. A profile shift of %s would cure it.\n"),
              gear.teeth, trammel_gear_fewest_teeth (gear.angle, gear.shift), shift);
        }
      if (trammel_gear_is_pointed (gear))
        g_string_append_printf (text, _ ("The %d teeth come to a point below their tip circle.\n"), gear.teeth);
    }
}

static void
append_pair (GString *text, const Answer *answer)
{
  const TrammelMesh *mesh = &answer->at_distance;
  g_autofree char *distance = trammel_display_number (answer->distance, 3);
  g_autofree char *angle = trammel_display_number (mesh->working_angle / DEGREE, 2);
  g_autofree char *ratio = trammel_display_number (mesh->contact_ratio, 2);
  g_autofree char *true_ratio = trammel_display_number (mesh->true_contact_ratio, 2);

  g_string_append_printf (text, _ ("Without backlash %s mm from center to center; working pressure angle %s°.\n"),
                          distance, angle);
  if (mesh->contact_ratio - mesh->true_contact_ratio >= 0.005)
    g_string_append_printf (
        text, _ ("Contact ratio %s; %s of it is left by undercut and root fillets, as a rack cuts them.\n"), ratio,
        true_ratio);
  else
    g_string_append_printf (text, _ ("Contact ratio %s: on average so many teeth carry.\n"), ratio);
  if (mesh->state != TRAMMEL_MESH_RUNS)
    g_string_append_printf (text, _ ("Even so the pair %s.\n"), trammel_mesh_to_words (mesh, answer->pair.b.internal));
}

static void
append_offset (GString *text, const Answer *answer, const TrammelMeshOffset *offset)
{
  const TrammelMesh *mesh = &offset->mesh;

  append_number (text, offset->dx, 3, 10);
  append_number (text, offset->dy, 3, 10);
  append_number (text, mesh->distance, 3, 10);
  append_number (text, mesh->backlash, 3, 10);
  append_number (text, mesh->contact_ratio, 2, 9);
  append_number (text, mesh->working_angle / DEGREE, 2, 9);
  g_string_append_printf (text, "   %s\n", trammel_mesh_to_words (mesh, answer->pair.b.internal));
}

static void
append_offsets (GString *text, const Answer *answer)
{
  const char *const headings[] = { _ ("dx"), _ ("dy"), _ ("distance"), _ ("backlash"), _ ("contact"), _ ("angle") };
  g_autofree char *pitch = trammel_display_significant (answer->grid.pitch, 6);
  gsize first, end, running = 0;

  trammel_mesh_grid_worth_knowing (answer->offsets, answer->n_offsets, answer->distance, &first, &end);
  g_string_append_printf (text,
                          answer->grid.half ? _ ("\nHoles every %s mm and halfway between (mm, degrees):\n")
                                            : _ ("\nHoles every %s mm (mm, degrees):\n"),
                          pitch);
  for (gsize i = 0; i < G_N_ELEMENTS (headings); i++)
    append_heading (text, headings[i], i < 4 ? 10 : 9);
  g_string_append_c (text, '\n');
  for (gsize i = first; i < end; i++)
    {
      append_offset (text, answer, &answer->offsets[i]);
      running += answer->offsets[i].mesh.state == TRAMMEL_MESH_RUNS;
    }
  if (running == 0)
    g_string_append (text, _ ("The pair runs in no two holes of this grid.\n"));
  else
    g_string_append (text, _ ("Backlash is measured around the working pitch circle.\n"));
}

static void
print_words (const Answer *answer)
{
  g_autoptr (GString) text = g_string_new (NULL);

  append_gears (text, answer);
  g_string_append_c (text, '\n');
  append_pair (text, answer);
  append_warnings (text, answer);
  if (answer->n_offsets > 0)
    append_offsets (text, answer);
  cli_say (stdout, text->str);
}

int
cli_mesh (const CliVerb *verb, int argc, char **argv)
{
  g_auto (Options) options = { 0 };
  const GOptionEntry entries[] = {
    { "teeth", 0, 0, G_OPTION_ARG_FILENAME, &options.teeth, N_ ("Teeth of both gears: 16,40"), N_ ("Z1,Z2") },
    { "module", 0, 0, G_OPTION_ARG_FILENAME, &options.module, N_ ("Module, or diametral pitch as “24 DP” (else 1 mm)"),
      N_ ("MM") },
    { "angle", 0, 0, G_OPTION_ARG_FILENAME, &options.angle, N_ ("Pressure angle (else 20°)"), N_ ("DEGREES") },
    { "shift", 0, 0, G_OPTION_ARG_FILENAME, &options.shift,
      N_ ("Profile shifts in modules, positive for thicker teeth (else 0,0)"), N_ ("X1,X2") },
    { "internal", 0, 0, G_OPTION_ARG_NONE, &options.internal, N_ ("The larger one is a ring with its teeth inside"),
      NULL },
    { "grid", 0, 0, G_OPTION_ARG_FILENAME, &options.grid, N_ ("Try every two holes of a plate with holes so far apart"),
      N_ ("MM") },
    { "half", 0, 0, G_OPTION_ARG_NONE, &options.half, N_ ("Half pitches can be had too"), NULL },
    { "reach", 0, 0, G_OPTION_ARG_INT, &options.reach,
      N_ ("How many holes to go in each direction (else as far as the teeth reach)"), N_ ("N") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &options.as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_auto (Answer) answer = { 0 };
  g_autoptr (GError) error = NULL;
  int status;

  if (!cli_parse (verb, argc, argv, entries, _ ("Quantities may carry units: --module '24 DP' --grid '1/2 in'."), NULL,
                  &status))
    return status;
  if (!read_pair (&options, &answer, &error) || !read_grid (&options, &answer, &error))
    return cli_usage_error (verb, "%s", error->message);
  if (!find_answer (&answer, &error))
    return cli_input_error ("mesh", error);
  if (options.as_json)
    print_json (&answer);
  else
    print_words (&answer);
  return CLI_DONE;
}
