/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "base/record.h"

G_BEGIN_DECLS

/* The fields of a record as labelled editors, made from the table of its kind. Fields of a group are folded away under
 * its heading, and what may be left out and starts empty (play, efficiency, a note) under "More". */
#define TRAMMEL_TYPE_RECORD_EDITOR (trammel_record_editor_get_type ())
G_DECLARE_FINAL_TYPE (TrammelRecordEditor, trammel_record_editor, TRAMMEL, RECORD_EDITOR, GtkWidget)

/* Signal:
 *   edited (editor, record)   record (const TrammelRecord *, borrowed): the new value */

GtkWidget *trammel_record_editor_new (void);

/* Shows @record; @assumed (nullable): unit of a length typed without one. Controls are made anew only when the kind
 * is another one; else those whose value is still the same are not touched. */
void trammel_record_editor_set_record (TrammelRecordEditor *editor, const TrammelRecord *record,
                                       const TrammelUnit *assumed);

/* Another record of the same kind is about to be shown: what was typed and cannot be used belongs to the old one. */
void trammel_record_editor_restore (TrammelRecordEditor *editor);

/* Shows "key: reason" under the field of that key and takes away an earlier one; NULL: takes it away. FALSE when
 * @message does not begin with the key of a field: then it is for the caller to show. */
gboolean trammel_record_editor_show_trouble (TrammelRecordEditor *editor, const char *message);

/* Hides a field that does not matter beside the value of another. */
void trammel_record_editor_set_field_visible (TrammelRecordEditor *editor, const char *key, gboolean visible);

G_END_DECLS
