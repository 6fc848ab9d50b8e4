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
  cairo_surface_t *surface = cairo_surface_reference (cairo_get_target (pixels->cr));

  g_clear_pointer (&pixels->cr, cairo_destroy);
  cairo_surface_flush (surface);
  const int stride = cairo_image_surface_get_stride (surface), rows = cairo_image_surface_get_height (surface);
  g_autoptr (GBytes) bytes
      = g_bytes_new_with_free_func (cairo_image_surface_get_data (surface), (gsize)stride * (gsize)rows,
                                    (GDestroyNotify)cairo_surface_destroy, surface);
  g_autoptr (GdkTexture) texture = gdk_memory_texture_new (
      pixels->width * pixels->scale, pixels->height * pixels->scale, GDK_MEMORY_DEFAULT, bytes, (gsize)stride);
  gtk_snapshot_append_texture (snapshot, texture,
                               &GRAPHENE_RECT_INIT (0, 0, (float)pixels->width, (float)pixels->height));
}
