/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib/gi18n-lib.h>

#include "base/record.h"
#include "drive/gear.h"

G_BEGIN_DECLS

/* Inside of core/drive: fields that parts of several kinds carry, for what they weigh, lose and how they bear a load.
 * Bounds are only wide enough to keep numbers finite. */

#define TRAMMEL_GROUP_GEOMETRY N_ ("Geometry")
#define TRAMMEL_GROUP_LOAD N_ ("Friction and load")
#define TRAMMEL_PART_LONGEST 100000 /* mm */
#define TRAMMEL_PART_MOST_TEETH TRAMMEL_GEAR_MOST_TEETH

/* clang-format off */
#define TRAMMEL_PART_FACE(meaning_)                                                                                   \
  { .key = "face", .label = N_ ("Face width"), .meaning = meaning_,                                                   \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,                                            \
    .low = 0, .above_low = TRUE, .high = 10000, .group = TRAMMEL_GROUP_LOAD }

#define TRAMMEL_PART_DENSITY                                                                                          \
  { .key = "density", .table = "density", .label = N_ ("Density"),                                                    \
    .meaning = N_ ("of the material, for the estimate of inertia: steel 7.85 g/cm³, brass 8.5, aluminium 2.7, "       \
                   "acetal 1.4"),                                                                                     \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_DENSITY,                                           \
    .low = 0, .above_low = TRUE, .high = 100000, .group = TRAMMEL_GROUP_LOAD }

#define TRAMMEL_PART_INERTIA(key_, label_, meaning_)                                                                  \
  { .key = key_, .label = label_, .meaning = meaning_,                                                                \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_INERTIA, .low = 0, .high = 1e6,                    \
    .group = TRAMMEL_GROUP_LOAD }

#define TRAMMEL_PART_COEFFICIENT(key_, label_, meaning_)                                                              \
  { .key = key_, .table = "friction", .label = label_, .meaning = meaning_,                                           \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_NUMBER, .low = 0, .high = 10,                      \
    .group = TRAMMEL_GROUP_LOAD }

#define TRAMMEL_PART_LENGTH(key_, label_, meaning_, group_)                                                           \
  { .key = key_, .label = label_, .meaning = meaning_,                                                                \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,                                            \
    .low = 0, .above_low = TRUE, .high = TRAMMEL_PART_LONGEST, .group = group_ }

#define TRAMMEL_PART_STRESS(key_, label_, meaning_, table_)                                                           \
  { .key = key_, .table = table_, .label = label_, .meaning = meaning_,                                               \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_STRESS,                                            \
    .low = 0, .above_low = TRUE, .high = 1e7, .group = TRAMMEL_GROUP_LOAD }

/* Both inertias of a pair; the driver is on the motor's side. */
#define TRAMMEL_PART_PAIR_INERTIAS                                                                                    \
  TRAMMEL_PART_INERTIA ("driver_inertia", N_ ("Inertia of the driver"),                                               \
                        N_ ("all that turns with the driver; estimated from a solid disc where it is not given")),    \
  TRAMMEL_PART_INERTIA ("driven_inertia", N_ ("Inertia of the driven"),                                               \
                        N_ ("all that turns with the driven; estimated from a solid disc where it is not given"))
/* clang-format on */

G_END_DECLS
