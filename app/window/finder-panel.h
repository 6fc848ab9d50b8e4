/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* Which gears to use: what is in the bin, what the selected axis should do, and the trains that come nearest, each with
 * a button that puts it into the axis. The bin is kept per user. Searches go on in a thread, with progress, and can be
 * stopped; once one was made, a change of what is wanted starts the next. */
#define TRAMMEL_TYPE_FINDER_PANEL (trammel_finder_panel_get_type ())
G_DECLARE_FINAL_TYPE (TrammelFinderPanel, trammel_finder_panel, TRAMMEL, FINDER_PANEL, GtkWidget)

GtkWidget *trammel_finder_panel_new (TrammelSession *session);

G_END_DECLS
