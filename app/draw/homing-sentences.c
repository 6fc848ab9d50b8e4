/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/homing-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"

#define PERCENT 100
#define LEAST_P 1e-4 /* as trammel_display_p_value() tells */
#define MILLISECONDS 1000
/* The floor is most of a scatter up to so many times as great. */
#define MOST_OF_SCATTER 1.5

/* Decimals that show @s to two digits, so that nothing shown is mere noise. */
static int
decimals_for (double s)
{
  return s > 0 ? CLAMP (1 - (int)floor (log10 (s)), 2, 9) : 4;
}

char *
trammel_sentences_homing_place (double value, double s, const TrammelUnit *unit)
{
  const double factor = unit ? trammel_unit_factor (unit) : 1;
  g_autofree char *number = trammel_display_number (value / factor, decimals_for (s / factor));

  return unit ? g_strdup_printf ("%s %s", number, trammel_unit_symbol (unit)) : g_strconcat (number, "°", NULL);
}

/* A length to @digits. */
static char *
length (double value, int digits, const TrammelUnit *unit)
{
  g_autofree char *number = trammel_display_significant (value / trammel_unit_factor (unit), digits);

  return g_strdup_printf ("%s %s", number, trammel_unit_symbol (unit));
}

static char *
probability (double p)
{
  g_autofree char *number = trammel_display_p_value (p);

  /* Translators: of these two the first is "p below 0.0001" */
  return p < LEAST_P ? g_strdup_printf (_ ("p %s"), number) : g_strdup_printf (_ ("p = %s"), number);
}

const char *
trammel_sentences_homing_group (const TrammelHomingSet *set)
{
  g_return_val_if_fail (set != NULL, NULL);

  if (set->name == NULL)
    return _ ("All together");
  return *set->name != '\0' ? set->name : _ ("(no set)");
}

static void
add_figures (GPtrArray *sentences, const TrammelHoming *homing, const TrammelUnit *unit)
{
  g_autofree char *mean = trammel_sentences_homing_place (homing->mean, homing->s, unit);
  g_autofree char *s = trammel_sentences_homing_place (homing->s, homing->s, unit);
  g_autofree char *range = trammel_sentences_homing_place (homing->range, homing->s, unit);
  g_autofree char *low = trammel_sentences_homing_place (homing->low, homing->s, unit);
  g_autofree char *high = trammel_sentences_homing_place (homing->high, homing->s, unit);

  g_ptr_array_add (sentences,
                   g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u home: mean %s, s %s, range %s (%s to %s).",
                                                 "%u homes: mean %s, s %s, range %s (%s to %s).", homing->n),
                                    (guint)homing->n, mean, s, range, low, high));
  if (homing->s == 0)
    g_ptr_array_add (sentences,
                     g_strdup (_ ("All of them read alike: they scatter less than the instrument can show.")));
}

static void
add_drift (GPtrArray *sentences, const TrammelHoming *homing, const TrammelUnit *unit)
{
  const TrammelHomingDrift *drift = &homing->drift;

  if (isnan (drift->p_value))
    return;
  g_autofree char *slope
      = trammel_sentences_homing_place (drift->slope, isfinite (drift->u) && drift->u > 0 ? drift->u : homing->s, unit);
  g_autofree char *p = probability (drift->p_value);
  g_ptr_array_add (
      sentences, g_strdup_printf (drift->p_value < TRAMMEL_HOMING_SIGNIFICANCE
                                      ? _ ("It drifts: %s from home to home (%s).")
                                      : _ ("No drift that could be told from the scatter: %s from home to home (%s)."),
                                  slope, p));
}

static void
add_outliers (GPtrArray *sentences, const TrammelHomingSet *set, const TrammelUnit *unit)
{
  for (guint i = 0; i < set->outliers->len; i++)
    {
      const TrammelHomingOutlier *outlier = &g_array_index (set->outliers, TrammelHomingOutlier, i);
      g_autofree char *value = trammel_sentences_homing_place (set->values[outlier->index], set->homing.s, unit);
      g_autofree char *g = trammel_display_number (outlier->g, 2);
      g_autofree char *critical = trammel_display_number (outlier->critical, 2);

      g_ptr_array_add (sentences,
                       g_strdup_printf (_ ("Outlier: reading %u, %s (Grubbs's test: %s, where up to %s is chance)."),
                                        (guint)set->indices[outlier->index] + 1, value, g, critical));
    }
  if (!set->has_rest)
    return;
  g_autofree char *s = trammel_sentences_homing_place (set->without_outliers.s, set->without_outliers.s, unit);
  g_ptr_array_add (sentences, g_strdup_printf (_ ("Without them s is %s; the figures here are of all readings."), s));
}

static void
add_intervals (GPtrArray *sentences, const TrammelHoming *homing, const TrammelUnit *unit)
{
  g_autofree char *next_low = trammel_sentences_homing_place (homing->prediction_low, homing->s, unit);
  g_autofree char *next_high = trammel_sentences_homing_place (homing->prediction_high, homing->s, unit);
  g_autofree char *low = trammel_sentences_homing_place (homing->tolerance_low, homing->s, unit);
  g_autofree char *high = trammel_sentences_homing_place (homing->tolerance_high, homing->s, unit);
  g_autofree char *factor = trammel_display_number (homing->factor, 3);

  g_ptr_array_add (sentences, g_strdup_printf (_ ("The next home: from %s to %s (95 %%)."), next_low, next_high));
  g_ptr_array_add (sentences, g_strdup_printf (_ ("99 %% of all homes: from %s to %s (with 95 %% confidence; mean ± %s "
                                                  "s)."),
                                               low, high, factor));
}

