/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/log.h"

#include <math.h>

void
trammel_log_change_clear (TrammelLogChange *change)
{
  g_return_if_fail (change != NULL);

  g_free (change->lash.extra);
  g_free (change->home.extra);
  g_free (change->extra);
  *change = (TrammelLogChange){ 0 };
}

static TrammelLogChange *
copy_changes (const TrammelLogChange *changes, gsize n)
{
  TrammelLogChange *copies = g_new (TrammelLogChange, n);

  for (gsize i = 0; i < n; i++)
    {
      copies[i] = changes[i];
      copies[i].lash.extra = g_strdup (changes[i].lash.extra);
      copies[i].home.extra = g_strdup (changes[i].home.extra);
      copies[i].extra = g_strdup (changes[i].extra);
    }
  return copies;
}

TrammelLogEntry *
trammel_log_entry_new (const char *time, const TrammelLogChange *changes, gsize n_changes)
{
  TrammelLogEntry *entry;

  g_return_val_if_fail (time != NULL && (changes != NULL || n_changes == 0), NULL);

  entry = g_new0 (TrammelLogEntry, 1);
  g_atomic_ref_count_init (&entry->references);
  entry->time = g_strdup (time);
  entry->n_changes = n_changes;
  entry->changes = copy_changes (changes, n_changes);
  entry->readings = trammel_readings_new_empty ();
  entry->set_aside = trammel_readings_new_empty ();
  entry->scatter = g_strdup ("stated");
  entry->chi2 = NAN;
  entry->p_value = NAN;
  entry->birge = 1;
  return entry;
}

TrammelLogEntry *
trammel_log_entry_ref (const TrammelLogEntry *entry)
{
  TrammelLogEntry *shared = (TrammelLogEntry *)entry;

  g_return_val_if_fail (entry != NULL, NULL);
  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_log_entry_unref (TrammelLogEntry *entry)
{
  if (!entry || !g_atomic_ref_count_dec (&entry->references))
    return;
  for (gsize i = 0; i < entry->n_changes; i++)
    trammel_log_change_clear (&entry->changes[i]);
  g_free (entry->changes);
  trammel_readings_unref (entry->readings);
  trammel_readings_unref (entry->set_aside);
  g_free (entry->time);
  g_free (entry->scatter);
  g_free (entry->note);
  g_free (entry->extra);
  g_free (entry);
}

static gboolean
same_number (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

static gboolean
same_lash (const TrammelLogChange *a, const TrammelLogChange *b)
{
  return !a->has_lash == !b->has_lash
         && (!a->has_lash
             || (a->lash.value == b->lash.value && a->lash.u == b->lash.u
                 && g_strcmp0 (a->lash.extra, b->lash.extra) == 0));
}

static gboolean
same_home (const TrammelLogChange *a, const TrammelLogChange *b)
{
  return !a->has_home == !b->has_home
         && (!a->has_home
             || (a->home.s == b->home.s && a->home.n == b->home.n && a->home.dof == b->home.dof
                 && g_strcmp0 (a->home.extra, b->home.extra) == 0));
}

static gboolean
same_change (const TrammelLogChange *a, const TrammelLogChange *b)
{
  return a->letter == b->letter && same_number (a->before, b->before) && same_number (a->before_u, b->before_u)
         && same_number (a->after, b->after) && same_number (a->after_u, b->after_u) && a->nominal == b->nominal
         && same_lash (a, b) && same_home (a, b) && g_strcmp0 (a->extra, b->extra) == 0;
}

static gboolean
same_summary (const TrammelLogEntry *a, const TrammelLogEntry *b)
{
  return g_strcmp0 (a->scatter, b->scatter) == 0 && a->dof == b->dof && same_number (a->chi2, b->chi2)
         && same_number (a->p_value, b->p_value) && same_number (a->birge, b->birge);
}

gboolean
trammel_log_entry_equal (const TrammelLogEntry *a, const TrammelLogEntry *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  if (a == b)
    return TRUE;
  if (a->n_changes != b->n_changes || !same_summary (a, b) || g_strcmp0 (a->time, b->time) != 0
      || g_strcmp0 (a->note, b->note) != 0 || g_strcmp0 (a->extra, b->extra) != 0)
    return FALSE;
  for (gsize i = 0; i < a->n_changes; i++)
    if (!same_change (&a->changes[i], &b->changes[i]))
      return FALSE;
  return trammel_readings_equal (a->readings, b->readings) && trammel_readings_equal (a->set_aside, b->set_aside);
}
