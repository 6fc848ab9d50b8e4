/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "draw/palette.h"
#include "measure/budget.h"

G_BEGIN_DECLS

/* A smaller share has no segment and no number of its own; as in trammel_sentences_budget(). */
#define TRAMMEL_BUDGET_LEAST_SHARE 0.005

/* How many of @lines, which start with the largest share, have a segment. */
gsize trammel_budget_bar_segments (const TrammelBudgetLine *lines, gsize n);

/* A bar of the shares of one axis, in its color from full to pale, the largest first, each with its number from 1 where
 * there are several and there is room. @font as in TrammelLabel. */
void trammel_budget_bar_paint (cairo_t *cr, double width, double height, const TrammelBudgetLine *lines, gsize n,
                               const TrammelPalette *palette, const char *font);

G_END_DECLS
