/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "window/notices.h"
#include "window/session.h"

G_BEGIN_DECLS

/* Keeps unsaved work on disk: the newest value, 2 s after an edit, in a recovery file per window. It goes away when the
 * work is saved or given up; what a process that is no more has left behind is offered to the next one. */
typedef struct _TrammelAutosave TrammelAutosave;

/* All three live as long as the result; the actions recover and discard-recovered are added to @map. */
TrammelAutosave *trammel_autosave_new (TrammelSession *session, TrammelNotices *notices, GActionMap *map);
void trammel_autosave_free (TrammelAutosave *autosave);

/* Looks for work that was left behind, and offers it. */
void trammel_autosave_offer_leftovers (TrammelAutosave *autosave);
/* Writes unsaved work now, and leaves it there for the next start. */
void trammel_autosave_keep (TrammelAutosave *autosave);
/* The work is saved, or given up: nothing is left behind. */
void trammel_autosave_end (TrammelAutosave *autosave);

G_END_DECLS
