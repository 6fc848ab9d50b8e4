/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/finder.h"

G_BEGIN_DECLS

/* What the finder found, in words for people: translated, numbers in the locale. Each is (transfer full). */

/* "12:36 · 16:40", driver before driven, from the motor on; an idler in brackets between them, "12:(20):36"; the module
 * behind where it is not 1 mm: "12:36 @0.5". */
char *trammel_finder_words_train (const TrammelFinderTrain *train);

/* "exact", "+12.3 ppm", "−0.0125 %": ppm below a thousand of them. */
char *trammel_finder_words_error (double error);

/* What that means: "Exactly what is wanted.", "Moves 0.0125 mm too far in every 100 mm.". */
char *trammel_finder_words_meaning (const TrammelFinderTrain *train);

/* "turns the same way", "turns the other way". */
char *trammel_finder_words_direction (const TrammelFinderTrain *train);

G_END_DECLS
