/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/label.h"

#include <pango/pangocairo.h>

#define ORDINARY_FONT "Sans 12px"
#define HALO_WIDTH 6.0

static PangoLayout *
layout_of (cairo_t *cr, const TrammelLabel *label, const char *text)
{
  PangoLayout *layout = pango_cairo_create_layout (cr);
  PangoFontDescription *font = pango_font_description_from_string (label->font ? label->font : ORDINARY_FONT);

  if (label->scale > 0)
    {
      double size = pango_font_description_get_size (font) * label->scale;
      if (pango_font_description_get_size_is_absolute (font))
        pango_font_description_set_absolute_size (font, size);
      else
        pango_font_description_set_size (font, (int)size);
    }
  if (label->bold)
    pango_font_description_set_weight (font, PANGO_WEIGHT_BOLD);
  pango_layout_set_font_description (layout, font);
  pango_font_description_free (font);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  pango_layout_set_text (layout, text, -1);
  return layout;
}

static void
paint_halo (cairo_t *cr, PangoLayout *layout, const TrammelColor *color)
{
  cairo_save (cr);
  trammel_color_set (cr, *color, 0.9);
  cairo_set_line_width (cr, HALO_WIDTH);
  cairo_set_line_join (cr, CAIRO_LINE_JOIN_ROUND);
  pango_cairo_layout_path (cr, layout);
  cairo_stroke (cr);
  cairo_restore (cr);
}

void
trammel_label_paint (cairo_t *cr, const TrammelLabel *label, const char *text, double x, double y)
{
  int width, height;

  g_return_if_fail (cr != NULL && label != NULL && text != NULL);

  g_autoptr (PangoLayout) layout = layout_of (cr, label, text);
  pango_layout_get_pixel_size (layout, &width, &height);
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, label->angle);
  cairo_move_to (cr, -width * label->xalign, -height * label->yalign);
  if (label->halo)
    {
      paint_halo (cr, layout, label->halo);
      cairo_move_to (cr, -width * label->xalign, -height * label->yalign);
    }
  pango_cairo_show_layout (cr, layout);
  cairo_restore (cr);
  cairo_new_path (cr);
}

void
trammel_label_size (cairo_t *cr, const TrammelLabel *label, const char *text, double *width, double *height)
{
  int w, h;

  g_return_if_fail (cr != NULL && label != NULL && text != NULL);

  g_autoptr (PangoLayout) layout = layout_of (cr, label, text);
  pango_layout_get_pixel_size (layout, &w, &h);
  if (width)
    *width = w;
  if (height)
    *height = h;
}

double
trammel_label_line (cairo_t *cr, const TrammelLabel *label)
{
  double height;

  trammel_label_size (cr, label, "0", NULL, &height);
  return height;
}
