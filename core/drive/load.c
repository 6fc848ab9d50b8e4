/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/load.h"

#include <glib/gi18n-lib.h>

/* 90°, and the last digits that its conversion may add. */
#define UPRIGHT (G_PI / 2 * (1 + 1e-12))

/* A new load is empty, but its fields are what it is for: editors keep in sight what starts with something. */
#define NOT_SET ""

/* clang-format off */
#define AMOUNT(key_, label_, meaning_, dimension_)                                                                    \
  { .key = key_, .label = label_, .meaning = meaning_, .type = TRAMMEL_FIELD_QUANTITY, .dimension = dimension_,       \
    .low = 0, .high = 1e9, .initial = NOT_SET }

static const TrammelField linear_fields[] = {
  AMOUNT ("mass", N_ ("Moving mass"), N_ ("carriage and all that it carries, weighed on a kitchen scale"),
          TRAMMEL_DIMENSION_MASS),
  { .key = "slope", .label = N_ ("Slope"),
    .meaning = N_ ("of the axis from horizontal: 0° lies flat, 90° stands upright and lifts the mass"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_ANGLE, .low = 0, .high = UPRIGHT,
    .initial = "0 deg" },
  AMOUNT ("drag", N_ ("Drag"),
          N_ ("pull that keeps the carriage moving slowly on the level, read from a spring scale, drive taken off"),
          TRAMMEL_DIMENSION_FORCE),
  AMOUNT ("breakaway", N_ ("Breakaway"),
          N_ ("the most that the spring scale shows before the carriage starts to move; the drag where not given"),
          TRAMMEL_DIMENSION_FORCE),
  AMOUNT ("process", N_ ("Process force"), N_ ("what the work pushes back with: a pen, a cutter, a nozzle"),
          TRAMMEL_DIMENSION_FORCE),
  AMOUNT ("speed", N_ ("Wanted speed"), N_ ("how fast it is to go"), TRAMMEL_DIMENSION_SPEED),
  AMOUNT ("acceleration", N_ ("Wanted acceleration"), N_ ("how hard it is to speed up and to brake"),
          TRAMMEL_DIMENSION_ACCELERATION),
};

static const TrammelField rotary_fields[] = {
  AMOUNT ("inertia", N_ ("Moment of inertia"), N_ ("of what the table carries, about its axis"),
          TRAMMEL_DIMENSION_INERTIA),
  AMOUNT ("drag", N_ ("Drag"),
          N_ ("torque that keeps the table turning slowly: pull on a spring scale × its distance from the axis"),
          TRAMMEL_DIMENSION_TORQUE),
  AMOUNT ("breakaway", N_ ("Breakaway"),
          N_ ("the most torque before the table starts to turn; the drag where not given"), TRAMMEL_DIMENSION_TORQUE),
  AMOUNT ("process", N_ ("Process torque"), N_ ("what the work pushes back with, at the table"),
          TRAMMEL_DIMENSION_TORQUE),
  AMOUNT ("speed", N_ ("Wanted speed"), N_ ("how fast it is to turn"), TRAMMEL_DIMENSION_ROTATION),
  AMOUNT ("acceleration", N_ ("Wanted acceleration"), N_ ("how hard it is to speed up and to brake"),
          TRAMMEL_DIMENSION_ANGULAR_ACCELERATION),
};
/* clang-format on */

static const TrammelRecordKind linear
    = { .type = "linear", .label = N_ ("Load"), .fields = linear_fields, .n_fields = G_N_ELEMENTS (linear_fields) };
static const TrammelRecordKind rotary
    = { .type = "rotary", .label = N_ ("Load"), .fields = rotary_fields, .n_fields = G_N_ELEMENTS (rotary_fields) };

const TrammelRecordKind *
trammel_load_kind (gboolean is_rotary)
{
  return is_rotary ? &rotary : &linear;
}
