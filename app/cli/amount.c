/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/amount.h"

#include <glib/gi18n.h>

#include "cli/console.h"

gboolean
cli_amount_parse (const char *option, const char *typed, TrammelDimension dimension, TrammelAmount *out, GError **error)
{
  g_autofree char *text = cli_argument_to_utf8 (typed);

  if (!text)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE, _ ("--%s: not text"), option);
      return FALSE;
    }
  if (trammel_amount_parse (text, dimension, NULL, out, error))
    return TRUE;
  g_prefix_error (error, "--%s: ", option);
  return FALSE;
}

gboolean
cli_value_parse (const char *option, const char *typed, TrammelDimension dimension, double *out, GError **error)
{
  TrammelAmount amount;

  if (!cli_amount_parse (option, typed, dimension, &amount, error))
    return FALSE;
  if (amount.u > 0)
    {
      g_set_error (error, G_OPTION_ERROR, G_OPTION_ERROR_BAD_VALUE,
                   _ ("--%s: found “%s”; a value without an uncertainty is wanted"), option, typed);
      return FALSE;
    }
  *out = amount.value;
  return TRUE;
}
