/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/axis-panel.h"

G_BEGIN_DECLS

/* What the selected axis has to move, to be entered, and whether its motor can. */
#define TRAMMEL_TYPE_LOAD_PANEL (trammel_load_panel_get_type ())
G_DECLARE_FINAL_TYPE (TrammelLoadPanel, trammel_load_panel, TRAMMEL, LOAD_PANEL, TrammelAxisPanel)

GtkWidget *trammel_load_panel_new (TrammelSession *session);

G_END_DECLS
