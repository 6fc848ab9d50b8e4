/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "cli/console.h"
#include "cli/drift.h"
#include "draw/drift-sentences.h"

static void
append_checks (GString *text, const TrammelMachine *machine, const TrammelDrift *drift, TrammelDriftQuantity quantity)
{
  const GArray *checks = drift->series[quantity].checks;

  for (guint i = 0; i < checks->len; i++)
    {
      const TrammelDriftCheck *check = &g_array_index (checks, TrammelDriftCheck, i);
      g_autofree char *time = trammel_drift_day_to_text (check->day);
      g_autofree char *value = trammel_sentences_drift_value (machine, drift->letter, quantity, check);

      g_string_append_printf (text, "   %.10s  %s%s%s\n", time, value,
                              check->is_outside ? _ ("  outside the limits") : "",
                              check->is_jump ? _ ("  a jump") : "");
    }
}

static void
append_series (GString *text, const TrammelMachine *machine, const TrammelDrift *drift, TrammelDriftQuantity quantity)
{
  g_autoptr (GPtrArray) sentences = trammel_sentences_drift (machine, drift, quantity);

  append_checks (text, machine, drift, quantity);
  for (guint i = 0; i < sentences->len; i++)
    g_string_append_printf (text, "   %s\n", (const char *)g_ptr_array_index (sentences, i));
}

static void
append_axis (GString *text, const TrammelMachine *machine, const TrammelDrift *drift)
{
  g_autofree char *unchecked = trammel_sentences_drift_unchecked (drift);
  const char *left_out = trammel_sentences_drift_left_out (drift);

  if (unchecked)
    g_string_append_printf (text, "%s\n", unchecked);
  for (int i = 0; i < TRAMMEL_N_DRIFT_QUANTITIES; i++)
    {
      const TrammelDriftQuantity quantity = (TrammelDriftQuantity)i;
      g_autofree char *unit = trammel_sentences_drift_unit (machine, drift->letter, quantity);

      if (drift->series[i].checks->len == 0)
        continue;
      if (quantity == TRAMMEL_DRIFT_COUNTS)
        g_string_append_printf (text, "%c  %s\n", drift->letter, unit);
      else
        /* translators: what is followed over time, and its unit: "Lash, mm:" */
        g_string_append_printf (text, _ ("   %s, %s:\n"), trammel_sentences_drift_quantity (quantity), unit);
      append_series (text, machine, drift, quantity);
    }
  if (left_out)
    g_string_append_printf (text, "   %s\n", left_out);
}

void
cli_drift_print_words (const TrammelMachine *machine, const GPtrArray *drifts)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < drifts->len; i++)
    append_axis (text, machine, g_ptr_array_index (drifts, i));
  if (drifts->len == 0)
    g_string_append (text, _ ("The machine has no axes.\n"));
  cli_say (stdout, text->str);
}
