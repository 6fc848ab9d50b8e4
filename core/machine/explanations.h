/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* A scale error of less than this is what machines have; no wrong entry is looked for. Common practice, no source. */
#define TRAMMEL_EXPLAIN_FROM 0.003

/* An explanation that leaves no more than this of the error, and no more than a fifth of it, is told even when it does
 * not fit: the rest can be the machine's own. */
#define TRAMMEL_EXPLAIN_REST 0.005

/* One wrong entry that would explain how far an axis is off. */
typedef struct
{
  char letter;
  int part;               /* 0 motor, 1…n stages, n+1 output; −1: not in the train but the value in force */
  char *change;           /* in words, translated: "stage 1: driver 12 → 13" */
  double counts_per_unit; /* nominal of the changed train */
  gboolean fits;          /* inside the 95 % interval of the corrected counts per unit */
  TrammelTrain *train;    /* with the entry put right */
} TrammelExplanation;

void trammel_explanation_free (TrammelExplanation *explanation);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelExplanation, trammel_explanation_free)

/**
 * trammel_machine_explain:
 *
 * For every axis whose scale error is significant and at least TRAMMEL_EXPLAIN_FROM: which single wrong entry in its
 * train would explain it. Corrected counts per unit are what really moves one unit, whatever was in force while the
 * readings were taken; so an entry explains when the train with that entry put right has a nominal inside the 95 %
 * interval of the corrected value. Where a value is in force that is not the nominal, the nominal itself is tried too.
 *
 * Slips: two gears swapped; a tooth count one to four off; another usual number of starts, full steps, pulley teeth or
 * falls; microsteps another power of two; metric for inch sizes, a neighboring standard size, a number in the wrong
 * unit; the lead for the pitch, the module for the pitch, radius or circumference for the diameter; the members of a
 * planetary set in another arrangement; a gearbox ratio turned over or rounded; counts of an encoder for its lines; a
 * stage too many, or once where there are two.
 *
 * Order: by axis as in the machine; those that fit before those that come near; then the most plausible first: rising
 * rarity + z²/2, where rarity is −ln of how often such a slip is made (common practice, no source; a tooth count is
 * rarer the further off it is) and z the distance from the corrected value in its standard uncertainties: the order of
 * the posterior probabilities by Bayes' theorem with normal readings. For those that only come near, |ln (nominal /
 * corrected)|/0.001 stands in for z²/2.
 *
 * Returns: (transfer full): of TrammelExplanation, freed with the array; empty when there is nothing to explain.
 */
GPtrArray *trammel_machine_explain (const TrammelMachine *machine, const TrammelAdjustment *adjustment);

/**
 * trammel_machine_put_right:
 * @adjustment, @fitted_readings, @time: as for trammel_machine_adopt()
 *
 * The machine with the entry put right. The readings were taken with the old counts per unit, so this is an adoption:
 * it is logged, and the axis's measured rows go into the log entry. In force afterwards is the nominal of the changed
 * train, which is exact, when the explanation fits; when it only comes near, the corrected value that the readings
 * found. A value that was in force before is replaced: it made up for the wrong entry.
 *
 * Returns: (transfer full) (nullable): errors as trammel_machine_adopt().
 */
TrammelMachine *trammel_machine_put_right (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                           const TrammelReadings *fitted_readings,
                                           const TrammelExplanation *explanation, const char *time, GError **error);

G_END_DECLS
