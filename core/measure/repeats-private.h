/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/fit-private.h"
#include "measure/repeats.h"

G_BEGIN_DECLS

/* After a fit that is not robust; FALSE when nothing was read twice, or there are too many readings. */
gboolean trammel_repeats_find (const TrammelFit *fit, TrammelRepeats *repeats);

G_END_DECLS
