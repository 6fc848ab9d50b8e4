/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"
#include "machine/homing-report.h"

G_BEGIN_DECLS

/* What homing told, for people: translated, numbers in the locale, as many decimals as the scatter is worth. @unit is
 * that of a length; NULL for an axis that turns: degrees. Arrays hold strings, freed with them; all (transfer full). */

/* A height of a first layer to begin with: 0.2 mm. Common practice, no source. */
#define TRAMMEL_HOMING_USUAL_LAYER 0.2

/* "fast -", or "(no set)": the name of a group. Borrowed. */
const char *trammel_sentences_homing_group (const TrammelHomingSet *set);

/* "1.4063 mm": a place or a scatter, to the decimals that @s is worth. */
char *trammel_sentences_homing_place (double value, double s, const TrammelUnit *unit);

/* Figures, drift, outliers, and where further homes will be; of a set that cannot be analysed, why. */
GPtrArray *trammel_sentences_homing_set (const TrammelHomingSet *set, const TrammelUnit *unit);

/* Of the two groups: which scatters less, and which ends farther. Nothing where they are not compared. */
GPtrArray *trammel_sentences_homing_comparison (const TrammelHomingReport *report, const TrammelUnit *unit);

/* What it means for a first layer of @layer mm. @unit not NULL in these. */
char *trammel_sentences_homing_layer (const TrammelHoming *homing, double layer, const TrammelUnit *unit);

/* What approaching at @speed (mm/s) and looking every @delay (s) cannot better, and what to do where it shows. */
GPtrArray *trammel_sentences_homing_floor (const TrammelHoming *homing, double speed, double delay,
                                           const TrammelUnit *unit);

/* "From the switch to the bed: 1.42 ± 0.02 mm (95 %)." */
char *trammel_sentences_homing_offset (const TrammelHomingOffset *offset, const TrammelUnit *unit);

G_END_DECLS
