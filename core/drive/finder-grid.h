/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gears.h"
#include "drive/mesh-grid.h"

G_BEGIN_DECLS

/**
 * trammel_finder_fits_grid:
 * @grid: a TrammelHoleGrid, its reach left out of account; borrowed
 *
 * A TrammelFinderFits: TRUE where some two holes lie so that the gears run in them (mesh-grid.h), without profile shift
 * and with a pressure angle of 20°. That every pair of a train runs somewhere does not say that all its shafts find
 * holes beside each other: a train can always turn a corner, but gears can be in the way of other shafts.
 */
gboolean trammel_finder_fits_grid (const TrammelGearSize *one, const TrammelGearSize *other, gpointer grid);

G_END_DECLS
