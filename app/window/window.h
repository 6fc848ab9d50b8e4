/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/notices.h"
#include "window/session.h"

G_BEGIN_DECLS

/* The window: one machine, its axes at the left, the pages of the job in the middle.
 *
 * Actions (prefix win) that any page may do through gtk_widget_activate_action():
 *   undo, redo, new, open, save, save-as, import-readings
 *   show-page (s)     by the page's name: "drive", "piece", "readings", "result", "handover"
 *   say (s)           a short message under the header bar, that goes away by itself
 *   complain (s)      one that stays until it is put away */
#define TRAMMEL_TYPE_WINDOW (trammel_window_get_type ())
G_DECLARE_FINAL_TYPE (TrammelWindow, trammel_window, TRAMMEL, WINDOW, GtkApplicationWindow)

TrammelWindow *trammel_window_new (GtkApplication *application);
TrammelSession *trammel_window_session (TrammelWindow *window);
TrammelNotices *trammel_window_notices (TrammelWindow *window);
void trammel_window_show_page (TrammelWindow *window, const char *name);

/* A machine file (or a CSV of readings, which is added to the machine that is open). */
void trammel_window_open_file (TrammelWindow *window, GFile *file);
/* The example that a first start shows, as a document of its own. */
void trammel_window_open_example (TrammelWindow *window);
/* The process is told to end: unsaved work is kept for the next start. */
void trammel_window_keep_work (TrammelWindow *window);

G_END_DECLS
