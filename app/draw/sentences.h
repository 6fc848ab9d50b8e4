/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* What an adjustment found, in sentences for people: translated, numbers in the locale, lengths in the machine's
 * display unit. Used by the window and the command; no cairo. Every “±” is the half-width of a 95 % interval. */

/* "steps/mm" for a stepper, else the encoder's own name for its counts or "counts", per mm or per degree.
 * (transfer full) */
char *trammel_sentences_counts_unit (const TrammelAxis *axis);

/* "X moves 0.42 % short (± 0.03 %). Set 80.337 steps/mm (now 80)." Where the change is not significant: "X moves as far
 * as it is told, as far as these readings can tell (0.01 % ± 0.03 %). Leave 80 steps/mm." NULL when the axis has no
 * scale in the fit. (transfer full) */
char *trammel_sentences_axis (const TrammelMachine *machine, const TrammelAdjustment *adjustment, char letter);

/* How far off in words, for a card: "0.42 % short", "right within 0.03 %". NULL as above. (transfer full) */
char *trammel_sentences_axis_short (const TrammelAdjustment *adjustment, char letter);

/* "The bead adds 0.14 mm to each face (± 0.02 mm)." and its kin. NULL for a scale, for a value that was fixed, and for
 * one about which the readings say next to nothing (learned under 5 %). (transfer full) */
char *trammel_sentences_parameter (const TrammelMachine *machine, const TrammelParameter *parameter);

/* "Reading 7 (outside X 100 mm) was read 2.61 mm above what the others say; measure it again." @number counts from 1;
 * NULL when the reading is not suspect. (transfer full) */
char *trammel_sentences_suspect (const TrammelMachine *machine, const TrammelReading *reading,
                                 const TrammelFitted *fitted, gsize number);

/* The whole result: every axis that has a scale, then every other unknown that has something to tell, then whether the
 * ways in which lash was found agree. Strings, freed
 * with the array; (transfer full). Suspects and the adjustment's own warnings are not among them. */
GPtrArray *trammel_sentences_result (const TrammelMachine *machine, const TrammelAdjustment *adjustment);

G_END_DECLS
