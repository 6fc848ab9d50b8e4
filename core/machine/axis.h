/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/train.h"

G_BEGIN_DECLS

typedef enum
{
  TRAMMEL_AXIS_LINEAR, /* mm */
  TRAMMEL_AXIS_ROTARY, /* degrees; output `table` */
  TRAMMEL_AXIS_FEED,   /* mm of filament, wire or paste plunger */
} TrammelAxisKind;

/* Immutable and reference-counted. */
typedef struct _TrammelAxis TrammelAxis;

/* A new axis: letter A…Z; stepper 200×16, no stage, a screw 2 mm × 4 (linear), a table (rotary), a roller 8 mm (feed).
 */
TrammelAxis *trammel_axis_new (char letter, TrammelAxisKind kind);
TrammelAxis *trammel_axis_ref (const TrammelAxis *axis);
void trammel_axis_unref (TrammelAxis *axis);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelAxis, trammel_axis_unref)
gboolean trammel_axis_equal (const TrammelAxis *a, const TrammelAxis *b);

char trammel_axis_letter (const TrammelAxis *axis);
TrammelAxisKind trammel_axis_kind (const TrammelAxis *axis);
const char *trammel_axis_kind_key (TrammelAxisKind kind);   /* "linear", "rotary", "feed" */
const char *trammel_axis_kind_label (TrammelAxisKind kind); /* translated */
/* Travel as typed (length, or angle for rotary); FALSE when not given. */
gboolean trammel_axis_travel (const TrammelAxis *axis, TrammelQuantity *out);
/* mm or degrees; NaN when not given. */
double trammel_axis_travel_value (const TrammelAxis *axis);
const TrammelTrain *trammel_axis_train (const TrammelAxis *axis);
/* What it has to move (drive/load.h); NULL when nothing was said of it. Borrowed. */
const TrammelRecord *trammel_axis_load (const TrammelAxis *axis);
const char *trammel_axis_extra (const TrammelAxis *axis);

/* Counts per mm (degree) in force: TRUE and a value the controller was given, with u; FALSE when the exact nominal is
 * in force. Arguments may be NULL. */
gboolean trammel_axis_set_in_force (const TrammelAxis *axis, double *value, double *u);
/* What is in force, whichever it is, as a number. Errors as trammel_train_facts() when the nominal is needed. */
gboolean trammel_axis_in_force (const TrammelAxis *axis, double *value, double *u, GError **error);

/* Edits, (transfer full). with_kind swaps the output for one that fits the kind when it must. */
TrammelAxis *trammel_axis_with_letter (const TrammelAxis *axis, char letter);
TrammelAxis *trammel_axis_with_kind (const TrammelAxis *axis, TrammelAxisKind kind);
/* Blank @text: not given. TRAMMEL_ERROR_PARSE, _RANGE. */
TrammelAxis *trammel_axis_with_travel (const TrammelAxis *axis, const char *text, const TrammelUnit *assumed,
                                       GError **error);
TrammelAxis *trammel_axis_with_train (const TrammelAxis *axis, const TrammelTrain *train);
/* @load: of trammel_load_kind() for the axis's kind; NULL: nothing is said of it. */
TrammelAxis *trammel_axis_with_load (const TrammelAxis *axis, const TrammelRecord *load);
/* @value > 0, @u ≥ 0 finite; NaN value: the nominal is in force. */
TrammelAxis *trammel_axis_with_in_force (const TrammelAxis *axis, double value, double u);
TrammelAxis *trammel_axis_with_extra (const TrammelAxis *axis, const char *extra);

/* Train works, its output fits the kind. Errors as trammel_train_check(). */
gboolean trammel_axis_check (const TrammelAxis *axis, GError **error);

/* The unit its travel is told in: "mm" or "deg". */
const char *trammel_axis_unit (const TrammelAxis *axis);

G_END_DECLS
