/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "cli/adjust.h"
#include "cli/console.h"
#include "draw/display.h"
#include "draw/explanation-sentences.h"
#include "draw/foresight-sentences.h"
#include "draw/sentences.h"
#include "draw/trial-sentences.h"

#define MOST_NEXT 3
#define LEAST_SHARE 0.005

/* @text and blanks up to @width characters. */
static void
append_padded (GString *line, const char *text, glong width)
{
  g_string_append (line, text);
  for (glong i = g_utf8_strlen (text, -1); i < width; i++)
    g_string_append_c (line, ' ');
}

static void
append_sentences (GString *text, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  g_autoptr (GPtrArray) sentences = trammel_sentences_result (machine, adjustment);

  for (guint i = 0; i < sentences->len; i++)
    g_string_append_printf (text, "%s\n", (const char *)g_ptr_array_index (sentences, i));
  /* xgettext:no-c-format */
  g_string_append_printf (text, "%s\n\n", _ ("(± tells the 95 % interval.)"));
}

static void
append_parameter (GString *text, const TrammelParameter *parameter)
{
  g_autofree char *interval = trammel_display_interval (parameter->value, (parameter->high - parameter->low) / 2);
  g_autofree char *stated = NULL;
  g_autofree char *learned = trammel_display_number (100 * MAX (parameter->learned, 0), 0);

  append_padded (text, parameter->name, 14);
  append_padded (text, interval, 30);
  if (parameter->has_stated)
    {
      g_autofree char *value = trammel_display_significant (parameter->stated_value, 5);
      g_autofree char *u = trammel_display_significant (parameter->stated_u, 3);

      stated = g_strdup_printf (_ ("%s, u %s"), value, u);
    }
  append_padded (text, stated ? stated : "", 24);
  g_string_append_printf (text, "%s %%\n", learned);
}

static void
append_parameters (GString *text, const TrammelAdjustment *adjustment)
{
  gsize n;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);

  append_padded (text, _ ("unknown"), 14);
  append_padded (text, _ ("value ± 95 %"), 30);
  append_padded (text, _ ("stated before"), 24);
  g_string_append_printf (text, "%s\n", _ ("learned"));
  for (gsize i = 0; i < n; i++)
    append_parameter (text, &parameters[i]);
  g_string_append_c (text, '\n');
}

static void
append_fit (GString *text, const TrammelAdjustment *adjustment)
{
  gsize n_used = trammel_adjustment_n_used (adjustment);
  g_autofree char *dof = g_strdup_printf ("%" G_GINT64_FORMAT, trammel_adjustment_dof (adjustment));
  g_autofree char *chi2 = trammel_display_significant (trammel_adjustment_chi2 (adjustment), 4);
  g_autofree char *sigma = trammel_display_significant (trammel_adjustment_sigma (adjustment), 4);
  g_autofree char *p = trammel_display_p_value (trammel_adjustment_p_value (adjustment));

  g_string_append_printf (text, ngettext ("%zu reading; ", "%zu readings; ", n_used), n_used);
  if (trammel_adjustment_scatter (adjustment) == TRAMMEL_SCATTER_ESTIMATED)
    g_string_append_printf (text, _ ("residual standard deviation %s, degrees of freedom %s.\n"), sigma, dof);
  else if (isfinite (trammel_adjustment_p_value (adjustment)))
    g_string_append_printf (text, _ ("χ² %s, degrees of freedom %s, p %s.\n"), chi2, dof, p);
  else
    g_string_append_printf (text, _ ("χ² %s, degrees of freedom %s.\n"), chi2, dof);
}

static void
append_warnings (GString *text, const TrammelAdjustment *adjustment)
{
  const char *const *warnings = trammel_adjustment_warnings (adjustment);

  for (gsize i = 0; warnings && warnings[i]; i++)
    g_string_append_printf (text, _ ("Warning: %s\n"), warnings[i]);
}

static void
append_explanations (GString *text, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  g_autoptr (GPtrArray) explanations = trammel_machine_explain (machine, adjustment);
  char letter = '\0';

  for (guint i = 0; i < explanations->len; i++)
    {
      const TrammelExplanation *explanation = explanations->pdata[i];
      g_autofree char *sentence = trammel_sentences_explanation (machine, adjustment, explanation);

      if (explanation->letter != letter)
        g_string_append_printf (text, _ ("\nWas something of %c entered wrong? Most plausible first:\n"),
                                explanation->letter);
      letter = explanation->letter;
      g_string_append_printf (text, "  %s\n", sentence);
    }
}

static void
append_budget (GString *text, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
               const TrammelAdjustOptions *how)
{
  g_autoptr (GArray) budget = trammel_machine_budget (machine, adjustment, how);
  char letter = '\0';

  if (budget->len > 0)
    g_string_append (text, _ ("\nWhere the uncertainty comes from:\n"));
  for (guint i = 0; i < budget->len; i++)
    {
      const TrammelBudgetLine *line = &g_array_index (budget, TrammelBudgetLine, i);
      const char name[] = { line->letter == letter ? ' ' : line->letter, '\0' };
      g_autofree char *source = trammel_sentences_budget_source (line);
      g_autofree char *share = trammel_display_number (100 * line->share, 0);

      letter = line->letter;
      if (line->share < LEAST_SHARE)
        continue;
      append_padded (text, name, 3);
      append_padded (text, source, 34);
      g_string_append_printf (text, "%s %%\n", share);
    }
}

/* For the axis that is known worst. */
static void
append_next (GString *text, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
             const TrammelAdjustOptions *how)
{
  g_autoptr (GArray) ranked = trammel_machine_next (machine, adjustment, how, '\0', MOST_NEXT);

  if (ranked->len > 0)
    g_string_append (text, _ ("\nWhat to measure next:\n"));
  for (guint i = 0; i < ranked->len; i++)
    {
      const TrammelNext *next = &g_array_index (ranked, TrammelNext, i);
      g_autofree char *first = i == 0 ? trammel_sentences_next (machine, adjustment, next) : NULL;
      g_autofree char *act = trammel_sentences_next_act (machine, next);
      g_autofree char *then = trammel_sentences_scale_interval (adjustment, next->u_after);

      if (first)
        g_string_append_printf (text, "%s\n", first);
      else
        g_string_append_printf (text, _ ("  or %s: %s\n"), act, then);
    }
}

static void
append_trials (GString *text, const CliTrials *trials)
{
  if (!trials->axes)
    return;
  g_string_append_printf (text, _ ("\n%d trials of the whole model, scale error:\n"), (int)trials->n);
  for (guint i = 0; i < trials->axes->len; i++)
    {
      g_autofree char *sentence = trammel_sentences_trials (&g_array_index (trials->axes, TrammelMonteCarloAxis, i));
      g_string_append_printf (text, "%s\n", sentence);
    }
}

void
cli_adjust_print_words (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                        const TrammelAdjustOptions *how, const CliTrials *trials)
{
  g_autoptr (GString) text = g_string_new (NULL);

  append_sentences (text, machine, adjustment);
  append_parameters (text, adjustment);
  append_fit (text, adjustment);
  append_warnings (text, adjustment);
  append_explanations (text, machine, adjustment);
  append_budget (text, machine, adjustment, how);
  append_next (text, machine, adjustment, how);
  append_trials (text, trials);
  cli_say (stdout, text->str);
}
