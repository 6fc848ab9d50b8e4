/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/foresight-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"

#define DEGREES (180 / G_PI)
#define LEAST_SHARE 0.005
/* Below this a plan says nothing of lash that was not stated. */
#define LEAST_LEARNED 0.05

static char *
with_capital (char *words)
{
  g_autofree char *taken = words;
  const char *rest = g_utf8_next_char (taken);
  g_autofree char *capital = g_utf8_strup (taken, rest - taken);

  return g_strconcat (capital, rest, NULL);
}

static char *
nominal_in_words (const TrammelMachine *machine, const TrammelReading *reading)
{
  const int i = trammel_machine_axis_index (machine, reading->along.axes[0]);

  if (isnan (reading->nominal))
    return g_strdup ("");
  if (i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)i)) == TRAMMEL_AXIS_ROTARY)
    {
      g_autofree char *angle = trammel_display_significant (reading->nominal, 6);
      return g_strconcat (angle, "°", NULL);
    }
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  g_autofree char *length = trammel_display_significant (reading->nominal / trammel_unit_factor (unit), 6);
  return g_strdup_printf ("%s %s", length, trammel_unit_symbol (unit));
}

static char *
act_in_words (const TrammelReading *reading, const char *along, const char *nominal)
{
  switch ((TrammelReadingKind)reading->kind)
    {
    case TRAMMEL_READING_TRAVEL:
      return g_strdup_printf (_ ("tell %s to move %s and measure how far it went"), along, nominal);
    case TRAMMEL_READING_OUTSIDE:
      return g_strdup_printf (_ ("print %2$s along %1$s and measure over the outside"), along, nominal);
    case TRAMMEL_READING_INSIDE:
      return g_strdup_printf (_ ("print %2$s along %1$s and measure between the inner faces"), along, nominal);
    case TRAMMEL_READING_CENTER:
      return g_strdup_printf (_ ("print %2$s along %1$s and measure from one face to the next that faces the same way"),
                              along, nominal);
    case TRAMMEL_READING_HEIGHT:
      return g_strdup_printf (_ ("print and measure a height of %s"), nominal);
    case TRAMMEL_READING_REVERSAL:
      return g_strdup_printf (_ ("send %s to one place from both sides and measure how far apart it stops"), along);
    case TRAMMEL_READING_POSITION:
    default:
      return g_strdup_printf (_ ("go to %2$s along %1$s and measure the place"), along, nominal);
    }
}

char *
trammel_sentences_next_act (const TrammelMachine *machine, const TrammelNext *next)
{
  g_return_val_if_fail (machine != NULL && next != NULL, NULL);

  g_autofree char *along = trammel_direction_to_text (&next->reading.along);
  g_autofree char *nominal = nominal_in_words (machine, &next->reading);
  g_autofree char *act = act_in_words (&next->reading, along, nominal);

  if (next->reading.instrument == NULL || *next->reading.instrument == '\0')
    return g_steal_pointer (&act);
  return g_strdup_printf ("%s (%s)", act, next->reading.instrument);
}

char *
trammel_sentences_scale_interval (const TrammelAdjustment *adjustment, double u)
{
  g_return_val_if_fail (adjustment != NULL, NULL);

  if (!isfinite (u))
    return g_strdup (_ ("unknown"));
  g_autofree char *percent = trammel_display_significant (100 * trammel_adjustment_coverage_factor (adjustment) * u, 2);
  return g_strdup_printf ("± %s %%", percent);
}

char *
trammel_sentences_next (const TrammelMachine *machine, const TrammelAdjustment *adjustment, const TrammelNext *next)
{
  g_return_val_if_fail (machine != NULL && adjustment != NULL && next != NULL, NULL);

  g_autofree char *now = trammel_sentences_scale_interval (adjustment, next->u_now);
  g_autofree char *then = trammel_sentences_scale_interval (adjustment, next->u_after);
  g_autofree char *act = with_capital (trammel_sentences_next_act (machine, next));

  if (isnan (next->u_now))
    return g_strdup_printf (_ ("Nothing is known of %c. %s: then %s."), next->letter, act, then);
  return g_strdup_printf (_ ("%c is known to %s. %s: then %s."), next->letter, now, act, then);
}

char *
trammel_sentences_budget_source (const TrammelBudgetLine *line)
{
  g_return_val_if_fail (line != NULL, NULL);

  if (line->is_stated)
    {
      g_autofree char *words = with_capital (trammel_parameter_to_words (line->parameter));
      return g_strdup_printf (_ ("%s, as stated"), words);
    }
  if (line->instrument == NULL || *line->instrument == '\0')
    return g_strdup (trammel_reading_kind_label (line->kind));
  return g_strdup_printf ("%s, %s", trammel_reading_kind_label (line->kind), line->instrument);
}

