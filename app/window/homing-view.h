/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What the home readings tell of a switch: as a run chart, in words and in figures, set by set, and what it means. Of
 * the session's selected axis where that has homes, else of another one; hidden where none has. */
#define TRAMMEL_TYPE_HOMING_VIEW (trammel_homing_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelHomingView, trammel_homing_view, TRAMMEL, HOMING_VIEW, GtkWidget)

/* Looks at the session's readings and selected axis, and shows what has changed. FALSE: there are no homes. */
gboolean trammel_homing_view_show (TrammelHomingView *view, TrammelSession *session);

G_END_DECLS
