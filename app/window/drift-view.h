/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What the log says of an axis over time: corrected value, lash or scatter of homing as a control chart, the trend, and
 * when the next check is due for the tolerance typed. Hidden while the log tells nothing. Follows the session's
 * selected axis, and sets it. */
#define TRAMMEL_TYPE_DRIFT_VIEW (trammel_drift_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelDriftView, trammel_drift_view, TRAMMEL, DRIFT_VIEW, GtkWidget)

/* Looks at the session's log and selected axis, and shows what has changed. */
void trammel_drift_view_show (TrammelDriftView *view, TrammelSession *session);

G_END_DECLS
