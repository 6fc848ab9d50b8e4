/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/square.h"

G_BEGIN_DECLS

/* A line of beads at one height, in mm from the near left corner of the piece. A closed one ends where it starts; its
 * points do not repeat the first. */
typedef struct
{
  TrammelPoint *points;
  gsize n_points;
  gboolean closed;
} TrammelPath;

struct _TrammelSquare
{
  TrammelMachine *machine;
  const TrammelRecord *piece; /* the machine's */

  /* As in the record: mm, mm/s */
  double size, wall, step, height, step_height;
  double bead_width, layer_height, speed, travel_speed, lift;
  double origin_x, origin_y, filament_diameter;
  gboolean filament; /* FALSE: a feed that is only on or off, one pass on the bed */
  char feed_letter;

  /* What follows from them */
  double depth;      /* of the step on one side */
  double arm;        /* from a corner to where the step begins */
  gsize n_beads;     /* across the wall */
  double spacing;    /* between the middles of neighbouring beads */
  gsize step_layers; /* up to step_height */
  gsize layers;      /* up to height */
  double lift_speed; /* of moves in Z */

  GArray *lower;    /* of TrammelPath: every layer up to step_height */
  GArray *upper;    /* every layer above: the four corners */
  GArray *features; /* of TrammelFeature */
  GArray *outlines; /* of TrammelOutline */
};

/* Cross section of a bead, mm²: layer·(width − layer) + π·layer²/4, a strip with rounded sides. */
double trammel_square_bead_area (const TrammelSquare *square);

/* The outline of the frame, 20 points counter-clockwise, moved inward by @inward. (transfer full) */
TrammelPoint *trammel_square_frame (const TrammelSquare *square, double inward, gsize *n);
/* The outline of a corner that goes on up (0…3, counter-clockwise from the near left), moved inward. (transfer full) */
TrammelPoint *trammel_square_corner (const TrammelSquare *square, guint corner, double inward, gsize *n);

/* Fill `features`, `outlines`, and `lower` and `upper`. */
void trammel_square_list_features (TrammelSquare *square);
void trammel_square_list_outlines (TrammelSquare *square);
void trammel_square_lay_paths (TrammelSquare *square);
double trammel_path_length (const TrammelPath *path);
/* Where the tool stands when the path is done. */
TrammelPoint trammel_path_end (const TrammelPath *path);

G_END_DECLS
