/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/amount.h"

#include <glib/gi18n.h>
#include <string.h>

#include "cli/console.h"

/* Cuts @text in two at a sign that means ±; (nullable): what comes after it. */
static char *
cut_at_plus_minus (char *text)
{
  static const char *const signs[] = { "±", "+/-", "+-" };

  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      char *found = strstr (text, signs[i]);

      if (!found)
        continue;
      *found = '\0';
      return found + strlen (signs[i]);
    }
  return NULL;
}

/* What stands behind the number; "" for none. */
static const char *
unit_of (const char *text)
{
  const char *p = text;

  while (*p
         && (g_ascii_isdigit (*p) || strchr (" +-.,/", *p)
             || ((*p == 'e' || *p == 'E') && p[1] && strchr ("+-0123456789", p[1]))))
    p++;
  return p;
}

static gboolean
parse (const char *typed, TrammelDimension dimension, double *value, double *u, GError **error)
{
  g_autofree char *text = g_strdup (typed);
  char *after = cut_at_plus_minus (text);
  g_autofree char *with_unit = NULL;

  g_strstrip (text);
  *u = 0;
  if (after)
    {
      with_unit = *unit_of (text) ? NULL : g_strconcat (text, " ", unit_of (after), NULL);
      if (!trammel_quantity_parse_value (after, dimension, NULL, u, error))
        return FALSE;
    }
  if (!trammel_quantity_parse_value (with_unit ? with_unit : text, dimension, NULL, value, error))
    return FALSE;
  if (*u >= 0)
    return TRUE;
  g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("found “%s”; an uncertainty of 0 or more is wanted"),
               typed);
  return FALSE;
}

gboolean
cli_amount_parse (const char *option, const char *typed, TrammelDimension dimension, double *value, double *u,
                  GError **error)
{
  g_autofree char *text = cli_argument_to_utf8 (typed);

  if (!text)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: not text"), option);
      return FALSE;
    }
  if (parse (text, dimension, value, u, error))
    return TRUE;
  g_prefix_error (error, "--%s: ", option);
  return FALSE;
}
