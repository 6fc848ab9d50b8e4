/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"

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

const TrammelOutputKind trammel_output_table = {
  .record = { .type = "table", .label = N_ ("Rotary table") },
  .rotary = TRUE,
  .travel_per_turn = travel_per_turn,
  .words = words,
};
