/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* Where a position test is entered: a plain list of targets and values, pasted or typed, or the rows of a test that is
 * still to be made. */
#define TRAMMEL_TYPE_POSITION_ENTRY (trammel_position_entry_get_type ())
G_DECLARE_FINAL_TYPE (TrammelPositionEntry, trammel_position_entry, TRAMMEL, POSITION_ENTRY, GtkWidget)

/* Signal:
 *   done (entry, int first)   rows were added as one step that can be undone, the first of them @first; −1: none were,
 *                             the person wants to leave */

void trammel_position_entry_set_session (TrammelPositionEntry *entry, TrammelSession *session);
/* Begins with @text (nullable) as the list, for the selected axis. */
void trammel_position_entry_begin (TrammelPositionEntry *entry, const char *text);

G_END_DECLS
