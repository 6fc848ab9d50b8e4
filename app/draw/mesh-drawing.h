/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "base/quantity.h"
#include "draw/palette.h"
#include "drive/mesh-grid.h"

G_BEGIN_DECLS

/* A gear pair on a plate with holes: both gears with their real teeth at one offset, and every hole around marked by
 * what becomes of the pair there: a filled disc where it runs, a cross where it binds, an open ring where it is loose
 * (by shape as well as by color). One gear stays in the hole where the picture begins: gear a, or the ring.
 *
 * A plain value; what it points at is borrowed. */
typedef struct
{
  const TrammelGearPair *pair;
  double distance;                  /* of the pair without backlash: where it stands when no offset is chosen */
  TrammelHoleGrid grid;             /* pitch 0: no holes */
  const TrammelMeshOffset *offsets; /* of the grid, as trammel_mesh_grid_offsets() returns them */
  gsize n_offsets;
  gssize chosen;           /* of the offsets; −1: none */
  const TrammelUnit *unit; /* of dimensions: mm or in */
  TrammelColor accent;     /* of the gear that is moved */
  const char *font;        /* (nullable): as Pango reads it */
} TrammelMeshPicture;

/* Does not paint the ground. Any size; teeth that would be smaller than a pixel are drawn as circles. */
void trammel_mesh_drawing_paint (cairo_t *cr, double width, double height, const TrammelMeshPicture *picture,
                                 const TrammelPalette *palette);

/* The offset whose hole, or an equivalent one to another side, is at (@x, @y) of a picture of that size; −1: none. */
gssize trammel_mesh_drawing_offset_at (const TrammelMeshPicture *picture, double width, double height, double x,
                                       double y);

G_END_DECLS
