/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_PART_INERTIA ("driver_inertia", N_ ("Inertia"), N_ ("of the coupling, both halves")),
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  *out = TRAMMEL_EXACT_ONE;
  return TRUE;
}

static char *
words (const TrammelRecord *stage)
{
  return g_strdup (_ ("coupling"));
}

const TrammelStageKind trammel_stage_coupling = {
  .record = { .type = "coupling", .label = N_ ("Coupling"), TRAMMEL_STAGE_FIELDS (fields) },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.99,
};
