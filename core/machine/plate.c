/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/plate.h"

#include <glib/gi18n-lib.h>

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "pitch", .label = N_ ("Holes every"),
    .meaning = N_ ("from hole to hole of the plate that the shafts stand on: 10 mm, 1/2 in"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = 10000 },
  { .key = "half", .label = N_ ("Half holes"),
    .meaning = N_ ("half of that can be had too, as with a second row of holes or an offset plate"),
    .type = TRAMMEL_FIELD_FLAG },
};
/* clang-format on */

static const TrammelRecordKind holes = {
  .type = "holes",
  .label = N_ ("Plate with holes"),
  .fields = fields,
  .n_fields = G_N_ELEMENTS (fields),
};

const TrammelRecordKind *
trammel_plate_kind (void)
{
  return &holes;
}

TrammelHoleGrid
trammel_plate_grid (const TrammelRecord *plate)
{
  g_return_val_if_fail (plate != NULL && trammel_record_kind (plate) == trammel_plate_kind (), (TrammelHoleGrid){ 0 });

  return (TrammelHoleGrid){ .pitch = trammel_record_value_or (plate, "pitch", 0),
                            .half = trammel_record_flag (plate, "half") };
}
