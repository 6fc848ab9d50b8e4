/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_STAGE_TEETH ("driver", N_ ("Driver"), N_ ("teeth of the pulley on the motor's side"), "20"),
  TRAMMEL_STAGE_TEETH ("driven", N_ ("Driven"), N_ ("teeth of the pulley that is turned"), "60"),
  { .key = "pitch", .table = "belt-pitch", .label = N_ ("Pitch"),
    .meaning = N_ ("from tooth to tooth of the belt: 2 mm, 5.08 mm for XL; sizes the drawing, not the ratio"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = 1000, .initial = "2 mm" },
  { .key = "crossed", .label = N_ ("Crossed"),
    .meaning = N_ ("the belt runs in a figure of eight, so that the two turn opposite ways"),
    .type = TRAMMEL_FIELD_FLAG },
  TRAMMEL_PART_LENGTH ("center", N_ ("Center distance"), N_ ("from shaft to shaft"), TRAMMEL_GROUP_GEOMETRY),
  { .key = "belt_teeth", .label = N_ ("Belt teeth"), .meaning = N_ ("length of the closed belt, counted in teeth"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 1000000, .group = TRAMMEL_GROUP_GEOMETRY },
  TRAMMEL_PART_FACE (N_ ("of the belt and its pulleys; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_PART_PAIR_INERTIAS,
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  const gboolean negative = trammel_record_flag (stage, "crossed");
  return trammel_stage_teeth_ratio (stage, "driver", "driven", negative, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  return trammel_words_of_pair (stage, _ ("belt"), "driver", "driven");
}

const TrammelStageKind trammel_stage_belt = {
  .record = { .type = "belt", .label = N_ ("Belt pair"), TRAMMEL_STAGE_FIELDS (fields) },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.96,
  .lash_diameter = trammel_stage_pulley_lash_diameter,
  .teeth_in = "driver",
  .disc = trammel_stage_pulley_disc,
};
