/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "drive/train.h"
#include "machine/axis.h"

G_BEGIN_DECLS

/* The drawing of a train (see train-canvas.h) over a row of controls: play and how fast, how far the motor has turned,
 * dimensions, zoom, and what to do with the picture.
 * Signal: part-selected (int part: 0 motor, 1…n stages, n+1 output). */
#define TRAMMEL_TYPE_TRAIN_VIEW (trammel_train_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelTrainView, trammel_train_view, TRAMMEL, TRAIN_VIEW, GtkWidget)

/* @axis is borrowed (a reference is taken), NULL: nothing to draw; @facts (nullable) of its train are read here and
 * now. Lengths are shown in @unit; files of pictures are suggested beside @file (nullable). */
void trammel_train_view_show (TrammelTrainView *view, const TrammelAxis *axis, const TrammelFacts *facts,
                              const TrammelUnit *unit, GFile *file);
void trammel_train_view_set_selected_part (TrammelTrainView *view, int part);

G_END_DECLS
