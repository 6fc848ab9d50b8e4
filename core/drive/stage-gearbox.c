/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "ratio", .label = N_ ("Ratio"),
    .meaning = N_ ("turns in for one turn out: 5, 57/11, 5 2/11; exact where the teeth are known"),
    .type = TRAMMEL_FIELD_EXACT, .low = 0, .above_low = TRUE, .high = 1000000, .initial = "5", .required = TRUE },
  TRAMMEL_STAGE_REVERSE,
  TRAMMEL_PART_INERTIA ("driver_inertia", N_ ("Inertia at the input"), N_ ("of the whole gearbox, as its input shaft feels it")),
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  const TrammelExact numerator = trammel_exact_integer (trammel_record_flag (stage, "reverse") ? -1 : 1);
  TrammelExact turns_in;
  return trammel_record_exact (stage, "ratio", &turns_in, error)
         && trammel_exact_divide (numerator, turns_in, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  g_autofree char *turns_in = trammel_words_of_field (stage, "ratio");
  return g_strdup_printf (_ ("gearbox %s:1"), turns_in);
}

const TrammelStageKind trammel_stage_gearbox = {
  .record = { .type = "gearbox", .label = N_ ("Gearbox"), TRAMMEL_STAGE_FIELDS (fields) },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.8,
};
