/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "drive/mesh-grid.h"
#include "drive/stage-gears.h"

G_BEGIN_DECLS

/* Offsets on a grid of holes as rows of a list: those at which a pair runs, and the next nearer and farther one with
 * the reason why it does not. */

/* Returns how many run. @unit: of lengths, mm or in. */
gsize trammel_mesh_rows_show (GtkListBox *list, const TrammelStageGears *gears, const TrammelMeshOffset *offsets,
                              gsize n, const TrammelUnit *unit);

/* The index of the offset that a row shows. */
gsize trammel_mesh_rows_offset (GtkListBoxRow *row);
/* (nullable): the row that shows the offset. */
GtkListBoxRow *trammel_mesh_rows_find (GtkListBox *list, gsize offset);

G_END_DECLS
