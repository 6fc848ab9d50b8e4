/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/positions.h"

G_BEGIN_DECLS

/* Inside of core/measure: fills mean, reversal and repeatability of each element of @targets (TrammelPositionTarget,
 * sides filled in) and returns the figures of the axis, as ISO 230-2:2014, clause 3, defines them. */
TrammelPositionFigures trammel_position_figures (GArray *targets, gboolean one_direction);

G_END_DECLS
