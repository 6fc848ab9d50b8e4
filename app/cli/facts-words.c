/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>

#include "cli/console.h"
#include "cli/facts.h"
#include "draw/display.h"
#include "draw/duty-sentences.h"
#include "draw/sentences.h"

/* Takes @sentence over; NULL is left out. */
static void
append (GString *text, char *sentence)
{
  if (sentence)
    g_string_append_printf (text, "   %s\n", sentence);
  g_free (sentence);
}

static void
append_counts (GString *text, const CliAxisFacts *facts)
{
  g_autofree char *counts
      = trammel_exact_to_display (facts->bench->facts->counts_per_unit, trammel_display_decimal_sign ());
  g_autofree char *unit = trammel_sentences_counts_unit (facts->axis);

  g_string_append_printf (text, "   %s %s\n", counts, unit);
}

/* Needs of one sort under a heading. */
static void
append_needs (GString *text, const CliAxisFacts *facts, gboolean taken, const char *heading)
{
  gboolean any = FALSE;

  for (guint i = 0; i < facts->bench->needs->len; i++)
    {
      const TrammelNeed *need = g_ptr_array_index (facts->bench->needs, i);
      g_autofree char *sentence = NULL;

      if ((need->taken != NULL) != taken)
        continue;
      sentence = trammel_sentences_need (trammel_axis_train (facts->axis), need);
      if (!any)
        g_string_append_printf (text, "   %s\n", heading);
      g_string_append_printf (text, "     %s\n", sentence);
      any = TRUE;
    }
}

static void
append_axis (GString *text, const CliAxisFacts *facts)
{
  const TrammelBench *bench = facts->bench;
  const TrammelTrain *train = trammel_axis_train (facts->axis);
  g_autofree char *words = trammel_train_to_words (train);
  g_autoptr (GPtrArray) cautions = trammel_sentences_cautions (facts->axis, bench);

  g_string_append_printf (text, "%c  %s\n", trammel_axis_letter (facts->axis), words);
  append_counts (text, facts);
  append (text, trammel_sentences_steps (bench, facts->unit));
  append (text, trammel_sentences_top_speed (bench, facts->unit));
  append (text, trammel_sentences_holds (facts->axis, bench, facts->unit));
  append (text, trammel_sentences_margin (bench));
  append (text, trammel_sentences_torques (bench));
  append (text, trammel_sentences_acceleration (bench, facts->unit));
  append (text, trammel_sentences_efficiency (train, bench));
  append (text, trammel_sentences_inertia (bench));
  append (text, trammel_sentences_power_loss (facts->axis, bench));
  append (text, trammel_sentences_pull_off (bench, facts->unit));
  append (text, trammel_sentences_layers (facts->axis, bench, facts->unit));
  append (text, trammel_sentences_screw (bench));
  append (text, trammel_sentences_whirl (bench, facts->unit));
  append (text, trammel_sentences_buckling (bench, facts->unit));
  for (gsize i = 0; i < bench->n_loops; i++)
    append (text, trammel_sentences_loop (train, bench, i, facts->unit));
  append (text, trammel_sentences_play (train, bench, facts->unit));
  append (text, trammel_sentences_play_found (bench, facts->lash, facts->lash_half_width, facts->unit));
  append_needs (text, facts, TRUE, _ ("Not entered:"));
  append_needs (text, facts, FALSE, _ ("To know more, enter:"));
  for (guint i = 0; i < cautions->len; i++)
    g_string_append_printf (text, _ ("   Caution: %s\n"), (const char *)g_ptr_array_index (cautions, i));
}

void
cli_facts_print_words (const GArray *axes)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < axes->len; i++)
    {
      if (i > 0)
        g_string_append_c (text, '\n');
      append_axis (text, &g_array_index (axes, CliAxisFacts, i));
    }
  if (axes->len == 0)
    g_string_append (text, _ ("The machine has no axes.\n"));
  cli_say (stdout, text->str);
}
