/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* Inside of core/drive: a field for people, with the decimal sign of the locale, "?" where it is not set.
 * (transfer full) */
char *trammel_words_of_field (const TrammelRecord *record, const char *key);

/* "spur 12:36": @name (translated) and two fields. (transfer full) */
char *trammel_words_of_pair (const TrammelRecord *record, const char *name, const char *first, const char *second);

/* A whole part in words, translated: "stepper 200 × 16", "spur 12:36", "screw 2 mm × 4 starts". (transfer full) */
char *trammel_motor_to_words (const TrammelRecord *motor);
char *trammel_stage_to_words (const TrammelRecord *stage);
char *trammel_output_to_words (const TrammelRecord *output);

G_END_DECLS
