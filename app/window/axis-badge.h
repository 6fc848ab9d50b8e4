/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The letter of an axis on its color. */
#define TRAMMEL_TYPE_AXIS_BADGE (trammel_axis_badge_get_type ())
G_DECLARE_FINAL_TYPE (TrammelAxisBadge, trammel_axis_badge, TRAMMEL, AXIS_BADGE, GtkWidget)

void trammel_axis_badge_set_letter (TrammelAxisBadge *badge, char letter);

G_END_DECLS
