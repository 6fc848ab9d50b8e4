/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What is changed about an axis as a whole: letter, kind, travel, sense of the motor, place in the list. */
#define TRAMMEL_TYPE_AXIS_SETTINGS (trammel_axis_settings_get_type ())
G_DECLARE_FINAL_TYPE (TrammelAxisSettings, trammel_axis_settings, TRAMMEL, AXIS_SETTINGS, GtkPopover)

GtkWidget *trammel_axis_settings_new (TrammelSession *session, gsize axis);

G_END_DECLS
