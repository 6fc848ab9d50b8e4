/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TrammelRepeats:
 *
 * Readings of one thing: the same kind, direction, nominal, approach, instrument and set. How they scatter about their
 * own mean owes nothing to the model (pure error); what the residuals hold beyond that is lack of fit. In units of the
 * weighing: squares of u in the `stated` way, mm² (or of relative u) in the `estimated` one.
 *
 * Source: N. R. Draper & H. Smith, Applied Regression Analysis, 3rd ed. (Wiley, 1998), section 2.1, with the weights of
 * chapter 9. Where stated values enter, the residuals' degrees of freedom are the readings less the unknowns that they
 * determine (the trace of the hat matrix), and F is an approximation.
 */
typedef struct
{
  gsize n_groups;        /* things that were read more than once */
  gint64 pure_error_dof; /* at least 1 */
  double pure_error_ss;  /* Σ ((measured − mean of its group)/u)² */
  double lack_of_fit_dof, lack_of_fit_ss;
  double f, p_value; /* NaN: less than one degree of freedom is left, or the repeats do not scatter at all */
} TrammelRepeats;

/* With more readings than this repeats are not looked for: that would take as long as the fit, and as much memory. The
 * position test (positions.h) has its own. */
#define TRAMMEL_REPEATS_MOST_READINGS 200000
/* Below this the model is said not to describe the machine. */
#define TRAMMEL_LACK_OF_FIT_SIGNIFICANCE 0.05

G_END_DECLS
