/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear-pair.h"
#include "drive/stage.h"

G_BEGIN_DECLS

/* The gears of a stage of kind spur or internal, mesh by mesh. Its fields: driver, idlers (of a spur), driven, module
 * (else 1 mm), angle (else 20°), shift_driver, shift_driven (else 0; idlers have none), center (as built: of a spur a
 * list, of each mesh from the driver on, which may end early; else the distance without backlash).
 *
 * The lash of a stage is a length at its pitch circles. These are the same for all its meshes: a tooth of each of its
 * gears moves as far as one of the next. So the backlashes of its meshes, brought to the pitch circles, add up to it.
 */

/* One mesh. A plain value. */
typedef struct
{
  TrammelGearPair pair; /* a is the one on the driver's side, but for a ring that drives */
  gboolean driver_is_b; /* the pair's second gear, where a ring stands, is the driver */
  double distance;      /* without backlash */
  double center;        /* as built, or distance */
  gboolean placed;      /* center is as built */
} TrammelStageGears;

/* Whether a stage is of a kind that has such gears: spur and internal. */
gboolean trammel_stage_has_gears (const TrammelRecord *stage);

/* How many meshes it has: 1, and 1 more for each idler; 0 where trammel_stage_has_gears() is FALSE. */
gsize trammel_stage_n_gear_meshes (const TrammelRecord *stage);

/**
 * trammel_stage_gears:
 * @stage: of any kind
 * @mesh: 0 is that of the driver, with the driven or the first idler
 *
 * Errors: TRAMMEL_ERROR_IMPOSSIBLE for a stage that is no pair of spur gears; those of trammel_record_check(), of
 * trammel_gear_pair_distance(). A mesh that there is not is a programming error.
 */
gboolean trammel_stage_gears (const TrammelRecord *stage, gsize mesh, TrammelStageGears *out, GError **error);

/* mm, as given; NaN where it is not. For any stage of such a kind, whether its gears can be had or not. */
double trammel_stage_center (const TrammelRecord *stage, gsize mesh);

/**
 * trammel_stage_with_center:
 * @stage: of kind spur or internal
 * @mesh: as in trammel_stage_gears()
 * @center: mm, above 0
 *
 * Returns: (transfer full) (nullable): @stage with that mesh built at that distance, to the micrometer: its center, and
 * its lash, a length at the pitch circles, to the micrometer: the sum over all its meshes of the backlash that each has
 * where it is built, none where that is not given. Meshes before @mesh whose center is not given get the distance
 * without backlash, since the list in the file has no gaps. Errors: those of trammel_stage_gears();
 * TRAMMEL_ERROR_IMPOSSIBLE where the pair does not run.
 */
TrammelRecord *trammel_stage_with_center (const TrammelRecord *stage, gsize mesh, double center, GError **error);

G_END_DECLS
