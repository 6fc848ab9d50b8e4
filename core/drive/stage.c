/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

/* A new kind of stage is a file of its own and a line here. */
static const TrammelStageKind *const stage_kinds[] = {
  &trammel_stage_spur,  &trammel_stage_internal,  &trammel_stage_bevel,   &trammel_stage_worm,     &trammel_stage_belt,
  &trammel_stage_chain, &trammel_stage_planetary, &trammel_stage_gearbox, &trammel_stage_coupling,
};

const TrammelRecordKind *const *
trammel_stage_kinds (gsize *n)
{
  static const TrammelRecordKind *records[G_N_ELEMENTS (stage_kinds)];
  static gsize once;

  g_return_val_if_fail (n != NULL, NULL);

  if (g_once_init_enter (&once))
    {
      for (gsize i = 0; i < G_N_ELEMENTS (stage_kinds); i++)
        records[i] = &stage_kinds[i]->record;
      g_once_init_leave (&once, 1);
    }
  *n = G_N_ELEMENTS (stage_kinds);
  return records;
}

const TrammelRecordKind *
trammel_stage_kind (const char *type)
{
  for (gsize i = 0; i < G_N_ELEMENTS (stage_kinds); i++)
    if (g_strcmp0 (stage_kinds[i]->record.type, type) == 0)
      return &stage_kinds[i]->record;
  return NULL;
}

/* The whole kind behind the record's; NULL for a record that is no stage. */
static const TrammelStageKind *
whole_kind (const TrammelRecord *stage)
{
  for (gsize i = 0; i < G_N_ELEMENTS (stage_kinds); i++)
    if (&stage_kinds[i]->record == trammel_record_kind (stage))
      return stage_kinds[i];
  return NULL;
}

gboolean
trammel_stage_ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (stage != NULL && out != NULL, FALSE);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, FALSE);

  return trammel_record_check (stage, error) && kind->ratio (stage, out, error);
}

gsize
trammel_stage_meshes (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, 0);

  gsize n_idlers;
  if (!trammel_record_is (stage, "spur"))
    return 0;
  trammel_record_integers (stage, "idlers", &n_idlers);
  return 1 + n_idlers;
}

gboolean
trammel_stage_teeth_ratio (const TrammelRecord *stage, const char *above, const char *below, gboolean negative,
                           TrammelExact *out, GError **error)
{
  const gint64 num = trammel_record_integer (stage, above);
  return trammel_exact_make (negative ? -num : num, trammel_record_integer (stage, below), 0, out, error);
}

char *
trammel_stage_to_words (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, NULL);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, NULL);

  return kind->words (stage);
}
