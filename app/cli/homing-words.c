/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "cli/console.h"
#include "cli/homing.h"
#include "draw/display.h"

/* Decimals that show @s to two digits, so that nothing shown is mere noise. */
static int
decimals_for (double s)
{
  return s > 0 ? CLAMP (1 - (int)floor (log10 (s)), 2, 9) : 4;
}

static char *
length (double value, double s)
{
  g_autofree char *number = trammel_display_number (value, decimals_for (s));

  return g_strconcat (number, " mm", NULL);
}

static char *
probability (double p)
{
  g_autofree char *number = trammel_display_significant (p, 2);

  return p < 0.0001 ? g_strdup (_ ("p below 0.0001")) : g_strconcat ("p = ", number, NULL);
}

static void
append_figures (GString *text, const TrammelHoming *homing)
{
  g_autofree char *mean = length (homing->mean, homing->s);
  g_autofree char *s = length (homing->s, homing->s);
  g_autofree char *range = length (homing->range, homing->s);
  g_autofree char *low = length (homing->low, homing->s);
  g_autofree char *high = length (homing->high, homing->s);

  g_string_append_printf (text,
                          ngettext ("%u home: mean %s, s %s, range %s (%s to %s).\n",
                                    "%u homes: mean %s, s %s, range %s (%s to %s).\n", homing->n),
                          (guint)homing->n, mean, s, range, low, high);
}

static void
append_drift (GString *text, const TrammelHoming *homing)
{
  const TrammelHomingDrift *drift = &homing->drift;
  g_autofree char *slope = length (drift->slope, isfinite (drift->u) && drift->u > 0 ? drift->u : homing->s);
  g_autofree char *p = probability (drift->p_value);

  if (isnan (drift->p_value))
    return;
  g_string_append_printf (text,
                          drift->p_value < TRAMMEL_HOMING_SIGNIFICANCE
                              ? _ ("It drifts: %s from home to home (%s).\n")
                              : _ ("No drift that could be told from the scatter: %s from home to home (%s).\n"),
                          slope, p);
}

static void
append_outliers (GString *text, const CliHomingSet *set)
{
  for (guint i = 0; i < set->outliers->len; i++)
    {
      const TrammelHomingOutlier *outlier = &g_array_index (set->outliers, TrammelHomingOutlier, i);
      g_autofree char *value = length (set->values[outlier->index], set->homing.s);
      g_autofree char *g = trammel_display_number (outlier->g, 2);
      g_autofree char *critical = trammel_display_number (outlier->critical, 2);

      g_string_append_printf (text, _ ("Outlier: reading %u, %s (Grubbs's test: %s, where up to %s is chance).\n"),
                              (guint)outlier->index + 1, value, g, critical);
    }
  if (set->has_rest)
    {
      g_autofree char *s = length (set->without_outliers.s, set->without_outliers.s);

      g_string_append_printf (text, _ ("Without them s is %s; the figures here are of all readings.\n"), s);
    }
}

static void
append_intervals (GString *text, const TrammelHoming *homing)
{
  g_autofree char *next_low = length (homing->prediction_low, homing->s);
  g_autofree char *next_high = length (homing->prediction_high, homing->s);
  g_autofree char *low = length (homing->tolerance_low, homing->s);
  g_autofree char *high = length (homing->tolerance_high, homing->s);
  g_autofree char *factor = trammel_display_number (homing->factor, 3);

  g_string_append_printf (text, _ ("The next home: from %s to %s (95 %%).\n"), next_low, next_high);
  g_string_append_printf (text, _ ("99 %% of all homes: from %s to %s (with 95 %% confidence; mean ± %s s).\n"), low,
                          high, factor);
}

static void
append_set (GString *text, const CliHomingSet *set)
{
  append_figures (text, &set->homing);
  append_drift (text, &set->homing);
  append_outliers (text, set);
  append_intervals (text, &set->homing);
}

static void
append_layer (GString *text, const TrammelHoming *homing, double layer)
{
  g_autofree char *height = trammel_display_significant (layer, 3);
  g_autofree char *share = trammel_display_significant ((homing->tolerance_high - homing->mean) / layer * 100, 2);
  g_autofree char *meaning = trammel_homing_meaning (homing, layer);

  g_string_append_printf (text, _ ("On a first layer of %s mm that is ± %s %%. %s\n"), height, share, meaning);
}

static void
append_floor (GString *text, const CliHomingAnswer *answer)
{
  g_autofree char *range = trammel_display_significant (answer->floor.range, 2);
  g_autofree char *s = trammel_display_significant (answer->floor.s, 2);
  g_autofree char *speed = trammel_display_significant (answer->speed, 3);
  g_autofree char *delay = trammel_display_significant (answer->delay * 1000, 3);

  if (!answer->has_floor)
    return;
  g_string_append_printf (text,
                          _ ("At %s mm/s, looked at every %s ms, the switch is found up to %s mm late: s cannot be "
                             "below %s mm.\n"),
                          speed, delay, range, s);
  if (answer->all.homing.s <= 1.5 * answer->floor.s)
    g_string_append (text, _ ("That is most of the scatter: come slower.\n"));
}

static void
append_offset (GString *text, const CliHomingAnswer *answer)
{
  g_autofree char *value = trammel_display_interval (answer->offset.value, 1.959963984540054 * answer->offset.u);

  if (!answer->has_offset)
    return;
  g_string_append_printf (text, _ ("From the switch to the bed: %s mm (95 %%).\n"), value);
}

static void
append_comparison (GString *text, const CliHomingAnswer *answer)
{
  const TrammelHomingComparison *compared = &answer->comparison;
  const CliHomingSet *a = &answer->groups[0], *b = &answer->groups[1];
  const CliHomingSet *better = a->homing.s <= b->homing.s ? a : b;
  g_autofree char *f_p = probability (compared->f_p);
  g_autofree char *t_p = probability (compared->t_p);
  const CliHomingSet *farther = compared->difference >= 0 ? a : b, *other = farther == a ? b : a;
  g_autofree char *difference = length (fabs (compared->difference), compared->u);

  if (compared->f_p < TRAMMEL_HOMING_SIGNIFICANCE)
    g_string_append_printf (text, _ ("“%s” scatters less (F test, %s).\n"), better->name, f_p);
  else
    g_string_append_printf (text, _ ("Neither scatters more than the other beyond chance (F test, %s).\n"), f_p);
  if (compared->t_p < TRAMMEL_HOMING_SIGNIFICANCE)
    g_string_append_printf (text, _ ("“%s” ends %s farther than “%s” (Welch's test, %s).\n"), farther->name, difference,
                            other->name, t_p);
  else
    g_string_append_printf (
        text, _ ("They end at the same place, as far as can be told: %s apart (Welch's test, %s).\n"), difference, t_p);
}

void
cli_homing_print_words (const CliHomingAnswer *answer)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < answer->n_groups; i++)
    {
      g_string_append_printf (text, "%s\n", *answer->groups[i].name ? answer->groups[i].name : _ ("(no set)"));
      append_set (text, &answer->groups[i]);
      g_string_append_c (text, '\n');
    }
  if (answer->n_groups > 0)
    g_string_append_printf (text, "%s\n", _ ("All together"));
  append_set (text, &answer->all);
  append_layer (text, &answer->all.homing, answer->layer);
  if (answer->has_comparison)
    append_comparison (text, answer);
  append_floor (text, answer);
  append_offset (text, answer);
  cli_say (stdout, text->str);
}
