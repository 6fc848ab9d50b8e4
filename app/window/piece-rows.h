/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/test-piece.h"
#include "window/session.h"

G_BEGIN_DECLS

/* Adds the rows of the piece's reading plan to the readings, as one step that can be undone; those that wait to be
 * measured already are not added again. Returns how many were added; @first (nullable): the row of the first one that
 * waits, added now or before; −1 when the plan is empty. */
gsize trammel_piece_rows_add (TrammelSession *session, const TrammelTestPiece *piece, int *first);

/* (transfer full): what became of it, for people. */
char *trammel_piece_rows_words (gsize n_added);

G_END_DECLS
