/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_STAGE_TEETH ("driver", N_ ("Driver"), N_ ("teeth of the gear on the motor's side"), "20"),
  TRAMMEL_STAGE_TEETH ("driven", N_ ("Driven"), N_ ("teeth of the gear that is turned"), "40"),
  TRAMMEL_STAGE_REVERSE,
  TRAMMEL_STAGE_MODULE,
  TRAMMEL_PART_FACE (N_ ("how wide the teeth are along the shaft; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_PART_PAIR_INERTIAS,
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  const gboolean negative = trammel_record_flag (stage, "reverse");
  return trammel_stage_teeth_ratio (stage, "driver", "driven", negative, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  return trammel_words_of_pair (stage, _ ("bevel"), "driver", "driven");
}

const TrammelStageKind trammel_stage_bevel = {
  .record = { .type = "bevel", .label = N_ ("Bevel pair"), TRAMMEL_STAGE_FIELDS (fields) },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.96,
  .lash_diameter = trammel_stage_gear_lash_diameter,
  .teeth_in = "driver",
  .disc = trammel_stage_gear_disc,
};
