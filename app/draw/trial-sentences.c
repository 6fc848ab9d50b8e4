/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/trial-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"

#define PERCENT 100.0

char *
trammel_sentences_trials (const TrammelMonteCarloAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);

  /* One digit more than the tolerance tells apart */
  const int decimals = axis->tolerance > 0 ? CLAMP ((int)ceil (-log10 (PERCENT * 2 * axis->tolerance)), 0, 9) : 4;
  g_autofree char *low = trammel_display_number (PERCENT * axis->low, decimals);
  g_autofree char *high = trammel_display_number (PERCENT * axis->high, decimals);
  g_autofree char *linear_low = trammel_display_number (PERCENT * axis->linear_low, decimals);
  g_autofree char *linear_high = trammel_display_number (PERCENT * axis->linear_high, decimals);

  if (axis->validated)
    return g_strdup_printf (_ ("%c: trials give %s to %s %%, the fit %s to %s %%: the interval is validated."),
                            axis->letter, low, high, linear_low, linear_high);
  return g_strdup_printf (_ ("%c: trials give %s to %s %%, the fit %s to %s %%: not validated; go by the trials."),
                          axis->letter, low, high, linear_low, linear_high);
}
