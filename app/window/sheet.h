/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* The sheet of readings: a row for each, an empty one at the end to type a new one into. Only the cells in sight are
 * drawn, so a million rows are as quick as ten. One text entry lies over the current cell and always has the focus:
 * it takes what is typed, with any input method, and tells assistive technology which cell this is and what is wrong
 * with it. To be put into a GtkScrolledWindow. */
#define TRAMMEL_TYPE_SHEET (trammel_sheet_get_type ())
G_DECLARE_FINAL_TYPE (TrammelSheet, trammel_sheet, TRAMMEL, SHEET, GtkWidget)

/* Signal:
 *   told (sheet)   what trammel_sheet_message() returns has changed
 *   list-pasted (sheet, char *text)   a list of targets and values was pasted where kind and direction are wanted; the
 *                                     sheet has not taken it
 *   column-pasted (sheet, guint first, guint n)   a column of numbers went under measured, into these rows
 * Actions, to be used by buttons and menus in and around the sheet: sheet.insert-row, sheet.append-row,
 * sheet.delete-rows, sheet.cut, sheet.copy, sheet.paste, sheet.clear, sheet.choose */

GtkWidget *trammel_sheet_new (TrammelSession *session);

/* What there is to say about the current cell: why it cannot be read, why its row is not used, what became of a paste;
 * NULL: nothing. @trouble (nullable): it is something to correct. Borrowed. */
const char *trammel_sheet_message (TrammelSheet *sheet, gboolean *trouble);

/* The group of the actions above. Borrowed. */
GActionGroup *trammel_sheet_actions (TrammelSheet *sheet);

/* Makes the cell the current one, brings it into sight and takes the focus there. */
void trammel_sheet_go_to (TrammelSheet *sheet, int row, int column);

G_END_DECLS
