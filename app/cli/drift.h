/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/drift.h"

G_BEGIN_DECLS

/* Inside of the verb `drift`; @drifts: of TrammelDrift. */

void cli_drift_print_json (const GPtrArray *drifts);
void cli_drift_print_words (const TrammelMachine *machine, const GPtrArray *drifts);

G_END_DECLS
