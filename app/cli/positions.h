/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/axis-cycles.h"

G_BEGIN_DECLS

/* What the verb `positions` shows of a position test: to programs, and to people. @cycles: (nullable); @unit: of
 * lengths, NULL along a rotary axis (degrees). */
void cli_positions_print_json (const TrammelPositionSet *set, const TrammelPositions *positions,
                               const TrammelAxisCycles *cycles, const char *remark);
void cli_positions_print_words (const TrammelUnit *unit, const TrammelPositionSet *set,
                                const TrammelPositions *positions, const TrammelAxisCycles *cycles, const char *remark);

G_END_DECLS
