/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/path.h"
#include "gcode/square.h"
#include "gcode/tool.h"

G_BEGIN_DECLS

struct _TrammelSquare
{
  TrammelMachine *machine;
  TrammelTool tool;

  /* As in the record: mm */
  double size, wall, step, height, step_height;

  /* What follows from them */
  double depth;      /* of the step on one side */
  double arm;        /* from a corner to where the step begins */
  gsize n_beads;     /* across the wall */
  double spacing;    /* between the middles of neighbouring beads */
  gsize step_layers; /* up to step_height */
  gsize layers;      /* up to height */

  GArray *lower;    /* of TrammelPath: every layer up to step_height */
  GArray *upper;    /* every layer above: the four corners */
  GArray *features; /* of TrammelFeature */
  GArray *outlines; /* of TrammelOutline */
};

/* The outline of the frame, 20 points counter-clockwise, moved inward by @inward. (transfer full) */
TrammelPoint *trammel_square_frame (const TrammelSquare *square, double inward, gsize *n);
/* The outline of a corner that goes on up (0…3, counter-clockwise from the near left), moved inward. (transfer full) */
TrammelPoint *trammel_square_corner (const TrammelSquare *square, guint corner, double inward, gsize *n);

/* Fill `features`, `outlines`, and `lower` and `upper`. */
void trammel_square_list_features (TrammelSquare *square);
void trammel_square_list_outlines (TrammelSquare *square);
void trammel_square_lay_paths (TrammelSquare *square);

G_END_DECLS
