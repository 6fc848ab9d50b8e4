/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/reading.h"

G_BEGIN_DECLS

/* The position test: targets along one axis, approached several times from one or both sides. All lengths in mm
 * (degrees along a rotary axis); NaN: cannot be told from this set.
 *
 * Source: ISO 230-2:2014, Test code for machine tools, part 2: Determination of accuracy and repeatability of
 * positioning of numerically controlled axes, clause 3 (terms) and its formulas. A deviation is the measured position
 * minus the target. */

/* The runs at one target from one side: ↑ (moving up, approach `+`) or ↓ (`-`). */
typedef struct
{
  gsize n;     /* runs */
  double mean; /* of the deviations; NaN when n is 0 */
  double s;    /* sample standard deviation (n − 1); NaN when n < 2 */
} TrammelPositionSide;

typedef struct
{
  double target;
  TrammelPositionSide up, down;
  double mean;          /* (x̄↑ + x̄↓)/2; of a one-direction target that one */
  double reversal;      /* B = x̄↑ − x̄↓ */
  double repeatability; /* R = max (2 s↑ + 2 s↓ + |B|, R↑, R↓), with R↑ = 4 s↑ and R↓ = 4 s↓ */
} TrammelPositionTarget;

/* The figures of the whole axis. Those of both directions are NaN for a one-direction set. */
typedef struct
{
  double a, a_up, a_down; /* accuracy: range of x̄ ± 2 s */
  double r, r_up, r_down; /* repeatability: greatest R, R↑, R↓ of a target */
  double e, e_up, e_down; /* systematic deviation: range of x̄↑ and x̄↓ */
  double m;               /* mean deviation: range of (x̄↑ + x̄↓)/2 */
  double b, b_mean;       /* reversal: greatest |B| (never negative), and the mean of B with its sign */
} TrammelPositionFigures;

/* deviation = datum + scale_error·target − a·lash/2, a = +1 moving up, −1 moving down: least squares, every reading
 * with the same weight; u by Student's t's standard error. */
typedef struct
{
  double datum, scale_error, u_scale_error;
  double lash, u_lash; /* NaN for a one-direction set */
  double sigma;        /* residual standard deviation */
  gint64 dof;          /* readings less unknowns */
} TrammelPositionLine;

typedef struct
{
  char axis;
  const char *set; /* borrowed from a reading; NULL: rows without a set */
  gsize n;         /* complete rows */
} TrammelPositionSet;

/* The sets of complete position rows, in the order in which they first appear. (transfer full): GArray of
 * TrammelPositionSet, valid as long as @rows. */
GArray *trammel_position_sets (const TrammelReading *rows, gsize n);

typedef struct _TrammelPositions TrammelPositions;

/**
 * trammel_positions_new:
 * @set: (nullable): that of the rows to take; NULL: those that have none
 *
 * Analyses the complete position rows of @axis and @set. Runs are told apart by nothing but their being there: n counts
 * rows. Where some row says how it was approached, rows that do not are left out and counted; where none does, all
 * count as approached moving up. Unequal numbers of runs and targets seen from one side only are taken as they are.
 *
 * Returns: (transfer full) (nullable). TRAMMEL_ERROR_DATA: no such rows, or a row that cannot be used ("readings[3]:
 * …"). A pure function, callable from any thread.
 */
TrammelPositions *trammel_positions_new (const TrammelReading *rows, gsize n, char axis, const char *set,
                                         GError **error);
void trammel_positions_free (TrammelPositions *positions);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelPositions, trammel_positions_free)

/* In rising order of target. Borrowed. */
const TrammelPositionTarget *trammel_positions_targets (const TrammelPositions *positions, gsize *n);
/* The same targets and figures with the line's scale error and lash taken out: what a corrected machine would show. */
const TrammelPositionTarget *trammel_positions_targets_after (const TrammelPositions *positions, gsize *n);
TrammelPositionFigures trammel_positions_before (const TrammelPositions *positions);
TrammelPositionFigures trammel_positions_after (const TrammelPositions *positions);
TrammelPositionLine trammel_positions_line (const TrammelPositions *positions);
gboolean trammel_positions_is_one_direction (const TrammelPositions *positions);
gsize trammel_positions_n_used (const TrammelPositions *positions);
gsize trammel_positions_n_left_out (const TrammelPositions *positions);
/* The fewest runs at a target from a side from which it was approached at all. ISO 230-2 wants five. */
gsize trammel_positions_fewest_runs (const TrammelPositions *positions);

/* NULL-terminated, translated sentences: fewer runs or targets than the standard wants, rows left out. */
const char *const *trammel_positions_notes (const TrammelPositions *positions);

G_END_DECLS
