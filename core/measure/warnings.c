/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What a person should know about a fit, in sentences. */
#include "measure/adjustment-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

/* Told apart: more than this was learned, or it is correlated with no scale by more than that. */
#define LITTLE_LEARNED 0.1
#define STRONG_CORRELATION 0.7
/* Fewer degrees of freedom than this say little about scatter. */
#define FEW_DEGREES 3
#define MOST_SUSPECTS_NAMED 5
/* A smaller p is told as being below this: its digits are those of the normal distribution's far tail, not of readings.
 */
#define LEAST_P 1e-4

static void
warn (GPtrArray *warnings, char *sentence)
{
  g_ptr_array_add (warnings, sentence);
}

static double
correlation (const TrammelAdjustment *adjustment, guint i, guint j)
{
  const TrammelParameter *parameters = adjustment->unknowns.parameters;
  double scale = parameters[i].u * parameters[j].u;

  return scale > 0 ? adjustment->covariance[(gsize)i * adjustment->unknowns.n + j] / scale : 0;
}

/* "X and Y": axes whose scale moves together with parameter @i; only @letter when it is given. */
static char *
entangled_axes (const TrammelAdjustment *adjustment, guint i, char letter)
{
  g_autoptr (GString) axes = g_string_new (NULL);

  for (guint j = 0; j < adjustment->unknowns.n; j++)
    {
      const TrammelParameter *other = &adjustment->unknowns.parameters[j];
      if (other->kind != TRAMMEL_PARAMETER_SCALE || (letter != '\0' && other->axes[0] != letter))
        continue;
      if (fabs (correlation (adjustment, i, j)) > STRONG_CORRELATION)
        g_string_append_c (axes, other->axes[0]);
    }
  return trammel_letters_in_words (axes->str);
}

static gboolean
has_kind (const TrammelFit *fit, TrammelReadingKind kind)
{
  for (gsize i = 0; i < fit->input->n_readings; i++)
    if (fit->input->readings[i].kind == kind && trammel_reading_is_complete (&fit->input->readings[i]))
      return TRUE;
  return FALSE;
}

static char *
bead_sentence (const TrammelFit *fit, const char *axes)
{
  if (!has_kind (fit, TRAMMEL_READING_INSIDE))
    return g_strdup_printf (
        _ ("The bead and the scale of %s cannot be told apart by outside sizes alone; an inside size "
           "along %s would tell them."),
        axes, axes);
  if (!has_kind (fit, TRAMMEL_READING_OUTSIDE))
    return g_strdup_printf (
        _ ("The bead and the scale of %s cannot be told apart by inside sizes alone; an outside size "
           "along %s would tell them."),
        axes, axes);
  return g_strdup_printf (
      _ ("The bead and the scale of %s can hardly be told apart; an outside and an inside size along "
         "the same axis would tell them."),
      axes);
}

static char *
entangled_sentence (const TrammelFit *fit, const TrammelParameter *parameter, const char *axes)
{
  switch (parameter->kind)
    {
    case TRAMMEL_PARAMETER_BEAD:
      return bead_sentence (fit, axes);
    case TRAMMEL_PARAMETER_SHRINK:
      return g_strdup_printf (_ ("Shrink and the scale of %s cannot be told apart by printed sizes; a travel of the "
                                 "machine, measured without a print, along %s would tell them."),
                              axes, axes);
    case TRAMMEL_PARAMETER_FOOT:
      return g_strdup (_ ("The foot and the scale of Z cannot be told apart by heights of one size; a second, quite "
                          "different height would tell them."));
    case TRAMMEL_PARAMETER_LASH:
      return g_strdup_printf (_ ("Lash and the scale of %s cannot be told apart; a travel along %s without a reversal, "
                                 "or the distance of one place reached from both sides, would tell them."),
                              axes, axes);
    case TRAMMEL_PARAMETER_SKEW:
      return g_strdup_printf (
          _ ("The skew between %c and %c and the scale of %s cannot be told apart; the other diagonal "
             "would tell them."),
          parameter->axes[0], parameter->axes[1], axes);
    case TRAMMEL_PARAMETER_INSTRUMENT:
      return g_strdup_printf (_ ("The scale of %s cannot be known better than that of the instrument “%s” (standard "
                                 "uncertainty %.2g %%); a size measured with a better one would tell them apart."),
                              axes, strchr (parameter->name, '.') + 1, 100 * parameter->stated_u);
    case TRAMMEL_PARAMETER_SCALE:
    case TRAMMEL_PARAMETER_DATUM:
    default:
      return NULL;
    }
}

