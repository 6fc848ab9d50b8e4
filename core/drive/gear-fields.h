/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear.h"
#include "drive/part-fields.h"

G_BEGIN_DECLS

/* Inside of core/drive: fields of a stage that is a pair of spur gears, beside teeth and module; see stage-gears.h. */

/* Bounds as trammel_gear_check() has them, with room for rounding. */
#define TRAMMEL_GEAR_FIELD_ANGLE(degrees_, slack_) ((degrees_) * (G_PI / 180) * (1 + (slack_)))

/* clang-format off */
#define TRAMMEL_GEAR_FIELD_SHIFT(key_, label_)                                                                        \
  { .key = key_, .label = label_,                                                                                     \
    .meaning = N_ ("profile shift in modules: positive for thicker teeth, inside a ring too; 0 where it is not given"), \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_NUMBER, .low = -TRAMMEL_GEAR_MOST_SHIFT,           \
    .high = TRAMMEL_GEAR_MOST_SHIFT,                                                                                  \
    .group = TRAMMEL_GROUP_GEOMETRY }

#define TRAMMEL_GEAR_FIELDS                                                                                           \
  { .key = "angle", .table = "pressure-angle", .label = N_ ("Pressure angle"),                                        \
    .meaning = N_ ("slope of the basic rack's flanks: 20°, older gears 14.5°; 20° where it is not given"),            \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_ANGLE,                                             \
    .low = TRAMMEL_GEAR_FIELD_ANGLE (TRAMMEL_GEAR_LEAST_ANGLE, -1e-12),                                               \
    .high = TRAMMEL_GEAR_FIELD_ANGLE (TRAMMEL_GEAR_MOST_ANGLE, 1e-12),                                                \
    .group = TRAMMEL_GROUP_GEOMETRY },                                                                                \
  TRAMMEL_GEAR_FIELD_SHIFT ("shift_driver", N_ ("Shift, driver")),                                                    \
  TRAMMEL_GEAR_FIELD_SHIFT ("shift_driven", N_ ("Shift, driven"))
/* clang-format on */

G_END_DECLS
