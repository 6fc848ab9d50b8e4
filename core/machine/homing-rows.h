/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/reading.h"

G_BEGIN_DECLS

/* Homes of an axis, again and again, grouped by how the switch was approached. */

typedef struct
{
  double measured;   /* mm; degrees along a rotary axis */
  double run;        /* NaN: not said */
  char axis;         /* '\0': not said */
  gsize index;       /* of the reading, where they come from */
  const char *group; /* set and approach, "fast -"; "" when neither is said. Equal texts are the same pointer */
  gsize set_length;  /* bytes of @group that are the set */
} TrammelHomingRow;

typedef struct _TrammelHomingRows TrammelHomingRows;

TrammelHomingRows *trammel_homing_rows_new (void); /* (transfer full), empty */
void trammel_homing_rows_free (TrammelHomingRows *rows);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelHomingRows, trammel_homing_rows_free)

/* Takes a copy of @row, whose group comes from @set and @approach (either may be NULL or ""). */
void trammel_homing_rows_add (TrammelHomingRows *rows, const TrammelHomingRow *row, const char *set,
                              const char *approach);

/* (transfer full) (nullable): the complete home readings of all axes. TRAMMEL_ERROR_DATA for one that cannot be used:
 * "readings[3]: …". */
TrammelHomingRows *trammel_homing_rows_of_readings (const TrammelReadings *readings, GError **error);
/* (transfer full): those along @axis, and those that do not say; @axis '\0': along the first axis that is said. */
TrammelHomingRows *trammel_homing_rows_along (const TrammelHomingRows *rows, char axis);

/* In the order in which they came; borrowed. */
const TrammelHomingRow *trammel_homing_rows_get (const TrammelHomingRows *rows, gsize *n);
/* Each group once, in the order in which they came. NULL-terminated; borrowed. */
const char *const *trammel_homing_rows_groups (const TrammelHomingRows *rows);
/* Is @row in @group, which may also name a whole set, "fast"? */
gboolean trammel_homing_row_is_of (const TrammelHomingRow *row, const char *group);

/* Scatter about the mean of each group, pooled: √(Σ Σ (x − mean)²/Σ (n − 1)) over the groups of 2 or more. */
typedef struct
{
  double s;
  gsize n;   /* homes in these groups */
  gsize dof; /* n less the number of groups */
} TrammelHomingScatter;

/* FALSE where no group has 2. Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.3, for more than two
 * samples (from memory). */
gboolean trammel_homing_rows_scatter (const TrammelHomingRows *rows, TrammelHomingScatter *out);

G_END_DECLS
