/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/train-export.h"

#include <cairo-pdf.h>
#include <cairo-svg.h>
#include <glib/gi18n-lib.h>

#include "base/error.h"

#define POINTS_PER_PIXEL 0.75
#define PNG_PIXELS 2
#define LARGEST 10000

gboolean
trammel_picture_format_of_name (const char *name, TrammelPictureFormat *format, GError **error)
{
  static const char *const suffixes[] = { ".svg", ".pdf", ".png" };
  g_return_val_if_fail (name != NULL && format != NULL, FALSE);

  g_autofree char *lower = g_ascii_strdown (name, -1);
  for (gsize i = 0; i < G_N_ELEMENTS (suffixes); i++)
    if (g_str_has_suffix (lower, suffixes[i]))
      {
        *format = (TrammelPictureFormat)i;
        return TRUE;
      }
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
               _ ("%s: the name of a drawing wants to end in .svg, .pdf or .png"), name);
  return FALSE;
}

static cairo_status_t
append (void *closure, const unsigned char *data, unsigned int length)
{
  g_byte_array_append (closure, data, length);
  return CAIRO_STATUS_SUCCESS;
}

static cairo_surface_t *
surface_of (TrammelPictureFormat format, double width, double height, GByteArray *bytes)
{
  cairo_surface_t *surface;
  switch (format)
    {
    case TRAMMEL_PICTURE_SVG:
      surface = cairo_svg_surface_create_for_stream (append, bytes, width, height);
      cairo_svg_surface_set_document_unit (surface, CAIRO_SVG_UNIT_PX);
      return surface;
    case TRAMMEL_PICTURE_PDF:
      return cairo_pdf_surface_create_for_stream (append, bytes, POINTS_PER_PIXEL * width, POINTS_PER_PIXEL * height);
    default:
      return cairo_image_surface_create (CAIRO_FORMAT_RGB24, (int)(PNG_PIXELS * width), (int)(PNG_PIXELS * height));
    }
}

static double
units_per_pixel (TrammelPictureFormat format)
{
  return format == TRAMMEL_PICTURE_PDF ? POINTS_PER_PIXEL : format == TRAMMEL_PICTURE_PNG ? PNG_PIXELS : 1;
}

static void
paint_on (cairo_surface_t *surface, double scale, TrammelTrainDrawing *drawing, const TrammelTrainPicture *picture)
{
  cairo_t *cr = cairo_create (surface);
  cairo_scale (cr, scale, scale);
  trammel_color_set (cr, picture->palette->ground, 1);
  cairo_paint (cr);
  trammel_train_drawing_paint (drawing, cr, picture);
  cairo_destroy (cr);
}

GBytes *
trammel_train_export (TrammelTrainDrawing *drawing, const TrammelTrainPicture *picture, TrammelPictureFormat format,
                      GError **error)
{
  g_return_val_if_fail (drawing != NULL && picture != NULL && picture->palette != NULL, NULL);

  if (!(picture->width >= 1 && picture->width <= LARGEST && picture->height >= 1 && picture->height <= LARGEST))
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
                   _ ("a picture of %g × %g: from 1 to %d pixels are wanted each way"), picture->width, picture->height,
                   LARGEST);
      return NULL;
    }
  g_autoptr (GByteArray) bytes = g_byte_array_new ();
  cairo_surface_t *surface = surface_of (format, picture->width, picture->height, bytes);
  paint_on (surface, units_per_pixel (format), drawing, picture);
  if (format == TRAMMEL_PICTURE_PNG)
    cairo_surface_write_to_png_stream (surface, append, bytes);
  cairo_surface_finish (surface);
  cairo_status_t status = cairo_surface_status (surface);
  cairo_surface_destroy (surface);
  if (status != CAIRO_STATUS_SUCCESS)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE, _ ("the picture could not be made: %s"),
                   cairo_status_to_string (status));
      return NULL;
    }
  return g_byte_array_free_to_bytes (g_steal_pointer (&bytes));
}
