/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/train-shape.h"
#include "drive/train.h"

G_BEGIN_DECLS

/* Inside of the drawing of a train: where its parts stand. */

typedef struct
{
  GArray *shapes;       /* of TrammelShape, farthest first */
  GHashTable *outlines; /* of the points they point to */
  TrammelBox box;
  int direction; /* which way along the output positive counts move, on the screen: +1 right (clockwise), −1 */
  int plus;      /* where its positive end is */
  gboolean rotary;
  char *trouble; /* (nullable): why the facts cannot be had */
  const TrammelUnit *unit;
} TrammelLayout;

TrammelLayout *trammel_layout_new (const TrammelTrain *train, double travel, const TrammelUnit *unit);
void trammel_layout_free (TrammelLayout *layout);

/* The pen that lays out: the end of the motion so far. */
typedef struct
{
  GArray *shapes;
  int part;
  int plane;
  double x, y;
  gboolean lengthwise;                    /* how the shaft is seen at x, y */
  double reach;                           /* outermost radius of what already sits on the shaft there, 0: nothing */
  gboolean crowded;                       /* nothing more can be put on the shaft there */
  double turns;                           /* of the shaft, per motor turn; 0 when unknown */
  double next_turns;                      /* of the shaft behind the stage being laid out */
  double module, belt_pitch, chain_pitch; /* to be taken where none is set; NaN: none so far */
  double body;                            /* side of the motor */
  double slope;                           /* of the zigzag */
  int run;                                /* steps between its corners */
  int step;
  double travel;
  int plus;
  gboolean assumed; /* the module or pitch of the part being laid out is not told */
  const TrammelUnit *unit;
} TrammelPen;

/* The table of stages and outputs. `lengthwise`: how the shaft that enters must be seen. */
typedef struct
{
  const char *type;
  gboolean lengthwise;
  gboolean turns_view;                                                 /* the shaft that leaves is seen the other way */
  double (*first_size) (TrammelPen *pen, const TrammelRecord *record); /* diameter of what sits on the shaft */
  void (*lay) (TrammelPen *pen, const TrammelRecord *record);
} TrammelPartLayout;

const TrammelPartLayout *trammel_stage_layout (const char *type);
const TrammelPartLayout *trammel_output_layout (const char *type);
/* Those of spur pairs, rings and planetary sets; NULL for others. */
const TrammelPartLayout *trammel_gears_layout (const char *type);

/* Adds a shape at the pen, with its part, plane and turns; valid until the next one is added. */
TrammelShape *trammel_pen_add (TrammelPen *pen, TrammelShapeKind kind);
/* Left edge for something that must clear all there is between y − up and y + down. */
double trammel_pen_clear_x (const TrammelPen *pen, double up, double down);
/* Shows the shaft end-on, where there is room for @reach above and below it and for @left to the left; beside what
 * there is when @alone. */
void trammel_pen_see_end (TrammelPen *pen, double reach, double left, gboolean alone);
/* Shows the shaft lengthwise, up to where something of the heights @up and @down (beside the axis) can begin, which
 * reaches @back to the left of there. */
void trammel_pen_see_length (TrammelPen *pen, double up, double down, double back);
/* Moves the pen to the shaft that leaves, on which a disc of @reach sits. */
void trammel_pen_step_to (TrammelPen *pen, double x, double y, double reach);
/* The angle of the next line of centers. */
double trammel_pen_next_angle (TrammelPen *pen);
/* Before a disc of @radius goes on the shaft: in front of what is there, or behind when it would hide it. */
void trammel_pen_choose_plane (TrammelPen *pen, double radius);
double trammel_pen_shaft_radius (const TrammelPen *pen);

double trammel_pen_module (TrammelPen *pen, const TrammelRecord *record);
double trammel_pen_belt_pitch (TrammelPen *pen, const TrammelRecord *record);
int trammel_teeth (const TrammelRecord *record, const char *key);
/* A gear at the pen (or anywhere; caller moves it). */
TrammelShape *trammel_pen_add_gear (TrammelPen *pen, int teeth, double module);
TrammelShape *trammel_pen_add_pulley (TrammelPen *pen, int teeth, double pitch);

/* Paths of a loop, for laying out and painting: the direction (from either center) of the first tangent point, and the
 * length of the straight part. */
double trammel_loop_normal (const TrammelShape *loop);
double trammel_loop_straight (const TrammelShape *loop);

G_END_DECLS
