/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/positions.h"

G_BEGIN_DECLS

/* Errors that come back with each turn of some part: sine and cosine at the travel of one turn, and at half of it,
 * fitted to a position test beside its datum, scale error and lash. Lengths in mm (degrees along a rotary axis), phases
 * in rad. */

/* What turns: a shaft, a screw, a pinion. */
typedef struct
{
  const char *name;
  double travel_per_turn; /* > 0 */
} TrammelTurningPart;

/* How well the targets show a cycle. */
typedef enum
{
  TRAMMEL_CYCLE_SEEN,
  TRAMMEL_CYCLE_UNSEEN, /* the targets meet it at the same few phases over and over: aliasing */
  TRAMMEL_CYCLE_ALIKE,  /* at these targets it looks like another one, `like` */
  TRAMMEL_CYCLE_DRIFTS, /* something comes back about as often, but shifts against it along the axis */
} TrammelCycleSight;

typedef struct
{
  guint part;    /* index among the parts */
  guint order;   /* 1: once per turn; 2: twice */
  double period; /* travel_per_turn/order */
  double amplitude, u;
  double low, high;     /* 95 % interval of the amplitude, Student's t; low ≥ 0 */
  double phase;         /* the error is amplitude·cos (2π·position/period − phase) */
  double p_value;       /* F test: the chance of as much, or more, from scatter alone */
  gboolean significant; /* p_value below 0.05/(cycles tried), and it does not drift */
  TrammelCycleSight sight;
  int like; /* index of a cycle, with ALIKE; else −1 */
} TrammelCycle;

/* The line of the position test beside the significant cycles: what is known of the axis once they are. 95 %
 * half-widths, Student's t. NaN: cannot be told. */
typedef struct
{
  double scale_error, half_width_scale_error;
  double lash, half_width_lash;
} TrammelCycleLine;

#define TRAMMEL_CYCLE_ORDERS 2
/* More turning parts than this are not looked at. */
#define TRAMMEL_MAX_TURNING_PARTS 80

/**
 * trammel_cycles_find:
 * @parts: @n_parts of them, at most TRAMMEL_MAX_TURNING_PARTS
 * @line: (out) (nullable)
 *
 * Two cycles for each part, in their order. Significant ones are taken into the model one at a time, the most
 * significant first, so that a strong one does not hide a weak one; amplitude, u, phase and p_value of each are those
 * beside all the others that were taken in. The runs at a target from a side enter as their mean with the weight of
 * their number and with their scatter, which loses nothing: their design rows are equal. One orthogonal factorization
 * of all columns; every model is solved from its triangle.
 *
 * Error mean square: that of all residuals; but where the means at the targets lie significantly further from the model
 * than the runs from their means (lack of fit), that of the means, with the targets less the unknowns as its freedom.
 * With a single run from both sides, that the reversals at the targets differ stands for the scatter of runs.
 *
 * What turns with a part keeps its phase along the whole axis. Each cycle that was taken in is tested for a phase that
 * shifts evenly with the position: one more column, the derivative by that, and F with one degree of freedom. One that
 * shifts by more than a quarter turn from the first target to the last, with p below 0.001, has another period than the
 * part: it is put aside as TRAMMEL_CYCLE_DRIFTS, and what is taken in is found anew without it. (A cycle that only
 * grows and shrinks along the axis, as that of a bent screw does, stays.) These bounds are our own.
 *
 * What cannot be seen has NaN for its figures and is never significant.
 *
 * Sources: N. R. Draper & H. Smith, Applied Regression Analysis, 3rd ed. (Wiley, 1998), chapter 6 (extra sum of
 * squares, F) and 15 (forward selection); JCGM 100:2008, 5.1.2, for u of the amplitude from those of sine and cosine.
 *
 * Returns: (transfer full): GArray of TrammelCycle.
 */
GArray *trammel_cycles_find (const TrammelPositions *positions, const TrammelTurningPart *parts, gsize n_parts,
                             TrammelCycleLine *line);

/**
 * trammel_cycles_propose_spacing:
 * @length: travel that the targets may cover
 * @n_targets: how many (at least 2)
 * @coverage: (out) (nullable): 0…1, how evenly the worst cycle is met; 1: at phases all round
 *
 * A spacing of equidistant targets, no longer than @length/(@n_targets − 1), that meets every cycle at phases as
 * different as can be (ISO 230-2:2014, 5.3.2, wants periodic errors sampled so; the search is our own).
 */
double trammel_cycles_propose_spacing (const TrammelTurningPart *parts, gsize n_parts, double length, guint n_targets,
                                       double *coverage);

G_END_DECLS
