/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/finder.h"
#include "drive/mesh-grid.h"

G_BEGIN_DECLS

/* Trains on a plate with holes.
 *
 * What is looked at is every mesh by itself: whether some two holes lie so that its two gears run in them
 * (mesh-grid.h), without profile shift and with a pressure angle of 20°. That is enough to put all shafts of a train in
 * holes: the driven of a pair and the next driver share a shaft, and from the hole of that the next mesh may go on in
 * any of the directions that its offset has. What is not looked at is whether a gear then comes in the way of a shaft
 * or of a gear in its own plane; a train can turn a corner at every shaft to avoid that. */

/* A TrammelFinderFits; @grid: a TrammelHoleGrid, its reach left out of account; borrowed. */
gboolean trammel_finder_fits_grid (const TrammelGearSize *one, const TrammelGearSize *other, gpointer grid);

/* A pair has one mesh, with an idler two. */
#define TRAMMEL_FINDER_MOST_MESHES (TRAMMEL_FINDER_MOST_PAIRS + 1)

/**
 * trammel_finder_places:
 * @places: room for TRAMMEL_FINDER_MOST_MESHES
 *
 * The offset of every mesh of @train, from the motor on, with the least backlash.
 *
 * Returns: how many meshes; 0 where one of them runs in no two holes.
 */
gsize trammel_finder_places (const TrammelFinderTrain *train, TrammelHoleGrid grid, TrammelMeshOffset *places);

G_END_DECLS
