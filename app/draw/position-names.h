/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/positions.h"

G_BEGIN_DECLS

/* One of the figures of a position test, as it is called. */
typedef struct
{
  const char *key;     /* in JSON: "A_up" */
  const char *symbol;  /* "A↑" */
  const char *meaning; /* N_(): "accuracy moving up" */
  gsize offset;        /* in TrammelPositionFigures */
} TrammelPositionName;

/* In the order in which they are told. */
const TrammelPositionName *trammel_position_names (gsize *n);
double trammel_position_figure (const TrammelPositionFigures *figures, const TrammelPositionName *name);

G_END_DECLS
