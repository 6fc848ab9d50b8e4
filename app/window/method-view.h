/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* The choice of how readings are weighed, in words. */
#define TRAMMEL_TYPE_METHOD_VIEW (trammel_method_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelMethodView, trammel_method_view, TRAMMEL, METHOD_VIEW, GtkWidget)

void trammel_method_view_show (TrammelMethodView *view, TrammelSession *session);

G_END_DECLS
