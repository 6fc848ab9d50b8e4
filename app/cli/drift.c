/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/drift.h"

#include <glib/gi18n.h>
#include <math.h>
#include <string.h>

#include "cli/amount.h"
#include "cli/console.h"
#include "machine/store.h"

static gboolean
read_tolerance (const char *typed, double *out, GError **error)
{
  *out = TRAMMEL_DRIFT_TOLERANCE;
  if (!typed)
    return TRUE;
  if (!cli_value_parse ("tolerance", typed, TRAMMEL_DIMENSION_NUMBER, out, error))
    return FALSE;
  if (*out > 0 && *out < 1)
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("--tolerance: found “%s”; a part between 0 and 1 such as 0.1%% is wanted"), typed);
  return FALSE;
}

/* The most lash of axes that move in a line, mm, and of those that turn, degrees: NaN where what was typed is none. */
typedef struct
{
  double length, angle;
} LashTolerance;

static gboolean
is_usable (double tolerance)
{
  return isnan (tolerance) || (tolerance > 0 && isfinite (tolerance));
}

static gboolean
read_lash_tolerance (const char *typed, LashTolerance *out, GError **error)
{
  double angle;

  *out = (LashTolerance){ NAN, NAN };
  if (!typed)
    return TRUE;
  if (cli_value_parse ("lash-tolerance", typed, TRAMMEL_DIMENSION_ANGLE, &angle, NULL))
    out->angle = angle * 180 / G_PI;
  if (!cli_value_parse ("lash-tolerance", typed, TRAMMEL_DIMENSION_LENGTH, &out->length,
                        isnan (out->angle) ? error : NULL)
      && isnan (out->angle))
    return FALSE;
  if (is_usable (out->length) && is_usable (out->angle))
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
               _ ("--lash-tolerance: found “%s”; play above 0 such as 0.1mm is wanted"), typed);
  return FALSE;
}

static double
lash_tolerance_of (const TrammelMachine *machine, char letter, const LashTolerance *tolerance)
{
  const int i = trammel_machine_axis_index (machine, letter);
  const gboolean turns = i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)i)) == TRAMMEL_AXIS_ROTARY;

  return turns ? tolerance->angle : tolerance->length;
}

/* (transfer full) (nullable) */
static GPtrArray *
find_drifts (const TrammelMachine *machine, const char *letter, double tolerance, const LashTolerance *lash_tolerance,
             GError **error)
{
  g_autoptr (GPtrArray) drifts = g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_drift_free);

  for (gsize i = 0; letter || i < trammel_machine_n_axes (machine); i++)
    {
      char asked = letter ? *letter : trammel_axis_letter (trammel_machine_axis (machine, i));
      TrammelDrift *drift
          = trammel_drift_new (machine, asked, tolerance, lash_tolerance_of (machine, asked, lash_tolerance), error);

      if (!drift)
        return NULL;
      g_ptr_array_add (drifts, drift);
      if (letter)
        break;
    }
  return g_steal_pointer (&drifts);
}

int
cli_drift (const CliVerb *verb, int argc, char **argv)
{
  g_autofree char *axis = NULL;
  g_autofree char *typed_tolerance = NULL;
  g_autofree char *typed_lash_tolerance = NULL;
  gboolean as_json = FALSE;
  const GOptionEntry entries[] = {
    { "axis", 0, 0, G_OPTION_ARG_STRING, &axis, N_ ("This axis only"), "X" },
    { "tolerance", 0, 0, G_OPTION_ARG_STRING, &typed_tolerance, N_ ("Scale drift that is borne (default 0.1%)"),
      "0.1%" },
    { "lash-tolerance", 0, 0, G_OPTION_ARG_STRING, &typed_lash_tolerance, N_ ("Most lash that is borne"), "0.1mm" },
    { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_autofree char *path = NULL;
  g_autoptr (TrammelMachine) machine = NULL;
  g_autoptr (GPtrArray) drifts = NULL;
  g_autoptr (GError) error = NULL;
  LashTolerance lash_tolerance;
  double tolerance;
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &path, &status))
    return status;
  if (axis && (strlen (axis) != 1 || !g_ascii_isupper (*axis)))
    return cli_usage_error (verb, _ ("--axis: found “%s”; a letter from A to Z is wanted"), axis);
  if (!read_tolerance (typed_tolerance, &tolerance, &error)
      || !read_lash_tolerance (typed_lash_tolerance, &lash_tolerance, &error))
    return cli_usage_error (verb, "%s", error->message);
  machine = trammel_store_load (path, &error);
  if (!machine)
    return cli_input_error (NULL, error);
  drifts = find_drifts (machine, axis, tolerance, &lash_tolerance, &error);
  if (!drifts)
    return cli_input_error (path, error);
  if (as_json)
    cli_drift_print_json (drifts);
  else
    cli_drift_print_words (machine, drifts);
  return CLI_DONE;
}
