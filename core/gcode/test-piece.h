/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/ladder.h"
#include "gcode/square.h"

G_BEGIN_DECLS

/* The machine's test piece, whichever its record says: the calibration square or the ladder of lines. */
typedef struct _TrammelTestPiece TrammelTestPiece;

/* (transfer full) (nullable): laid out. Errors as trammel_square_new() and trammel_ladder_new(). */
TrammelTestPiece *trammel_test_piece_new (const TrammelMachine *machine, GError **error);
void trammel_test_piece_free (TrammelTestPiece *piece);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelTestPiece, trammel_test_piece_free)

/* Borrowed; NULL when it is the other one. */
const TrammelSquare *trammel_test_piece_square (const TrammelTestPiece *piece);
const TrammelLadder *trammel_test_piece_ladder (const TrammelTestPiece *piece);

const TrammelFeature *trammel_test_piece_features (const TrammelTestPiece *piece, gsize *n);
/* trammel_feature_find() and trammel_feature_plan() of these. */
const TrammelFeature *trammel_test_piece_find (const TrammelTestPiece *piece, const TrammelReading *reading);
TrammelReadings *trammel_test_piece_plan (const TrammelTestPiece *piece);

/* (transfer full): see gcode/program.h. */
char *trammel_test_piece_program (const TrammelTestPiece *piece);

/* Length of bead or line, mm; time at the commanded speeds, s; filament, mm (0 without feed). */
void trammel_test_piece_effort (const TrammelTestPiece *piece, double *length, double *seconds, double *filament);

G_END_DECLS
