/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/drift-series.h"
#include "machine/machine.h"

G_BEGIN_DECLS

/* Scale drift that is borne when nothing else is wanted: 0.1 %. Common practice, no source. */
#define TRAMMEL_DRIFT_TOLERANCE 0.001
/* A correction of more than this between two checks is another train, not drift; the series begin anew there. */
#define TRAMMEL_DRIFT_BREAK 0.05

/* What is followed over time. */
typedef enum
{
  TRAMMEL_DRIFT_COUNTS, /* corrected counts per unit; trend and tolerance are relative */
  TRAMMEL_DRIFT_LASH,   /* as it is; the tolerance is the most that is borne */
  /* s of homing. u is s/√(2 dof) (A. Hald, Statistical Theory with Engineering Applications (Wiley, 1952), from
   * memory); in the trend all count with that of the pooled s, since a check that scatters little by chance is no
   * better known than the others. The lower limit of the chart is not below 0. No tolerance. */
  TRAMMEL_DRIFT_HOME,
} TrammelDriftQuantity;
#define TRAMMEL_N_DRIFT_QUANTITIES 3

/**
 * TrammelDrift:
 *
 * What the log says of one axis over time: every entry that corrected the axis is a check of it. The series begin anew
 * where the nominal of the train changes, or, where the log does not tell it, with a correction of more than
 * TRAMMEL_DRIFT_BREAK; and where an entry of the train was put right: then the nominal is in force, which is exact and
 * no check of the counts, while lash and homing found with it are.
 */
typedef struct
{
  char letter;
  double since; /* day when the series began anew; NaN: they did not */
  TrammelDriftSeries series[TRAMMEL_N_DRIFT_QUANTITIES];
} TrammelDrift;

/**
 * trammel_drift_new:
 * @tolerance: of the scale, relative, above 0
 * @lash_tolerance: above 0; mm, degrees for a rotary axis; NaN: none is wanted
 *
 * (transfer full) (nullable): TRAMMEL_ERROR_DATA when there is no such axis.
 */
TrammelDrift *trammel_drift_new (const TrammelMachine *machine, char letter, double tolerance, double lash_tolerance,
                                 GError **error);
void trammel_drift_free (TrammelDrift *drift);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelDrift, trammel_drift_free)

/* (transfer full): ISO 8601, UTC, of a day as above. NULL for NaN. */
char *trammel_drift_day_to_text (double day);

G_END_DECLS
