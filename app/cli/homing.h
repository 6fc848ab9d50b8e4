/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/homing-csv.h"
#include "measure/homing.h"

G_BEGIN_DECLS

/* Inside of the verb `homing`. */

/* One group of readings, or all of them. */
typedef struct
{
  const char *name; /* borrowed; NULL: all */
  gsize n;
  double *values; /* owned */
  TrammelHoming homing;
  GArray *outliers;               /* of TrammelHomingOutlier */
  gboolean has_rest;              /* there are outliers, and at least 2 readings without them */
  TrammelHoming without_outliers; /* of the rest */
} CliHomingSet;

typedef struct
{
  const TrammelHomingRows *rows; /* borrowed */
  CliHomingSet all;
  CliHomingSet *groups; /* owned; none where there is only one */
  gsize n_groups;
  gboolean has_comparison;
  TrammelHomingComparison comparison; /* of the first two groups */
  double layer;
  gboolean has_floor;
  double speed, delay;
  TrammelHomingFloor floor;
  gboolean has_offset;
  gsize n_touches;
  TrammelHomingOffset offset;
} CliHomingAnswer;

void cli_homing_print_json (const CliHomingAnswer *answer);
void cli_homing_print_words (const CliHomingAnswer *answer);

G_END_DECLS
