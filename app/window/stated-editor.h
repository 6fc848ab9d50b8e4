/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* Edits what is stated beforehand about one unknown: value and standard uncertainty, each with its unit. Blank is the
 * default, shown as a placeholder. What cannot be read stays, marked, with the reason beneath; Escape puts back what is
 * in force. Taken over on Enter and when the focus leaves. */
#define TRAMMEL_TYPE_STATED_EDITOR (trammel_stated_editor_get_type ())
G_DECLARE_FINAL_TYPE (TrammelStatedEditor, trammel_stated_editor, TRAMMEL, STATED_EDITOR, GtkWidget)

/* @name: of a parameter that can be stated */
GtkWidget *trammel_stated_editor_new (TrammelSession *session, const char *name);
/* Shows the value of the session's machine. */
void trammel_stated_editor_update (TrammelStatedEditor *editor);

G_END_DECLS
