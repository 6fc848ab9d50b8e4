/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A place on an axis of time. */
typedef struct
{
  double day; /* since 1970-01-01, UTC */
  char *text; /* as ISO 8601 has it, as far as it tells one from the next: "2026", "2026-03", "2026-03-01", "12:00" */
} TrammelTimeTick;

/**
 * trammel_time_ticks:
 * @low, @high: days since 1970-01-01 UTC, low < high
 * @most: at least 2
 *
 * Returns: (transfer full): GArray of TrammelTimeTick: whole hours, days, months or years in even steps, as many as
 * there can be up to @most; where they are hours, midnight has its date. Empty beyond the years 1 to 9999.
 */
GArray *trammel_time_ticks (double low, double high, int most);

G_END_DECLS
