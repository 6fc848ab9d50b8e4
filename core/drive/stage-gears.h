/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear-pair.h"
#include "drive/stage.h"

G_BEGIN_DECLS

/* The gears of a stage of kind spur or internal. Its fields: driver, driven, module (else 1 mm), angle (else 20°),
 * shift_driver, shift_driven (else 0), center (as built; else the distance without backlash). */

/* A plain value. */
typedef struct
{
  TrammelGearPair pair;
  gboolean driver_is_b; /* the pair's second gear, where a ring stands, is the driver */
  double distance;      /* without backlash */
  double center;        /* as built, or distance */
} TrammelStageGears;

/**
 * trammel_stage_gears:
 * @stage: of any kind
 *
 * Errors: TRAMMEL_ERROR_IMPOSSIBLE for a stage that is no pair of spur gears, and for one with idlers between them
 * (each of its meshes has a distance of its own); those of trammel_record_check(), of trammel_gear_pair_distance().
 */
gboolean trammel_stage_gears (const TrammelRecord *stage, TrammelStageGears *out, GError **error);

/* Whether trammel_stage_gears() is for stages of its kind: spur and internal. */
gboolean trammel_stage_has_gears (const TrammelRecord *stage);

/**
 * trammel_stage_with_center:
 * @stage: of kind spur or internal
 * @center: mm, above 0
 *
 * Returns: (transfer full) (nullable): @stage built at that distance: center, and the lash that it gives, as a length
 * at the pitch circle, both to the micrometer. Errors: those of trammel_stage_gears(); TRAMMEL_ERROR_IMPOSSIBLE where
 * the pair does not run.
 */
TrammelRecord *trammel_stage_with_center (const TrammelRecord *stage, double center, GError **error);

G_END_DECLS
