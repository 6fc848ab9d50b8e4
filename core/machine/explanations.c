/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/explanations.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "machine/machine-private.h"
#include "machine/slips-private.h"

/* −ln of how often a value in force is no longer, or not yet, that of the machine. */
#define RARITY_OF_IN_FORCE 0.2
#define ROUNDING 1e-9
#define MOST_NEAR_ONES 5

/* An explanation while it is ranked. */
typedef struct
{
  TrammelExplanation *explanation;
  double unlikely;
} Ranked;

void
trammel_explanation_free (TrammelExplanation *explanation)
{
  g_free (explanation->change);
  trammel_train_unref (explanation->train);
  g_free (explanation);
}

static gboolean
is_inside (const TrammelCorrection *correction, double counts)
{
  double slack = ROUNDING * correction->corrected;
  return counts >= correction->low - slack && counts <= correction->high + slack;
}

static gboolean
comes_near (const TrammelCorrection *correction, double counts)
{
  double rest = fabs (counts / correction->corrected - 1);
  double error = fabs (correction->in_force / correction->corrected - 1);
  return rest <= TRAMMEL_EXPLAIN_REST && rest <= error / 5;
}

static double
distance (const TrammelCorrection *correction, double counts, gboolean fits)
{
  double u = MAX (correction->u, ROUNDING * correction->corrected);
  double z = (counts - correction->corrected) / u;
  return fits ? z * z / 2 : fabs (log (counts / correction->corrected)) / 0.001;
}

/* Takes @change over. */
static void
take_explanation (GArray *ranked, const TrammelCorrection *correction, char letter, int part, char *change,
                  const TrammelTrain *train, double counts, double rarity)
{
  gboolean fits = is_inside (correction, counts);
  TrammelExplanation explanation = { letter, part, change, counts, fits, NULL };

  if (!fits && !comes_near (correction, counts))
    {
      g_free (change);
      return;
    }
  explanation.train = trammel_train_ref (train);
  Ranked one = { g_memdup2 (&explanation, sizeof explanation), rarity + distance (correction, counts, fits) };
  g_array_append_val (ranked, one);
}

static void
explain_by_slip (GArray *ranked, const TrammelCorrection *correction, char letter, const TrammelFacts *now,
                 const TrammelSlip *slip)
{
  g_autoptr (TrammelFacts) facts = trammel_train_facts (slip->train, NULL);

  if (facts == NULL)
    return;
  double counts = trammel_exact_to_double (facts->counts_per_unit);
  double nominal = trammel_exact_to_double (now->counts_per_unit);
  if (fabs (counts / nominal - 1) < ROUNDING)
    return;
  char *change = facts->direction == now->direction
                     ? g_strdup (slip->change)
                     : g_strdup_printf (_ ("%s; positive counts then move the other way"), slip->change);
  take_explanation (ranked, correction, letter, slip->part, change, slip->train, counts, slip->rarity);
}

static void
explain_by_value_in_force (GArray *ranked, const TrammelCorrection *correction, const TrammelAxis *axis,
                           const TrammelFacts *facts)
{
  double nominal = trammel_exact_to_double (facts->counts_per_unit);

  if (!trammel_axis_set_in_force (axis, NULL, NULL) || fabs (correction->in_force / nominal - 1) < ROUNDING)
    return;
  take_explanation (ranked, correction, trammel_axis_letter (axis), -1,
                    g_strdup (_ ("value in force: the nominal instead")), trammel_axis_train (axis), nominal,
                    RARITY_OF_IN_FORCE);
}

static int
compare_ranked (gconstpointer a, gconstpointer b)
{
  const Ranked *one = a, *other = b;

  if (one->explanation->fits != other->explanation->fits)
    return one->explanation->fits ? -1 : 1;
  if (one->unlikely != other->unlikely)
    return one->unlikely < other->unlikely ? -1 : 1;
  /* A sort that changes no order of equals is not promised. */
  if (one->explanation->part != other->explanation->part)
    return one->explanation->part - other->explanation->part;
  return g_strcmp0 (one->explanation->change, other->explanation->change);
}

static gboolean
wants_explaining (const TrammelAxisScale *scale)
{
  return scale != NULL && scale->significant && fabs (scale->scale_error) >= TRAMMEL_EXPLAIN_FROM;
}

static void
explain_axis (const TrammelMachine *machine, const TrammelAdjustment *adjustment, const TrammelAxis *axis,
              GPtrArray *explanations)
{
  const char letter = trammel_axis_letter (axis);
  TrammelCorrection correction;
  guint n_near = 0;

  if (!wants_explaining (trammel_adjustment_axis (adjustment, letter))
      || !trammel_machine_correction (machine, adjustment, letter, &correction, NULL))
    return;
  g_autoptr (TrammelFacts) facts = trammel_train_facts (trammel_axis_train (axis), NULL);
  if (facts == NULL)
    return;
  g_autoptr (GArray) ranked = g_array_new (FALSE, FALSE, sizeof (Ranked));
  g_autoptr (GPtrArray) slips = trammel_slips_of_train (trammel_axis_train (axis));
  explain_by_value_in_force (ranked, &correction, axis, facts);
  for (guint i = 0; i < slips->len; i++)
    explain_by_slip (ranked, &correction, letter, facts, slips->pdata[i]);

  g_array_sort (ranked, compare_ranked);
  for (guint i = 0; i < ranked->len; i++)
    {
      TrammelExplanation *explanation = g_array_index (ranked, Ranked, i).explanation;
      if (explanation->fits || n_near++ < MOST_NEAR_ONES)
        g_ptr_array_add (explanations, explanation);
      else
        trammel_explanation_free (explanation);
    }
}

GPtrArray *
trammel_machine_explain (const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  GPtrArray *explanations = g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_explanation_free);

  g_return_val_if_fail (machine != NULL && adjustment != NULL, explanations);

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    explain_axis (machine, adjustment, trammel_machine_axis (machine, i), explanations);
  return explanations;
}

TrammelMachine *
trammel_machine_put_right (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                           const TrammelReadings *fitted_readings, const TrammelExplanation *explanation,
                           const char *time, GError **error)
{
  TrammelLogChange change = { .letter = '\0' };
  TrammelCorrection correction;

  g_return_val_if_fail (machine != NULL && adjustment != NULL && fitted_readings != NULL, NULL);
  g_return_val_if_fail (explanation != NULL && time != NULL, NULL);

  if (!trammel_machine_correction (machine, adjustment, explanation->letter, &correction, error))
    return NULL;
  const gsize i = (gsize)trammel_machine_axis_index (machine, explanation->letter);
  const TrammelAxis *axis = trammel_machine_axis (machine, i);
  change.letter = explanation->letter;
  if (!trammel_axis_in_force (axis, &change.before, &change.before_u, error))
    return NULL;
  change.after = explanation->fits ? explanation->counts_per_unit : correction.corrected;
  change.after_u = explanation->fits ? 0 : correction.u;

  g_autoptr (TrammelAxis) with_train = trammel_axis_with_train (axis, explanation->train);
  g_autoptr (TrammelAxis) right
      = trammel_axis_with_in_force (with_train, explanation->fits ? NAN : change.after, change.after_u);
  g_autoptr (TrammelMachine) corrected = trammel_machine_with_axis (machine, i, right, error);
  if (corrected == NULL)
    return NULL;
  return trammel_machine_log_correction (machine, corrected, &change, 1, adjustment, fitted_readings, time,
                                         explanation->change, error);
}
