/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/loop.h"
#include "drive/stage-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_STAGE_TEETH ("driver", N_ ("Driver"), N_ ("teeth of the sprocket on the motor's side"), "12"),
  TRAMMEL_STAGE_TEETH ("driven", N_ ("Driven"), N_ ("teeth of the sprocket that is turned"), "36"),
  { .key = "pitch", .table = "chain-pitch", .label = N_ ("Pitch"),
    .meaning = N_ ("from pin to pin of the chain: 6.35 mm or 12.7 mm are usual; sizes the drawing, not the ratio"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = 1000, .initial = "6.35 mm" },
  { .key = "crossed", .label = N_ ("Crossed"),
    .meaning = N_ ("the sprocket is turned by the outside of the chain, opposite to the driver"),
    .type = TRAMMEL_FIELD_FLAG },
  TRAMMEL_PART_LENGTH ("center", N_ ("Center distance"), N_ ("from shaft to shaft"), TRAMMEL_GROUP_GEOMETRY),
  { .key = "links", .label = N_ ("Links"), .meaning = N_ ("length of the closed chain, counted in pins"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 1000000, .group = TRAMMEL_GROUP_GEOMETRY },
  TRAMMEL_PART_FACE (N_ ("of the sprockets; gives the estimate of inertia")),
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
  return trammel_words_of_pair (stage, _ ("chain"), "driver", "driven");
}

static double
sprocket_diameter (const TrammelRecord *stage, const char *key)
{
  return trammel_sprocket_diameter (trammel_record_value (stage, "pitch"), trammel_record_value (stage, key));
}

static double
lash_diameter (const TrammelRecord *stage)
{
  return sprocket_diameter (stage, "driven");
}

static void
disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  *outer = sprocket_diameter (stage, driven ? "driven" : "driver");
}

const TrammelStageKind trammel_stage_chain = {
  .record = { .type = "chain", .label = N_ ("Chain pair"), TRAMMEL_STAGE_FIELDS (fields) },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.96,
  .lash_diameter = lash_diameter,
  .teeth_in = "driver",
  .disc = disc,
};
