/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gear-pair.h"

G_BEGIN_DECLS

/* A gear pair on a plate with a square grid of holes: how it runs at every distance that two holes can have. */

#define TRAMMEL_HOLE_GRID_MOST_STEPS 500

/* A plain value. */
typedef struct
{
  double pitch;  /* from hole to hole, mm */
  gboolean half; /* half pitches can be had too (an offset plate, a second row of holes) */
  int reach;     /* how many pitches to go in either direction; 0: as far as the teeth reach each other */
} TrammelHoleGrid;

/* From one hole to another: @dx ≥ @dy ≥ 0, which stands for the equal ones to the other sides. */
typedef struct
{
  double dx, dy;   /* mm */
  int equivalents; /* how many pairs of holes from one hole are this one but for turning or mirroring: 4 or 8 */
  TrammelMesh mesh;
} TrammelMeshOffset;

/**
 * trammel_mesh_grid_offsets:
 * @n: (out): how many
 *
 * Returns: (transfer full) (free with g_free) (nullable): every distinct offset on the grid within reach but the hole
 * itself, whether the pair runs there or not (see mesh.state), by growing distance, then by growing dx.
 *
 * Errors: as trammel_gear_pair_check(); TRAMMEL_ERROR_RANGE for a pitch that is not above 0 or a negative reach;
 * TRAMMEL_ERROR_TOO_LARGE when that would be more than 500 steps in a direction.
 */
TrammelMeshOffset *trammel_mesh_grid_offsets (const TrammelGearPair *pair, TrammelHoleGrid grid, gsize *n,
                                              GError **error);

/* Whether the pair runs at some offset of the grid, however far (its reach is left out of account). Where the steps are
 * so fine that more than 500 of them reach across, some offset is taken to be as near to the distance without backlash
 * as matters. FALSE also for a pair that trammel_gear_pair_check() refuses, and for a pitch that is not above 0. */
gboolean trammel_mesh_grid_runs (const TrammelGearPair *pair, TrammelHoleGrid grid);

/* The offset at which it runs with the least backlash. FALSE where trammel_mesh_grid_runs() is, and on a grid of more
 * than 500 steps. */
gboolean trammel_mesh_grid_closest (const TrammelGearPair *pair, TrammelHoleGrid grid, TrammelMeshOffset *out);

/**
 * trammel_mesh_grid_worth_knowing:
 * @offsets: as trammel_mesh_grid_offsets() returns them
 * @distance: of the pair without backlash
 * @first, @end: (out): the part of them that tells people what they want to know
 *
 * From the last offset nearer than the first at which the pair runs to the first one farther than the last; where it
 * runs at none, the two on either side of @distance.
 */
void trammel_mesh_grid_worth_knowing (const TrammelMeshOffset *offsets, gsize n, double distance, gsize *first,
                                      gsize *end);

G_END_DECLS
