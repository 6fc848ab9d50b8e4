/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/bead-task.h"

G_BEGIN_DECLS

/* A bead and its flow for people: translated, numbers in the locale, lengths in the unit wanted, “±” the half-width of
 * a 95 % interval. */

/* One of the quantities that can be given, for forms and options. */
typedef struct
{
  const char *key;     /* "width" */
  const char *label;   /* N_(): "Bead width" */
  const char *meaning; /* N_(): "Width of the bead, all of it" */
  TrammelDimension dimension;
} TrammelBeadField;

/* TRAMMEL_BEAD_N_GIVEN of them, in the order of TrammelBeadGiven. */
const TrammelBeadField *trammel_bead_fields (void);

typedef struct
{
  const char *label; /* translated: "Section" */
  char *text;        /* "0.0814 ± 0.0053 mm²" */
} TrammelBeadLine;

/* Width, height, section, speed, flow, and the feed of filament where it is known, of a bead that is solved. (transfer
 * full): GArray of TrammelBeadLine */
GArray *trammel_sentences_bead_lines (const TrammelBead *bead, const TrammelUnit *unit);

/* What follows from what was given: "This flow lays a bead 0.450 mm wide at 59.1 ± 3.3 mm/s." and its kin. (transfer
 * full) */
char *trammel_sentences_bead (const TrammelBead *bead, const TrammelUnit *unit);

/* "What is found stands with a 95 % interval; what is given, with a standard uncertainty."; NULL where nothing given is
 * uncertain. */
const char *trammel_sentences_bead_note (const TrammelBead *bead);

/* What can hurt where flow is tried and measured. */
const char *trammel_sentences_bead_caution (void);

G_END_DECLS
