/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* TRUE where the theme writes light on dark around @widget: for choosing trammel_palette(). A drawing asks on every
 * redraw; GTK redraws everything when the theme changes. */
gboolean trammel_window_is_dark (GtkWidget *widget);

G_END_DECLS
