/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

#define TRAMMEL_TYPE_READINGS_PAGE (trammel_readings_page_get_type ())
G_DECLARE_FINAL_TYPE (TrammelReadingsPage, trammel_readings_page, TRAMMEL, READINGS_PAGE, GtkWidget)

GtkWidget *trammel_readings_page_new (TrammelSession *session);

G_END_DECLS