static void
warn_of_entangled (const TrammelAdjustment *adjustment, const TrammelFit *fit, GPtrArray *warnings)
{
  for (guint i = 0; i < adjustment->unknowns.n; i++)
    {
      const TrammelParameter *parameter = &adjustment->unknowns.parameters[i];
      if (!parameter->has_stated || trammel_parameter_is_fixed (parameter) || parameter->learned > LITTLE_LEARNED)
        continue;
      char letter = parameter->kind == TRAMMEL_PARAMETER_LASH ? parameter->axes[0] : '\0';
      g_autofree char *axes = entangled_axes (adjustment, i, letter);
      char *sentence = *axes != '\0' ? entangled_sentence (fit, parameter, axes) : NULL;
      if (sentence != NULL)
        warn (warnings, sentence);
    }
}

/* (transfer full) */
static char *
p_in_words (double p)
{
  return p < LEAST_P ? g_strdup_printf (_ ("below %.4f"), LEAST_P) : g_strdup_printf ("= %.2g", p);
}

static gsize
count_suspects (const TrammelAdjustment *adjustment)
{
  gsize n = 0;

  for (gsize i = 0; i < adjustment->n_readings; i++)
    n += adjustment->fitted[i].suspect ? 1 : 0;
  return n;
}

/* One gross mis-reading widens every interval, and need not. */
static void
warn_of_cause_of_scatter (const TrammelAdjustment *adjustment, GPtrArray *warnings)
{
  gsize n = count_suspects (adjustment);

  if (n > 0)
    warn (warnings,
          g_strdup (g_dngettext (GETTEXT_PACKAGE,
                                 "The suspect row may be all there is to that scatter: measure it again, leave it out, "
                                 "or use the robust fit, and the intervals become narrower.",
                                 "The suspect rows may be all there is to that scatter: measure them again, leave them "
                                 "out, or use the robust fit, and the intervals become narrower.",
                                 n)));
}

static void
warn_of_scatter (const TrammelAdjustment *adjustment, GPtrArray *warnings)
{
  if (adjustment->birge > 1 && adjustment->robust)
    warn (warnings,
          g_strdup_printf (_ ("The readings scatter more than their uncertainties say; all uncertainties were "
                              "multiplied by %.3g."),
                           adjustment->birge));
  else if (adjustment->birge > 1)
    {
      g_autofree char *p = p_in_words (adjustment->p_value);
      warn (warnings, g_strdup_printf (_ ("The readings scatter more than their uncertainties say (p %s); all "
                                          "uncertainties were multiplied by %.3g."),
                                       p, adjustment->birge));
      warn_of_cause_of_scatter (adjustment, warnings);
    }
  if (adjustment->scatter == TRAMMEL_SCATTER_ESTIMATED && adjustment->freedom < FEW_DEGREES)
    warn (warnings,
          g_strdup_printf (_ ("The scatter is estimated from %.3g degrees of freedom only, so the intervals are "
                              "very wide; more readings would narrow them."),
                           adjustment->freedom));
}

static void
warn_of_lack_of_fit (const TrammelAdjustment *adjustment, GPtrArray *warnings)
{
  const TrammelRepeats *repeats = trammel_adjustment_repeats (adjustment);

  if (repeats == NULL || !(repeats->p_value < TRAMMEL_LACK_OF_FIT_SIGNIFICANCE))
    return;
  g_autofree char *p = p_in_words (repeats->p_value);
  warn (warnings,
        g_strdup_printf (_ ("Repeated readings agree much better with each other than with the fit (F = %.3g, "
                            "p %s): something is at work that scale, lash, bead and shrink do not "
                            "describe, such as an error that comes back every turn, a bent part or a wrong "
                            "nominal."),
                         repeats->f, p));
}

/* @mm along an axis (degrees along a rotary one). (transfer full) */
static char *
amount_text (const TrammelAdjustmentInput *input, char letter, double mm, int digits)
{
  const TrammelUnit *unit = input->unit ? input->unit : trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);

  if (input->rotary && strchr (input->rotary, letter))
    return g_strdup_printf ("%.*g°", digits, mm);
  return g_strdup_printf ("%.*g %s", digits, mm / trammel_unit_factor (unit), trammel_unit_symbol (unit));
}

static char *
suspect_sentence (const TrammelAdjustmentInput *input, const TrammelFitted *fitted, gsize i)
{
  const TrammelReading *reading = &input->readings[i];
  const char letter = reading->along.axes[0];
  g_autofree char *along = trammel_direction_to_text (&reading->along);
  g_autofree char *measured = amount_text (input, letter, reading->measured, 6);
  g_autofree char *residual = amount_text (input, letter, fabs (fitted->residual), 3);

  if (isnan (reading->nominal))
    /* Translators: number of the row, kind of reading, along what, measured value, difference */
    return g_strdup_printf (_ ("Row %u (%s %s, measured %s) is %s off what the other readings say; measure it again."),
                            (guint)i + 1, trammel_reading_kind_label (reading->kind), along, measured, residual);

  g_autofree char *nominal = amount_text (input, letter, reading->nominal, 6);
  /* Translators: number of the row, kind of reading, along what, nominal and measured value, difference */
  return g_strdup_printf (_ ("Row %u (%s %s %s, measured %s) is %s off what the other readings say; measure it again."),
                          (guint)i + 1, trammel_reading_kind_label (reading->kind), along, nominal, measured, residual);
}

