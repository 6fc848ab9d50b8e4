/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/error-plot.h"
#include "draw/label.h"
#include "draw/ticks.h"

G_BEGIN_DECLS

/* From here on marks become a density. */
#define TRAMMEL_ERROR_PLOT_MANY 2000
/* Up to here marks are full-size, have intervals with caps, and stand apart when they are at one place. */
#define TRAMMEL_ERROR_PLOT_FEW 250
#define TRAMMEL_ERROR_PLOT_EDGE 8.0

typedef struct
{
  double low, high;
} TrammelRange;

/* One reading, in the plot's unit. Single precision is more than a picture needs, and there may be millions. */
typedef struct
{
  float x;
  float after; /* residual; before correction: after + slope·x */
  float half;  /* half-width of its 95 % interval */
  guint32 row;
  guint8 kind; /* TrammelReadingKind */
  guint8 suspect;
} TrammelErrorPoint;

/* One set of axes on the last painting. */
typedef struct
{
  double x, y, width, height; /* where the points are */
  TrammelRange across, up;
  gboolean after;
  double enlarged; /* against the panel of before */
} TrammelErrorPanel;

struct _TrammelErrorPlot
{
  char letters[3];
  char *unit;                /* symbol of both axes */
  gboolean lengths, places;  /* what x is of */
  TrammelErrorPoint *points; /* by row */
  gsize n_points;
  gsize n_suspects;
  guint kinds;                /* bit per TrammelReadingKind that occurs */
  TrammelRange across, up[2]; /* up: what a panel before and after correction must show */
  double slope, slope_half;   /* of the fitted line, and half of its 95 % interval */
  double value, value_half;   /* the unknown behind it: scale error or skew, in the unit of value_text */
  const char *value_unit;

  float *shifts; /* pixels that marks at one place are drawn apart; NULL: none. By point */
  TrammelErrorPanel panels[2];
  guint n_panels;
};

/* A painting under way. */
typedef struct
{
  TrammelErrorPlot *plot;
  cairo_t *cr;
  const TrammelPalette *palette;
  const TrammelErrorPlotLook *look;
  TrammelColor color; /* of the axis */
  double line;        /* height of a line of text */
  double left;        /* room for the numbers at the left of a panel */
} TrammelErrorPainting;

TrammelLabel trammel_error_label (const TrammelErrorPainting *painting, double scale, double xalign, double yalign);

/* The numbers beside a panel. */
TrammelTicks trammel_error_up_ticks (const TrammelErrorPainting *painting, TrammelRange up, double height);

/* Places the panels and the marks that share a place. */
void trammel_error_lay_out (TrammelErrorPainting *painting, double width, double height);

/* Grid, numbers, zero line, titles. */
void trammel_error_axes (const TrammelErrorPainting *painting, const TrammelErrorPanel *panel);

/* Value of a point in a panel. */
double trammel_error_plot_value (const TrammelErrorPlot *plot, const TrammelErrorPoint *point, gboolean after);
gboolean trammel_error_plot_is_many (const TrammelErrorPlot *plot);

/* Finds `up`: points with their intervals and the band, but not suspects that are far out. */
void trammel_error_plot_measure (TrammelErrorPlot *plot);

/* From value to pixel. */
double trammel_error_panel_x (const TrammelErrorPanel *panel, double value);
double trammel_error_panel_y (const TrammelErrorPanel *panel, double value);

/* The mark of a reading kind: filled with the source of @cr, or with @ground where it is hollow. */
void trammel_error_mark (cairo_t *cr, TrammelReadingKind kind, double x, double y, double radius,
                         const TrammelColor *color, const TrammelColor *ground);

/* The legend, in rows as wide as @width; returns its height. NULL @palette: only measures. */
double trammel_error_legend (const TrammelErrorPlot *plot, cairo_t *cr, double x, double y, double width,
                             const TrammelPalette *palette, TrammelColor color, const char *font);

/* The readings of a panel as a density of pixels. */
void trammel_error_density (const TrammelErrorPlot *plot, cairo_t *cr, const TrammelErrorPanel *panel,
                            TrammelColor color);

G_END_DECLS
