/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/axis-cycles.h"

G_BEGIN_DECLS

/* What the cycles of an axis say, for people: which part is to blame, what looks alike at these targets, what cannot be
 * seen and at which targets it could. @unit: that of lengths, NULL along a rotary axis (degrees). (transfer full):
 * GPtrArray of strings that it frees. */
GPtrArray *trammel_sentences_cycles (const TrammelAxisCycles *cycles, const TrammelUnit *unit);

G_END_DECLS
