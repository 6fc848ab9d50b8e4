/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/turning-parts.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "drive/output.h"
#include "drive/turning-parts-private.h"

/* Two that differ less turn in step. */
#define SAME_PERIOD 1e-9

static void
clear_part (gpointer part)
{
  g_free (((TrammelTurning *)part)->name);
}

void
trammel_turning_add (GArray *parts, char *name, double travel_per_turn)
{
  TrammelTurning part = { name, fabs (travel_per_turn) };

  for (guint i = 0; i < parts->len; i++)
    {
      TrammelTurning *earlier = &g_array_index (parts, TrammelTurning, i);
      if (fabs (earlier->travel_per_turn - part.travel_per_turn) > SAME_PERIOD * part.travel_per_turn)
        continue;
      g_free (earlier->name);
      earlier->name = name;
      return;
    }
  g_array_append_val (parts, part);
}

GArray *
trammel_train_turning_parts (const TrammelTrain *train, GError **error)
{
  g_return_val_if_fail (train != NULL, NULL);

  g_autoptr (TrammelFacts) facts = trammel_train_facts (train, error);
  if (facts == NULL)
    return NULL;

  GArray *parts = g_array_new (FALSE, FALSE, sizeof (TrammelTurning));
  g_array_set_clear_func (parts, clear_part);
  trammel_turning_add (parts, g_strdup (_ ("motor shaft")), facts->shafts[0].travel_per_turn);
  for (gsize i = 1; i < facts->n_shafts; i++)
    {
      const TrammelRecord *stage = trammel_train_stage (train, i - 1);
      const TrammelShaft *in = &facts->shafts[i - 1], *out = &facts->shafts[i];
      const TrammelStageTurning turning = { (guint)i, in->travel_per_turn, out->travel_per_turn };
      trammel_stage_add_turning (stage, &turning, parts);
      trammel_turning_add (parts, g_strdup_printf (_ ("shaft after stage %u"), (guint)i), out->travel_per_turn);
    }
  trammel_turning_add (parts, g_strdup (trammel_output_turning_part (trammel_train_output (train))),
                       facts->shafts[facts->n_shafts - 1].travel_per_turn);
  return parts;
}
