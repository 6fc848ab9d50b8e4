/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/window.h"

G_BEGIN_DECLS

/* Everything that goes between the window and files: the actions new, open, open-recent (s uri), open-example, save,
 * save-as, import-readings, files dropped on the window, and the guard that asks before unsaved work would be lost. */
typedef struct _TrammelFileActions TrammelFileActions;

/* Installs the actions on @window, which owns the result. */
TrammelFileActions *trammel_file_actions_new (TrammelWindow *window);
void trammel_file_actions_free (TrammelFileActions *files);

/* A CSV of readings is added to the machine; any other file is opened as a machine, once unsaved work is safe. */
void trammel_file_actions_open (TrammelFileActions *files, GFile *file);
void trammel_file_actions_open_example (TrammelFileActions *files);
/* FALSE: there is unsaved work, and the question what to do with it has been put. */
gboolean trammel_file_actions_may_close (TrammelFileActions *files);

G_END_DECLS
