/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "base/record.h"

G_BEGIN_DECLS

/* The editor of one field of a record: its label, a control that fits the field's type, and under it the reason why
 * what was typed cannot be used. Such text stays in the control, marked, until it is corrected or Escape puts the
 * value back. Whole numbers are taken over with each keystroke, Up and Down step them; all else on Enter and when the
 * focus leaves. */
#define TRAMMEL_TYPE_FIELD_EDITOR (trammel_field_editor_get_type ())
G_DECLARE_FINAL_TYPE (TrammelFieldEditor, trammel_field_editor, TRAMMEL, FIELD_EDITOR, GtkWidget)

/* Signal:
 *   edited (editor, record)   record (const TrammelRecord *, borrowed): the one shown with this field changed */

/* @field lives as long as the program; @labels (nullable): labels of the same group get the same width. */
GtkWidget *trammel_field_editor_new (const TrammelField *field, GtkSizeGroup *labels);

/* Shows the field of @record; @assumed (nullable): unit of a length typed without one. A control whose value is still
 * the same is not touched, whatever stands in it. */
void trammel_field_editor_show (TrammelFieldEditor *editor, const TrammelRecord *record, const TrammelUnit *assumed);

/* Throws away what was typed and cannot be used: the control shows the value of the record again. */
void trammel_field_editor_restore (TrammelFieldEditor *editor);

/* A reason from outside why this value does not do, shown like the editor's own; NULL: none. */
void trammel_field_editor_set_trouble (TrammelFieldEditor *editor, const char *reason);

G_END_DECLS
