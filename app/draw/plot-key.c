/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/plot-key.h"

#include <math.h>

#include "draw/label.h"

#define GAP 7      /* between mark and text */
#define SPACING 20 /* between one item and the next */
#define LEADING 1.35

/* Calls for each item with its place: NULL @palette only measures. Returns the height. */
static double
lay_out (cairo_t *cr, const TrammelPlotKeyItem *items, gsize n, double left, double top, double width,
         const TrammelPalette *palette, const char *font, gconstpointer data)
{
  const TrammelLabel label = { .font = font, .yalign = 0.5 };
  const double line = LEADING * trammel_label_line (cr, &label);
  double x = left, y = top + line / 2;

  for (gsize i = 0; i < n; i++)
    {
      double text_width;
      trammel_label_size (cr, &label, items[i].text, &text_width, NULL);
      const double item_width = TRAMMEL_PLOT_KEY_SYMBOL + GAP + text_width;
      if (x > left && x + item_width > left + width)
        {
          x = left;
          y += line;
        }
      if (palette)
        {
          items[i].paint (cr, x + TRAMMEL_PLOT_KEY_SYMBOL / 2.0, y, data);
          trammel_color_set (cr, palette->ink, 0.85);
          trammel_label_paint (cr, &label, items[i].text, x + TRAMMEL_PLOT_KEY_SYMBOL + GAP, y);
        }
      x += item_width + SPACING;
    }
  return n > 0 ? y + line / 2 - top : 0;
}

double
trammel_plot_key_height (cairo_t *cr, const TrammelPlotKeyItem *items, gsize n, double width, const char *font)
{
  g_return_val_if_fail (cr != NULL && (items != NULL || n == 0), 0);

  return lay_out (cr, items, n, 0, 0, width, NULL, font, NULL);
}

void
trammel_plot_key_paint (cairo_t *cr, const TrammelPlotKeyItem *items, gsize n, double x, double y, double width,
                        const TrammelPalette *palette, const char *font, gconstpointer data)
{
  g_return_if_fail (cr != NULL && (items != NULL || n == 0) && palette != NULL);

  lay_out (cr, items, n, x, y, width, palette, font, data);
}
