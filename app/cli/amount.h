/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/amount.h"

G_BEGIN_DECLS

/* The value of --@option as it was typed, read by trammel_amount_parse(). Errors: "--option: …". */
gboolean cli_amount_parse (const char *option, const char *typed, TrammelDimension dimension, TrammelAmount *out,
                           GError **error);

G_END_DECLS
