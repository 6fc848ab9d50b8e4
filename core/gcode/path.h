/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/feature.h"

G_BEGIN_DECLS

/* A line of beads at one height, in mm from the near left corner of the piece. A closed one ends where it starts; its
 * points do not repeat the first. */
typedef struct
{
  TrammelPoint *points;
  gsize n_points;
  gboolean closed;
} TrammelPath;

/* A GArray of TrammelPath that frees their points. (transfer full) */
GArray *trammel_path_array_new (void);

double trammel_path_length (const TrammelPath *path);
/* Where the tool stands when the path is done. */
TrammelPoint trammel_path_end (const TrammelPath *path);

G_END_DECLS
