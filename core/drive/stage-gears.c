/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-gears.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define USUAL_MODULE 1.0

static const char *
ring_of (const TrammelRecord *stage)
{
  return trammel_record_is (stage, "internal") ? trammel_record_choice (stage, "ring") : NULL;
}

/* The driver or the driven. */
static TrammelGear
end_gear (const TrammelRecord *stage, const char *teeth, const char *shift)
{
  return (TrammelGear){
    .teeth = (int)trammel_record_integer (stage, teeth),
    .module = trammel_record_value_or (stage, "module", USUAL_MODULE),
    .angle = trammel_record_value_or (stage, "angle", TRAMMEL_GEAR_USUAL_ANGLE),
    .shift = trammel_record_value_or (stage, shift, 0),
    .internal = g_strcmp0 (ring_of (stage), teeth) == 0,
  };
}

/* From the driver on. */
static TrammelGear
gear_at (const TrammelRecord *stage, gsize i)
{
  const gsize meshes = trammel_stage_n_gear_meshes (stage);
  TrammelGear gear = end_gear (stage, "driver", "shift_driver");
  gsize n;

  if (i == 0)
    return gear;
  if (i == meshes)
    return end_gear (stage, "driven", "shift_driven");
  gear.teeth = (int)trammel_record_integers (stage, "idlers", &n)[i - 1];
  gear.shift = 0;
  return gear;
}

gboolean
trammel_stage_has_gears (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, FALSE);

  return trammel_record_is (stage, "spur") || trammel_record_is (stage, "internal");
}

gsize
trammel_stage_n_gear_meshes (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, 0);

  return trammel_record_is (stage, "internal") ? 1 : trammel_stage_meshes (stage);
}

static gboolean
check_stage (const TrammelRecord *stage, GError **error)
{
  if (trammel_stage_has_gears (stage))
    return trammel_record_check (stage, error);

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
               _ ("found “%s”; a spur pair or an internal pair is wanted"), _ (trammel_record_kind (stage)->label));
  return FALSE;
}

double
trammel_stage_center (const TrammelRecord *stage, gsize mesh)
{
  g_return_val_if_fail (stage != NULL && trammel_stage_has_gears (stage), NAN);

  gsize n;
  if (trammel_record_is (stage, "internal"))
    return trammel_record_value (stage, "center");
  const TrammelQuantity *centers = trammel_record_quantities (stage, "center", &n);
  return mesh < n ? trammel_quantity_value (centers[mesh]) : NAN;
}

gboolean
trammel_stage_gears (const TrammelRecord *stage, gsize mesh, TrammelStageGears *out, GError **error)
{
  g_return_val_if_fail (stage != NULL && out != NULL, FALSE);

  if (!check_stage (stage, error))
    return FALSE;
  g_return_val_if_fail (mesh < trammel_stage_n_gear_meshes (stage), FALSE);
  const TrammelGear before = gear_at (stage, mesh), after = gear_at (stage, mesh + 1);
  TrammelStageGears gears = { .pair = { before, after } };
  if (before.internal)
    gears = (TrammelStageGears){ .pair = { after, before }, .driver_is_b = TRUE };

  if (!trammel_gear_pair_distance (&gears.pair, &gears.distance, error))
    return FALSE;
  const double center = trammel_stage_center (stage, mesh);
  gears.placed = !isnan (center);
  gears.center = gears.placed ? center : gears.distance;
  *out = gears;
  return TRUE;
}

/* @mm to the micrometer. */
static TrammelQuantity
micrometers (double mm)
{
  TrammelQuantity length = { { 0, 1, 0 }, trammel_unit_base (TRAMMEL_DIMENSION_LENGTH) };
  trammel_exact_make ((gint64)round (mm * 1000), 1000, 0, &length.number, NULL);
  return length;
}

/* @center to the micrometer, which must not make a pair bind that runs without any backlash to spare. */
static TrammelQuantity
rounded_center (const TrammelGearPair *pair, double center)
{
  const double rounded = round (center * 1000) / 1000;

  if (trammel_gear_pair_at (pair, rounded).state == TRAMMEL_MESH_RUNS)
    return micrometers (rounded);
  return micrometers (pair->b.internal ? floor (center * 1000) / 1000 : ceil (center * 1000) / 1000);
}

/* The backlash that @gears have at @center, as a length at the pitch circles of their teeth. */
static double
lash_at (const TrammelStageGears *gears, double center)
{
  const double backlash = trammel_gear_pair_at (&gears->pair, center).backlash;
  return backlash > 0 ? backlash * trammel_gear_pair_reference_distance (&gears->pair) / center : 0;
}

static TrammelRecord *
with_length (const TrammelRecord *stage, const char *key, TrammelQuantity length, GError **error)
{
  g_autofree char *text = trammel_quantity_to_text (length);
  return trammel_record_with_text (stage, key, text, NULL, error);
}

/* @stage with mesh @mesh at @center; those before it that are not given, without backlash. */
static TrammelRecord *
with_center (const TrammelRecord *stage, gsize mesh, double center, GError **error)
{
  TrammelQuantity centers[TRAMMEL_RECORD_MAX_QUANTITIES];
  TrammelStageGears gears;
  gsize n;

  if (!trammel_stage_gears (stage, mesh, &gears, error))
    return NULL;
  const TrammelQuantity placed = rounded_center (&gears.pair, center);
  if (trammel_record_is (stage, "internal"))
    return with_length (stage, "center", placed, error);

  const TrammelQuantity *given = trammel_record_quantities (stage, "center", &n);
  for (gsize i = 0; i < n; i++)
    centers[i] = given[i];
  for (; n <= mesh; n++)
    {
      if (!trammel_stage_gears (stage, n, &gears, error))
        return NULL;
      centers[n] = rounded_center (&gears.pair, gears.distance);
    }
  centers[mesh] = placed;
  return trammel_record_with_quantities (stage, "center", centers, n, error);
}

/* The backlashes of all meshes of @stage that are placed, the one of @mesh at @center; NaN with @error. */
static double
lash_of_all (const TrammelRecord *stage, gsize mesh, double center, GError **error)
{
  double sum = 0;
  for (gsize i = 0; i < trammel_stage_n_gear_meshes (stage); i++)
    {
      TrammelStageGears gears;
      if (!trammel_stage_gears (stage, i, &gears, error))
        return NAN;
      if (i == mesh || gears.placed)
        sum += lash_at (&gears, i == mesh ? center : gears.center);
    }
  return sum;
}

TrammelRecord *
trammel_stage_with_center (const TrammelRecord *stage, gsize mesh, double center, GError **error)
{
  g_return_val_if_fail (stage != NULL && center > 0, NULL);

  TrammelStageGears gears;
  if (!trammel_stage_gears (stage, mesh, &gears, error))
    return NULL;
  const TrammelMesh found = trammel_gear_pair_at (&gears.pair, center);
  if (found.state != TRAMMEL_MESH_RUNS)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE, _ ("center: at %g mm the pair %s"), center,
                   trammel_mesh_to_words (&found, gears.pair.b.internal));
      return NULL;
    }
  const double lash = lash_of_all (stage, mesh, center, error);
  g_autoptr (TrammelRecord) placed = isnan (lash) ? NULL : with_center (stage, mesh, center, error);
  return placed != NULL ? with_length (placed, "lash", micrometers (lash), error) : NULL;
}
