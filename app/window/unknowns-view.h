/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* The unknowns of an adjustment in a table: name, value with its 95 % interval, what is stated beforehand (edited in
 * place) and how much the readings have taught. */
#define TRAMMEL_TYPE_UNKNOWNS_VIEW (trammel_unknowns_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelUnknownsView, trammel_unknowns_view, TRAMMEL, UNKNOWNS_VIEW, GtkWidget)

void trammel_unknowns_view_show (TrammelUnknownsView *view, TrammelSession *session,
                                 const TrammelAdjustment *adjustment);

G_END_DECLS
