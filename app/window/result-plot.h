/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* The error plot with its choices: which axis or pair of axes, before or after correction; and the chosen reading in
 * numbers. Follows the session's selected axis and reading, and sets them. */
#define TRAMMEL_TYPE_RESULT_PLOT (trammel_result_plot_get_type ())
G_DECLARE_FINAL_TYPE (TrammelResultPlot, trammel_result_plot, TRAMMEL, RESULT_PLOT, GtkWidget)

void trammel_result_plot_show (TrammelResultPlot *plot, TrammelSession *session, const TrammelAdjustment *adjustment);
/* The same adjustment, but another axis or reading may be selected. Only after the above. */
void trammel_result_plot_show_selection (TrammelResultPlot *plot, const TrammelAdjustment *adjustment);

G_END_DECLS
