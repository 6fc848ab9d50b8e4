/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What an adoption writes into the log, and which readings go with it. */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "machine/homing-rows.h"
#include "machine/machine-private.h"

static gboolean
has_measurement (const TrammelReading *reading)
{
  g_autofree char *unreadable = NULL;

  if (isfinite (reading->measured))
    return TRUE;
  unreadable = trammel_reading_faulty (reading, TRAMMEL_COLUMN_MEASURED);
  return unreadable != NULL;
}

static guint
hash_number (double value)
{
  return value == value ? g_double_hash (&value) : 0;
}

static guint
hash_reading (gconstpointer key)
{
  const TrammelReading *reading = key;

  return (hash_number (reading->measured) * 31 + hash_number (reading->nominal)) * 31 + reading->kind;
}

static gboolean
equal_readings (gconstpointer a, gconstpointer b)
{
  return trammel_reading_equal (a, b);
}

static void
append_copy (GArray *rows, const TrammelReading *reading)
{
  TrammelReading copy;

  trammel_reading_copy (reading, &copy);
  g_array_append_val (rows, copy);
}

static TrammelReadings *
fitted_rows (const TrammelReadings *readings)
{
  GArray *rows = trammel_reading_array_new (0);
  gsize n;
  const TrammelReading *all = trammel_readings_rows (readings, &n);

  for (gsize i = 0; i < n; i++)
    if (trammel_reading_is_fitted (&all[i]))
      append_copy (rows, &all[i]);
  return trammel_readings_take (rows);
}

static GHashTable *
set_of_rows (const TrammelReadings *readings)
{
  GHashTable *set = g_hash_table_new (hash_reading, equal_readings);
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);

  for (gsize i = 0; i < n; i++)
    g_hash_table_add (set, (gpointer)&rows[i]);
  return set;
}

/* A row without a direction that can be read might have been along any axis. */
static gboolean
touches_any (const TrammelReading *reading, const char *letters)
{
  if (!reading->has_along)
    return TRUE;
  for (const char *letter = letters; *letter; letter++)
    if (trammel_direction_touches (&reading->along, *letter))
      return TRUE;
  return FALSE;
}

static gboolean
is_home_along (const TrammelReading *reading, const char *letters)
{
  return reading->kind == TRAMMEL_READING_HOME && trammel_reading_is_complete (reading)
         && touches_any (reading, letters);
}

/* Homes of the changed axes among @fitted_readings that are not the machine's: no fit uses them, but what is logged of
 * homing comes from them too. */
static void
append_foreign_homes (GArray *aside, const TrammelMachine *machine, const TrammelReadings *fitted_readings,
                      const char *changed)
{
  if (fitted_readings == trammel_machine_readings (machine))
    return;
  g_autoptr (GHashTable) own = set_of_rows (trammel_machine_readings (machine));
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (fitted_readings, &n);

  for (gsize i = 0; i < n; i++)
    if (is_home_along (&rows[i], changed) && !g_hash_table_contains (own, &rows[i]))
      append_copy (aside, &rows[i]);
}

/* Parts the machine's rows into those that hold on (still to be measured, or along axes whose value stays) and, of the
 * others, those that @used does not hold. */
static void
part_rows (const TrammelMachine *machine, const TrammelReadings *used, const TrammelReadings *fitted_readings,
           const char *changed, TrammelReadings **staying, TrammelReadings **set_aside)
{
  g_autoptr (GHashTable) in_fit = set_of_rows (used);
  GArray *stay = trammel_reading_array_new (0), *aside = trammel_reading_array_new (0);
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (trammel_machine_readings (machine), &n);

  for (gsize i = 0; i < n; i++)
    if (!has_measurement (&rows[i]) || !touches_any (&rows[i], changed))
      append_copy (stay, &rows[i]);
    else if (!g_hash_table_contains (in_fit, &rows[i]))
      append_copy (aside, &rows[i]);
  append_foreign_homes (aside, machine, fitted_readings, changed);
  *staying = trammel_readings_take (stay);
  *set_aside = trammel_readings_take (aside);
}

