/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gcode/test-piece.h"

/* One of them. */
struct _TrammelTestPiece
{
  TrammelSquare *square;
  TrammelLadder *ladder;
};

TrammelTestPiece *
trammel_test_piece_new (const TrammelMachine *machine, GError **error)
{
  TrammelTestPiece made = { NULL, NULL };

  g_return_val_if_fail (machine != NULL, NULL);

  if (trammel_record_is (trammel_machine_piece (machine), "ladder"))
    made.ladder = trammel_ladder_new (machine, error);
  else
    made.square = trammel_square_new (machine, error);
  return made.square || made.ladder ? g_memdup2 (&made, sizeof made) : NULL;
}

void
trammel_test_piece_free (TrammelTestPiece *piece)
{
  if (!piece)
    return;
  trammel_square_free (piece->square);
  trammel_ladder_free (piece->ladder);
  g_free (piece);
}

const TrammelSquare *
trammel_test_piece_square (const TrammelTestPiece *piece)
{
  g_return_val_if_fail (piece != NULL, NULL);

  return piece->square;
}

const TrammelLadder *
trammel_test_piece_ladder (const TrammelTestPiece *piece)
{
  g_return_val_if_fail (piece != NULL, NULL);

  return piece->ladder;
}

static const GArray *
features_of (const TrammelTestPiece *piece)
{
  return piece->ladder ? trammel_ladder_features (piece->ladder) : trammel_square_features (piece->square);
}

const TrammelFeature *
trammel_test_piece_features (const TrammelTestPiece *piece, gsize *n)
{
  g_return_val_if_fail (piece != NULL && n != NULL, NULL);

  *n = features_of (piece)->len;
  return (const TrammelFeature *)(gpointer)features_of (piece)->data;
}

const TrammelFeature *
trammel_test_piece_find (const TrammelTestPiece *piece, const TrammelReading *reading)
{
  g_return_val_if_fail (piece != NULL && reading != NULL, NULL);

  return trammel_feature_find (features_of (piece), reading);
}

TrammelReadings *
trammel_test_piece_plan (const TrammelTestPiece *piece)
{
  g_return_val_if_fail (piece != NULL, NULL);

  return trammel_feature_plan (features_of (piece));
}

char *
trammel_test_piece_program (const TrammelTestPiece *piece)
{
  g_return_val_if_fail (piece != NULL, NULL);

  return piece->ladder ? trammel_ladder_program (piece->ladder) : trammel_square_program (piece->square);
}

void
trammel_test_piece_effort (const TrammelTestPiece *piece, double *length, double *seconds, double *filament)
{
  g_return_if_fail (piece != NULL);

  if (piece->ladder)
    trammel_ladder_effort (piece->ladder, length, seconds, filament);
  else
    trammel_square_effort (piece->square, length, seconds, filament);
}
