/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/axis-panel.h"

G_BEGIN_DECLS

/* How fast and how finely the selected axis goes, and what its screw and belts can bear. */
#define TRAMMEL_TYPE_LIMITS_PANEL (trammel_limits_panel_get_type ())
G_DECLARE_FINAL_TYPE (TrammelLimitsPanel, trammel_limits_panel, TRAMMEL, LIMITS_PANEL, TrammelAxisPanel)

GtkWidget *trammel_limits_panel_new (TrammelSession *session);

G_END_DECLS
