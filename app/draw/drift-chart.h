/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/plot-field.h"
#include "machine/drift.h"

G_BEGIN_DECLS

/**
 * TrammelDriftChart:
 *
 * A quantity of one axis over time: each check with its 95 % interval, joined in the order of time; the center and the
 * control limits of the individuals chart; the trend with its 95 % band, a little beyond the last check, and to the day
 * when the next one is due where that is not far. A check outside the limits is a hollow diamond, a jump a thick line.
 */
typedef struct
{
  const TrammelMachine *machine; /* borrowed */
  const TrammelDrift *drift;     /* borrowed */
  TrammelDriftQuantity quantity; /* with one check at least */
  const char *font;              /* (nullable): as Pango reads it */
} TrammelDriftChart;

/* Paints into @width × @height; the ground is left as it is. Legible from 300 × 200 pixels. */
void trammel_drift_chart_paint (const TrammelDriftChart *chart, cairo_t *cr, double width, double height,
                                const TrammelPalette *palette);

/* Where the checks are: the value in its unit over the day since 1970-01-01. */
TrammelPlotField trammel_drift_chart_field (const TrammelDriftChart *chart, cairo_t *cr, double width, double height);

/* The picture in words, translated. (transfer full) */
char *trammel_drift_chart_to_words (const TrammelDriftChart *chart);

G_END_DECLS
