/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* How the gears of a stage mesh, and in which holes of a plate they run: for the selected stage of the selected axis
 * when it is a spur or internal pair, else for the first one that is. Choosing two holes sets the stage's center
 * distance and lash. */
#define TRAMMEL_TYPE_MESH_PANEL (trammel_mesh_panel_get_type ())
G_DECLARE_FINAL_TYPE (TrammelMeshPanel, trammel_mesh_panel, TRAMMEL, MESH_PANEL, GtkWidget)

GtkWidget *trammel_mesh_panel_new (TrammelSession *session);

G_END_DECLS
