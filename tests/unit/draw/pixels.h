/* SPDX-License-Identifier: GPL-3.0-or-later */
/* What was painted, pixel by pixel. */
#pragma once

#include <cairo.h>
#include <check.h>
#include <math.h>

#include "draw/palette.h"

/* Opaque pixels: 0xffRRGGBB */
static inline guint32
pixel_at (cairo_surface_t *surface, int x, int y)
{
  const unsigned char *data = cairo_image_surface_get_data (surface);

  ck_assert_int_ge (x, 0);
  ck_assert_int_ge (y, 0);
  ck_assert_int_lt (x, cairo_image_surface_get_width (surface));
  ck_assert_int_lt (y, cairo_image_surface_get_height (surface));
  return *(const guint32 *)(gconstpointer)(data + y * cairo_image_surface_get_stride (surface) + 4 * x);
}

static inline guint32
pixel_of (TrammelColor color)
{
  return 0xff000000 | (guint32)lround (255 * color.r) << 16 | (guint32)lround (255 * color.g) << 8
         | (guint32)lround (255 * color.b);
}

/* A surface with the ground of the light palette. */
static inline cairo_surface_t *
surface_new (int width, int height)
{
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_ARGB32, width, height);
  cairo_t *cr = cairo_create (surface);

  trammel_color_set (cr, trammel_palette (FALSE)->ground, 1);
  cairo_paint (cr);
  cairo_destroy (cr);
  return surface;
}
