/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"
#include "draw/plot-field.h"
#include "machine/homing-report.h"

G_BEGIN_DECLS

/**
 * TrammelRunChart:
 *
 * Homes in the order in which they came: each with a mark that its group has, the mean, the interval of the next home
 * (95 %) and that of 99 % of all homes, and where it drifts the straight line. An outlier is a hollow diamond.
 */
typedef struct
{
  char axis;                         /* its color */
  const TrammelUnit *unit;           /* of lengths; NULL along a rotary axis: degrees */
  const TrammelHomingReport *report; /* borrowed */
  const TrammelHomingSet *set;       /* of @report: all of it, or one of its groups; with one home at least */
  const char *font;                  /* (nullable): as Pango reads it */
} TrammelRunChart;

/* Paints into @width × @height; the ground is left as it is. Legible from 300 × 200 pixels. */
void trammel_run_chart_paint (const TrammelRunChart *chart, cairo_t *cr, double width, double height,
                              const TrammelPalette *palette);

/* Where the homes are: the place, in its unit, over the run. */
TrammelPlotField trammel_run_chart_field (const TrammelRunChart *chart, cairo_t *cr, double width, double height);

/* The picture in words, translated. (transfer full) */
char *trammel_run_chart_to_words (const TrammelRunChart *chart);

G_END_DECLS
