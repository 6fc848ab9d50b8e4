/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "machine/machine-private.h"

static void
axis_letters (const TrammelMachine *machine, char letters[TRAMMEL_MAX_AXES + 1])
{
  gsize n = MIN (trammel_machine_n_axes (machine), TRAMMEL_MAX_AXES);

  for (gsize i = 0; i < n; i++)
    letters[i] = trammel_axis_letter (trammel_machine_axis (machine, i));
  letters[n] = '\0';
}

static void
rotary_letters (const TrammelMachine *machine, char letters[TRAMMEL_MAX_AXES + 1])
{
  gsize n = 0;

  for (gsize i = 0; i < MIN (trammel_machine_n_axes (machine), TRAMMEL_MAX_AXES); i++)
    {
      const TrammelAxis *axis = trammel_machine_axis (machine, i);
      if (trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY)
        letters[n++] = trammel_axis_letter (axis);
    }
  letters[n] = '\0';
}

/* The machine's stated values, then those of the options, which win by coming later. Names are borrowed. */
static GArray *
gather_stated (const TrammelMachine *machine, const TrammelAdjustOptions *options)
{
  GArray *gathered = g_array_new (FALSE, FALSE, sizeof (TrammelStated));
  gsize n;
  const TrammelStated *stated = trammel_machine_stated (machine, &n);

  if (n > 0)
    g_array_append_vals (gathered, stated, (guint)n);
  if (options && options->n_stated > 0)
    g_array_append_vals (gathered, options->stated, (guint)options->n_stated);
  return gathered;
}

GArray *
trammel_machine_adjustment_input (const TrammelMachine *machine, const TrammelAdjustOptions *options,
                                  char letters[TRAMMEL_MAX_AXES + 1], TrammelAdjustmentInput *input)
{
  const TrammelReadings *readings
      = options && options->readings ? options->readings : trammel_machine_readings (machine);
  GArray *stated = gather_stated (machine, options);

  axis_letters (machine, letters);
  *input = (TrammelAdjustmentInput){ .axes = letters };
  input->readings = trammel_readings_rows (readings, &input->n_readings);
  input->instruments = trammel_machine_instruments (machine, &input->n_instruments);
  input->part = *trammel_machine_part (machine);
  input->stated = (const TrammelStated *)stated->data;
  input->n_stated = stated->len;
  input->scatter = options ? options->scatter : TRAMMEL_SCATTER_STATED;
  input->robust = options && options->robust;
  return stated;
}

TrammelAdjustment *
trammel_machine_adjust (const TrammelMachine *machine, const TrammelAdjustOptions *options, GCancellable *cancellable,
                        GError **error)
{
  char letters[TRAMMEL_MAX_AXES + 1], rotary[TRAMMEL_MAX_AXES + 1];
  TrammelAdjustmentInput input;

  g_return_val_if_fail (machine != NULL, NULL);

  g_autoptr (GArray) stated G_GNUC_UNUSED = trammel_machine_adjustment_input (machine, options, letters, &input);
  rotary_letters (machine, rotary);
  input.rotary = rotary;
  input.unit = trammel_machine_display_unit (machine);
  return trammel_adjustment_new (&input, cancellable, error);
}

gboolean
trammel_machine_correction (const TrammelMachine *machine, const TrammelAdjustment *adjustment, char letter,
                            TrammelCorrection *out, GError **error)
{
  const TrammelAxisScale *scale;
  int i;
  double in_force;

  g_return_val_if_fail (machine != NULL && adjustment != NULL && out != NULL, FALSE);

  i = trammel_machine_axis_index (machine, letter);
  scale = trammel_adjustment_axis (adjustment, letter);
  if (i < 0 || !scale)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                   i < 0 ? _ ("the machine has no axis %c") : _ ("no reading tells how far axis %c moves"), letter);
      return FALSE;
    }
  if (!trammel_axis_in_force (trammel_machine_axis (machine, (gsize)i), &in_force, NULL, error))
    {
      g_prefix_error (error, "axes[%d].", i);
      return FALSE;
    }
  if (!(scale->low > -1))
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                   _ ("the readings leave it open whether axis %c moves at all; no correction follows from them"),
                   letter);
      return FALSE;
    }
  out->in_force = in_force;
  out->corrected = in_force / (1 + scale->scale_error);
  out->u = out->corrected / (1 + scale->scale_error) * scale->u;
  out->low = in_force / (1 + scale->high);
  out->high = in_force / (1 + scale->low);
  return TRUE;
}

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

