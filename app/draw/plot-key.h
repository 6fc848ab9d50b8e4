/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"

G_BEGIN_DECLS

/* What the marks of a plot mean, in rows below it. */

/* Widest symbol. */
#define TRAMMEL_PLOT_KEY_SYMBOL 28

typedef struct
{
  const char *text; /* translated */
  /* Paints the mark with its middle at (@x, @y). @data as given to trammel_plot_key_paint(). */
  void (*paint) (cairo_t *cr, double x, double y, gconstpointer data);
} TrammelPlotKeyItem;

/* @font as in TrammelLabel. */
double trammel_plot_key_height (cairo_t *cr, const TrammelPlotKeyItem *items, gsize n, double width, const char *font);
/* From (@x, @y) right and down. */
void trammel_plot_key_paint (cairo_t *cr, const TrammelPlotKeyItem *items, gsize n, double x, double y, double width,
                             const TrammelPalette *palette, const char *font, gconstpointer data);

G_END_DECLS
