/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "machine/axis.h"

G_BEGIN_DECLS

/* The drawing of a train, turned by hand: drag, scroll, arrow keys, or playing. Space plays and stops, Page Up and
 * Page Down turn the motor once, Home puts it back to where it was drawn first.
 * Signals: part-selected (int part: 0 motor, 1…n stages, n+1 output), turned (the motor's place changed),
 * playing-changed. */
#define TRAMMEL_TYPE_TRAIN_VIEW (trammel_train_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelTrainView, trammel_train_view, TRAMMEL, TRAIN_VIEW, GtkWidget)

/* @axis is borrowed (a reference is taken); NULL: nothing to draw. */
void trammel_train_view_set_axis (TrammelTrainView *view, const TrammelAxis *axis);
void trammel_train_view_set_selected_part (TrammelTrainView *view, int part);

/* Turns of the motor since it was first drawn. */
double trammel_train_view_turns (TrammelTrainView *view);
void trammel_train_view_set_turns (TrammelTrainView *view, double turns);

gboolean trammel_train_view_is_playing (TrammelTrainView *view);
void trammel_train_view_set_playing (TrammelTrainView *view, gboolean playing);

G_END_DECLS
