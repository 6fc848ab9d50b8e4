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

/* What is written, and the unit of places (NULL: degrees). */
typedef struct
{
  GString *text;
  const TrammelUnit *unit;
} Words;

/* @s tells how many decimals are worth showing. */
static char *
place (const Words *words, double value, double s)
{
  const double factor = words->unit ? trammel_unit_factor (words->unit) : 1;
  g_autofree char *number = trammel_display_number (value / factor, decimals_for (s / factor));

  return words->unit ? g_strdup_printf ("%s %s", number, trammel_unit_symbol (words->unit))
                     : g_strconcat (number, "°", NULL);
}

/* A length to @digits. */
static char *
length (const Words *words, double value, int digits)
{
  g_autofree char *number = trammel_display_significant (value / trammel_unit_factor (words->unit), digits);

  return g_strdup_printf ("%s %s", number, trammel_unit_symbol (words->unit));
}

static char *
probability (double p)
{
  g_autofree char *number = trammel_display_significant (p, 2);

  return p < 0.0001 ? g_strdup (_ ("p below 0.0001")) : g_strconcat ("p = ", number, NULL);
}

static void
append_figures (const Words *words, const TrammelHoming *homing)
{
  g_autofree char *mean = place (words, homing->mean, homing->s);
  g_autofree char *s = place (words, homing->s, homing->s);
  g_autofree char *range = place (words, homing->range, homing->s);
  g_autofree char *low = place (words, homing->low, homing->s);
  g_autofree char *high = place (words, homing->high, homing->s);

  g_string_append_printf (words->text,
                          ngettext ("%u home: mean %s, s %s, range %s (%s to %s).\n",
                                    "%u homes: mean %s, s %s, range %s (%s to %s).\n", homing->n),
                          (guint)homing->n, mean, s, range, low, high);
  if (homing->s == 0)
    g_string_append (words->text, _ ("All of them read alike: they scatter less than the instrument can show.\n"));
}

static void
append_drift (const Words *words, const TrammelHoming *homing)
{
  const TrammelHomingDrift *drift = &homing->drift;
  g_autofree char *slope = place (words, drift->slope, isfinite (drift->u) && drift->u > 0 ? drift->u : homing->s);
  g_autofree char *p = probability (drift->p_value);

  if (isnan (drift->p_value))
    return;
  g_string_append_printf (words->text,
                          drift->p_value < TRAMMEL_HOMING_SIGNIFICANCE
                              ? _ ("It drifts: %s from home to home (%s).\n")
                              : _ ("No drift that could be told from the scatter: %s from home to home (%s).\n"),
                          slope, p);
}

static void
append_outliers (const Words *words, const TrammelHomingSet *set)
{
  for (guint i = 0; i < set->outliers->len; i++)
    {
      const TrammelHomingOutlier *outlier = &g_array_index (set->outliers, TrammelHomingOutlier, i);
      g_autofree char *value = place (words, set->values[outlier->index], set->homing.s);
      g_autofree char *g = trammel_display_number (outlier->g, 2);
      g_autofree char *critical = trammel_display_number (outlier->critical, 2);

      g_string_append_printf (words->text,
                              _ ("Outlier: reading %u, %s (Grubbs's test: %s, where up to %s is chance).\n"),
                              (guint)set->indices[outlier->index] + 1, value, g, critical);
    }
  if (set->has_rest)
    {
      g_autofree char *s = place (words, set->without_outliers.s, set->without_outliers.s);

      g_string_append_printf (words->text, _ ("Without them s is %s; the figures here are of all readings.\n"), s);
    }
}

static void
append_intervals (const Words *words, const TrammelHoming *homing)
{
  g_autofree char *next_low = place (words, homing->prediction_low, homing->s);
  g_autofree char *next_high = place (words, homing->prediction_high, homing->s);
  g_autofree char *low = place (words, homing->tolerance_low, homing->s);
  g_autofree char *high = place (words, homing->tolerance_high, homing->s);
  g_autofree char *factor = trammel_display_number (homing->factor, 3);

  g_string_append_printf (words->text, _ ("The next home: from %s to %s (95 %%).\n"), next_low, next_high);
  g_string_append_printf (words->text, _ ("99 %% of all homes: from %s to %s (with 95 %% confidence; mean ± %s s).\n"),
                          low, high, factor);
}

static void
append_set (const Words *words, const TrammelHomingSet *set)
{
  append_figures (words, &set->homing);
  append_drift (words, &set->homing);
  append_outliers (words, set);
  append_intervals (words, &set->homing);
}

