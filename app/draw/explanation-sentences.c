/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/explanation-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"
#include "draw/sentences.h"

char *
trammel_sentences_explanation (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                               const TrammelExplanation *explanation)
{
  TrammelCorrection correction;

  g_return_val_if_fail (machine != NULL && adjustment != NULL && explanation != NULL, NULL);
  const int i = trammel_machine_axis_index (machine, explanation->letter);
  g_return_val_if_fail (i >= 0, NULL);

  g_autofree char *change = trammel_display_with_capital (explanation->change);
  g_autofree char *unit = trammel_sentences_counts_unit (trammel_machine_axis (machine, (gsize)i));
  g_autofree char *counts = trammel_display_significant (explanation->counts_per_unit, 8);
  if (explanation->fits)
    return g_strdup_printf (_ ("%s would make it %s %s, as measured."), change, counts, unit);
  if (!trammel_machine_correction (machine, adjustment, explanation->letter, &correction, NULL))
    return g_strdup_printf (_ ("%s would make it %s %s."), change, counts, unit);
  g_autofree char *rest
      = trammel_display_significant (100 * fabs (explanation->counts_per_unit / correction.corrected - 1), 2);
  return g_strdup_printf (_ ("%s would make it %s %s, and leave %s %%."), change, counts, unit, rest);
}
