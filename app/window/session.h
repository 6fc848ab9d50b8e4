/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gio/gio.h>
#include "machine/machine.h"

G_BEGIN_DECLS

/* The only thing in the window that holds the current machine. Pages ask it for the value and hand it edits; no page
 * talks to another page. Undo is a list of values. */
#define TRAMMEL_TYPE_SESSION (trammel_session_get_type ())
G_DECLARE_FINAL_TYPE (TrammelSession, trammel_session, TRAMMEL, SESSION, GObject)

/* Signals:
 *   changed (session)            the machine's value is another one; derived facts and adjustment are stale
 *   selection-changed (session)  selected axis, part or reading
 *   adjusted (session)           the adjustment of the current value is ready (it is made when asked for: at once
 *                                for small sets, in a worker thread for more than 20,000 readings)
 *   opened (session)             another document is being worked on; follows "changed"
 * Properties: file (GFile, nullable), modified, can-undo, can-redo, undo-label, redo-label (what it would undo),
 * adjusting (a worker thread is at it). */

TrammelSession *trammel_session_new (void);

/* The current value; borrowed until the next edit (take a reference to keep it). */
const TrammelMachine *trammel_session_machine (TrammelSession *session);

/**
 * trammel_session_edit:
 * @machine: (transfer full) (nullable): the new value; NULL is ignored, so that a failed edit can be passed through
 * @what: translated, short, for the undo entry: "change teeth"
 * @merge: (nullable): edits in a row with the same non-NULL key within 1 s become one undo step (dragging)
 */
void trammel_session_edit (TrammelSession *session, TrammelMachine *machine, const char *what, const char *merge);
void trammel_session_undo (TrammelSession *session);
void trammel_session_redo (TrammelSession *session);

/* Another document: history is emptied, @machine (transfer full) counts as saved unless @modified. */
void trammel_session_open (TrammelSession *session, TrammelMachine *machine, GFile *file, gboolean modified);
/* The current value has been written to @file. */
void trammel_session_saved (TrammelSession *session, GFile *file);
GFile *trammel_session_file (TrammelSession *session); /* borrowed, nullable */
gboolean trammel_session_is_modified (TrammelSession *session);

/* Derived, cached per value. Facts of axis @i: NULL with @error (transfer full) when its train does not work. */
const TrammelFacts *trammel_session_facts (TrammelSession *session, gsize i, GError **error);
/* NULL with @error set when the readings cannot be fitted; NULL without @error while a worker is still at it
 * ("adjusted" follows) or when there is no complete reading. */
const TrammelAdjustment *trammel_session_adjustment (TrammelSession *session, GError **error);

/* TRUE while a worker thread makes the adjustment. */
gboolean trammel_session_is_adjusting (TrammelSession *session);

/* How the adjustment is made: a setting of the session, not of the document. */
TrammelScatter trammel_session_scatter (TrammelSession *session);
gboolean trammel_session_robust (TrammelSession *session);
void trammel_session_set_method (TrammelSession *session, TrammelScatter scatter, gboolean robust);

/* Selection. Axis index (−1: none); part of that axis's train: 0 motor, 1…n stages, n+1 output, −1 none; row of the
 * readings, −1 none. Clamped when the machine changes. */
int trammel_session_selected_axis (TrammelSession *session);
int trammel_session_selected_part (TrammelSession *session);
int trammel_session_selected_reading (TrammelSession *session);
void trammel_session_select_axis (TrammelSession *session, int axis);
void trammel_session_select_part (TrammelSession *session, int part);
void trammel_session_select_reading (TrammelSession *session, int row);

G_END_DECLS
