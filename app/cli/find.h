/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/finder-grid.h"

G_BEGIN_DECLS

/* How the verb find shows what it found, on standard output. */
void cli_find_print_json (const TrammelFinderQuery *query, const TrammelFinderResult *result, TrammelHoleGrid grid);
void cli_find_print_words (const TrammelFinderQuery *query, const TrammelFinderResult *result, TrammelHoleGrid grid);

G_END_DECLS
