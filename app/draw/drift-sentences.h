/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/drift.h"

G_BEGIN_DECLS

/* What the log says over time, for people: translated, numbers in the locale, lengths in the machine's display unit,
 * “±” the half-width of a 95 % interval, dates as ISO 8601 has them (UTC). Where nothing else is said (transfer full).
 */

/* What is followed: "Corrected value", "Lash", "Scatter s of homing". Borrowed. */
const char *trammel_sentences_drift_quantity (TrammelDriftQuantity quantity);

/* The unit of its values: "steps/mm", "mm", "°". */
char *trammel_sentences_drift_unit (const TrammelMachine *machine, char letter, TrammelDriftQuantity quantity);
/* How many of that unit one of the core is. */
double trammel_sentences_drift_factor (const TrammelMachine *machine, char letter, TrammelDriftQuantity quantity);

/* "80.337 ± 0.025": a value, without its unit. */
char *trammel_sentences_drift_value (const TrammelMachine *machine, char letter, TrammelDriftQuantity quantity,
                                     const TrammelDriftCheck *check);

/* The control limits, the trend, and when to check again; nothing without a check. Strings, freed with the array. */
GPtrArray *trammel_sentences_drift (const TrammelMachine *machine, const TrammelDrift *drift,
                                    TrammelDriftQuantity quantity);

/* Why there is no check of the corrected value; NULL where there is one. */
char *trammel_sentences_drift_unchecked (const TrammelDrift *drift);

/* That checks are left out, and why; NULL where none are. Borrowed. */
const char *trammel_sentences_drift_left_out (const TrammelDrift *drift);

G_END_DECLS
