/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/axis.h"

G_BEGIN_DECLS

/* Unknown members beside value and u of `counts_per_unit` in the file: text of a JSON object, or NULL. */
const char *trammel_axis_in_force_extra (const TrammelAxis *axis);
TrammelAxis *trammel_axis_with_in_force_extra (const TrammelAxis *axis, const char *extra);

G_END_DECLS
