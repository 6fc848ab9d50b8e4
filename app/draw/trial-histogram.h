/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/plot-field.h"
#include "measure/montecarlo.h"

G_BEGIN_DECLS

/**
 * TrammelTrialHistogram:
 *
 * The trials of one axis as a picture: bars of how often each scale error came out, the curve that the fit claims
 * (normal, or Student's t), and above them the 95 % interval of each, one below the other, with lines down at the ends
 * so that the eye can compare them. The trials are filled in the axis's color, the fit is drawn in ink and dashed.
 */
typedef struct
{
  const TrammelMonteCarloAxis *axis; /* borrowed */
  const char *font;                  /* (nullable): as Pango reads it */
} TrammelTrialHistogram;

/* Paints into @width × @height; the ground is left as it is. Legible from 300 × 160 pixels. */
void trammel_trial_histogram_paint (const TrammelTrialHistogram *histogram, cairo_t *cr, double width, double height,
                                    const TrammelPalette *palette);

/* Where the bars are: scale error in percent over the density of trials per percent. */
TrammelPlotField trammel_trial_histogram_field (const TrammelTrialHistogram *histogram, cairo_t *cr, double width,
                                                double height);

/* The picture in words, translated. (transfer full) */
char *trammel_trial_histogram_to_words (const TrammelTrialHistogram *histogram);

G_END_DECLS
