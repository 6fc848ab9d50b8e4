/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* Entries of the log in words; every result is (transfer full). */

/* Local date and time. */
char *trammel_log_words_time (const TrammelLogEntry *entry);
/* A line for each axis: "X  600 → 602.53 ± 0.19 per mm". */
char *trammel_log_words_changes (const TrammelMachine *machine, const TrammelLogEntry *entry);
/* "12 readings, 1 set aside". */
char *trammel_log_words_readings (const TrammelLogEntry *entry);
/* How the fit was made and how well it agrees; then its readings, a line each. */
char *trammel_log_words_details (const TrammelMachine *machine, const TrammelLogEntry *entry);

G_END_DECLS
