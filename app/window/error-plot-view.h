/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "draw/error-plot.h"

G_BEGIN_DECLS

/* Shows an error plot. A click, or the arrow keys, choose a reading.
 * Signal: row-selected (view, row): the row of the reading that was chosen. */
#define TRAMMEL_TYPE_ERROR_PLOT_VIEW (trammel_error_plot_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelErrorPlotView, trammel_error_plot_view, TRAMMEL, ERROR_PLOT_VIEW, GtkWidget)

/* @plot: (transfer full) (nullable) */
void trammel_error_plot_view_show (TrammelErrorPlotView *view, TrammelErrorPlot *plot);
void trammel_error_plot_view_set_panels (TrammelErrorPlotView *view, TrammelErrorPanels panels);
void trammel_error_plot_view_set_selected_row (TrammelErrorPlotView *view, int row);

G_END_DECLS
