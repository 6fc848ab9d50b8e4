/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/axis-panel.h"

G_BEGIN_DECLS

/* Where the play at the carriage of the selected axis comes from, and what the readings found of it. */
#define TRAMMEL_TYPE_PLAY_PANEL (trammel_play_panel_get_type ())
G_DECLARE_FINAL_TYPE (TrammelPlayPanel, trammel_play_panel, TRAMMEL, PLAY_PANEL, TrammelAxisPanel)

GtkWidget *trammel_play_panel_new (TrammelSession *session);

G_END_DECLS
