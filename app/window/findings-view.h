/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What else was found, in sentences; warnings, each with a sign; and the suspect readings with what can be done about
 * them: look at one, or leave it out. */
#define TRAMMEL_TYPE_FINDINGS_VIEW (trammel_findings_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelFindingsView, trammel_findings_view, TRAMMEL, FINDINGS_VIEW, GtkWidget)

void trammel_findings_view_show (TrammelFindingsView *view, TrammelSession *session,
                                 const TrammelAdjustment *adjustment);

G_END_DECLS
