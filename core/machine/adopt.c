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
  *change = (TrammelLogChange){ .letter = letter };
  if (!trammel_axis_in_force (trammel_machine_axis (before, (gsize)i), &change->before, &change->before_u, error))
    return NULL;
  change->after = correction.corrected;
  change->after_u = correction.u;
  corrected = trammel_axis_with_in_force (trammel_machine_axis (before, (gsize)i), change->after, change->after_u);
  return trammel_machine_with_axis (before, (gsize)i, corrected, error);
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
