/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/ladder.h"
#include "gcode/tool.h"

G_BEGIN_DECLS

struct _TrammelLadder
{
  TrammelMachine *machine;
  TrammelTool tool;

  /* As in the record: mm */
  double spacing, length, approach, vernier;
  int n_lines; /* of each comb */

  /* What follows from them */
  int zero;      /* place of pair 0 in a comb */
  double middle; /* of the ladder, from the edge at which its near comb lies */
  double first;  /* from the other edge to where pair 0 is sent */
  double size;   /* side of the square that it takes up */

  GArray *lines;    /* of TrammelLadderLine */
  GArray *features; /* of TrammelFeature */
};

G_END_DECLS
