/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/lash-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"

/* "0.102 ± 0.004 mm", in degrees along a rotary axis. */
static char *
value_text (const TrammelMachine *machine, char letter, double value, double half_width)
{
  const int i = trammel_machine_axis_index (machine, letter);
  const gboolean rotary = i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)i)) == TRAMMEL_AXIS_ROTARY;
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  const double factor = rotary ? 1 : trammel_unit_factor (unit);
  g_autofree char *interval = trammel_display_interval (value / factor, half_width / factor);

  return g_strconcat (interval, rotary ? "°" : " ", rotary ? "" : trammel_unit_symbol (unit), NULL);
}

static char *
source_text (const TrammelMachine *machine, const TrammelLashAgreement *agreement, const TrammelSourceLash *lash)
{
  const char *label = trammel_lash_source_label (lash->source);

  if (isnan (lash->value))
    return g_strdup_printf (_ ("unknown by %s alone"), label);
  g_autofree char *value = value_text (machine, agreement->letter, lash->value, agreement->coverage_factor * lash->u);
  return g_strdup_printf (_ ("%s by %s"), value, label);
}

char *
trammel_sentences_lash (const TrammelMachine *machine, const TrammelLashAgreement *agreement)
{
  g_autoptr (GPtrArray) sources = g_ptr_array_new_with_free_func (g_free);

  g_return_val_if_fail (machine != NULL && agreement != NULL, NULL);

  for (guint i = 0; i < agreement->n; i++)
    g_ptr_array_add (sources, source_text (machine, agreement, &agreement->sources[i]));
  g_ptr_array_add (sources, NULL);
  g_autofree char *list = g_strjoinv (_ (", "), (char **)sources->pdata);
  g_autofree char *p = trammel_display_p_value (agreement->p_value);

  if (isnan (agreement->p_value))
    return g_strdup_printf (_ ("Lash of %c: %s; nothing to compare it with."), agreement->letter, list);
  if (agreement->agree)
    return g_strdup_printf (_ ("Lash of %c: %s; they agree (p %s)."), agreement->letter, list, p);
  return g_strdup_printf (_ ("Lash of %c: %s; they do not agree (p %s)."), agreement->letter, list, p);
}
