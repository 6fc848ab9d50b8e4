/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/foresight.h"

G_BEGIN_DECLS

/* What a fit rests on and what would make it better, for people: translated, numbers in the locale, “±” the half-width
 * of a 95 % interval. All (transfer full). */

/* "Z is known to ± 0.13 %. Tell Z to move 120 mm and measure how far it went (dial indicator): then ± 0.05 %." */
char *trammel_sentences_next (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                              const TrammelNext *next);

/* "tell Z to move 120 mm and measure how far it went (dial indicator)" */
char *trammel_sentences_next_act (const TrammelMachine *machine, const TrammelNext *next);

/* "± 0.13 %" of a scale error of standard uncertainty @u; "unknown" for NaN. */
char *trammel_sentences_scale_interval (const TrammelAdjustment *adjustment, double u);

/* "Outside, caliper"; "Bead, as stated" */
char *trammel_sentences_budget_source (const TrammelBudgetLine *line);

/* What a plan will tell: "This piece will tell X to ± 0.6 %, Y to ± 0.6 %, and the skew between X and Y to ± 0.03°."
 * NULL when it tells of no axis. */
char *trammel_sentences_plan (const TrammelAdjustment *plan);

G_END_DECLS
