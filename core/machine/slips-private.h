/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/train.h"

G_BEGIN_DECLS

/* Inside of core/machine: what may have been entered wrong in a train, one wrong entry at a time. */
typedef struct
{
  TrammelTrain *train; /* with the entry put right; it works */
  int part;            /* 0 motor, 1…n stages, n+1 output */
  char *change;        /* in words, translated: "stage 1: driver 12 → 13" */
  double rarity;       /* −ln of how often such a slip is made; the least rare ones are near 0 */
} TrammelSlip;

void trammel_slip_free (TrammelSlip *slip);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelSlip, trammel_slip_free)

/* Every train that is one slip away from @train, each once. (transfer container full), of TrammelSlip. */
GPtrArray *trammel_slips_of_train (const TrammelTrain *train);

/* One part as it may have been meant. */
typedef struct
{
  TrammelRecord *part;
  const char *reason; /* N_(), or NULL where the change says it all */
  double rarity;
} TrammelMeant;

/* Every part that is one slip away from @part, whether it works or not; some may come twice. (transfer full), of
 * TrammelMeant. The table of slips, one row per kind of slip, is in slip-kinds.c; how rare each is is common practice,
 * without source. */
GArray *trammel_slips_of_part (const TrammelRecord *part);

/* Standard sizes, sorted, each once, in two systems of units. */
typedef struct
{
  double size;      /* mm */
  const char *text; /* as typed: "12 tpi" */
} TrammelStandardSize;

typedef struct
{
  const TrammelStandardSize *metric;
  gsize n_metric;
  const TrammelStandardSize *inch;
  gsize n_inch;
} TrammelStandardSizes;

/* Those of a table (machine/table.h): "thread-pitch", "belt-pitch" or "module". */
const TrammelStandardSizes *trammel_standard_sizes (const char *table);

/* Whether an exact size is one of inches: an inch is 127/5 mm, and no metric size has the prime 127 in it. */
gboolean trammel_is_inch_size (TrammelExact mm);

G_END_DECLS
