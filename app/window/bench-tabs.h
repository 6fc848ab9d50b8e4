/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/session.h"

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* The panels below the drawing of the Drive page, beside the parts: what the selected axis can bear, how much play it
 * has, which gears to use. Each follows the session by itself ("changed", "selection-changed") and need not do so while
 * it is not mapped. It is made when it is shown for the first time, into a scrolled window of its own. */

/* Adds the panels to @stack, which has a page "parts", and a tab for each page to @tabs. A new panel is a file of its
 * own and a line in bench-tabs.c. */
void trammel_bench_tabs_fill (GtkStack *stack, GtkBox *tabs, TrammelSession *session);

G_END_DECLS
