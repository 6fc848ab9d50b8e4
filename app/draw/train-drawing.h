/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "base/quantity.h"
#include "draw/train-picture.h"
#include "drive/train.h"

G_BEGIN_DECLS

/**
 * TrammelTrainDrawing:
 *
 * A train drawn to scale, from the side: motor at the left, the motion flows to the right. Gears have true involute
 * teeth and mesh; everything turns at its true ratio. A shaft is seen end-on (gears, pulleys, drums) or lengthwise
 * (worms, screws); where the view changes, a center line joins the two views of the same shaft.
 *
 * An end-on shaft that turns in its positive sense turns clockwise on the screen; a lengthwise one moves upwards on the
 * side that faces the reader. Hands of threads, sides of racks and crossed belts are drawn so that the picture moves as
 * the signs of the train say.
 *
 * What the train does not tell is chosen: a module or pitch that is not set is taken from a neighbor, else 1 mm
 * (gears), 2 mm (belts), 6.35 mm (chains); diameters of screws and worms, size of motor and gearbox are ordinary
 * proportions. Dimensions that follow from what was chosen so stand in parentheses (ISO 129-1, auxiliary dimensions).
 *
 * The layout is fixed once made; text layouts are cached on the first painting, so use one drawing from one thread
 * only.
 */
typedef struct _TrammelTrainDrawing TrammelTrainDrawing;

/**
 * trammel_train_drawing_new:
 * @train: borrowed; only read here
 * @travel: travel of the axis, mm (degrees where the output is rotary); NaN when not known
 * @unit: (nullable): of the lengths in the drawing; NULL: mm
 *
 * Returns: (transfer full): never NULL. A train whose facts cannot be had is drawn too: at rest, with the reason.
 */
TrammelTrainDrawing *trammel_train_drawing_new (const TrammelTrain *train, double travel, const TrammelUnit *unit);
void trammel_train_drawing_free (TrammelTrainDrawing *drawing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelTrainDrawing, trammel_train_drawing_free)

/* The box that holds every part in every position, mm, y downwards. Any of the pointers may be NULL. */
void trammel_train_drawing_extent (const TrammelTrainDrawing *drawing, double *x, double *y, double *width,
                                   double *height);

/**
 * trammel_train_drawing_paint:
 *
 * Does not paint the ground: whatever is there shows through (palette's ground is assumed).
 * Time is bounded whatever the teeth: what would be smaller than a pixel is drawn as a band.
 */
void trammel_train_drawing_paint (TrammelTrainDrawing *drawing, cairo_t *cr, const TrammelTrainPicture *picture);

/* The part at (@x, @y) of @picture: 0 motor, 1…n the stages, n + 1 the output; −1: none. */
int trammel_train_drawing_part_at (const TrammelTrainDrawing *drawing, const TrammelTrainPicture *picture, double x,
                                   double y);

/* Makes @picture show the drawing @factor times as large, what is at (@x, @y) staying there. */
void trammel_train_drawing_zoom (const TrammelTrainDrawing *drawing, TrammelTrainPicture *picture, double factor,
                                 double x, double y);
/* Moves what @picture shows by so many pixels, never all of it out of sight. */
void trammel_train_drawing_move (const TrammelTrainDrawing *drawing, TrammelTrainPicture *picture, double dx,
                                 double dy);

G_END_DECLS
