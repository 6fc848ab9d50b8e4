/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/unknowns-private.h"

G_BEGIN_DECLS

/* The most unknowns that one reading can depend on: a space diagonal, outside: 3 scales, 3 skews, shrink, bead,
 * instrument. */
#define TRAMMEL_MODEL_MAX_TERMS 9

/* What the model predicts for one reading, and its partial derivatives by the parameters that it depends on. */
typedef struct
{
  double predicted;
  guint n;
  gint16 parameter[TRAMMEL_MODEL_MAX_TERMS];
  double derivative[TRAMMEL_MODEL_MAX_TERMS];
  gboolean complete; /* FALSE: it depends on an unknown that is not among the parameters */
} TrammelModelRow;

/**
 * trammel_model_evaluate:
 * @values: one per parameter of @unknowns
 * @datum: place among the datums of @unknowns for a position (trammel_unknowns_datum()); else ignored
 *
 * A commanded vector v lands at A v, where the columns of A are the axes' directions stretched by 1+e. So
 * |A v|² = Σ wᵢ² − 2 Σ wᵢ wⱼ sin gᵢⱼ with wᵢ = (1+eᵢ) vᵢ and gᵢⱼ the skew between axes i and j: the law of cosines
 * with angles of 90° + g. What an instrument shows is (1 + its scale error) / (1 + its strain − the part's strain)
 * times that; see trammel_adjustment_new().
 */
void trammel_model_evaluate (const TrammelUnknowns *unknowns, const double *values, const TrammelReading *reading,
                             int datum, TrammelModelRow *row);

/* How much one mm of bead adds to a printed size: both faces, and at a corner both of its sides; negative for an
 * inside size, 0 where no wall is measured over. */
double trammel_model_bead_reach (const TrammelReading *reading);

G_END_DECLS