static void
append_layer (const Words *words, const CliHomingAnswer *answer)
{
  const TrammelHoming *homing = &answer->report->all.homing;
  g_autofree char *share
      = trammel_display_significant ((homing->tolerance_high - homing->mean) / answer->layer * 100, 2);
  g_autofree char *meaning = trammel_homing_meaning (homing, answer->layer);

  if (!answer->has_layer)
    return;
  g_autofree char *height = length (words, answer->layer, 3);
  /* Translators: a length with its unit, percent, a sentence */
  g_string_append_printf (words->text, _ ("On a first layer of %s that is ± %s %%. %s\n"), height, share, meaning);
}

static void
append_floor (const Words *words, const CliHomingAnswer *answer)
{
  if (!answer->has_floor)
    return;
  g_autofree char *range = length (words, answer->floor.range, 2);
  g_autofree char *s = length (words, answer->floor.s, 2);
  g_autofree char *speed = length (words, answer->speed, 3);
  g_autofree char *delay = trammel_display_significant (answer->delay * 1000, 3);
  /* Translators: a length with its unit (of the speed), milliseconds, two lengths with their units */
  g_string_append_printf (words->text,
                          _ ("At %s/s, looked at every %s ms, the switch is found up to %s late: s cannot be "
                             "below %s.\n"),
                          speed, delay, range, s);
  if (answer->report->all.homing.s <= 1.5 * answer->floor.s)
    g_string_append (words->text, _ ("That is most of the scatter: come slower.\n"));
}

static void
append_offset (const Words *words, const CliHomingAnswer *answer)
{
  if (!answer->has_offset)
    return;
  const double factor = trammel_unit_factor (words->unit);
  g_autofree char *value
      = trammel_display_interval (answer->offset.value / factor, (answer->offset.high - answer->offset.value) / factor);
  /* Translators: value ± half-width, and their unit */
  g_string_append_printf (words->text, _ ("From the switch to the bed: %s %s (95 %%).\n"), value,
                          trammel_unit_symbol (words->unit));
}

static void
append_scatters (const Words *words, const TrammelHomingReport *report)
{
  const TrammelHomingSet *a = &report->groups[0], *b = &report->groups[1];
  const TrammelHomingSet *better = a->homing.s <= b->homing.s ? a : b;
  g_autofree char *p = probability (report->comparison.f_p);

  if (isnan (report->comparison.f_p))
    g_string_append_printf (words->text,
                            _ ("“%s” all read alike, so that the step of the instrument hides how they scatter; read "
                               "finer to compare the two.\n"),
                            better->name);
  else if (report->comparison.f_p < TRAMMEL_HOMING_SIGNIFICANCE)
    g_string_append_printf (words->text, _ ("“%s” scatters less (F test, %s).\n"), better->name, p);
  else
    g_string_append_printf (words->text, _ ("Neither scatters more than the other beyond chance (F test, %s).\n"), p);
}

static void
append_places (const Words *words, const TrammelHomingReport *report)
{
  const TrammelHomingComparison *compared = &report->comparison;
  const TrammelHomingSet *farther = &report->groups[compared->difference >= 0 ? 0 : 1];
  const TrammelHomingSet *other = &report->groups[compared->difference >= 0 ? 1 : 0];
  g_autofree char *difference = place (words, fabs (compared->difference), compared->u);
  g_autofree char *p = probability (compared->t_p);

  if (isnan (compared->t_p))
    g_string_append_printf (words->text,
                            _ ("“%s” ends %s farther than “%s”, as far as the steps of the instrument tell.\n"),
                            farther->name, difference, other->name);
  else if (compared->t_p < TRAMMEL_HOMING_SIGNIFICANCE)
    g_string_append_printf (words->text, _ ("“%s” ends %s farther than “%s” (Welch's test, %s).\n"), farther->name,
                            difference, other->name, p);
  else
    g_string_append_printf (words->text,
                            _ ("They end at the same place, as far as can be told: %s apart (Welch's test, %s).\n"),
                            difference, p);
}

static void
append_groups (const Words *words, const TrammelHomingReport *report)
{
  for (gsize i = 0; i < report->n_groups; i++)
    {
      const TrammelHomingSet *set = &report->groups[i];

      g_string_append_printf (words->text, "%s\n", *set->name ? set->name : _ ("(no set)"));
      append_set (words, set);
      g_string_append_c (words->text, '\n');
    }
  if (report->n_groups > 0)
    g_string_append_printf (words->text, "%s\n", _ ("All together"));
}

void
cli_homing_print_words (const CliHomingAnswer *answer)
{
  g_autoptr (GString) text = g_string_new (NULL);
  const Words words = { text, answer->unit };

  if (answer->axis != '\0')
    g_string_append_printf (text, _ ("Homes of axis %c\n"), answer->axis);
  append_groups (&words, answer->report);
  append_set (&words, &answer->report->all);
  append_layer (&words, answer);
  if (answer->report->has_comparison)
    {
      append_scatters (&words, answer->report);
      append_places (&words, answer->report);
    }
  append_floor (&words, answer);
  append_offset (&words, answer);
  cli_say (stdout, text->str);
}
