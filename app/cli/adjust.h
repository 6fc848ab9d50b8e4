/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* What the verb `adjust` shows of a fit that was made as @how says, of its readings: to programs, and to people. */
void cli_adjust_print_json (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                            const TrammelAdjustOptions *how);
void cli_adjust_print_words (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                             const TrammelAdjustOptions *how);

G_END_DECLS
