/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/amount.h"

G_BEGIN_DECLS

/* The value of --@option as it was typed, read by trammel_amount_parse(). Errors: "--option: …". */
gboolean cli_amount_parse (const char *option, const char *typed, TrammelDimension dimension, TrammelAmount *out,
                           GError **error);

/* The same of an option that can do nothing with an uncertainty: one that is written is refused. */
gboolean cli_value_parse (const char *option, const char *typed, TrammelDimension dimension, double *out,
                          GError **error);

G_END_DECLS