static void
find_nominal (const TrammelMachine *corrected, TrammelLogChange *change)
{
  const int i = trammel_machine_axis_index (corrected, change->letter);
  g_autoptr (TrammelFacts) facts
      = i >= 0 ? trammel_train_facts (trammel_axis_train (trammel_machine_axis (corrected, (gsize)i)), NULL) : NULL;

  if (facts)
    change->nominal = trammel_exact_to_double (facts->counts_per_unit);
}

static void
find_lash (const TrammelAdjustment *adjustment, TrammelLogChange *change)
{
  const TrammelParameter *lash = trammel_adjustment_learned_lash (adjustment, change->letter);

  change->has_lash = lash != NULL;
  if (lash)
    change->lash = (TrammelLogLash){ .value = lash->value, .u = lash->u };
}

/* From the homes that are set aside with the adoption. */
static void
find_home (const TrammelReadings *set_aside, TrammelLogChange *change)
{
  g_autoptr (TrammelHomingRows) homes = trammel_homing_rows_new ();
  TrammelHomingScatter scatter;
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (set_aside, &n);

  for (gsize i = 0; i < n; i++)
    if (is_home_along (&rows[i], (const char[]){ change->letter, '\0' }) && trammel_reading_check (&rows[i], NULL))
      {
        const TrammelHomingRow home = { .measured = rows[i].measured, .axis = change->letter };
        trammel_homing_rows_add (homes, &home, rows[i].set, trammel_approach_key (rows[i].approach));
      }
  change->has_home = trammel_homing_rows_scatter (homes, &scatter);
  if (change->has_home)
    change->home = (TrammelLogHome){ .s = scatter.s, .n = (gint64)scatter.n, .dof = (gint64)scatter.dof };
}

static TrammelLogEntry *
write_entry (const char *time, const TrammelLogChange *changes, gsize n_changes, const TrammelAdjustment *adjustment)
{
  TrammelLogEntry *entry = trammel_log_entry_new (time, changes, n_changes);

  if (trammel_adjustment_scatter (adjustment) == TRAMMEL_SCATTER_ESTIMATED)
    {
      g_free (entry->scatter);
      entry->scatter = g_strdup ("estimated");
    }
  entry->dof = trammel_adjustment_dof (adjustment);
  entry->chi2 = trammel_adjustment_chi2 (adjustment);
  entry->p_value = trammel_adjustment_p_value (adjustment);
  entry->birge = trammel_adjustment_birge (adjustment);
  return entry;
}

static gboolean
is_time (const char *text, GError **error)
{
  g_autoptr (GDateTime) time = g_date_time_new_from_iso8601 (text, NULL);

  if (time)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
               _ ("found “%s”; date and time as 2026-11-25T09:36:00Z are wanted"), text);
  return FALSE;
}

TrammelMachine *
trammel_machine_log_correction (const TrammelMachine *before, const TrammelMachine *corrected,
                                const TrammelLogChange *changes, gsize n_changes, const TrammelAdjustment *adjustment,
                                const TrammelReadings *fitted_readings, const char *time, const char *note,
                                GError **error)
{
  g_autoptr (TrammelMachine) logged = NULL;
  g_autoptr (TrammelLogEntry) entry = NULL;
  g_autoptr (TrammelReadings) staying = NULL;
  char letters[TRAMMEL_MAX_AXES + 1] = "";

  if (!is_time (time, error))
    return NULL;
  for (gsize i = 0; i < n_changes; i++)
    letters[i] = changes[i].letter;
  entry = write_entry (time, changes, n_changes, adjustment);
  entry->note = g_strdup (note);
  trammel_readings_unref (entry->readings);
  trammel_readings_unref (entry->set_aside);
  entry->readings = fitted_rows (fitted_readings);
  part_rows (before, entry->readings, fitted_readings, letters, &staying, &entry->set_aside);
  for (gsize i = 0; i < n_changes; i++)
    {
      find_nominal (corrected, &entry->changes[i]);
      find_lash (adjustment, &entry->changes[i]);
      find_home (entry->set_aside, &entry->changes[i]);
    }
  logged = trammel_machine_with_log_entry (corrected, entry);
  return trammel_machine_with_readings (logged, staying);
}
