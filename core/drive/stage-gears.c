/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-gears.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define USUAL_ANGLE (G_PI / 9)
#define USUAL_MODULE 1.0

static TrammelGear
gear_of_stage (const TrammelRecord *stage, const char *teeth, const char *shift, const char *ring)
{
  return (TrammelGear){
    .teeth = (int)trammel_record_integer (stage, teeth),
    .module = trammel_record_value_or (stage, "module", USUAL_MODULE),
    .angle = trammel_record_value_or (stage, "angle", USUAL_ANGLE),
    .shift = trammel_record_value_or (stage, shift, 0),
    .internal = g_strcmp0 (ring, teeth) == 0,
  };
}

gboolean
trammel_stage_has_gears (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, FALSE);

  return trammel_record_is (stage, "spur") || trammel_record_is (stage, "internal");
}

static gboolean
check_stage (const TrammelRecord *stage, GError **error)
{
  if (!trammel_stage_has_gears (stage))
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                   _ ("found “%s”; a spur pair or an internal pair is wanted"), _ (trammel_record_kind (stage)->label));
      return FALSE;
    }
  if (trammel_stage_meshes (stage) > 1)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                           _ ("idlers: each mesh has a distance of its own; make each a stage of its own to place it"));
      return FALSE;
    }
  return trammel_record_check (stage, error);
}

gboolean
trammel_stage_gears (const TrammelRecord *stage, TrammelStageGears *out, GError **error)
{
  g_return_val_if_fail (stage != NULL && out != NULL, FALSE);

  if (!check_stage (stage, error))
    return FALSE;
  const char *ring = trammel_record_is (stage, "internal") ? trammel_record_choice (stage, "ring") : NULL;
  const TrammelGear driver = gear_of_stage (stage, "driver", "shift_driver", ring);
  const TrammelGear driven = gear_of_stage (stage, "driven", "shift_driven", ring);
  TrammelStageGears gears = { .pair = { driver, driven } };
  if (driver.internal)
    gears = (TrammelStageGears){ .pair = { driven, driver }, .driver_is_b = TRUE };

  if (!trammel_gear_pair_distance (&gears.pair, &gears.distance, error))
    return FALSE;
  gears.center = trammel_record_value_or (stage, "center", gears.distance);
  *out = gears;
  return TRUE;
}

/* @record with the length @mm in field @key, to the micrometer. */
static TrammelRecord *
with_length (const TrammelRecord *record, const char *key, double mm, GError **error)
{
  char number[G_ASCII_DTOSTR_BUF_SIZE];
  g_ascii_formatd (number, sizeof number, "%.3f", mm);
  g_autofree char *text = g_strconcat (number, " mm", NULL);
  return trammel_record_with_text (record, key, text, NULL, error);
}

/* @center to the micrometer, which must not make a pair bind that runs without any backlash to spare. */
static double
rounded_center (const TrammelGearPair *pair, double center)
{
  const double rounded = round (center * 1000) / 1000;

  if (trammel_gear_pair_at (pair, rounded).state == TRAMMEL_MESH_RUNS)
    return rounded;
  return pair->b.internal ? floor (center * 1000) / 1000 : ceil (center * 1000) / 1000;
}

TrammelRecord *
trammel_stage_with_center (const TrammelRecord *stage, double center, GError **error)
{
  g_return_val_if_fail (stage != NULL && center > 0, NULL);

  TrammelStageGears gears;
  if (!trammel_stage_gears (stage, &gears, error))
    return NULL;
  const TrammelMesh mesh = trammel_gear_pair_at (&gears.pair, center);
  if (mesh.state != TRAMMEL_MESH_RUNS)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE, _ ("center: at %g mm the pair %s"), center,
                   trammel_mesh_to_words (&mesh, gears.pair.b.internal));
      return NULL;
    }
  /* The lash of a stage is a length at the pitch circles of its teeth, backlash one at the working ones */
  const double lash = mesh.backlash * trammel_gear_pair_reference_distance (&gears.pair) / center;
  g_autoptr (TrammelRecord) placed = with_length (stage, "center", rounded_center (&gears.pair, center), error);
  return placed != NULL ? with_length (placed, "lash", lash, error) : NULL;
}