/* "0.12 mm by positions, 0.31 mm by reversals" (transfer full) */
static char *
values_by_source (const TrammelAdjustmentInput *input, const TrammelLashAgreement *agreement)
{
  g_autoptr (GPtrArray) values = g_ptr_array_new_with_free_func (g_free);

  for (guint i = 0; i < agreement->n; i++)
    {
      const TrammelSourceLash *lash = &agreement->sources[i];
      if (isnan (lash->value))
        continue;
      g_autofree char *amount = amount_text (input, agreement->letter, lash->value, 3);
      g_ptr_array_add (values, g_strdup_printf (_ ("%s by %s"), amount, trammel_lash_source_label (lash->source)));
    }
  g_ptr_array_add (values, NULL);
  return g_strjoinv (_ (", "), (char **)values->pdata);
}

static void
warn_of_lash (const TrammelAdjustment *adjustment, const TrammelFit *fit, GPtrArray *warnings)
{
  gsize n;
  const TrammelLashAgreement *agreements = trammel_adjustment_lash (adjustment, &n);

  for (gsize i = 0; i < n; i++)
    {
      if (agreements[i].agree)
        continue;
      g_autofree char *values = values_by_source (fit->input, &agreements[i]);
      g_autofree char *p = p_in_words (agreements[i].p_value);
      /* Translators: axis, "0.12 mm by positions, 0.31 mm by reversals", "= 0.003" */
      warn (warnings,
            g_strdup_printf (_ ("The ways in which the lash of %c was found do not agree: %s (p %s). Play under the "
                                "push of an indicator, the drag of a pen or of fresh plastic need not be the same; or "
                                "a row was misread, or an approach entered the wrong way round."),
                             agreements[i].letter, values, p));
    }
}

static void
warn_of_suspects (const TrammelAdjustment *adjustment, const TrammelFit *fit, GPtrArray *warnings)
{
  gsize n = 0;

  for (gsize i = 0; i < adjustment->n_readings; i++)
    {
      if (!adjustment->fitted[i].suspect)
        continue;
      if (n++ < MOST_SUSPECTS_NAMED)
        warn (warnings, suspect_sentence (fit->input, &adjustment->fitted[i], i));
    }
  if (n > MOST_SUSPECTS_NAMED)
    warn (warnings, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u more row is suspect.",
                                                  "%u more rows are suspect.", n - MOST_SUSPECTS_NAMED),
                                     (guint)(n - MOST_SUSPECTS_NAMED)));
}

static void
warn_of_rows (const TrammelAdjustment *adjustment, const TrammelFit *fit, GPtrArray *warnings)
{
  GHashTableIter iter;
  gpointer name;

  const TrammelUnit *unit = fit->input->unit ? fit->input->unit : trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);

  g_hash_table_iter_init (&iter, fit->strangers);
  while (g_hash_table_iter_next (&iter, &name, NULL))
    warn (warnings, g_strdup_printf (_ ("The instrument “%s” is not described; its readings count with u = %.3g %s."),
                                     (const char *)name, TRAMMEL_DEFAULT_U / trammel_unit_factor (unit),
                                     trammel_unit_symbol (unit)));
  if (adjustment->n_skipped > 0)
    warn (warnings, g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%u row is not complete and was left out.",
                                                  "%u rows are not complete and were left out.", adjustment->n_skipped),
                                     (guint)adjustment->n_skipped));
}

char **
trammel_adjustment_find_warnings (const TrammelAdjustment *adjustment, const TrammelFit *fit)
{
  g_autoptr (GPtrArray) warnings = g_ptr_array_new ();

  if (!fit->converged)
    warn (warnings, g_strdup (_ ("The fit did not settle; its values may be off. Look for gross mis-readings.")));
  if (fit->rests_on_outliers)
    warn (warnings,
          g_strdup (_ ("Some unknown rests on readings that contradict each other, so the robust fit trusts none "
                       "of them; its uncertainty is very great.")));
  warn_of_scatter (adjustment, warnings);
  warn_of_lack_of_fit (adjustment, warnings);
  warn_of_lash (adjustment, fit, warnings);
  warn_of_suspects (adjustment, fit, warnings);
  warn_of_entangled (adjustment, fit, warnings);
  warn_of_rows (adjustment, fit, warnings);
  g_ptr_array_add (warnings, NULL);
  return (char **)g_ptr_array_free (g_steal_pointer (&warnings), FALSE);
}
