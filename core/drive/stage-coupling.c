/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

static const TrammelField fields[] = {
  TRAMMEL_STAGE_COMMON_FIELDS,
};

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
};
