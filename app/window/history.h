/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* Undo and redo: a list of values with a place in it. Times are monotonic, in µs. */
typedef struct _TrammelHistory TrammelHistory;

/* Edits with the same merge key that follow each other within this time become one step. */
#define TRAMMEL_HISTORY_MERGE_TIME (1 * G_USEC_PER_SEC)

TrammelHistory *trammel_history_new (const TrammelMachine *machine);
void trammel_history_free (TrammelHistory *history);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelHistory, trammel_history_free)

/* The value at the place; borrowed. */
const TrammelMachine *trammel_history_current (TrammelHistory *history);

/* Puts @machine (transfer full) after the place and goes there; what could be redone is gone. With a non-NULL @merge
 * that is that of the step at the place and not long after it, that step takes the new value instead. @axis: the one
 * that was selected, so that undoing can show where it happened. */
void trammel_history_put (TrammelHistory *history, TrammelMachine *machine, const char *what, const char *merge,
                          int axis, gint64 time);
/* The next edit starts a step of its own, whatever its key. */
void trammel_history_end_merging (TrammelHistory *history);

/* One step back or on; FALSE when there is none. @axis (nullable): the one selected when that step was made. */
gboolean trammel_history_undo (TrammelHistory *history, int *axis);
gboolean trammel_history_redo (TrammelHistory *history, int *axis);
/* What undo and redo would undo and redo; NULL: nothing. Borrowed. */
const char *trammel_history_undo_label (TrammelHistory *history);
const char *trammel_history_redo_label (TrammelHistory *history);

G_END_DECLS
