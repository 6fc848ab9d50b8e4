/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"
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
 * proportions.
 *
 * The layout is fixed once made; text layouts are cached on the first painting, so use one drawing from one thread
 * only.
 */
typedef struct _TrammelTrainDrawing TrammelTrainDrawing;

/**
 * trammel_train_drawing_new:
 * @train: borrowed; only read here
 * @travel: travel of the axis, mm (degrees where the output is rotary); NaN when not known
 *
 * Returns: (transfer full): never NULL. A train whose facts cannot be had is drawn too: at rest, with the reason.
 */
TrammelTrainDrawing *trammel_train_drawing_new (const TrammelTrain *train, double travel);
void trammel_train_drawing_free (TrammelTrainDrawing *drawing);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelTrainDrawing, trammel_train_drawing_free)

/* The box that holds every part in every position, mm, y downwards. Any of the pointers may be NULL. */
void trammel_train_drawing_extent (const TrammelTrainDrawing *drawing, double *x, double *y, double *width,
                                   double *height);

/**
 * trammel_train_drawing_paint:
 * @width, @height: of the whole picture, in units of @cr (pixels); the train is scaled to fit
 * @motor_turns: turns of the motor towards positive counts since the picture at rest; any finite number
 * @axis_letter: chooses the accent color; shown on what travels
 * @selected_part: 0 motor, 1…n the stages, n + 1 the output; −1: none
 *
 * Does not paint the ground: whatever is there shows through (palette's ground is assumed).
 * Time is bounded whatever the teeth: what would be smaller than a pixel is drawn as a band.
 */
void trammel_train_drawing_paint (TrammelTrainDrawing *drawing, cairo_t *cr, double width, double height,
                                  double motor_turns, const TrammelPalette *palette, char axis_letter,
                                  int selected_part);

/* The part at (@x, @y) of a picture of @width × @height: 0 motor, 1…n the stages, n + 1 the output; −1: none. */
int trammel_train_drawing_part_at (const TrammelTrainDrawing *drawing, double width, double height, double x, double y);

G_END_DECLS
