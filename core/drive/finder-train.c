/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder.h"

#include "base/error.h"
#include "drive/finder-grid.h"
#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage-gears.h"

#include <glib/gi18n-lib.h>

gboolean
trammel_finder_target (const TrammelTrain *train, TrammelExact counts_per_unit, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (train != NULL && out != NULL, FALSE);

  TrammelExact travel, counts, wanted;
  if (trammel_exact_sign (counts_per_unit) <= 0)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("more than 0 counts per unit are wanted"));
      return FALSE;
    }
  if (!trammel_motor_counts_per_turn (trammel_train_motor (train), &counts, error))
    {
      g_prefix_error (error, "motor: ");
      return FALSE;
    }
  if (!trammel_output_travel_per_turn (trammel_train_output (train), &travel, error)
      || !trammel_exact_multiply (counts_per_unit, trammel_exact_absolute (travel), &wanted, error)
      || !trammel_exact_divide (wanted, counts, out, error))
    {
      g_prefix_error (error, "output: ");
      return FALSE;
    }
  return TRUE;
}

static TrammelRecord *
spur_stage (const TrammelFinderPair *pair, GError **error)
{
  const gint64 idler = pair->idler;
  g_autofree char *module = trammel_exact_to_text (pair->module);
  g_autofree char *with_unit = g_strconcat (module, " mm", NULL);
  g_autoptr (TrammelRecord) plain = trammel_record_new (trammel_stage_kind ("spur"));
  g_autoptr (TrammelRecord) with_driver = trammel_record_with_integer (plain, "driver", pair->driver, error);
  g_autoptr (TrammelRecord) with_driven
      = with_driver != NULL ? trammel_record_with_integer (with_driver, "driven", pair->driven, error) : NULL;
  g_autoptr (TrammelRecord) with_idlers
      = with_driven != NULL ? trammel_record_with_integers (with_driven, "idlers", &idler, idler > 0 ? 1 : 0, error)
                            : NULL;
  return with_idlers != NULL ? trammel_record_with_text (with_idlers, "module", with_unit, NULL, error) : NULL;
}

/* @stage with as many meshes placed as @places has from *@next on; they are used up. */
static TrammelRecord *
placed (const TrammelRecord *stage, const TrammelMeshOffset *places, gsize *next, GError **error)
{
  g_autoptr (TrammelRecord) made = trammel_record_ref (stage);
  for (gsize mesh = 0; mesh < trammel_stage_n_gear_meshes (stage); mesh++)
    {
      TrammelRecord *with = trammel_stage_with_center (made, mesh, places[(*next)++].mesh.distance, error);
      if (with == NULL)
        return NULL;
      trammel_record_unref (made);
      made = with;
    }
  return g_steal_pointer (&made);
}

TrammelTrain *
trammel_finder_apply (const TrammelTrain *train, const TrammelFinderTrain *found, const TrammelHoleGrid *grid,
                      GError **error)
{
  g_return_val_if_fail (train != NULL && found != NULL, NULL);

  TrammelMeshOffset places[TRAMMEL_FINDER_MOST_MESHES];
  const gsize n_places = grid != NULL ? trammel_finder_places (found, *grid, places) : 0;
  gsize next_place = 0;
  g_autoptr (TrammelTrain) made
      = trammel_train_new (trammel_train_motor (train), trammel_train_output (train), trammel_train_reverse (train));
  for (int i = 0; i < found->n_pairs; i++)
    {
      g_autoptr (TrammelRecord) plain = spur_stage (&found->pairs[i], error);
      if (plain == NULL)
        return NULL;
      g_autoptr (TrammelRecord) stage
          = n_places > 0 ? placed (plain, places, &next_place, error) : trammel_record_ref (plain);
      TrammelTrain *next = stage != NULL ? trammel_train_with_stage_inserted (made, (gsize)i, stage, error) : NULL;
      if (next == NULL)
        return NULL;
      trammel_train_unref (made);
      made = next;
    }
  return g_steal_pointer (&made);
}
