/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

#define TRAMMEL_TYPE_RESULT_PAGE (trammel_result_page_get_type ())
G_DECLARE_FINAL_TYPE (TrammelResultPage, trammel_result_page, TRAMMEL, RESULT_PAGE, GtkWidget)

GtkWidget *trammel_result_page_new (TrammelSession *session);

G_END_DECLS
