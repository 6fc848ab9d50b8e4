/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The position test of the selected axis: plot, which part is to blame, the figures of ISO 230-2, and the table that
 * takes the rest out. Hidden where the axis has no measured positions. */
#define TRAMMEL_TYPE_POSITIONS_VIEW (trammel_positions_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelPositionsView, trammel_positions_view, TRAMMEL, POSITIONS_VIEW, GtkWidget)

/* Looks at the session's selected axis and readings, and shows what has changed. */
void trammel_positions_view_show (TrammelPositionsView *view, TrammelSession *session);

G_END_DECLS
