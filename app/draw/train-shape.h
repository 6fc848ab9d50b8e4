/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/involute.h"

G_BEGIN_DECLS

/* Inside of the drawing of a train: what it is made of. Lengths mm, y downwards, angles rad, clockwise on the screen.
 */

typedef enum
{
  TRAMMEL_SHAPE_MOTOR_FACE,  /* radius: half its side */
  TRAMMEL_SHAPE_MOTOR_SIDE,  /* from x to x + length; radius: half its height */
  TRAMMEL_SHAPE_GEAR,        /* teeth, module */
  TRAMMEL_SHAPE_RING,        /* teeth, module; tip: outside of its wall */
  TRAMMEL_SHAPE_BEVEL_FACE,  /* teeth, module, face (how far its teeth reach inwards, of 1) */
  TRAMMEL_SHAPE_BEVEL_SIDE,  /* x: apex of its cone; length: from there to the large end, negative to the left; face */
  TRAMMEL_SHAPE_CARRIER,     /* arms: planets; radius: of their centers */
  TRAMMEL_SHAPE_PULLEY,      /* teeth (0: plain), module: pitch of its belt */
  TRAMMEL_SHAPE_SPROCKET,    /* teeth, module: pitch of its chain */
  TRAMMEL_SHAPE_BELT,        /* around radius at x, y and radius2 at x2, y2; module: pitch; crossed */
  TRAMMEL_SHAPE_CHAIN,       /* the same */
  TRAMMEL_SHAPE_FALL_BELT,   /* belt over the two pulleys of a carriage as well; middle */
  TRAMMEL_SHAPE_SHAFT,       /* lengthwise from x to x + length */
  TRAMMEL_SHAPE_THREAD,      /* worm or screw: length, radius (pitch), module: axial pitch, teeth: starts, left */
  TRAMMEL_SHAPE_BEARING,     /* block at the end of a screw */
  TRAMMEL_SHAPE_LINK,        /* belt seen edge-on; radius: of its pulleys, tip: half its height */
  TRAMMEL_SHAPE_NUT,         /* length; travels */
  TRAMMEL_SHAPE_RACK,        /* y: pitch line; below: of the pinion, teeth upwards; length; module: pitch; travels */
  TRAMMEL_SHAPE_GEARBOX,     /* from x to x + length; radius: half its height */
  TRAMMEL_SHAPE_COUPLING,    /* the same */
  TRAMMEL_SHAPE_ROLLER,      /* radius */
  TRAMMEL_SHAPE_STRIP,       /* what a roller feeds, from x to x + length; radius: half its thickness */
  TRAMMEL_SHAPE_TABLE,       /* radius */
  TRAMMEL_SHAPE_CARRIAGE,    /* centered on x, y; length, radius: half its height; travels */
  TRAMMEL_SHAPE_CENTER_LINE, /* from x, y to x + length: two views of one shaft */
  TRAMMEL_N_SHAPES
} TrammelShapeKind;

typedef struct
{
  TrammelShapeKind kind;
  int part;    /* 0 motor, 1…n stages, n + 1 output */
  int plane;   /* the larger, the nearer to the reader */
  double x, y; /* center, or left end on the axis of what is seen lengthwise */
  double radius;
  double tip; /* outermost radius */
  double length;
  double module;
  double face;
  int teeth;
  TrammelToothForm form; /* of GEAR, RING, BEVEL_FACE, RACK */
  TrammelToothForm mate; /* of a ring: what turns in it; teeth 0: nothing */
  double apart;          /* of a ring: how far the center of that lies from its own, in modules */
  int arms;
  double x2, y2, radius2;
  double middle; /* of a falling belt: x of its carriage at rest; tip: radius of the pulleys there */
  gboolean crossed;
  gboolean left;    /* left-hand thread */
  gboolean below;   /* of a worm: what it drives, and so where its thread's place is told; of a rack: itself */
  gboolean held;    /* member that does not turn */
  gboolean bare;    /* of a ring: no web carries it; of a carriage: a yoke, without letter */
  gboolean hubless; /* its hub is hidden */
  double turns;     /* per turn of the motor towards positive counts */
  double rest;      /* rotation when the motor stands at 0 */
  double orbit;     /* how far its center is from x, y, about which it is carried round */
  double orbit_rest;
  double orbit_turns;
  double slide;                /* along x per turn of the motor */
  double window;               /* the slide is shown within ± half of this */
  double shaft;                /* radius of its shaft, or of its bore */
  const TrammelPoint *outline; /* of GEAR, RING, BEVEL_FACE, in modules; NULL: too many teeth */
  const TrammelPoint *normals; /* of the outline, outwards at its points, long enough to keep the lines parallel */
  gsize n_outline;
  char *label;             /* (nullable): translated, "36" */
  int id;                  /* 1, 2, … in the order of laying out */
  int partner;             /* id of the wheel or worm that it meshes with, 0: none */
  double center;           /* true distance to that, or of a loop between its wheels, mm; 0: not known */
  gboolean is_screw;       /* of a thread: of a lead screw, not a worm */
  gboolean assumed;        /* its size is not told: module or pitch were chosen */
  gboolean center_assumed; /* so is its center distance */
} TrammelShape;

typedef struct
{
  double x0, y0, x1, y1;
} TrammelBox;

/* The box around a shape in all its positions. */
TrammelBox trammel_shape_bounds (const TrammelShape *shape);
/* Whether the point is on the shape at rest, or with @anywhere in any of its positions; @slack: how far beside still
 * counts. */
gboolean trammel_shape_contains (const TrammelShape *shape, gboolean anywhere, double x, double y, double slack);

/* Rotation, slide and center at @turns of the motor. */
double trammel_shape_rotation (const TrammelShape *shape, double turns);
double trammel_shape_slide (const TrammelShape *shape, double turns);
void trammel_shape_center (const TrammelShape *shape, double turns, double *x, double *y);
/* The teeth of a rack at @turns of the motor, from left to right, root to root (transfer full: g_free). */
TrammelPoint *trammel_shape_rack_teeth (const TrammelShape *shape, double turns, gsize *n);
/* A thread seen from the side, at @turns of the motor. */
typedef struct
{
  double x, y;        /* left end of its axis */
  double pitch, lead; /* lead: negative for a left-hand thread */
  double tip, root;
  double half_tip, half_root; /* of a thread's width, in the section along the axis: a basic rack */
  double first;               /* x of the middle of a thread at the lower edge, left of all that is seen */
} TrammelThread;

TrammelThread trammel_shape_thread (const TrammelShape *shape, double turns);
/* Seen end-on, as a disc. */
gboolean trammel_shape_is_round (const TrammelShape *shape);

G_END_DECLS
