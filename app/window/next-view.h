/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What to measure next for one axis, chosen by hand or the one that is known worst: a sentence for the best reading,
 * and the others in a table. Each can be added to the readings, where it then waits to be measured. */
#define TRAMMEL_TYPE_NEXT_VIEW (trammel_next_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelNextView, trammel_next_view, TRAMMEL, NEXT_VIEW, GtkWidget)

void trammel_next_view_show (TrammelNextView *view, TrammelSession *session, const TrammelAdjustment *adjustment);

G_END_DECLS
