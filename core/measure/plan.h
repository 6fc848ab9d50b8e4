/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/adjustment.h"

G_BEGIN_DECLS

/**
 * trammel_plan_adjustment:
 * @input: readings that may wait to be measured; what was measured is passed over
 *
 * What a plan will be able to tell before anything is printed: the fit of its rows with each measured value taken to be
 * the very one that the stated values predict. Values say nothing, every u is what the real readings will give when
 * they agree with theirs. Weighed as in TRAMMEL_SCATTER_STATED whatever @input says.
 *
 * Returns: (transfer full) (nullable). Errors as trammel_adjustment_new().
 */
TrammelAdjustment *trammel_plan_adjustment (const TrammelAdjustmentInput *input, GError **error);

G_END_DECLS
