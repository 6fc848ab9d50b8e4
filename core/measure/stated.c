/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/stated.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/amount.h"
#include "base/error.h"

/* One row per kind of unknown. `letters`: how many axis letters follow its name. */
typedef struct
{
  const char *name;
  int letters;
  gboolean has_default;
  double value, u;
  TrammelDimension dimension;
  double bound; /* a stated value must be within ± this; beyond it the model makes no sense */
} ParameterRow;

/* Common practice, no source. */
/* clang-format off */
static const ParameterRow parameter_rows[] = {
  [TRAMMEL_PARAMETER_SCALE]  = { "scale",  1, FALSE, 0,     0,            TRAMMEL_DIMENSION_NUMBER, 0.5 },
  [TRAMMEL_PARAMETER_SKEW]   = { "skew",   2, TRUE,  0,     G_PI / 180.0, TRAMMEL_DIMENSION_ANGLE,  0.785 },
  [TRAMMEL_PARAMETER_SHRINK] = { "shrink", 0, TRUE,  0.002, 0.003,        TRAMMEL_DIMENSION_NUMBER, 0.5 },
  [TRAMMEL_PARAMETER_BEAD]   = { "bead",   0, TRUE,  0,     0.2,          TRAMMEL_DIMENSION_LENGTH, 1000 },
  [TRAMMEL_PARAMETER_FOOT]   = { "foot",   0, TRUE,  0,     0.2,          TRAMMEL_DIMENSION_LENGTH, 1000 },
  [TRAMMEL_PARAMETER_LASH]   = { "lash",   1, TRUE,  0,     1,            TRAMMEL_DIMENSION_LENGTH, 1000 },
  [TRAMMEL_PARAMETER_DATUM]  = { "datum",  1, FALSE, 0,     0,            TRAMMEL_DIMENSION_LENGTH, 1e9 },
  [TRAMMEL_PARAMETER_INSTRUMENT] = { "instrument", 0, FALSE, 0, 0,        TRAMMEL_DIMENSION_NUMBER, 0.5 },
};
/* clang-format on */

static gboolean
refuse_name (const char *name, GError **error)
{
  g_autofree char *excerpt = trammel_error_excerpt (name, -1);

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
               _ ("found “%s”; the name of what may be stated is wanted: skew.XY, shrink, bead, foot or lash.X"),
               excerpt);
  return FALSE;
}

static gboolean
letters_fit (TrammelParameterKind kind, const char *letters)
{
  if (kind == TRAMMEL_PARAMETER_SKEW)
    return strncmp (letters, "XY", 2) == 0 || strncmp (letters, "XZ", 2) == 0 || strncmp (letters, "YZ", 2) == 0;
  for (int i = 0; i < parameter_rows[kind].letters; i++)
    if (letters[i] < 'A' || letters[i] > 'Z')
      return FALSE;
  return TRUE;
}

gboolean
trammel_parameter_parse (const char *name, TrammelParameterKind *kind, char axes[2], const char **set, GError **error)
{
  const char *rest = NULL;
  gsize found = 0;

  g_return_val_if_fail (name != NULL && kind != NULL && axes != NULL, FALSE);

  for (; found < G_N_ELEMENTS (parameter_rows); found++)
    {
      rest = g_str_has_prefix (name, parameter_rows[found].name) ? name + strlen (parameter_rows[found].name) : NULL;
      if (rest != NULL && (*rest == '\0' || *rest == '.'))
        break;
    }
  if (found == G_N_ELEMENTS (parameter_rows))
    return refuse_name (name, error);

  int letters = parameter_rows[found].letters;
  if (letters > 0)
    {
      if (*rest != '.' || !letters_fit ((TrammelParameterKind)found, rest + 1))
        return refuse_name (name, error);
      axes[0] = rest[1];
      axes[1] = letters > 1 ? rest[2] : '\0';
      rest += 1 + letters;
    }
  else
    axes[0] = axes[1] = '\0';

  gboolean may_name = found == TRAMMEL_PARAMETER_DATUM || found == TRAMMEL_PARAMETER_INSTRUMENT;
  gboolean named_set = may_name && rest[0] == '.' && rest[1] != '\0';
  if ((*rest != '\0' || found == TRAMMEL_PARAMETER_INSTRUMENT) && !named_set)
    return refuse_name (name, error);
  if (set != NULL)
    *set = named_set ? rest + 1 : NULL;
  *kind = (TrammelParameterKind)found;
  return TRUE;
}

