/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"

G_BEGIN_DECLS

/* The part of a picture that values are drawn in: a rectangle with an even scale along each side. A plain value. */
typedef struct
{
  double left, top, right, bottom;     /* in units of the cairo_t */
  double low_x, high_x, low_y, high_y; /* what its sides stand for; low < high */
} TrammelPlotField;

/* Where @value lies. */
double trammel_plot_field_x (const TrammelPlotField *field, double value);
double trammel_plot_field_y (const TrammelPlotField *field, double value);

/* A line across the field at the height of @value, on whole pixels, with the source and line width of @cr. */
void trammel_plot_field_line (const TrammelPlotField *field, cairo_t *cr, double value);

/* @font as in TrammelLabel, for all of these. */

/* How much room the numbers at its left take; left and right do not matter. */
double trammel_plot_field_numbers_width (const TrammelPlotField *field, cairo_t *cr, const char *font);
/* Faint lines across at round values, that at 0 stronger, with their numbers at the left. */
void trammel_plot_field_paint_levels (const TrammelPlotField *field, cairo_t *cr, const TrammelPalette *palette,
                                      const char *font);
/* Short lines below with the numbers of round values, and @caption under them at the right; 2.7 lines of text high. */
void trammel_plot_field_paint_foot (const TrammelPlotField *field, cairo_t *cr, const TrammelPalette *palette,
                                    const char *font, const char *caption);
/* One such short line at @value with @text below it, for scales that are not numbers. */
void trammel_plot_field_paint_foot_mark (const TrammelPlotField *field, cairo_t *cr, const TrammelPalette *palette,
                                         const char *font, double value, const char *text);

G_END_DECLS
