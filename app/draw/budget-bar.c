/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/budget-bar.h"

#include <math.h>

#include "draw/label.h"

#define GAP 1.5
#define PALEST 0.22

gsize
trammel_budget_bar_segments (const TrammelBudgetLine *lines, gsize n)
{
  gsize segments = 0;

  g_return_val_if_fail (lines != NULL || n == 0, 0);
  while (segments < n && lines[segments].share >= TRAMMEL_BUDGET_LEAST_SHARE)
    segments++;
  return segments;
}

static double
strength_of (gsize i)
{
  return MAX (PALEST, pow (0.62, (double)i));
}

static void
paint_number (cairo_t *cr, double x, double width, double height, gsize i, const TrammelPalette *palette,
              const char *font)
{
  const TrammelLabel label = { .font = font, .bold = TRUE, .xalign = 0.5, .yalign = 0.5 };
  char number[24];
  double text_width;

  g_snprintf (number, sizeof number, "%u", (guint)i + 1);
  trammel_label_size (cr, &label, number, &text_width, NULL);
  if (text_width + 4 > width)
    return;
  trammel_color_set (cr, strength_of (i) > 0.7 ? palette->ground : palette->ink, 1);
  trammel_label_paint (cr, &label, number, x + width / 2, height / 2);
}

void
trammel_budget_bar_paint (cairo_t *cr, double width, double height, const TrammelBudgetLine *lines, gsize n,
                          const TrammelPalette *palette, const char *font)
{
  const gsize segments = trammel_budget_bar_segments (lines, n);
  double x = 0;

  g_return_if_fail (cr != NULL && palette != NULL);

  trammel_color_set (cr, palette->faint, 0.25);
  cairo_rectangle (cr, 0, 0, width, height);
  cairo_fill (cr);
  for (gsize i = 0; i < segments; i++)
    {
      const double reach = lines[i].share * width, shown = MAX (reach - (i + 1 < segments ? GAP : 0), 0.5);
      trammel_color_set (cr, palette->ground, 1);
      cairo_rectangle (cr, x, 0, reach, height);
      cairo_fill (cr);
      trammel_color_set (cr, trammel_palette_axis (palette, lines[i].letter), strength_of (i));
      cairo_rectangle (cr, x, 0, shown, height);
      cairo_fill (cr);
      if (segments > 1)
        paint_number (cr, x, shown, height, i, palette, font);
      x += reach;
    }
}
