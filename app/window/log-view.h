/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What was adopted and when, the newest first; each entry opens to the readings and the fit it rests on. */
#define TRAMMEL_TYPE_LOG_VIEW (trammel_log_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelLogView, trammel_log_view, TRAMMEL, LOG_VIEW, GtkWidget)

void trammel_log_view_set_session (TrammelLogView *view, TrammelSession *session);

G_END_DECLS
