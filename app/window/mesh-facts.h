/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "drive/stage-gears.h"

G_BEGIN_DECLS

/* What is told of the two gears of a mesh for themselves. */

/* Writes their diameters to @grid, a row each under a row of headings. @number: which mesh of the @meshes of its stage,
 * from the driver on; @unit: of lengths, mm or in. */
void trammel_mesh_diameters_show (GtkGrid *grid, const TrammelStageGears *mesh, gsize number, gsize meshes,
                                  const TrammelUnit *unit);

/* (transfer full) (nullable): what is the matter with them: undercut, pointed. NULL: nothing. */
char *trammel_mesh_warnings (const TrammelStageGears *mesh);

G_END_DECLS
