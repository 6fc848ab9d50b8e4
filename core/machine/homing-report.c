/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/homing-report.h"

#include <math.h>

static void
set_clear (TrammelHomingSet *set)
{
  g_free (set->name);
  g_free (set->values);
  g_free (set->runs);
  g_free (set->indices);
  g_free (set->trouble);
  g_clear_pointer (&set->outliers, g_array_unref);
}

static void
take_values (TrammelHomingSet *set, const TrammelHomingRows *rows)
{
  gsize n;
  const TrammelHomingRow *all = trammel_homing_rows_get (rows, &n);
  gboolean all_said = TRUE;

  set->values = g_new (double, MAX (n, 1));
  set->runs = g_new (double, MAX (n, 1));
  set->indices = g_new (gsize, MAX (n, 1));
  for (gsize i = 0; i < n; i++)
    {
      if (set->name && !trammel_homing_row_is_of (&all[i], set->name))
        continue;
      set->values[set->n] = all[i].measured;
      set->runs[set->n] = all[i].run;
      set->indices[set->n++] = all[i].index;
      all_said = all_said && !isnan (all[i].run);
    }
  if (!all_said)
    g_clear_pointer (&set->runs, g_free);
}

static gboolean
is_outlier (const GArray *outliers, gsize index)
{
  for (guint i = 0; i < outliers->len; i++)
    if (g_array_index (outliers, TrammelHomingOutlier, i).index == index)
      return TRUE;
  return FALSE;
}

static void
analyse_rest (TrammelHomingSet *set)
{
  g_autofree double *values = g_new (double, set->n);
  g_autofree double *runs = g_new (double, set->n);
  gsize n = 0;

  for (gsize i = 0; i < set->n; i++)
    if (!is_outlier (set->outliers, i))
      {
        values[n] = set->values[i];
        runs[n++] = set->runs ? set->runs[i] : (double)(i + 1);
      }
  set->has_rest = n < set->n && trammel_homing_analyse (values, runs, n, &set->without_outliers, NULL);
}

static gboolean
analyse_set (TrammelHomingSet *set, const TrammelHomingRows *rows, const char *name, GError **error)
{
  set->name = g_strdup (name);
  take_values (set, rows);
  if (!trammel_homing_analyse (set->values, set->runs, set->n, &set->homing, error))
    return FALSE;
  set->outliers = trammel_homing_outliers (set->values, set->n);
  analyse_rest (set);
  return TRUE;
}

static void
analyse_groups (TrammelHomingReport *report, const TrammelHomingRows *rows)
{
  const char *const *names = trammel_homing_rows_groups (rows);
  const gsize n = g_strv_length ((char **)names);

  if (n < 2)
    return;
  report->groups = g_new0 (TrammelHomingSet, n);
  report->n_groups = n;
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GError) error = NULL;

      if (!analyse_set (&report->groups[i], rows, names[i], &error))
        report->groups[i].trouble = g_strdup (error->message);
    }
  report->has_comparison = n == 2 && !report->groups[0].trouble && !report->groups[1].trouble;
  if (report->has_comparison)
    report->comparison = trammel_homing_compare (&report->groups[0].homing, &report->groups[1].homing);
}

TrammelHomingReport *
trammel_homing_report_new (const TrammelHomingRows *rows, const char *group, GError **error)
{
  g_autoptr (TrammelHomingReport) report = NULL;

  g_return_val_if_fail (rows != NULL, NULL);

  report = g_new0 (TrammelHomingReport, 1);
  if (!analyse_set (&report->all, rows, group, error))
    return NULL;
  if (!group)
    analyse_groups (report, rows);
  return g_steal_pointer (&report);
}

void
trammel_homing_report_free (TrammelHomingReport *report)
{
  if (!report)
    return;
  set_clear (&report->all);
  for (gsize i = 0; i < report->n_groups; i++)
    set_clear (&report->groups[i]);
  g_free (report->groups);
  g_free (report);
}
