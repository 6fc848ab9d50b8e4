/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/machine-private.h"

G_DEFINE_BOXED_TYPE (TrammelMachine, trammel_machine, trammel_machine_ref, trammel_machine_unref)

static void
clear_instrument (gpointer element)
{
  TrammelInstrument *instrument = element;

  g_clear_pointer (&instrument->name, g_ref_string_release);
}

static void
clear_stated (gpointer element)
{
  TrammelStated *stated = element;

  g_clear_pointer (&stated->name, g_ref_string_release);
}

GPtrArray *
trammel_machine_axes_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_axis_unref);
}

GPtrArray *
trammel_machine_log_new (void)
{
  return g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_log_entry_unref);
}

GArray *
trammel_machine_instruments_new (void)
{
  GArray *instruments = g_array_new (FALSE, FALSE, sizeof (TrammelInstrument));

  g_array_set_clear_func (instruments, clear_instrument);
  return instruments;
}

GArray *
trammel_machine_stated_new (void)
{
  GArray *stated = g_array_new (FALSE, FALSE, sizeof (TrammelStated));

  g_array_set_clear_func (stated, clear_stated);
  return stated;
}

GHashTable *
trammel_machine_extras_new (void)
{
  return g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_free);
}

TrammelMachine *
trammel_machine_new (void)
{
  TrammelMachine *machine = g_new0 (TrammelMachine, 1);

  g_atomic_ref_count_init (&machine->references);
  machine->name = g_strdup ("");
  machine->note = g_strdup ("");
  machine->display_unit = trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, "mm");
  machine->axes = trammel_machine_axes_new ();
  machine->instruments = trammel_machine_instruments_new ();
  machine->stated = trammel_machine_stated_new ();
  machine->instrument_extra = trammel_machine_extras_new ();
  machine->stated_extra = trammel_machine_extras_new ();
  machine->readings = trammel_readings_new_empty ();
  machine->piece = trammel_record_new (trammel_piece_kind ("square"));
  machine->plate = trammel_record_new (trammel_plate_kind ());
  machine->log = trammel_machine_log_new ();
  return machine;
}

TrammelMachine *
trammel_machine_copy (const TrammelMachine *machine)
{
  TrammelMachine *copy = g_new0 (TrammelMachine, 1);

  g_atomic_ref_count_init (&copy->references);
  copy->name = g_strdup (machine->name);
  copy->note = g_strdup (machine->note);
  copy->display_unit = machine->display_unit;
  copy->axes = g_ptr_array_ref (machine->axes);
  copy->instruments = g_array_ref (machine->instruments);
  copy->part = machine->part;
  copy->part_extra = g_strdup (machine->part_extra);
  copy->stated = g_array_ref (machine->stated);
  copy->instrument_extra = g_hash_table_ref (machine->instrument_extra);
  copy->stated_extra = g_hash_table_ref (machine->stated_extra);
  copy->readings = trammel_readings_ref (machine->readings);
  copy->piece = trammel_record_ref (machine->piece);
  copy->plate = trammel_record_ref (machine->plate);
  copy->log = g_ptr_array_ref (machine->log);
  copy->extra = g_strdup (machine->extra);
  return copy;
}

TrammelMachine *
trammel_machine_ref (const TrammelMachine *machine)
{
  TrammelMachine *shared = (TrammelMachine *)machine;

  g_return_val_if_fail (machine != NULL, NULL);
  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_machine_unref (TrammelMachine *machine)
{
  if (!machine || !g_atomic_ref_count_dec (&machine->references))
    return;
  g_free (machine->name);
  g_free (machine->note);
  g_ptr_array_unref (machine->axes);
  g_array_unref (machine->instruments);
  g_free (machine->part_extra);
  g_array_unref (machine->stated);
  g_hash_table_unref (machine->instrument_extra);
  g_hash_table_unref (machine->stated_extra);
  trammel_readings_unref (machine->readings);
  trammel_record_unref (machine->piece);
  trammel_record_unref (machine->plate);
  g_ptr_array_unref (machine->log);
  g_free (machine->extra);
  g_free (machine);
}

const char *
trammel_machine_name (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->name;
}

const char *
trammel_machine_note (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->note;
}

const TrammelUnit *
trammel_machine_display_unit (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->display_unit;
}

gsize
trammel_machine_n_axes (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, 0);
  return machine->axes->len;
}

const TrammelAxis *
trammel_machine_axis (const TrammelMachine *machine, gsize i)
{
  g_return_val_if_fail (machine != NULL && i < machine->axes->len, NULL);
  return g_ptr_array_index (machine->axes, i);
}