/* Parts the machine's rows into those that hold on (still to be measured, or along axes whose value stays) and, of the
 * others, those that @used does not hold. */
static void
part_rows (const TrammelMachine *machine, const TrammelReadings *used, const char *changed, TrammelReadings **staying,
           TrammelReadings **set_aside)
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
  *staying = trammel_readings_take (stay);
  *set_aside = trammel_readings_take (aside);
}

/* The axes to correct, in the machine's order. */
static char *
letters_to_adopt (const TrammelMachine *machine, const TrammelAdjustment *adjustment, const char *letters,
                  GError **error)
{
  GString *chosen = g_string_new (NULL);
  char all[TRAMMEL_MAX_AXES + 1];

  axis_letters (machine, all);
  for (const char *letter = all; *letter; letter++)
    if (letters ? strchr (letters, *letter) != NULL : trammel_adjustment_axis (adjustment, *letter) != NULL)
      g_string_append_c (chosen, *letter);
  for (const char *letter = letters; letter && *letter; letter++)
    if (!strchr (all, *letter))
      {
        g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("the machine has no axis %c"), *letter);
        g_string_free (chosen, TRUE);
        return NULL;
      }
  if (chosen->len > 0)
    return g_string_free (chosen, FALSE);
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("no reading tells how far an axis moves"));
  g_string_free (chosen, TRUE);
  return NULL;
}

/* @machine with the corrected value of axis @letter in force; takes @machine over. NULL with @error set. */
static TrammelMachine *
correct_axis (TrammelMachine *machine, const TrammelAdjustment *adjustment, char letter, TrammelLogChange *change,
              GError **error)
{
  g_autoptr (TrammelMachine) before = machine;
  g_autoptr (TrammelAxis) corrected = NULL;
  TrammelCorrection correction;
  int i = trammel_machine_axis_index (before, letter);

  if (!trammel_machine_correction (before, adjustment, letter, &correction, error))
    return NULL;
  change->letter = letter;
  change->extra = NULL;
  if (!trammel_axis_in_force (trammel_machine_axis (before, (gsize)i), &change->before, &change->before_u, error))
    return NULL;
  change->after = correction.corrected;
  change->after_u = correction.u;
  corrected = trammel_axis_with_in_force (trammel_machine_axis (before, (gsize)i), change->after, change->after_u);
  return trammel_machine_with_axis (before, (gsize)i, corrected, error);
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
  part_rows (before, entry->readings, letters, &staying, &entry->set_aside);
  logged = trammel_machine_with_log_entry (corrected, entry);
  return trammel_machine_with_readings (logged, staying);
}

TrammelMachine *
trammel_machine_adopt (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                       const TrammelReadings *fitted_readings, const char *letters, const char *time, GError **error)
{
  g_autoptr (TrammelMachine) corrected = NULL;
  g_autofree char *chosen = NULL;
  TrammelLogChange changes[TRAMMEL_MAX_AXES];
  gsize n_changes = 0;

  g_return_val_if_fail (machine != NULL && adjustment != NULL && fitted_readings != NULL && time != NULL, NULL);

  chosen = letters_to_adopt (machine, adjustment, letters, error);
  if (!chosen)
    return NULL;
  corrected = trammel_machine_ref (machine);
  for (const char *letter = chosen; *letter; letter++)
    {
      corrected = correct_axis (g_steal_pointer (&corrected), adjustment, *letter, &changes[n_changes++], error);
      if (!corrected)
        return NULL;
    }
  return trammel_machine_log_correction (machine, corrected, changes, n_changes, adjustment, fitted_readings, time,
                                         NULL, error);
}
