/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"

G_BEGIN_DECLS

/* How many different gears a bin may hold, and how many different modules among them. */
#define TRAMMEL_GEARS_MOST_SIZES 128
#define TRAMMEL_GEARS_MOST_MODULES 16

/**
 * TrammelGearSize:
 * @teeth: 1…10000
 * @count: how many of it there are, 1…1000
 * @module: mm, exact; 1 mm where none was said
 *
 * Gears of one size. A plain value.
 */
typedef struct
{
  int teeth;
  int count;
  TrammelExact module;
} TrammelGearSize;

/**
 * TrammelGears:
 *
 * A bin of gears: what is at hand to build a train of. Sorted by module, then teeth, each size once. Immutable and
 * reference-counted; safe to share between threads.
 */
typedef struct _TrammelGears TrammelGears;

/**
 * trammel_gears_parse:
 * @text: UTF-8: sizes between commas, semicolons, blanks or lines: `12, 16, 20, 24x2, 36, 40`. A size is its teeth,
 *   perhaps how many of it there are (`24x2`, `24×2`, `24*2`) and its module (`24@0.5`, `24x2@32DP`; mm unless a unit
 *   is written; 1 mm where none is). A size that stands twice is added up.
 *
 * Returns: (transfer full) (nullable): the bin.
 * Errors: TRAMMEL_ERROR_PARSE (what was found; nothing at all), _RANGE, _OVERFLOW, _TOO_LARGE (more sizes or modules
 * than the bin holds).
 */
TrammelGears *trammel_gears_parse (const char *text, GError **error);
TrammelGears *trammel_gears_ref (const TrammelGears *gears);
void trammel_gears_unref (TrammelGears *gears);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelGears, trammel_gears_unref)

/* (transfer full): the bin as trammel_gears_parse() reads it, C locale: `12, 16, 24x2, 20@0.5`. */
char *trammel_gears_to_text (const TrammelGears *gears);

gsize trammel_gears_n_sizes (const TrammelGears *gears);
/* Borrowed, while @gears lives; in order. */
const TrammelGearSize *trammel_gears_size (const TrammelGears *gears, gsize i);

G_END_DECLS
