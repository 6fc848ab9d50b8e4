/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "cli/adjust.h"
#include "cli/json-text.h"
#include "machine/explanations.h"
#include "machine/foresight.h"

#define MOST_NEXT 5

static void
write_axis (JsonText *json, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
            const TrammelAxisScale *scale)
{
  const char letter[] = { scale->letter, '\0' };
  g_autofree char *name = g_strdup_printf ("scale.%c", scale->letter);
  const TrammelParameter *parameter = trammel_adjustment_parameter (adjustment, name);
  const int i = trammel_machine_axis_index (machine, scale->letter);
  TrammelCorrection correction;
  double in_force = NAN, in_force_u;

  if (!trammel_machine_correction (machine, adjustment, scale->letter, &correction, NULL))
    correction = (TrammelCorrection){ NAN, NAN, NAN, NAN, NAN };
  trammel_axis_in_force (trammel_machine_axis (machine, (gsize)i), &in_force, &in_force_u, NULL);
  json_text_open (json, NULL, '{');
  json_text_string (json, "letter", letter);
  json_text_number (json, "scale_error", scale->scale_error);
  json_text_number (json, "u", scale->u);
  json_text_open (json, "counts_per_unit", '{');
  json_text_number (json, "in_force", in_force);
  json_text_number (json, "corrected", correction.corrected);
  json_text_number (json, "u", correction.u);
  json_text_number (json, "low", correction.low);
  json_text_number (json, "high", correction.high);
  json_text_close (json, '}');
  json_text_flag (json, "significant", scale->significant);
  json_text_number (json, "learned", parameter ? parameter->learned : NAN);
  json_text_close (json, '}');
}

static void
write_axes (JsonText *json, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  json_text_open (json, "axes", '[');
  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      char letter = trammel_axis_letter (trammel_machine_axis (machine, i));
      const TrammelAxisScale *scale = trammel_adjustment_axis (adjustment, letter);

      if (scale)
        write_axis (json, machine, adjustment, scale);
    }
  json_text_close (json, ']');
}

static void
write_parameters (JsonText *json, const TrammelAdjustment *adjustment)
{
  gsize n;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);

  json_text_open (json, "parameters", '[');
  for (gsize i = 0; i < n; i++)
    {
      const TrammelParameter *parameter = &parameters[i];

      json_text_open (json, NULL, '{');
      json_text_string (json, "name", parameter->name);
      json_text_number (json, "value", parameter->value);
      json_text_number (json, "u", parameter->u);
      json_text_number (json, "low", parameter->low);
      json_text_number (json, "high", parameter->high);
      if (parameter->has_stated)
        {
          json_text_open (json, "stated", '{');
          json_text_number (json, "value", parameter->stated_value);
          json_text_number (json, "u", parameter->stated_u);
          json_text_close (json, '}');
        }
      else
        json_text_null (json, "stated");
      json_text_number (json, "learned", parameter->learned);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_reading (JsonText *json, gsize index, const TrammelReading *reading, const TrammelFitted *fitted)
{
  g_autofree char *along = trammel_direction_to_text (&reading->along);

  json_text_open (json, NULL, '{');
  json_text_integer (json, "index", (gint64)index);
  json_text_string (json, "kind", trammel_reading_kind_key (reading->kind));
  json_text_string (json, "along", along);
  json_text_number (json, "nominal", reading->nominal);
  json_text_number (json, "measured", reading->measured);
  json_text_number (json, "predicted", fitted->predicted);
  json_text_number (json, "residual", fitted->residual);
  json_text_number (json, "standardized", fitted->standardized);
  json_text_flag (json, "suspect", fitted->suspect);
  json_text_close (json, '}');
}

/* Those that took part; `index` is the row among all, from 0. */
static void
write_readings (JsonText *json, const TrammelAdjustment *adjustment, const TrammelReadings *readings)
{
  gsize n;
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n);

  json_text_open (json, "readings", '[');
  for (gsize i = 0; i < n; i++)
    if (isfinite (fitted[i].predicted))
      write_reading (json, i, trammel_readings_get (readings, i), &fitted[i]);
  json_text_close (json, ']');
}

