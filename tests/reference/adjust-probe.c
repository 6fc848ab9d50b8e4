/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Adjusts sets of readings from standard input and prints what came of each as one line of JSON, 17 digits. Lines of
 * words, "." for nothing:
 *   axes LETTERS | scatter stated|estimated | robust | instrument NAME U | stated NAME VALUE U
 *   row KIND ALONG NOMINAL MEASURED U APPROACH SET INSTRUMENT
 *   candidate KIND ALONG NOMINAL . U APPROACH SET INSTRUMENT   (what would be known if it were read as well)
 *   fit            (makes the adjustment of what came since the last one) */
#include <math.h>
#include <stdio.h>
#include <string.h>

#include "base/number.h"
#include "measure/budget.h"
#include "measure/next.h"

typedef struct
{
  char *axes;
  GArray *rows;
  GArray *candidates;
  GArray *instruments;
  GArray *stated;
  TrammelScatter scatter;
  gboolean robust;
} Set;

static void
set_init (Set *set)
{
  set->axes = g_strdup ("XYZ");
  set->rows = trammel_reading_array_new (0);
  set->candidates = trammel_reading_array_new (0);
  set->instruments = g_array_new (FALSE, FALSE, sizeof (TrammelInstrument));
  set->stated = g_array_new (FALSE, FALSE, sizeof (TrammelStated));
  set->scatter = TRAMMEL_SCATTER_STATED;
  set->robust = FALSE;
}

static void
set_clear (Set *set)
{
  for (guint i = 0; i < set->instruments->len; i++)
    g_ref_string_release (g_array_index (set->instruments, TrammelInstrument, i).name);
  for (guint i = 0; i < set->stated->len; i++)
    g_ref_string_release (g_array_index (set->stated, TrammelStated, i).name);
  g_free (set->axes);
  g_array_unref (set->rows);
  g_array_unref (set->candidates);
  g_array_unref (set->instruments);
  g_array_unref (set->stated);
}

static double
number (const char *text)
{
  double value = NAN;

  if (strcmp (text, ".") != 0 && !trammel_number_from_text (text, -1, FALSE, &value))
    g_error ("not a number: %s", text);
  return value;
}

static GRefString *
name_or_null (const char *text)
{
  return strcmp (text, ".") == 0 ? NULL : g_ref_string_new (text);
}

static void
add_row (GArray *rows, char **words)
{
  TrammelReading reading;
  TrammelReadingKind kind;
  TrammelApproach approach;
  g_autoptr (GError) error = NULL;

  trammel_reading_init (&reading);
  if (!trammel_reading_kind_parse (words[1], &kind, &error)
      || !trammel_direction_parse (words[2], &reading.along, &error)
      || !trammel_approach_parse (strcmp (words[6], ".") == 0 ? "" : words[6], &approach, &error))
    g_error ("%s", error->message);
  reading.kind = (guint8)kind;
  reading.has_along = TRUE;
  reading.approach = (guint8)approach;
  reading.nominal = number (words[3]);
  reading.measured = number (words[4]);
  reading.u = number (words[5]);
  reading.set = name_or_null (words[7]);
  reading.instrument = name_or_null (words[8]);
  g_array_append_val (rows, reading);
}

static void
print_number (const char *key, double value)
{
  if (isfinite (value))
    printf ("\"%s\": %.17g, ", key, value);
  else
    printf ("\"%s\": null, ", key);
}

static void
print_text (const char *key, const char *text)
{
  printf ("\"%s\": \"", key);
  for (const char *p = text; *p != '\0'; p++)
    printf (*p == '"' || *p == '\\' ? "\\%c" : "%c", *p);
  printf ("\", ");
}

static void
print_adjustment (const TrammelAdjustment *adjustment)
{
  gsize n;
  const TrammelParameter *parameters = trammel_adjustment_parameters (adjustment, &n);
  const double *covariance = trammel_adjustment_covariance (adjustment);

  printf ("\"parameters\": [");
  for (gsize i = 0; i < n; i++)
    {
      printf (i > 0 ? ", {" : "{");
      print_text ("name", parameters[i].name);
      print_number ("value", parameters[i].value);
      print_number ("u", parameters[i].u);
      print_number ("low", parameters[i].low);
      print_number ("high", parameters[i].high);
      printf ("\"learned\": %.17g}", parameters[i].learned);
    }
  printf ("], \"covariance\": [");
  for (gsize i = 0; i < n * n; i++)
    printf (i > 0 ? ", %.17g" : "%.17g", covariance[i]);
  printf ("], ");

  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n);
  printf ("\"readings\": [");
  for (gsize i = 0; i < n; i++)
    {
      printf (i > 0 ? ", {" : "{");
      print_number ("predicted", fitted[i].predicted);
      print_number ("residual", fitted[i].residual);
      print_number ("standardized", fitted[i].standardized);
      print_number ("weight", fitted[i].weight);
      printf ("\"suspect\": %s}", fitted[i].suspect ? "true" : "false");
    }
  printf ("], \"warnings\": [");
  const char *const *warnings = trammel_adjustment_warnings (adjustment);
  for (gsize i = 0; warnings[i] != NULL; i++)
    {
      printf (i > 0 ? ", {" : "{");
      print_text ("text", warnings[i]);
      printf ("\"n\": %u}", (guint)i);
    }
  printf ("], ");
  print_number ("chi2", trammel_adjustment_chi2 (adjustment));
  print_number ("p_value", trammel_adjustment_p_value (adjustment));
  print_number ("birge", trammel_adjustment_birge (adjustment));
  print_number ("sigma", trammel_adjustment_sigma (adjustment));
  print_number ("coverage_factor", trammel_adjustment_coverage_factor (adjustment));
  printf ("\"dof\": %" G_GINT64_FORMAT "}\n", trammel_adjustment_dof (adjustment));
}

