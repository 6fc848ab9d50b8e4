/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "machine/machine-private.h"

static void
replace_text (char **text, const char *by)
{
  g_free (*text);
  *text = g_strdup (by);
}

TrammelMachine *
trammel_machine_with_name (const TrammelMachine *machine, const char *name)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL, NULL);
  changed = trammel_machine_copy (machine);
  replace_text (&changed->name, name ? name : "");
  return changed;
}

TrammelMachine *
trammel_machine_with_note (const TrammelMachine *machine, const char *note)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL, NULL);
  changed = trammel_machine_copy (machine);
  replace_text (&changed->note, note ? note : "");
  return changed;
}

TrammelMachine *
trammel_machine_with_display_unit (const TrammelMachine *machine, const TrammelUnit *unit)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL && unit != NULL, NULL);
  changed = trammel_machine_copy (machine);
  changed->display_unit = unit;
  return changed;
}

TrammelMachine *
trammel_machine_with_extra (const TrammelMachine *machine, const char *extra)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL, NULL);
  changed = trammel_machine_copy (machine);
  replace_text (&changed->extra, extra);
  return changed;
}

/* TRUE when no axis but the one at @except has @letter. */
static gboolean
letter_is_free (const TrammelMachine *machine, char letter, gssize except, GError **error)
{
  int i = trammel_machine_axis_index (machine, letter);

  if (i < 0 || i == except)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
               _ ("found %c, which another axis has; a letter of its own is wanted"), letter);
  return FALSE;
}

static GPtrArray *
copy_axes (const TrammelMachine *machine)
{
  GPtrArray *axes = trammel_machine_axes_new ();

  for (guint i = 0; i < machine->axes->len; i++)
    g_ptr_array_add (axes, trammel_axis_ref (g_ptr_array_index (machine->axes, i)));
  return axes;
}

/* Takes @axes over. */
static TrammelMachine *
with_axes (const TrammelMachine *machine, GPtrArray *axes)
{
  TrammelMachine *changed = trammel_machine_copy (machine);

  g_ptr_array_unref (changed->axes);
  changed->axes = axes;
  return changed;
}

static TrammelMachine *
with_axis_in_place (const TrammelMachine *machine, gsize i, const TrammelAxis *axis)
{
  GPtrArray *axes = copy_axes (machine);

  trammel_axis_unref (g_ptr_array_index (axes, i));
  g_ptr_array_index (axes, i) = trammel_axis_ref (axis);
  return with_axes (machine, axes);
}

TrammelMachine *
trammel_machine_with_axis (const TrammelMachine *machine, gsize i, const TrammelAxis *axis, GError **error)
{
  g_return_val_if_fail (machine != NULL && axis != NULL && i < machine->axes->len, NULL);

  if (!letter_is_free (machine, trammel_axis_letter (axis), (gssize)i, error))
    return NULL;
  return with_axis_in_place (machine, i, axis);
}

TrammelMachine *
trammel_machine_with_axis_inserted (const TrammelMachine *machine, gsize i, const TrammelAxis *axis, GError **error)
{
  GPtrArray *axes;

  g_return_val_if_fail (machine != NULL && axis != NULL && i <= machine->axes->len, NULL);

  /* There are as many letters as axes, so this is also the limit on their number. */
  if (!letter_is_free (machine, trammel_axis_letter (axis), -1, error))
    return NULL;
  axes = copy_axes (machine);
  g_ptr_array_insert (axes, (int)i, trammel_axis_ref (axis));
  return with_axes (machine, axes);
}

TrammelMachine *
trammel_machine_without_axis (const TrammelMachine *machine, gsize i)
{
  GPtrArray *axes;

  g_return_val_if_fail (machine != NULL && i < machine->axes->len, NULL);
  axes = copy_axes (machine);
  g_ptr_array_remove_index (axes, (guint)i);
  return with_axes (machine, axes);
}

