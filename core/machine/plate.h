/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"
#include "drive/mesh-grid.h"

G_BEGIN_DECLS

/* The plate that a machine is built on, kept in the machine file under `grid`: a record of kind
 *
 *   holes   pitch (from hole to hole, above 0, not set: no such plate), half (half pitches can be had too)
 */
const TrammelRecordKind *trammel_plate_kind (void);

/* Its holes; pitch 0 where it is not set. */
TrammelHoleGrid trammel_plate_grid (const TrammelRecord *plate);

G_END_DECLS
