/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"
#include "machine/homing-report.h"

G_BEGIN_DECLS

/* Inside of the verb `homing`. */

typedef struct
{
  char axis;                     /* '\0': not said */
  const TrammelUnit *unit;       /* of a length, in words; NULL: degrees */
  const TrammelHomingRows *rows; /* borrowed */
  const TrammelHomingReport *report;
  gboolean has_layer; /* a first layer goes by this axis, or may */
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