int
trammel_machine_axis_index (const TrammelMachine *machine, char letter)
{
  g_return_val_if_fail (machine != NULL, -1);
  for (guint i = 0; i < machine->axes->len; i++)
    if (trammel_axis_letter (g_ptr_array_index (machine->axes, i)) == letter)
      return (int)i;
  return -1;
}

const TrammelReadings *
trammel_machine_readings (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->readings;
}

const TrammelInstrument *
trammel_machine_instruments (const TrammelMachine *machine, gsize *n)
{
  g_return_val_if_fail (machine != NULL && n != NULL, NULL);
  *n = machine->instruments->len;
  return (const TrammelInstrument *)machine->instruments->data;
}

const TrammelThermal *
trammel_machine_part (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return &machine->part;
}

const TrammelStated *
trammel_machine_stated (const TrammelMachine *machine, gsize *n)
{
  g_return_val_if_fail (machine != NULL && n != NULL, NULL);
  *n = machine->stated->len;
  return (const TrammelStated *)machine->stated->data;
}

gsize
trammel_machine_n_log (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, 0);
  return machine->log->len;
}

const TrammelLogEntry *
trammel_machine_log (const TrammelMachine *machine, gsize i)
{
  g_return_val_if_fail (machine != NULL && i < machine->log->len, NULL);
  return g_ptr_array_index (machine->log, i);
}

const TrammelRecord *
trammel_machine_piece (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->piece;
}

const TrammelRecord *
trammel_machine_plate (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->plate;
}

const char *
trammel_machine_extra (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);
  return machine->extra;
}

const char *
trammel_machine_instrument_extra (const TrammelMachine *machine, const char *name)
{
  return g_hash_table_lookup (machine->instrument_extra, name);
}

const char *
trammel_machine_stated_extra (const TrammelMachine *machine, const char *name)
{
  return g_hash_table_lookup (machine->stated_extra, name);
}

static gboolean
same_axes (const TrammelMachine *a, const TrammelMachine *b)
{
  if (a->axes == b->axes)
    return TRUE;
  if (a->axes->len != b->axes->len)
    return FALSE;
  for (guint i = 0; i < a->axes->len; i++)
    if (!trammel_axis_equal (g_ptr_array_index (a->axes, i), g_ptr_array_index (b->axes, i)))
      return FALSE;
  return TRUE;
}

static gboolean
same_instruments (const TrammelMachine *a, const TrammelMachine *b)
{
  if (a->instruments->len != b->instruments->len)
    return FALSE;
  for (guint i = 0; i < a->instruments->len; i++)
    {
      const TrammelInstrument *one = &g_array_index (a->instruments, TrammelInstrument, i);
      const TrammelInstrument *other = &g_array_index (b->instruments, TrammelInstrument, i);

      if (!trammel_instrument_equal (one, other)
          || g_strcmp0 (trammel_machine_instrument_extra (a, one->name),
                        trammel_machine_instrument_extra (b, one->name))
                 != 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
same_stated (const TrammelMachine *a, const TrammelMachine *b)
{
  if (a->stated->len != b->stated->len)
    return FALSE;
  for (guint i = 0; i < a->stated->len; i++)
    {
      const TrammelStated *one = &g_array_index (a->stated, TrammelStated, i);
      const TrammelStated *other = &g_array_index (b->stated, TrammelStated, i);

      if (one->value != other->value || one->u != other->u || !g_str_equal (one->name, other->name)
          || g_strcmp0 (trammel_machine_stated_extra (a, one->name), trammel_machine_stated_extra (b, one->name)) != 0)
        return FALSE;
    }
  return TRUE;
}

static gboolean
same_log (const TrammelMachine *a, const TrammelMachine *b)
{
  if (a->log == b->log)
    return TRUE;
  if (a->log->len != b->log->len)
    return FALSE;
  for (guint i = 0; i < a->log->len; i++)
    if (!trammel_log_entry_equal (g_ptr_array_index (a->log, i), g_ptr_array_index (b->log, i)))
      return FALSE;
  return TRUE;
}

gboolean
trammel_machine_equal (const TrammelMachine *a, const TrammelMachine *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  if (a == b)
    return TRUE;
  return g_str_equal (a->name, b->name) && g_str_equal (a->note, b->note) && a->display_unit == b->display_unit
         && g_strcmp0 (a->extra, b->extra) == 0 && same_axes (a, b) && same_instruments (a, b) && same_stated (a, b)
         && trammel_thermal_equal (&a->part, &b->part) && g_strcmp0 (a->part_extra, b->part_extra) == 0
         && trammel_record_equal (a->piece, b->piece) && trammel_record_equal (a->plate, b->plate) && same_log (a, b)
         && trammel_readings_equal (a->readings, b->readings);
}
