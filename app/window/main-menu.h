/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Gives the menu button its menu. It is made when it is opened, so that recent files are up to date and the window
 * does not wait for it. */
void trammel_main_menu_attach (GtkMenuButton *button);

G_END_DECLS
