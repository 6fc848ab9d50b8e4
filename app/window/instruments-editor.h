/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* The instruments of the machine: a name and the standard uncertainty of one reading each. Renaming one renames it in
 * the readings too. */
#define TRAMMEL_TYPE_INSTRUMENTS_EDITOR (trammel_instruments_editor_get_type ())
G_DECLARE_FINAL_TYPE (TrammelInstrumentsEditor, trammel_instruments_editor, TRAMMEL, INSTRUMENTS_EDITOR, GtkWidget)

GtkWidget *trammel_instruments_editor_new (TrammelSession *session);

G_END_DECLS
