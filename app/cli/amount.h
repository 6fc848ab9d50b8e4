/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"

G_BEGIN_DECLS

/* The value of --@option as it was typed, "1.75 ± 0.02 mm" (or +-), in the base unit of @dimension; u is 0 where none
 * was typed, and a unit behind it stands for both. Errors: "--option: …". */
gboolean cli_amount_parse (const char *option, const char *typed, TrammelDimension dimension, double *value, double *u,
                           GError **error);

G_END_DECLS