GPtrArray *
trammel_sentences_homing_set (const TrammelHomingSet *set, const TrammelUnit *unit)
{
  g_return_val_if_fail (set != NULL, NULL);

  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  if (set->trouble)
    {
      g_ptr_array_add (sentences, g_strdup (set->trouble));
      return sentences;
    }
  add_figures (sentences, &set->homing, unit);
  add_drift (sentences, &set->homing, unit);
  add_outliers (sentences, set, unit);
  add_intervals (sentences, &set->homing, unit);
  return sentences;
}

static char *
scatters_sentence (const TrammelHomingReport *report)
{
  const TrammelHomingSet *a = &report->groups[0], *b = &report->groups[1];
  const TrammelHomingSet *better = a->homing.s <= b->homing.s ? a : b;
  const char *name = trammel_sentences_homing_group (better);
  g_autofree char *p = probability (report->comparison.f_p);

  if (isnan (report->comparison.f_p))
    return g_strdup_printf (_ ("“%s” all read alike, so that the step of the instrument hides how they scatter; read "
                               "finer to compare the two."),
                            name);
  if (report->comparison.f_p < TRAMMEL_HOMING_SIGNIFICANCE)
    return g_strdup_printf (_ ("“%s” scatters less (F test, %s)."), name, p);
  return g_strdup_printf (_ ("Neither scatters more than the other beyond chance (F test, %s)."), p);
}

static char *
places_sentence (const TrammelHomingReport *report, const TrammelUnit *unit)
{
  const TrammelHomingComparison *compared = &report->comparison;
  const TrammelHomingSet *farther = &report->groups[compared->difference >= 0 ? 0 : 1];
  const TrammelHomingSet *other = &report->groups[compared->difference >= 0 ? 1 : 0];
  const char *farther_name = trammel_sentences_homing_group (farther),
             *other_name = trammel_sentences_homing_group (other);
  g_autofree char *difference = trammel_sentences_homing_place (fabs (compared->difference), compared->u, unit);
  g_autofree char *p = probability (compared->t_p);

  if (isnan (compared->t_p))
    return g_strdup_printf (_ ("“%s” ends %s farther than “%s”, as far as the steps of the instrument tell."),
                            farther_name, difference, other_name);
  if (compared->t_p < TRAMMEL_HOMING_SIGNIFICANCE)
    return g_strdup_printf (_ ("“%s” ends %s farther than “%s” (Welch's test, %s)."), farther_name, difference,
                            other_name, p);
  return g_strdup_printf (_ ("They end at the same place, as far as can be told: %s apart (Welch's test, %s)."),
                          difference, p);
}

GPtrArray *
trammel_sentences_homing_comparison (const TrammelHomingReport *report, const TrammelUnit *unit)
{
  g_return_val_if_fail (report != NULL, NULL);

  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  if (!report->has_comparison)
    return sentences;
  g_ptr_array_add (sentences, scatters_sentence (report));
  g_ptr_array_add (sentences, places_sentence (report, unit));
  return sentences;
}

char *
trammel_sentences_homing_layer (const TrammelHoming *homing, double layer, const TrammelUnit *unit)
{
  g_return_val_if_fail (homing != NULL && layer > 0 && unit != NULL, NULL);

  g_autofree char *share = trammel_display_significant ((homing->tolerance_high - homing->mean) / layer * PERCENT, 2);
  g_autofree char *meaning = trammel_homing_meaning (homing, layer);
  g_autofree char *height = length (layer, 3, unit);
  /* Translators: a length with its unit, percent, a sentence */
  return g_strdup_printf (_ ("On a first layer of %s that is ± %s %%. %s"), height, share, meaning);
}

GPtrArray *
trammel_sentences_homing_floor (const TrammelHoming *homing, double speed, double delay, const TrammelUnit *unit)
{
  g_return_val_if_fail (homing != NULL && unit != NULL, NULL);

  GPtrArray *sentences = g_ptr_array_new_with_free_func (g_free);
  const TrammelHomingFloor at_best = trammel_homing_floor (speed, delay);
  g_autofree char *range = length (at_best.range, 2, unit);
  g_autofree char *s = length (at_best.s, 2, unit);
  g_autofree char *shown_speed = length (speed, 3, unit);
  g_autofree char *shown_delay = trammel_display_significant (delay * MILLISECONDS, 3);

  /* Translators: a length with its unit (of the speed), milliseconds, two lengths with their units */
  g_ptr_array_add (sentences, g_strdup_printf (_ ("At %s/s, looked at every %s ms, the switch is found up to %s late: "
                                                  "s cannot be below %s."),
                                               shown_speed, shown_delay, range, s));
  if (homing->s <= MOST_OF_SCATTER * at_best.s)
    g_ptr_array_add (sentences, g_strdup (_ ("That is most of the scatter: come slower.")));
  return sentences;
}

char *
trammel_sentences_homing_offset (const TrammelHomingOffset *offset, const TrammelUnit *unit)
{
  g_return_val_if_fail (offset != NULL && unit != NULL, NULL);

  const double factor = trammel_unit_factor (unit);
  g_autofree char *value = trammel_display_interval (offset->value / factor, (offset->high - offset->value) / factor);
  /* Translators: value ± half-width, and their unit */
  return g_strdup_printf (_ ("From the switch to the bed: %s %s (95 %%)."), value, trammel_unit_symbol (unit));
}
