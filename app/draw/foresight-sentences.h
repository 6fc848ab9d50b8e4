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

/* The sources of one axis, the largest first, numbered where there are several: "1 Outside, caliper 42 %   2 Bead, as
 * stated 35 %". What is less than half a percent is left out. */
char *trammel_sentences_budget (const TrammelBudgetLine *lines, gsize n);

/* What a plan will tell: "Measured with the caliper (u 0.03 mm), this piece will tell X to ± 0.6 %, Y to ± 0.6 %, the
 * skew between X and Y to ± 0.03°." @plan: what trammel_machine_plan() made of @rows; where all of these have a u of
 * their own, "Read off the lines (u 0.014 mm), …". NULL when it tells nothing. */
char *trammel_sentences_plan (const TrammelMachine *machine, const TrammelReadings *rows,
                              const TrammelAdjustment *plan);

G_END_DECLS
