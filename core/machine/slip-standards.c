/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/slips-private.h"

/* clang-format off */
#define MM(size_) { size_, #size_ " mm" }
#define TPI(number_) { 25.4 / number_, #number_ " tpi" }
#define DP(number_) { 25.4 / number_, #number_ " DP" }

static const TrammelStandardSize metric_threads[] = {
  MM (0.25), MM (0.3), MM (0.35), MM (0.4), MM (0.45), MM (0.5), MM (0.6), MM (0.7), MM (0.75), MM (0.8), MM (1),
  MM (1.25), MM (1.5), MM (1.75), MM (2), MM (2.5), MM (3), MM (3.5), MM (4), MM (4.5), MM (5), MM (5.5), MM (6),
  MM (7), MM (8), MM (9), MM (10), MM (12), MM (14), MM (16),
};

static const TrammelStandardSize inch_threads[] = {
  TPI (80), TPI (72), TPI (64), TPI (56), TPI (48), TPI (44), TPI (40), TPI (36), TPI (32), TPI (28), TPI (27),
  TPI (24), TPI (20), TPI (18), TPI (16), TPI (14), TPI (13), TPI (12), TPI (11), TPI (10), TPI (9), TPI (8), TPI (7),
  TPI (6), TPI (5), TPI (4.5), TPI (4), TPI (3), TPI (2.5), TPI (2),
};

static const TrammelStandardSize metric_belts[] = {
  MM (2), MM (2.5), MM (3), MM (5), MM (8), MM (10), MM (14), MM (20),
};

/* MXL, XL, L, H */
static const TrammelStandardSize inch_belts[] = { MM (2.032), MM (5.08), MM (9.525), MM (12.7) };

static const TrammelStandardSize metric_modules[] = {
  MM (0.2), MM (0.25), MM (0.3), MM (0.4), MM (0.5), MM (0.6), MM (0.8), MM (1), MM (1.25), MM (1.5), MM (2),
  MM (2.5), MM (3), MM (4), MM (5), MM (6), MM (8), MM (10),
};

static const TrammelStandardSize inch_modules[] = {
  DP (120), DP (96), DP (80), DP (72), DP (64), DP (48), DP (40), DP (32), DP (24), DP (20), DP (16), DP (14), DP (12),
  DP (10), DP (8), DP (6), DP (5), DP (4), DP (3),
};

#define SIZES(metric_, inch_) { metric_, G_N_ELEMENTS (metric_), inch_, G_N_ELEMENTS (inch_) }
/* clang-format on */

const TrammelStandardSizes trammel_standard_threads = SIZES (metric_threads, inch_threads);
const TrammelStandardSizes trammel_standard_belts = SIZES (metric_belts, inch_belts);
const TrammelStandardSizes trammel_standard_modules = SIZES (metric_modules, inch_modules);
