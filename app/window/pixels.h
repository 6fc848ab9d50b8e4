/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A picture painted with cairo on pixels of its own: thousands of lines recorded and played back, as a snapshot's own
 * cairo node would, take twice as long. */
typedef struct
{
  cairo_t *cr; /* in the widget's units; sharp at its scale factor */
  int width, height, scale;
} TrammelPixels;

/* @width, @height > 0: units of @widget. Nothing is painted yet. */
TrammelPixels trammel_pixels_begin (GtkWidget *widget, int width, int height);
/* Puts the picture at the origin of @snapshot, and ends with it. (As a cairo node that copies the pixels; a texture is
 * converted on every frame by the renderer that draws with cairo.) */
void trammel_pixels_append (TrammelPixels *pixels, GtkSnapshot *snapshot);

G_END_DECLS
