/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What the controller gets, in each form, to read, copy and save. */
#define TRAMMEL_TYPE_EXPORT_VIEW (trammel_export_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelExportView, trammel_export_view, TRAMMEL, EXPORT_VIEW, GtkWidget)

void trammel_export_view_set_session (TrammelExportView *view, TrammelSession *session);

G_END_DECLS
