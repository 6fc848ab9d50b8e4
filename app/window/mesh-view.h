/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "draw/mesh-drawing.h"

G_BEGIN_DECLS

/* A gear pair on a plate with holes, drawn. A click on a hole picks its offset. */
#define TRAMMEL_TYPE_MESH_VIEW (trammel_mesh_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelMeshView, trammel_mesh_view, TRAMMEL, MESH_VIEW, GtkWidget)

/* Signal:
 *   picked (view, offset)   offset (guint): index of an offset of the picture */

/* @picture: what it points at is borrowed until the next call; font and accent are the view's own. @letter: the axis,
 * for the color. @words: what it shows, for who does not see it. NULL: nothing. */
void trammel_mesh_view_show (TrammelMeshView *view, const TrammelMeshPicture *picture, char letter, const char *words);

G_END_DECLS