TrammelMachine *
trammel_machine_with_axis_moved (const TrammelMachine *machine, gsize from, gsize to)
{
  GPtrArray *axes;

  g_return_val_if_fail (machine != NULL && from < machine->axes->len && to < machine->axes->len, NULL);
  axes = copy_axes (machine);
  g_ptr_array_insert (axes, (int)to, g_ptr_array_steal_index (axes, (guint)from));
  return with_axes (machine, axes);
}

TrammelMachine *
trammel_machine_with_train (const TrammelMachine *machine, gsize axis, const TrammelTrain *train)
{
  g_autoptr (TrammelAxis) changed = NULL;

  g_return_val_if_fail (machine != NULL && train != NULL && axis < machine->axes->len, NULL);
  changed = trammel_axis_with_train (g_ptr_array_index (machine->axes, axis), train);
  return with_axis_in_place (machine, axis, changed);
}

TrammelMachine *
trammel_machine_with_stage (const TrammelMachine *machine, gsize axis, gsize i, const TrammelRecord *stage)
{
  g_autoptr (TrammelTrain) train = NULL;

  g_return_val_if_fail (machine != NULL && stage != NULL && axis < machine->axes->len, NULL);
  train = trammel_train_with_stage (trammel_axis_train (g_ptr_array_index (machine->axes, axis)), i, stage);
  g_return_val_if_fail (train != NULL, NULL);
  return trammel_machine_with_train (machine, axis, train);
}

TrammelMachine *
trammel_machine_with_readings (const TrammelMachine *machine, const TrammelReadings *readings)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL && readings != NULL, NULL);
  changed = trammel_machine_copy (machine);
  trammel_readings_unref (changed->readings);
  changed->readings = trammel_readings_ref (readings);
  return changed;
}

static int
find_instrument (const GArray *instruments, const char *name)
{
  for (guint i = 0; i < instruments->len; i++)
    if (g_str_equal (g_array_index (instruments, TrammelInstrument, i).name, name))
      return (int)i;
  return -1;
}

static void
put_instrument (GArray *instruments, const TrammelInstrument *instrument)
{
  int i = find_instrument (instruments, instrument->name);
  TrammelInstrument kept = *instrument;

  if (i >= 0)
    {
      kept.name = g_array_index (instruments, TrammelInstrument, i).name;
      g_array_index (instruments, TrammelInstrument, i) = kept;
      return;
    }
  kept.name = g_ref_string_acquire (instrument->name);
  g_array_append_val (instruments, kept);
}

/* Takes @extras over. */
static void
replace_extras (GHashTable **kept, GHashTable *extras)
{
  g_hash_table_unref (*kept);
  *kept = extras;
}

/* What the file says of an instrument beyond name and u goes with its name, and stays with its place in the list
 * when it is only called something else. */
static GHashTable *
instrument_extras_after (const TrammelMachine *before, const GArray *instruments)
{
  GHashTable *extras = trammel_machine_extras_new ();

  for (guint i = 0; i < before->instruments->len; i++)
    {
      const char *name = g_array_index (before->instruments, TrammelInstrument, i).name;
      const char *extra = trammel_machine_instrument_extra (before, name);

      if (!extra)
        continue;
      if (find_instrument (instruments, name) >= 0)
        g_hash_table_insert (extras, g_strdup (name), g_strdup (extra));
      else if (instruments->len == before->instruments->len)
        g_hash_table_insert (extras, g_strdup (g_array_index (instruments, TrammelInstrument, i).name),
                             g_strdup (extra));
    }
  return extras;
}

