/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* What is not entered, told by the field that it would go into. */
typedef struct
{
  char *place; /* below the axis, as in the file: "load.drag", "stages[1].module" */
  const TrammelField *field;
  char *taken; /* what was taken in its place, as the field reads it; NULL: nothing, so that numbers are left out */
} TrammelNeed;

/* A list of TrammelNeed without repetition, which frees them; (transfer full). */
GPtrArray *trammel_needs_new (void);

/* @part: "load", "motor", "stages[1]", "output". A missing value is stronger than one that was taken. */
void trammel_needs_add (GPtrArray *needs, const char *part, const TrammelRecordKind *kind, const char *key,
                        const char *taken);
/* The same with a number as what was taken. */
void trammel_needs_add_number (GPtrArray *needs, const char *part, const TrammelRecordKind *kind, const char *key,
                               double taken);

/* Adds what @more has. */
void trammel_needs_add_all (GPtrArray *needs, const GPtrArray *more);

/* "stages[1]". (transfer full) */
char *trammel_needs_stage_place (gsize i);

G_END_DECLS