char *
trammel_parameter_to_words (const char *name)
{
  TrammelParameterKind kind;
  char axes[2];
  const char *set = NULL;

  g_return_val_if_fail (name != NULL, NULL);

  if (!trammel_parameter_parse (name, &kind, axes, &set, NULL))
    return g_strdup (name);
  switch (kind)
    {
    case TRAMMEL_PARAMETER_SCALE:
      /* Translators: %c is the letter of an axis */
      return g_strdup_printf (_ ("scale of %c"), axes[0]);
    case TRAMMEL_PARAMETER_SKEW:
      return g_strdup_printf (_ ("skew between %c and %c"), axes[0], axes[1]);
    case TRAMMEL_PARAMETER_SHRINK:
      return g_strdup (_ ("shrink"));
    case TRAMMEL_PARAMETER_BEAD:
      return g_strdup (_ ("bead"));
    case TRAMMEL_PARAMETER_FOOT:
      return g_strdup (_ ("foot"));
    case TRAMMEL_PARAMETER_LASH:
      return g_strdup_printf (_ ("lash of %c"), axes[0]);
    case TRAMMEL_PARAMETER_INSTRUMENT:
      /* Translators: %s is the name of an instrument */
      return g_strdup_printf (_ ("scale of the instrument “%s”"), set);
    case TRAMMEL_PARAMETER_DATUM:
    default:
      if (set != NULL)
        return g_strdup_printf (_ ("datum of %c in set %s"), axes[0], set);
      return g_strdup_printf (_ ("datum of %c"), axes[0]);
    }
}

gboolean
trammel_stated_default (TrammelParameterKind kind, double *value, double *u)
{
  g_return_val_if_fail ((gsize)kind < G_N_ELEMENTS (parameter_rows), FALSE);

  if (!parameter_rows[kind].has_default)
    return FALSE;
  if (value != NULL)
    *value = parameter_rows[kind].value;
  if (u != NULL)
    *u = parameter_rows[kind].u;
  return TRUE;
}

/* The kind of an unknown that can be stated. */
static gboolean
parse_statable (const char *name, TrammelParameterKind *kind, GError **error)
{
  char axes[2];

  if (!trammel_parameter_parse (name, kind, axes, NULL, error))
    return FALSE;
  if (parameter_rows[*kind].has_default)
    return TRUE;
  if (*kind == TRAMMEL_PARAMETER_INSTRUMENT)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                   _ ("%s is stated by the scale_u of that instrument, not here"), name);
      return FALSE;
    }
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
               _ ("%s comes from the readings alone; only skew, shrink, bead, foot and lash can be stated"), name);
  return FALSE;
}

static gboolean
parse_amount (TrammelParameterKind kind, const char *text, double *out, GError **error)
{
  const ParameterRow *row = &parameter_rows[kind];
  double value;

  if (!trammel_quantity_parse_value (text, row->dimension, trammel_unit_base (row->dimension), &value, error))
    {
      double radians;
      /* On a rotary axis lash is told in degrees. */
      if (kind != TRAMMEL_PARAMETER_LASH
          || !trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_ANGLE, NULL, &radians, NULL))
        return FALSE;
      g_clear_error (error);
      value = radians * 180 / G_PI;
    }
  if (fabs (value) > row->bound)
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found “%s”; at most %g is wanted"), excerpt,
                   row->bound);
      return FALSE;
    }
  *out = value;
  return TRUE;
}

gboolean
trammel_stated_parse_amount (const char *name, const char *text, double *out, GError **error)
{
  TrammelParameterKind kind;

  g_return_val_if_fail (name != NULL && text != NULL && out != NULL, FALSE);

  return parse_statable (name, &kind, error) && parse_amount (kind, text, out, error);
}

gboolean
trammel_stated_parse (const char *text, TrammelStated *out, GError **error)
{
  g_autofree char *name = NULL;
  g_autofree char *value_text = NULL;
  g_autofree char *u_text = NULL;
  TrammelParameterKind kind;
  TrammelStated stated = { 0 };

  g_return_val_if_fail (text != NULL && out != NULL, FALSE);

  const char *equals = strchr (text, '=');
  if (equals == NULL)
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
                   _ ("found “%s”; NAME=VALUE±U is wanted, for instance shrink=0.003±0.001"), excerpt);
      return FALSE;
    }
  name = g_strstrip (g_strndup (text, (gsize)(equals - text)));
  if (!parse_statable (name, &kind, error))
    return FALSE;

  value_text = trammel_amount_split (equals + 1, &u_text);
  if ((u_text != NULL && !parse_amount (kind, u_text, &stated.u, error))
      || !parse_amount (kind, value_text, &stated.value, error))
    return FALSE;
  if (stated.u < 0)
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                   _ ("found “%s”; an uncertainty of 0 or more is wanted (0 fixes the value)"), excerpt);
      return FALSE;
    }
  stated.name = g_ref_string_new (name);
  *out = stated;
  return TRUE;
}
