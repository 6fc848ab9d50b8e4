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

  if (trammel_monte_carlo_is_open (axis))
    return g_strdup_printf (
        _ ("%c: trials give %s to %s %%, the fit %s to %s %%: so few trials cannot tell; make more."), axis->letter,
        low, high, linear_low, linear_high);
  if (axis->validated)
    return g_strdup_printf (_ ("%c: trials give %s to %s %%, the fit %s to %s %%: the interval is validated."),
                            axis->letter, low, high, linear_low, linear_high);
  return g_strdup_printf (_ ("%c: trials give %s to %s %%, the fit %s to %s %%: not validated; go by the trials."),
                          axis->letter, low, high, linear_low, linear_high);
}

char *
trammel_sentences_trials_criterion (const TrammelMonteCarloAxis *axis)
{
  g_return_val_if_fail (axis != NULL, NULL);

  g_autofree char *tolerance = trammel_display_significant (PERCENT * axis->tolerance, 2);
  g_autofree char *apart = trammel_display_significant (PERCENT * fmax (axis->d_low, axis->d_high), 2);
  g_autofree char *end_u = trammel_display_significant (PERCENT * fmax (axis->low_u, axis->high_u), 2);

  if (axis->validated)
    return g_strdup_printf (
        _ ("The ends of the two intervals of %c differ by at most %s %%. JCGM 101:2008, clause 8, "
           "allows %s %%, half a unit in the second digit of u: the fit’s interval can be relied on."),
        axis->letter, apart, tolerance);
  if (trammel_monte_carlo_is_open (axis))
    return g_strdup_printf (_ ("The ends of the two intervals of %c differ by up to %s %%, where JCGM 101:2008, clause "
                               "8, allows %s %%; but so few trials know the ends themselves only to ± %s %% (standard "
                               "uncertainty). Make more of them."),
                            axis->letter, apart, tolerance, end_u);
  return g_strdup_printf (
      _ ("The ends of the two intervals of %c differ by up to %s %%. JCGM 101:2008, clause 8, allows "
         "%s %%, half a unit in the second digit of u: the fit’s interval is not validated. Where it "
         "matters, go by that of the trials."),
      axis->letter, apart, tolerance);
}
