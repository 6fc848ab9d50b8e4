/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"

G_BEGIN_DECLS

/* A value with its standard uncertainty, both in the base unit of their dimension. A plain value. */
typedef struct
{
  double value, u;
} TrammelAmount;

/**
 * trammel_amount_split:
 * @text: "1.75 ± 0.02 mm", "0.3+-0.1%", "5 in"
 * @u: (out) (transfer full): "0.02 mm"; NULL where there is no sign ±
 *
 * The sign is ±, +- or +/-. A unit behind the uncertainty alone stands for both.
 *
 * Returns: (transfer full): the text of the value, with its unit: "1.75 mm".
 */
char *trammel_amount_split (const char *text, char **u);

/**
 * trammel_amount_parse:
 * @text: as above
 * @assumed: (nullable): as of trammel_quantity_parse_value(), which reads both; u is 0 where none is written
 *
 * Errors: as of trammel_quantity_parse_value(); TRAMMEL_ERROR_RANGE for an uncertainty below 0.
 */
gboolean trammel_amount_parse (const char *text, TrammelDimension dimension, const TrammelUnit *assumed,
                               TrammelAmount *out, GError **error);

G_END_DECLS
