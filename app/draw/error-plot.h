/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <cairo.h>

#include "draw/palette.h"
#include "machine/machine.h"

G_BEGIN_DECLS

/**
 * TrammelErrorPlot:
 *
 * What an adjustment makes of the readings along one axis, as a picture: error (measured − commanded) over the
 * commanded length, before and after correction, each reading with its 95 % interval, the fitted line with its band.
 *
 * The errors are shown with the other unknowns (bead, shrinkage, first layer, lash, datum) taken out as fitted, so that
 * the scale error alone is left and stands as a line through zero: residual + e·x, the component-plus-residual plot of
 * M. Ezekiel, J. Amer. Statist. Assoc. 19 (1924) 431, and W. A. Larsen & S. J. McCleary, Technometrics 14 (1972) 781.
 * After correction the line lies flat; what is left are the residuals, and the band tells how well the scale is known.
 *
 * A view of two axes ("XY") shows skew instead: the error of lengths across both axes over 2·cx·cy·length, c the unit
 * vector of the length's direction (the length itself for a diagonal `X+Y`, its negative for `X-Y`); the slope is
 * minus half the skew.
 *
 * From 2000 readings on, marks become a density: each pixel is as dark as it has readings, none is lost.
 */
typedef struct _TrammelErrorPlot TrammelErrorPlot;

/* (transfer full): the views that have something to show: each axis with a scale ("X"), then each pair with a skew
 * ("XY"). NULL-terminated. */
char **trammel_error_plot_views (const TrammelMachine *machine, const TrammelAdjustment *adjustment);

/**
 * trammel_error_plot_new:
 * @machine: for axes and display unit
 * @readings: those that @adjustment was made from
 * @view: one letter, or two
 *
 * Nothing is kept of the arguments.
 *
 * Returns: (transfer full): never NULL; without readings of that view it says so.
 */
TrammelErrorPlot *trammel_error_plot_new (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                          const TrammelReadings *readings, const char *view);
void trammel_error_plot_free (TrammelErrorPlot *plot);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelErrorPlot, trammel_error_plot_free)

/* How many readings it shows. */
gsize trammel_error_plot_n_readings (const TrammelErrorPlot *plot);

/* The picture in words, translated, for those who do not see it. (transfer full) */
char *trammel_error_plot_to_words (const TrammelErrorPlot *plot);

typedef enum
{
  TRAMMEL_ERROR_PANELS_BOTH, /* before and after, side by side or one above the other; before alone where both do not
                                fit */
  TRAMMEL_ERROR_PANELS_BEFORE,
  TRAMMEL_ERROR_PANELS_AFTER,
} TrammelErrorPanels;

typedef struct
{
  TrammelErrorPanels panels;
  int selected_row; /* row of the readings; −1: none */
  const char *font; /* (nullable): as Pango reads it, "Cantarell 14px" */
} TrammelErrorPlotLook;

/* Paints the picture and its legend; the ground is left as it is (palette's ground is assumed). @width, @height in
 * units of @cr (pixels), legible from 400 × 250. */
void trammel_error_plot_paint (TrammelErrorPlot *plot, cairo_t *cr, double width, double height,
                               const TrammelPalette *palette, const TrammelErrorPlotLook *look);

/* The row of the reading nearest to (@x, @y) of the last painting, within a finger's tip of it; −1: none. */
int trammel_error_plot_row_at (const TrammelErrorPlot *plot, double x, double y);

/* The row of the reading that comes @step places after that of @row among those shown, in the order of rows; from
 * none, or at an end, the first or the last one. −1 when nothing is shown. */
int trammel_error_plot_neighbor (const TrammelErrorPlot *plot, int row, int step);

/* TRUE when the last painting had room for both panels. */
gboolean trammel_error_plot_showed_both (const TrammelErrorPlot *plot);

G_END_DECLS
