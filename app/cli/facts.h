/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/bench.h"
#include "machine/machine.h"

G_BEGIN_DECLS

/* Of one axis: what its parts and its load tell, and the play that its readings found. */
typedef struct
{
  const TrammelAxis *axis; /* of the machine */
  const TrammelUnit *unit; /* in which it shows lengths */
  TrammelBench *bench;
  double lash; /* found; NaN */
  double lash_u;
  double lash_half_width; /* of 95 % */
} CliAxisFacts;

/* @axes of CliAxisFacts. One JSON object to standard output. */
void cli_facts_print_json (const GArray *axes);
void cli_facts_print_words (const GArray *axes);

G_END_DECLS