static char *
promise_of_lash (const TrammelMachine *machine, const TrammelAdjustment *plan, const TrammelParameter *parameter)
{
  const int i = trammel_machine_axis_index (machine, parameter->axes[0]);
  const gboolean rotary = i >= 0 && trammel_axis_kind (trammel_machine_axis (machine, (gsize)i)) == TRAMMEL_AXIS_ROTARY;
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  const double half = trammel_adjustment_coverage_factor (plan) * parameter->u;
  g_autofree char *number = trammel_display_significant (rotary ? half : half / trammel_unit_factor (unit), 2);

  if (!(parameter->learned >= LEAST_LEARNED))
    return NULL;
  return rotary ? g_strdup_printf (_ ("the lash of %c to ± %s°"), parameter->axes[0], number)
                : g_strdup_printf (_ ("the lash of %c to ± %s %s"), parameter->axes[0], number,
                                   trammel_unit_symbol (unit));
}

/* "X to ± 0.6 %", "the skew between X and Y to ± 0.03°"; NULL for what only serves to find these. */
static char *
promise_of (const TrammelMachine *machine, const TrammelAdjustment *plan, const TrammelParameter *parameter)
{
  if (parameter->kind == TRAMMEL_PARAMETER_LASH)
    return promise_of_lash (machine, plan, parameter);
  if (parameter->kind == TRAMMEL_PARAMETER_SCALE)
    {
      g_autofree char *interval = trammel_sentences_scale_interval (plan, parameter->u);
      return g_strdup_printf (_ ("%c to %s"), parameter->axes[0], interval);
    }
  if (parameter->kind == TRAMMEL_PARAMETER_SKEW)
    {
      g_autofree char *degrees
          = trammel_display_significant (DEGREES * trammel_adjustment_coverage_factor (plan) * parameter->u, 2);
      return g_strdup_printf (_ ("the skew between %c and %c to ± %s°"), parameter->axes[0], parameter->axes[1],
                              degrees);
    }
  return NULL;
}

char *
trammel_sentences_budget (const TrammelBudgetLine *lines, gsize n)
{
  GString *words = g_string_new (NULL);

  g_return_val_if_fail (lines != NULL || n == 0, g_string_free (words, FALSE));

  for (gsize i = 0; i < n && lines[i].share >= LEAST_SHARE; i++)
    {
      g_autofree char *source = trammel_sentences_budget_source (&lines[i]);
      g_autofree char *share = trammel_display_number (100 * lines[i].share, 0);
      if (n > 1 && lines[1].share >= LEAST_SHARE)
        g_string_append_printf (words, "%s%u ", i > 0 ? "   " : "", (guint)i + 1);
      g_string_append_printf (words, "%s %s %%", source, share);
    }
  return g_string_free (words, FALSE);
}

/* The greatest; NaN where some row has none. */
static double
own_u_of_rows (const TrammelReadings *rows)
{
  gsize n;
  const TrammelReading *row = trammel_readings_rows (rows, &n);
  double greatest = NAN;

  for (gsize i = 0; i < n; i++)
    {
      if (isnan (row[i].u))
        return NAN;
      greatest = fmax (greatest, row[i].u);
    }
  return greatest;
}

/* "Measured with the caliper (u 0.03 mm)" */
static char *
means_in_words (const TrammelMachine *machine, const TrammelReadings *rows)
{
  gsize n;
  const TrammelInstrument *instruments = trammel_machine_instruments (machine, &n);
  const TrammelUnit *unit = trammel_machine_display_unit (machine);
  const double own_u = own_u_of_rows (rows);
  const double u = (!isnan (own_u) ? own_u : n > 0 ? instruments[0].u : TRAMMEL_DEFAULT_U) / trammel_unit_factor (unit);
  g_autofree char *number = trammel_display_significant (u, 2);

  if (!isnan (own_u))
    return g_strdup_printf (_ ("Read off the lines (u %s %s)"), number, trammel_unit_symbol (unit));
  if (n == 0)
    return g_strdup_printf (_ ("Measured with u %s %s"), number, trammel_unit_symbol (unit));
  return g_strdup_printf (_ ("Measured with the %s (u %s %s)"), instruments[0].name, number,
                          trammel_unit_symbol (unit));
}

char *
trammel_sentences_plan (const TrammelMachine *machine, const TrammelReadings *rows, const TrammelAdjustment *plan)
{
  g_autoptr (GPtrArray) promises = g_ptr_array_new_with_free_func (g_free);
  gsize n;

  g_return_val_if_fail (machine != NULL && rows != NULL && plan != NULL, NULL);

  const TrammelParameter *parameters = trammel_adjustment_parameters (plan, &n);
  for (gsize i = 0; i < n; i++)
    {
      char *promise = promise_of (machine, plan, &parameters[i]);
      if (promise != NULL)
        g_ptr_array_add (promises, promise);
    }
  if (promises->len == 0)
    return NULL;
  g_ptr_array_add (promises, NULL);
  g_autofree char *list = g_strjoinv (", ", (char **)promises->pdata);
  g_autofree char *means = means_in_words (machine, rows);
  return g_strdup_printf (_ ("%s, this piece will tell %s."), means, list);
}
