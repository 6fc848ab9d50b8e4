/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/explanations.h"

G_BEGIN_DECLS

/* "Stage 1: driver 12 → 13 would make it 86.667 steps/mm, as measured." Where it only comes near: "… would make it
 * 86.667 steps/mm, and leave 0.21 %." Translated. (transfer full) */
char *trammel_sentences_explanation (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                     const TrammelExplanation *explanation);

G_END_DECLS
