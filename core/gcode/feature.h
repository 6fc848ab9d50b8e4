/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/reading.h"

G_BEGIN_DECLS

typedef struct
{
  double x, y; /* mm */
} TrammelPoint;

/* One thing to measure on a test piece. Points in mm from the near left corner of the piece, at the ends of the
 * dimension; for a height they are the same place and z runs 0…nominal. */
typedef struct
{
  TrammelReadingKind kind;
  TrammelDirection along;
  double nominal; /* mm; of a reversal the place of the lines, in the machine's coordinates */
  TrammelPoint from, to;
  const char *name; /* translated, short: "long outside", "step outside", "inside" */
  double u;         /* of a reading of it; NaN: the instrument's */
  char *note;       /* (nullable): how it is read, translated */
} TrammelFeature;

/* A GArray of TrammelFeature that frees its notes. (transfer full) */
GArray *trammel_feature_array_new (void);

/* The feature that @reading measures (same kind, along, nominal within 1 µm), or NULL. */
const TrammelFeature *trammel_feature_find (const GArray *features, const TrammelReading *reading);

/* Rows with kind, along and nominal filled in, waiting for `measured`. (transfer full) */
TrammelReadings *trammel_feature_plan (const GArray *features);

G_END_DECLS