static void
write_repeats (JsonText *json, const TrammelRepeats *repeats)
{
  if (!repeats)
    {
      json_text_null (json, "pure_error");
      json_text_null (json, "lack_of_fit");
      return;
    }
  json_text_open (json, "pure_error", '{');
  json_text_integer (json, "dof", repeats->pure_error_dof);
  json_text_number (json, "ss", repeats->pure_error_ss);
  json_text_close (json, '}');
  json_text_open (json, "lack_of_fit", '{');
  json_text_number (json, "dof", repeats->lack_of_fit_dof);
  json_text_number (json, "ss", repeats->lack_of_fit_ss);
  json_text_number (json, "F", repeats->f);
  json_text_number (json, "p_value", repeats->p_value);
  json_text_close (json, '}');
}

static void
write_fit (JsonText *json, const TrammelAdjustment *adjustment)
{
  gsize n_parameters;

  trammel_adjustment_parameters (adjustment, &n_parameters);
  json_text_open (json, "fit", '{');
  json_text_string (json, "scatter",
                    trammel_adjustment_scatter (adjustment) == TRAMMEL_SCATTER_ESTIMATED ? "estimated" : "stated");
  json_text_integer (json, "readings", (gint64)trammel_adjustment_n_used (adjustment));
  json_text_integer (json, "parameters", (gint64)n_parameters);
  json_text_integer (json, "dof", trammel_adjustment_dof (adjustment));
  json_text_number (json, "chi2", trammel_adjustment_chi2 (adjustment));
  json_text_number (json, "p_value", trammel_adjustment_p_value (adjustment));
  json_text_number (json, "birge", trammel_adjustment_birge (adjustment));
  json_text_number (json, "coverage", 0.95);
  write_repeats (json, trammel_adjustment_repeats (adjustment));
  json_text_close (json, '}');
}

