/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

#include <math.h>

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
  if (trammel_record_kind_field (trammel_record_kind (stage), "idlers") == NULL)
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

double
trammel_stage_pitch_diameter (const TrammelRecord *stage, const char *key)
{
  return trammel_record_value (stage, "module") * trammel_record_value (stage, key);
}

double
trammel_stage_pulley_diameter (const TrammelRecord *stage, const char *key)
{
  return trammel_record_value (stage, "pitch") * trammel_record_value (stage, key) / G_PI;
}

double
trammel_stage_gear_lash_diameter (const TrammelRecord *stage)
{
  return trammel_stage_pitch_diameter (stage, "driven");
}

void
trammel_stage_gear_disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  *outer = trammel_stage_pitch_diameter (stage, driven ? "driven" : "driver");
}

double
trammel_stage_pulley_lash_diameter (const TrammelRecord *stage)
{
  return trammel_stage_pulley_diameter (stage, "driven");
}

void
trammel_stage_pulley_disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  *outer = trammel_stage_pulley_diameter (stage, driven ? "driven" : "driver");
}

TrammelEfficiency
trammel_stage_efficiency (const TrammelRecord *stage)
{
  const TrammelEfficiency none = { NAN, NAN, FALSE };

  g_return_val_if_fail (stage != NULL, none);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, none);

  const double given = trammel_record_value (stage, "efficiency");
  if (!isnan (given))
    return kind->efficiency != NULL ? trammel_efficiency_of_slide (given) : (TrammelEfficiency){ given, given, TRUE };
  if (kind->efficiency != NULL)
    return kind->efficiency (stage);
  const double usual = pow (kind->usual_efficiency, (double)MAX (trammel_stage_meshes (stage), 1));
  return (TrammelEfficiency){ usual, usual, FALSE };
}

double
trammel_stage_lash_angle (const TrammelRecord *stage)
{
  TrammelQuantity lash;

  g_return_val_if_fail (stage != NULL, NAN);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, NAN);

  if (!trammel_record_quantity (stage, "lash", &lash))
    return NAN;
  const double value = trammel_quantity_value (lash);
  if (trammel_unit_dimension (lash.unit) == TRAMMEL_DIMENSION_ANGLE || value == 0)
    return value;
  return kind->lash_diameter != NULL ? value / (kind->lash_diameter (stage) / 2) : NAN;
}

gboolean
trammel_stage_disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  g_return_val_if_fail (stage != NULL && outer != NULL && inner != NULL, FALSE);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, FALSE);

  *outer = NAN;
  *inner = 0;
  if (kind->disc != NULL)
    kind->disc (stage, driven, outer, inner);
  return *outer > *inner;
}

double
trammel_stage_teeth_in (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, NAN);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, NAN);

  return kind->teeth_in != NULL ? trammel_record_value (stage, kind->teeth_in) : NAN;
}

void
trammel_stage_add_turning (const TrammelRecord *stage, const TrammelStageTurning *turning, GArray *parts)
{
  g_return_if_fail (stage != NULL && turning != NULL && parts != NULL);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_if_fail (kind != NULL);

  if (kind->add_turning != NULL)
    kind->add_turning (stage, turning, parts);
}

char *
trammel_stage_to_words (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, NULL);
  const TrammelStageKind *kind = whole_kind (stage);
  g_return_val_if_fail (kind != NULL, NULL);

  return kind->words (stage);
}
