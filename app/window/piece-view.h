/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "gcode/test-piece.h"

G_BEGIN_DECLS

/* The drawing of the test piece, with the dimension of one reading drawn in; for a reading that is not of the piece, a
 * sketch of what it is of.
 * Signal: picked (view, feature): a dimension of the piece was clicked (const TrammelFeature *, borrowed). */
#define TRAMMEL_TYPE_PIECE_VIEW (trammel_piece_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelPieceView, trammel_piece_view, TRAMMEL, PIECE_VIEW, GtkWidget)

/* @reading (nullable): copied. @all_dimensions: draws the others too, faint. */
void trammel_piece_view_show (TrammelPieceView *view, const TrammelMachine *machine, const TrammelReading *reading,
                              gboolean all_dimensions);

/* The laid-out piece of the machine shown; NULL when it does not work, with @error (nullable) saying why. Borrowed. */
const TrammelTestPiece *trammel_piece_view_piece (TrammelPieceView *view, GError **error);

G_END_DECLS
