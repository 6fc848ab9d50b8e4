/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/cycles.h"

G_BEGIN_DECLS

/* What a controller is to add to a commanded place once the scale is right. Between two rows it goes straight. */
typedef struct
{
  double target, correction; /* mm; degrees along a rotary axis */
} TrammelCompensation;

/* With more rows than this cycles between the targets are left out. */
#define TRAMMEL_COMPENSATION_MOST_ROWS 20000

/**
 * trammel_compensation_table:
 * @cycles: (nullable): of TrammelCycle, found in @positions
 *
 * A row for each target: the mean deviation of its two sides from the line of the test, with the other sign; between
 * the targets it is taken to go straight. What comes back with every turn of a part does not: each significant cycle
 * that the targets show beyond doubt adds rows, 16 and more to its period, in which its sine stands beside the straight
 * line through what is left at the targets. (A sine as 16 straight lines is at most 2 % of its amplitude off:
 * 1 − cos π/16.)
 *
 * With the right scale the place that was commanded as x is commanded as x (1 + e): the row of a target holds what was
 * found at target/(1 + e).
 *
 * Returns: (transfer full): GArray of TrammelCompensation, in rising order; empty when there is no line.
 */
GArray *trammel_compensation_table (const TrammelPositions *positions, const GArray *cycles);

/* (transfer full): the same as lines of target, tab and correction, in the C locale, rounded to 10⁻⁵. */
char *trammel_compensation_to_text (const TrammelPositions *positions, const GArray *cycles);

G_END_DECLS
