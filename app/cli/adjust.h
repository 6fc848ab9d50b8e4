/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* The propagation of distributions, where it was asked for. */
typedef struct
{
  gint64 n, seed;
  GArray *axes; /* of TrammelMonteCarloAxis; NULL: not asked for */
} CliTrials;

/* What the verb `adjust` shows of a fit that was made as @how says, of its readings: to programs, and to people. */
void cli_adjust_print_json (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                            const TrammelAdjustOptions *how, const CliTrials *trials);
void cli_adjust_print_words (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                             const TrammelAdjustOptions *how, const CliTrials *trials);

G_END_DECLS