static void
write_explanations (JsonText *json, const TrammelMachine *machine, const TrammelAdjustment *adjustment)
{
  g_autoptr (GPtrArray) explanations = trammel_machine_explain (machine, adjustment);

  json_text_open (json, "explanations", '[');
  for (guint i = 0; i < explanations->len; i++)
    {
      const TrammelExplanation *explanation = explanations->pdata[i];
      const char letter[] = { explanation->letter, '\0' };

      json_text_open (json, NULL, '{');
      json_text_string (json, "axis", letter);
      json_text_string (json, "change", explanation->change);
      json_text_number (json, "counts_per_unit", explanation->counts_per_unit);
      json_text_flag (json, "fits", explanation->fits);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_next_of_axis (JsonText *json, GArray *ranked)
{
  for (guint i = 0; i < ranked->len; i++)
    {
      const TrammelNext *next = &g_array_index (ranked, TrammelNext, i);
      const char letter[] = { next->letter, '\0' };
      g_autofree char *along = trammel_direction_to_text (&next->reading.along);

      json_text_open (json, NULL, '{');
      json_text_string (json, "kind", trammel_reading_kind_key (next->reading.kind));
      json_text_string (json, "along", along);
      json_text_number (json, "nominal", next->reading.nominal);
      json_text_string (json, "axis", letter);
      json_text_number (json, "u_now", next->u_now);
      json_text_number (json, "u_after", next->u_after);
      json_text_string (json, "instrument", next->reading.instrument);
      json_text_number (json, "u", next->u);
      json_text_close (json, '}');
    }
}

/* The axis that is known worst, then the others of the fit. */
static void
write_next (JsonText *json, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
            const TrammelAdjustOptions *how)
{
  const char worst = trammel_next_worst_axis (adjustment);

  json_text_open (json, "next", '[');
  for (gsize i = 0; i <= trammel_machine_n_axes (machine); i++)
    {
      char letter = i == 0 ? worst : trammel_axis_letter (trammel_machine_axis (machine, i - 1));
      if ((i > 0 && letter == worst) || !trammel_adjustment_axis (adjustment, letter))
        continue;
      g_autoptr (GArray) ranked = trammel_machine_next (machine, adjustment, how, letter, MOST_NEXT);
      write_next_of_axis (json, ranked);
    }
  json_text_close (json, ']');
}

static void
write_budget (JsonText *json, const TrammelMachine *machine, const TrammelAdjustment *adjustment,
              const TrammelAdjustOptions *how)
{
  g_autoptr (GArray) budget = trammel_machine_budget (machine, adjustment, how);

  json_text_open (json, "budget", '[');
  for (guint i = 0; i < budget->len; i++)
    {
      const TrammelBudgetLine *line = &g_array_index (budget, TrammelBudgetLine, i);
      const char letter[] = { line->letter, '\0' };
      g_autofree char *source = trammel_budget_line_key (line);

      json_text_open (json, NULL, '{');
      json_text_string (json, "axis", letter);
      json_text_string (json, "source", source);
      json_text_number (json, "share", line->share);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
}

static void
write_lash_of_axis (JsonText *json, const TrammelLashAgreement *agreement)
{
  const char letter[] = { agreement->letter, '\0' };

  json_text_open (json, NULL, '{');
  json_text_string (json, "axis", letter);
  json_text_open (json, "sources", '[');
  for (guint i = 0; i < agreement->n; i++)
    {
      const TrammelSourceLash *lash = &agreement->sources[i];

      json_text_open (json, NULL, '{');
      json_text_string (json, "source", trammel_lash_source_key (lash->source));
      json_text_number (json, "value", lash->value);
      json_text_number (json, "u", lash->u);
      json_text_integer (json, "readings", (gint64)lash->n_readings);
      json_text_close (json, '}');
    }
  json_text_close (json, ']');
  json_text_number (json, "p_value", agreement->p_value);
  if (isnan (agreement->p_value))
    json_text_null (json, "agree");
  else
    json_text_flag (json, "agree", agreement->agree);
  json_text_close (json, '}');
}

static void
write_lash (JsonText *json, const TrammelAdjustment *adjustment)
{
  gsize n;
  const TrammelLashAgreement *agreements = trammel_adjustment_lash (adjustment, &n);

  json_text_open (json, "lash", '[');
  for (gsize i = 0; i < n; i++)
    write_lash_of_axis (json, &agreements[i]);
  json_text_close (json, ']');
}

static void
write_trials_of_axis (JsonText *json, const TrammelMonteCarloAxis *axis)
{
  const char letter[] = { axis->letter, '\0' };

  json_text_open (json, NULL, '{');
  json_text_string (json, "letter", letter);
  json_text_number (json, "mean", axis->mean);
  json_text_number (json, "u", axis->u);
  json_text_number (json, "low", axis->low);
  json_text_number (json, "high", axis->high);
  json_text_number (json, "d_low", axis->d_low);
  json_text_number (json, "d_high", axis->d_high);
  json_text_number (json, "tolerance", axis->tolerance);
  json_text_flag (json, "validated", axis->validated);
  json_text_open (json, "histogram", '{');
  json_text_number (json, "low", axis->bin_low);
  json_text_number (json, "width", axis->bin_width);
  json_text_open (json, "counts", '[');
  for (int i = 0; i < TRAMMEL_MONTE_CARLO_BINS; i++)
    json_text_integer (json, NULL, axis->counts[i]);
  json_text_close (json, ']');
  json_text_close (json, '}');
  json_text_close (json, '}');
}

static void
write_trials (JsonText *json, const CliTrials *trials)
{
  if (!trials->axes)
    return;
  json_text_open (json, "monte_carlo", '{');
  json_text_integer (json, "trials", trials->n);
  json_text_integer (json, "seed", trials->seed);
  json_text_open (json, "axes", '[');
  for (guint i = 0; i < trials->axes->len; i++)
    write_trials_of_axis (json, &g_array_index (trials->axes, TrammelMonteCarloAxis, i));
  json_text_close (json, ']');
  json_text_close (json, '}');
}

void
cli_adjust_print_json (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                       const TrammelAdjustOptions *how, const CliTrials *trials)
{
  const char *const *warnings = trammel_adjustment_warnings (adjustment);
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  write_axes (&json, machine, adjustment);
  write_parameters (&json, adjustment);
  write_readings (&json, adjustment, how->readings);
  write_fit (&json, adjustment);
  json_text_open (&json, "warnings", '[');
  for (gsize i = 0; warnings && warnings[i]; i++)
    json_text_string (&json, NULL, warnings[i]);
  json_text_close (&json, ']');
  write_explanations (&json, machine, adjustment);
  write_next (&json, machine, adjustment, how);
  write_budget (&json, machine, adjustment, how);
  write_lash (&json, adjustment);
  write_trials (&json, trials);
  json_text_close (&json, '}');
  json_text_print (&json);
}
