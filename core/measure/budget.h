/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/adjustment.h"

G_BEGIN_DECLS

/* Where a part of an axis's u² comes from. */
typedef struct
{
  char letter;             /* of the axis whose scale error it is */
  gboolean is_stated;      /* from a stated value, else from readings */
  char *parameter;         /* stated: its name, `bead`; readings: NULL */
  TrammelReadingKind kind; /* readings: of this kind */
  GRefString *instrument;  /* readings: made with this; NULL: none named */
  double share;            /* of u², 0…1 */
  double u;                /* √share · u of the scale error */
} TrammelBudgetLine;

/**
 * trammel_budget:
 * @input: what @adjustment was made from
 *
 * Splits u² of every axis's scale error among its sources. The solution of the whitened rows A is x = A⁺ b, so the
 * rows, each of variance 1, give a scale the variance Σᵢ (A⁺)ₖᵢ²: each row's part is the square of its gain, the
 * derivative of the result by the row times the row's u (JCGM 100:2008, clause 5.1.2 with 5.1.3 and H.1; "uncertainty
 * budget"). Rows are summed by kind of reading and instrument, and by stated value. Gains come from the triangle R of
 * the fit, (A⁺)ₖᵢ = aᵢ · R⁻¹ R⁻ᵀ eₖ; A is never formed. Where a robust fit weighs rows, the weighted rows are taken.
 * Parts of readings alone are those of how they scatter; that what is stated may be wrong in common is not in them.
 *
 * Returns: (transfer full): of TrammelBudgetLine, by axis in the order of the fit, the largest share first; the shares
 * of an axis add up to 1, and sources without any are left out. Freed with g_array_unref(). Empty where a scale has no
 * uncertainty.
 */
GArray *trammel_budget (const TrammelAdjustment *adjustment, const TrammelAdjustmentInput *input);

/* "bead", "outside", "outside.caliper": for programs. (transfer full) */
char *trammel_budget_line_key (const TrammelBudgetLine *line);

G_END_DECLS
