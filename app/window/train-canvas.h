/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "draw/train-drawing.h"
#include "machine/axis.h"

G_BEGIN_DECLS

/* The drawing of a train, turned by hand: drag, scroll, Up and Down, or playing. Space plays and stops, Page Up and
 * Page Down turn the motor once, Home puts it back to where it was drawn first. Left and Right select the part before
 * or behind, along the train.
 * Zoom: scroll with Ctrl, pinch, + and −; 0 shows all. Pan: the middle button, or Shift with a drag or the arrow keys.
 * Signals: part-selected (int part: 0 motor, 1…n stages, n+1 output), turned (the motor's place changed),
 * playing-changed, zoomed. */
#define TRAMMEL_TYPE_TRAIN_CANVAS (trammel_train_canvas_get_type ())
G_DECLARE_FINAL_TYPE (TrammelTrainCanvas, trammel_train_canvas, TRAMMEL, TRAIN_CANVAS, GtkWidget)

/* @axis is borrowed (a reference is taken); NULL: nothing to draw. @unit (nullable): of lengths in the drawing. */
void trammel_train_canvas_set_axis (TrammelTrainCanvas *canvas, const TrammelAxis *axis, const TrammelUnit *unit);
void trammel_train_canvas_set_selected_part (TrammelTrainCanvas *canvas, int part);
void trammel_train_canvas_set_dimensions (TrammelTrainCanvas *canvas, gboolean dimensions);

/* Turns of the motor since it was first drawn. */
double trammel_train_canvas_turns (TrammelTrainCanvas *canvas);
void trammel_train_canvas_set_turns (TrammelTrainCanvas *canvas, double turns);

gboolean trammel_train_canvas_is_playing (TrammelTrainCanvas *canvas);
/* Where the desktop asks for little motion, a still every half second instead of a film. */
void trammel_train_canvas_set_playing (TrammelTrainCanvas *canvas, gboolean playing);
/* Of the motor when playing, turns per second. */
void trammel_train_canvas_set_speed (TrammelTrainCanvas *canvas, double speed);

/* About the middle. */
void trammel_train_canvas_zoom (TrammelTrainCanvas *canvas, double factor);
void trammel_train_canvas_fit (TrammelTrainCanvas *canvas);

/* What is seen, without the mark of the selected part, in light colors: for a file or the clipboard. FALSE: nothing to
 * draw. The drawing is borrowed. */
gboolean trammel_train_canvas_picture (TrammelTrainCanvas *canvas, TrammelTrainDrawing **drawing,
                                       TrammelTrainPicture *picture);

G_END_DECLS
