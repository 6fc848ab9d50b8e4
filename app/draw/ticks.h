/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The places of an axis that carry a number: first, first + step, … up to the end of the range. */
typedef struct
{
  double first, step;
  int n;
  int decimals; /* that tell each from the next */
} TrammelTicks;

/**
 * trammel_ticks_make:
 * @low, @high: the range, finite; low < high
 * @most: at least 2
 *
 * Returns: multiples of a step of 1, 2 or 5 times a power of ten, as many as there can be up to @most.
 */
TrammelTicks trammel_ticks_make (double low, double high, int most);

/* The @i-th; exactly 0 where it should be. */
double trammel_ticks_at (TrammelTicks ticks, int i);

/* The greatest of 1, 2, 5, 10, 20, … (and 0.5, 0.2, …) that is not above @value > 0. */
double trammel_ticks_round_down (double value);

G_END_DECLS
