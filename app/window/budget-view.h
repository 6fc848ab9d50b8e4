/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* Where the uncertainty of each axis comes from: a bar of shares and the sources in words. */
#define TRAMMEL_TYPE_BUDGET_VIEW (trammel_budget_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelBudgetView, trammel_budget_view, TRAMMEL, BUDGET_VIEW, GtkWidget)

void trammel_budget_view_show (TrammelBudgetView *view, TrammelSession *session, const TrammelAdjustment *adjustment);

G_END_DECLS
