/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/palette.h"

G_BEGIN_DECLS

/* How a drawing of a train is shown. A plain value. */
typedef struct
{
  double width, height; /* of the whole picture, in units of the cairo_t (pixels) */
  double zoom;          /* 0 or 1: all of it as large as it fits; 2: twice as large */
  double pan_x, pan_y;  /* what is in the middle, from the middle of the whole, mm, y downwards */
  double motor_turns;   /* towards positive counts since the picture at rest; any finite number */
  const TrammelPalette *palette;
  char axis_letter;    /* chooses the accent color; shown on what travels */
  int selected_part;   /* 0 the motor, 1…n the stages, n + 1 the output; −1: none */
  gboolean dimensions; /* center distances, pitch diameters, lead */
  gboolean small;      /* too small for words and scale bar: the parts alone, without a margin */
} TrammelTrainPicture;

/* Of the zoom. */
#define TRAMMEL_LEAST_ZOOM 0.25
#define TRAMMEL_MOST_ZOOM 64.0

G_END_DECLS
