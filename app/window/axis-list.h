/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* The axes of the machine, one card each, one of them selected; and a button to add one. */
#define TRAMMEL_TYPE_AXIS_LIST (trammel_axis_list_get_type ())
G_DECLARE_FINAL_TYPE (TrammelAxisList, trammel_axis_list, TRAMMEL, AXIS_LIST, GtkWidget)

void trammel_axis_list_set_session (TrammelAxisList *list, TrammelSession *session);

G_END_DECLS
