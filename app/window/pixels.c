/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/pixels.h"

TrammelPixels
trammel_pixels_begin (GtkWidget *widget, int width, int height)
{
  const int scale = gtk_widget_get_scale_factor (widget);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width * scale, height * scale);

  cairo_surface_set_device_scale (surface, scale, scale);
  cairo_t *cr = cairo_create (surface);
  cairo_surface_destroy (surface);
  return (TrammelPixels){ cr, width, height, scale };
}

void
trammel_pixels_append (TrammelPixels *pixels, GtkSnapshot *snapshot)
{
  cairo_surface_t *surface = cairo_get_target (pixels->cr);
  cairo_t *cr
      = gtk_snapshot_append_cairo (snapshot, &GRAPHENE_RECT_INIT (0, 0, (float)pixels->width, (float)pixels->height));

  cairo_set_source_surface (cr, surface, 0, 0);
  cairo_paint (cr);
  cairo_destroy (cr);
  g_clear_pointer (&pixels->cr, cairo_destroy);
}
