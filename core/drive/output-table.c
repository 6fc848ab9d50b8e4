/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_OUTPUT_COMMON_FIELDS (N_ ("of the table itself, without what stands on it")),
};
/* clang-format on */

static gboolean
travel_per_turn (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  *out = trammel_exact_integer (360);
  return TRUE;
}

static char *
words (const TrammelRecord *output)
{
  return g_strdup (_ ("rotary table"));
}

static const char *
turning_part (const TrammelRecord *output)
{
  return N_ ("table");
}

const TrammelOutputKind trammel_output_table = {
  .record = { .type = "table", .label = N_ ("Rotary table"), TRAMMEL_OUTPUT_FIELDS (fields) },
  .rotary = TRUE,
  .travel_per_turn = travel_per_turn,
  .words = words,
  .usual_efficiency = 0.98,
  .turning_part = turning_part,
};
