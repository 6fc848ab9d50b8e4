/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* One axis in short: letter, train in words, counts per unit, how far off it is; and a menu to change it. */
#define TRAMMEL_TYPE_AXIS_CARD (trammel_axis_card_get_type ())
G_DECLARE_FINAL_TYPE (TrammelAxisCard, trammel_axis_card, TRAMMEL, AXIS_CARD, GtkListBoxRow)

GtkWidget *trammel_axis_card_new (TrammelSession *session, gsize axis);
/* Reads the session again. Its axis must be there. */
void trammel_axis_card_update (TrammelAxisCard *card);

G_END_DECLS
