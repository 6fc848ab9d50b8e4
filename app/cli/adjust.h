/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* What the verb `adjust` shows of a fit of @readings: to programs, and to people. */
void cli_adjust_print_json (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                            const TrammelReadings *readings);
void cli_adjust_print_words (const TrammelMachine *machine, const TrammelAdjustment *adjustment);

G_END_DECLS