TrammelMachine *
trammel_machine_with_instruments (const TrammelMachine *machine, const TrammelInstrument *instruments, gsize n)
{
  TrammelMachine *changed;
  GArray *kept;

  g_return_val_if_fail (machine != NULL && (instruments != NULL || n == 0), NULL);

  kept = trammel_machine_instruments_new ();
  for (gsize i = 0; i < n && kept->len < TRAMMEL_MAX_INSTRUMENTS; i++)
    if (instruments[i].name && *instruments[i].name && isfinite (instruments[i].u) && instruments[i].u > 0
        && trammel_instrument_details_are_usable (&instruments[i]))
      put_instrument (kept, &instruments[i]);

  changed = trammel_machine_copy (machine);
  if (g_hash_table_size (machine->instrument_extra) > 0)
    replace_extras (&changed->instrument_extra, instrument_extras_after (machine, kept));
  g_array_unref (changed->instruments);
  changed->instruments = kept;
  return changed;
}

TrammelMachine *
trammel_machine_with_part (const TrammelMachine *machine, const TrammelThermal *part)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL && part != NULL && trammel_thermal_is_usable (part), NULL);

  changed = trammel_machine_copy (machine);
  changed->part = *part;
  return changed;
}

static void
append_stated (GArray *list, const char *name, double value, double u)
{
  TrammelStated stated = { g_ref_string_new (name), value, u };

  g_array_append_val (list, stated);
}

static gboolean
can_be_stated (const char *name, const TrammelStated *stated)
{
  TrammelParameterKind kind;
  char axes[2];
  const char *set;
  double value, u;

  if (!trammel_parameter_parse (name, &kind, axes, &set, NULL) || !trammel_stated_default (kind, &value, &u))
    return FALSE;
  return !stated || (isfinite (stated->value) && isfinite (stated->u) && stated->u >= 0);
}

TrammelMachine *
trammel_machine_with_stated (const TrammelMachine *machine, const char *name, const TrammelStated *stated)
{
  TrammelMachine *changed;
  GArray *list;
  gboolean found = FALSE;

  g_return_val_if_fail (machine != NULL && name != NULL, NULL);
  g_return_val_if_fail (can_be_stated (name, stated), NULL);

  list = trammel_machine_stated_new ();
  for (guint i = 0; i < machine->stated->len; i++)
    {
      const TrammelStated *old = &g_array_index (machine->stated, TrammelStated, i);

      if (!g_str_equal (old->name, name))
        append_stated (list, old->name, old->value, old->u);
      else if (stated && !found)
        append_stated (list, name, stated->value, stated->u);
      found = found || g_str_equal (old->name, name);
    }
  if (stated && !found)
    append_stated (list, name, stated->value, stated->u);

  changed = trammel_machine_copy (machine);
  g_array_unref (changed->stated);
  changed->stated = list;
  return changed;
}

TrammelMachine *
trammel_machine_with_piece (const TrammelMachine *machine, const TrammelRecord *piece)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL && piece != NULL, NULL);
  changed = trammel_machine_copy (machine);
  trammel_record_unref (changed->piece);
  changed->piece = trammel_record_ref (piece);
  return changed;
}

TrammelMachine *
trammel_machine_with_plate (const TrammelMachine *machine, const TrammelRecord *plate)
{
  TrammelMachine *changed;

  g_return_val_if_fail (machine != NULL && plate != NULL, NULL);
  changed = trammel_machine_copy (machine);
  trammel_record_unref (changed->plate);
  changed->plate = trammel_record_ref (plate);
  return changed;
}

TrammelMachine *
trammel_machine_with_log_entry (const TrammelMachine *machine, const TrammelLogEntry *entry)
{
  TrammelMachine *changed;
  GPtrArray *log;

  g_return_val_if_fail (machine != NULL && entry != NULL, NULL);

  log = trammel_machine_log_new ();
  for (guint i = 0; i < machine->log->len; i++)
    g_ptr_array_add (log, trammel_log_entry_ref (g_ptr_array_index (machine->log, i)));
  g_ptr_array_add (log, trammel_log_entry_ref (entry));

  changed = trammel_machine_copy (machine);
  g_ptr_array_unref (changed->log);
  changed->log = log;
  return changed;
}
