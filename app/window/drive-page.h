/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

#define TRAMMEL_TYPE_DRIVE_PAGE (trammel_drive_page_get_type ())
G_DECLARE_FINAL_TYPE (TrammelDrivePage, trammel_drive_page, TRAMMEL, DRIVE_PAGE, GtkWidget)

GtkWidget *trammel_drive_page_new (TrammelSession *session);

G_END_DECLS
