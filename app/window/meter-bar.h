/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A bar from 0 to its full length, with an optional line across it at a place that matters. */
#define TRAMMEL_TYPE_METER_BAR (trammel_meter_bar_get_type ())
G_DECLARE_FINAL_TYPE (TrammelMeterBar, trammel_meter_bar, TRAMMEL, METER_BAR, GtkWidget)

GtkWidget *trammel_meter_bar_new (void);

/* @share, @mark: of the full length; more is shown full, NaN: empty, no line. @beyond: in the color of warning. */
void trammel_meter_bar_show (TrammelMeterBar *self, double share, double mark, gboolean beyond);

G_END_DECLS
