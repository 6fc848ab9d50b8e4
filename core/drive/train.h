/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

#define TRAMMEL_TRAIN_MAX_STAGES 64

/**
 * TrammelTrain:
 *
 * Motor, then stages, then output, in the order the motion flows. Immutable and reference-counted: an edit makes a
 * new train that shares what did not change.
 */
typedef struct _TrammelTrain TrammelTrain;

/* @motor and @output are borrowed (a reference is taken); @reverse: the motor is mounted or wired the other way. */
TrammelTrain *trammel_train_new (const TrammelRecord *motor, const TrammelRecord *output, gboolean reverse);
TrammelTrain *trammel_train_ref (const TrammelTrain *train);
void trammel_train_unref (TrammelTrain *train);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelTrain, trammel_train_unref)

const TrammelRecord *trammel_train_motor (const TrammelTrain *train);
const TrammelRecord *trammel_train_output (const TrammelTrain *train);
gsize trammel_train_n_stages (const TrammelTrain *train);
const TrammelRecord *trammel_train_stage (const TrammelTrain *train, gsize i);
gboolean trammel_train_reverse (const TrammelTrain *train);
gboolean trammel_train_equal (const TrammelTrain *a, const TrammelTrain *b);

/* Edits: (transfer full). Indices must be in range; inserting at n_stages appends; at TRAMMEL_TRAIN_MAX_STAGES
 * inserting returns NULL with TRAMMEL_ERROR_TOO_LARGE. */
TrammelTrain *trammel_train_with_motor (const TrammelTrain *train, const TrammelRecord *motor);
TrammelTrain *trammel_train_with_output (const TrammelTrain *train, const TrammelRecord *output);
TrammelTrain *trammel_train_with_reverse (const TrammelTrain *train, gboolean reverse);
TrammelTrain *trammel_train_with_stage (const TrammelTrain *train, gsize i, const TrammelRecord *stage);
TrammelTrain *trammel_train_with_stage_inserted (const TrammelTrain *train, gsize i, const TrammelRecord *stage,
                                                 GError **error);
TrammelTrain *trammel_train_without_stage (const TrammelTrain *train, gsize i);
TrammelTrain *trammel_train_with_stage_moved (const TrammelTrain *train, gsize from, gsize to);

/**
 * trammel_train_check:
 *
 * Every part passes its own check and the ratio is computable. Errors are prefixed with the part in the manner of the
 * file: "motor.full_steps: …", "stages[1].driver: …", "output.pitch: …".
 */
gboolean trammel_train_check (const TrammelTrain *train, GError **error);

/* In words, one line, translated: "stepper 200 × 16 → spur 12:36 → screw 2 mm × 4 starts". (transfer full) */
char *trammel_train_to_words (const TrammelTrain *train);

/* Which of its limits stops the axis first. */
typedef enum
{
  TRAMMEL_LIMIT_NONE,        /* none is given: top speed unknown */
  TRAMMEL_LIMIT_MOTOR_SPEED, /* the motor's max_speed */
  TRAMMEL_LIMIT_COUNT_RATE,  /* the motor's max_count_rate */
  TRAMMEL_LIMIT_WHIRL,       /* the whirling of a lead screw (drive/slender.h) */
  TRAMMEL_LIMIT_TORQUE,      /* what the motor can turn with at that speed; hangs on the load, see drive/bench.h */
} TrammelLimit;

/* A shaft: 0 is the motor's, i is the output of stage i−1; the last one enters the output. */
typedef struct
{
  TrammelExact turns_per_motor_turn; /* signed */
  double turns_per_unit;             /* signed, turns per mm (degree) of positive travel */
  double travel_per_turn;            /* signed, mm (degrees) per turn of this shaft */
} TrammelShaft;

/**
 * TrammelFacts:
 *
 * All that follows from the parts alone. Lengths in mm, or degrees where the output is rotary; speeds per second.
 */
typedef struct
{
  gboolean rotary;
  TrammelExact counts_per_unit; /* > 0 */
  double travel_per_count;      /* > 0 */
  double travel_per_full_step;  /* > 0; NaN for a motor without full steps */
  double travel_per_motor_turn; /* > 0 */
  int direction;                /* +1: positive counts move towards positive travel; −1 */
  double top_speed;             /* NaN when unknown */
  double top_speed_motor;       /* from max_speed; NaN */
  double top_speed_rate;        /* from max_count_rate; NaN */
  double whirl_speed;           /* of the carriage, where the lead screw whirls; NaN */
  double top_speed_whirl;       /* TRAMMEL_SLENDER_MARGIN of that */
  TrammelLimit limit;
  gsize n_shafts; /* n_stages + 1 */
  TrammelShaft *shafts;
} TrammelFacts;

/**
 * trammel_train_facts:
 *
 * Returns: (transfer full) (nullable): the facts, a pure function of @train. Errors as trammel_train_check().
 * Travel per count = (1/counts per motor turn) · Π(stage ratio) · travel per output turn.
 */
TrammelFacts *trammel_train_facts (const TrammelTrain *train, GError **error);
void trammel_facts_free (TrammelFacts *facts);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelFacts, trammel_facts_free)

G_END_DECLS
