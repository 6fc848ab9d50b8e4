/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* A calculator of width, speed and flow of a bead: of two follows the third. Where nothing is typed the test piece's
 * own values count, and what is found can be put there. */
#define TRAMMEL_TYPE_BEAD_PANEL (trammel_bead_panel_get_type ())
G_DECLARE_FINAL_TYPE (TrammelBeadPanel, trammel_bead_panel, TRAMMEL, BEAD_PANEL, GtkWidget)

/* Follows the session's test piece and display unit. */
void trammel_bead_panel_show (TrammelBeadPanel *panel, TrammelSession *session);

G_END_DECLS
