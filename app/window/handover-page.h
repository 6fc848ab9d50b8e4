/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

#define TRAMMEL_TYPE_HANDOVER_PAGE (trammel_handover_page_get_type ())
G_DECLARE_FINAL_TYPE (TrammelHandoverPage, trammel_handover_page, TRAMMEL, HANDOVER_PAGE, GtkWidget)

GtkWidget *trammel_handover_page_new (TrammelSession *session);

G_END_DECLS
