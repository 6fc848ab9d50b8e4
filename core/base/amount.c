/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/amount.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

/* The sign between value and uncertainty, and in @after what comes behind it; NULL: none. */
static const char *
find_plus_minus (const char *text, const char **after)
{
  static const char *const signs[] = { "±", "+/-", "+-" };

  for (gsize i = 0; i < G_N_ELEMENTS (signs); i++)
    {
      const char *found = strstr (text, signs[i]);

      if (found == NULL)
        continue;
      *after = found + strlen (signs[i]);
      return found;
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

char *
trammel_amount_split (const char *text, char **u)
{
  const char *after;

  g_return_val_if_fail (text != NULL && u != NULL, NULL);

  *u = NULL;
  const char *sign = find_plus_minus (text, &after);
  if (sign == NULL)
    return g_strdup (text);
  *u = g_strdup (after);
  g_autofree char *value = g_strstrip (g_strndup (text, (gsize)(sign - text)));
  return *unit_of (value) ? g_steal_pointer (&value) : g_strconcat (value, " ", unit_of (after), NULL);
}

gboolean
trammel_amount_parse (const char *text, TrammelDimension dimension, const TrammelUnit *assumed, TrammelAmount *out,
                      GError **error)
{
  g_autofree char *u = NULL;
  TrammelAmount amount = { 0 };

  g_return_val_if_fail (text != NULL && out != NULL, FALSE);

  g_autofree char *value = trammel_amount_split (text, &u);
  if ((u != NULL && !trammel_quantity_parse_value (u, dimension, assumed, &amount.u, error))
      || !trammel_quantity_parse_value (value, dimension, assumed, &amount.value, error))
    return FALSE;
  if (amount.u < 0)
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found “%s”; an uncertainty of 0 or more is wanted"),
                   excerpt);
      return FALSE;
    }
  *out = amount;
  return TRUE;
}