static void
print_budget (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input)
{
  g_autoptr (GArray) budget = trammel_budget (adjustment, input);

  printf ("\"budget\": [");
  for (guint i = 0; i < budget->len; i++)
    {
      const TrammelBudgetLine *line = &g_array_index (budget, TrammelBudgetLine, i);
      g_autofree char *source = trammel_budget_line_key (line);
      printf (i > 0 ? ", {" : "{");
      print_text ("axis", (const char[]){ line->letter, '\0' });
      print_text ("source", source);
      print_number ("u", line->u);
      printf ("\"share\": %.17g}", line->share);
    }
  printf ("], ");
}

/* For each candidate, u of every axis that the set has. */
static void
print_candidates (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input, const GArray *candidates)
{
  printf ("\"after\": [");
  for (guint i = 0; i < candidates->len; i++)
    {
      printf (i > 0 ? ", {" : "{");
      for (const char *letter = input->axes; *letter != '\0'; letter++)
        print_number (
            (const char[]){ *letter, '\0' },
            trammel_next_after (adjustment, input, &g_array_index (candidates, TrammelReading, i), *letter, NULL));
      printf ("\"n\": %u}", i);
    }
  printf ("], ");
}

static void
fit (const Set *set)
{
  g_autoptr (GError) error = NULL;
  TrammelAdjustmentInput input = { 0 };

  input.axes = set->axes;
  input.readings = (const TrammelReading *)(gpointer)set->rows->data;
  input.n_readings = set->rows->len;
  input.instruments = (const TrammelInstrument *)(gpointer)set->instruments->data;
  input.n_instruments = set->instruments->len;
  input.stated = (const TrammelStated *)(gpointer)set->stated->data;
  input.n_stated = set->stated->len;
  input.scatter = set->scatter;
  input.robust = set->robust;

  g_autoptr (TrammelAdjustment) adjustment = trammel_adjustment_new (&input, NULL, &error);
  printf ("{");
  if (adjustment != NULL)
    {
      print_budget (adjustment, &input);
      print_candidates (adjustment, &input, set->candidates);
      print_adjustment (adjustment);
      return;
    }
  print_text ("error", error->message);
  printf ("\"code\": %d}\n", error->code);
}

static void
take_line (Set *set, char **words, guint n)
{
  if (strcmp (words[0], "row") == 0 && n == 9)
    add_row (set->rows, words);
  else if (strcmp (words[0], "candidate") == 0 && n == 9)
    add_row (set->candidates, words);
  else if (strcmp (words[0], "axes") == 0 && n == 2)
    {
      g_free (set->axes);
      set->axes = g_strdup (words[1]);
    }
  else if (strcmp (words[0], "scatter") == 0 && n == 2)
    set->scatter = strcmp (words[1], "estimated") == 0 ? TRAMMEL_SCATTER_ESTIMATED : TRAMMEL_SCATTER_STATED;
  else if (strcmp (words[0], "robust") == 0)
    set->robust = TRUE;
  else if (strcmp (words[0], "instrument") == 0 && n == 3)
    {
      TrammelInstrument instrument = { g_ref_string_new (words[1]), number (words[2]) };
      g_array_append_val (set->instruments, instrument);
    }
  else if (strcmp (words[0], "stated") == 0 && n == 4)
    {
      TrammelStated stated = { g_ref_string_new (words[1]), number (words[2]), number (words[3]) };
      g_array_append_val (set->stated, stated);
    }
  else
    g_error ("cannot read a line that starts with %s", words[0]);
}

int
main (void)
{
  char line[1024];
  Set set;

  set_init (&set);
  while (fgets (line, sizeof line, stdin) != NULL)
    {
      g_auto (GStrv) words = g_strsplit (g_strstrip (line), " ", -1);
      if (words[0] == NULL || *words[0] == '\0')
        continue;
      if (strcmp (words[0], "fit") != 0)
        {
          take_line (&set, words, g_strv_length (words));
          continue;
        }
      fit (&set);
      set_clear (&set);
      set_init (&set);
    }
  set_clear (&set);
  return 0;
}
