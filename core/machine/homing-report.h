/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/homing-rows.h"
#include "measure/homing.h"

G_BEGIN_DECLS

/* One group of homes, or all of them, analysed. */
typedef struct
{
  char *name; /* NULL: all */
  gsize n;
  double *values; /* @n of them, in the order in which they came; mm, degrees along a rotary axis */
  double *runs;   /* their runs; NULL where not every one says it */
  gsize *indices; /* which readings they are */
  char *trouble;  /* translated: why it cannot be analysed (the rest is nothing then); NULL: it can */
  TrammelHoming homing;
  GArray *outliers;               /* of TrammelHomingOutlier */
  gboolean has_rest;              /* there are outliers, and at least 2 readings without them */
  TrammelHoming without_outliers; /* of the rest */
} TrammelHomingSet;

/* What the homes of one axis say, all together and by groups. */
typedef struct
{
  TrammelHomingSet all;
  TrammelHomingSet *groups; /* none where there is only one */
  gsize n_groups;
  gboolean has_comparison; /* there are two groups, both analysed */
  TrammelHomingComparison comparison;
} TrammelHomingReport;

/**
 * trammel_homing_report_new:
 * @rows: homes of one axis
 * @group: (nullable): only those of this group or set; then there are no groups
 *
 * Returns: (transfer full) (nullable): errors as trammel_homing_analyse() for all together; a group that cannot be
 * analysed tells its trouble.
 */
TrammelHomingReport *trammel_homing_report_new (const TrammelHomingRows *rows, const char *group, GError **error);
void trammel_homing_report_free (TrammelHomingReport *report);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelHomingReport, trammel_homing_report_free)

G_END_DECLS
