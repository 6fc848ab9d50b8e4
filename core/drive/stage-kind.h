/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/part-fields.h"
#include "drive/stage.h"
#include "drive/turning-parts-private.h"
#include "drive/words.h"

#include <glib/gi18n-lib.h>

G_BEGIN_DECLS

/* Inside of core/drive: what a kind of stage is, beside its fields. One file per kind holds one of these; the table in
 * stage.c lists them in the order offered to people. */
typedef struct
{
  TrammelRecordKind record;
  /* Signed turns out per turn in, of a stage that has passed its check. */
  gboolean (*ratio) (const TrammelRecord *stage, TrammelExact *out, GError **error);
  /* (transfer full): in words, translated: "spur 12:36". */
  char *(*words) (const TrammelRecord *stage);
  /* Share of the power that gets through one mesh or wrap: common practice, no source. */
  double usual_efficiency;
  /* Both ways, where it follows from the parts and is not given; NULL: the usual one both ways. */
  TrammelEfficiency (*efficiency) (const TrammelRecord *stage);
  /* Diameter (mm) of the circle at which a length of lash lets the output shaft turn; NULL: a length means nothing. */
  double (*lash_diameter) (const TrammelRecord *stage);
  /* Key of the teeth that pass when its input shaft turns once; NULL: there are none. */
  const char *teeth_in;
  /* Adds what turns in it beside its two shafts (turning-parts-private.h); NULL: nothing. */
  void (*add_turning) (const TrammelRecord *stage, const TrammelStageTurning *turning, GArray *parts);
  /* Outer and inner diameter (mm) of the disc that the driver, or the driven, is about; NULL: no such estimate. */
  void (*disc) (const TrammelRecord *stage, gboolean driven, double *outer, double *inner);
} TrammelStageKind;

extern const TrammelStageKind trammel_stage_spur;
extern const TrammelStageKind trammel_stage_internal;
extern const TrammelStageKind trammel_stage_bevel;
extern const TrammelStageKind trammel_stage_worm;
extern const TrammelStageKind trammel_stage_belt;
extern const TrammelStageKind trammel_stage_chain;
extern const TrammelStageKind trammel_stage_planetary;
extern const TrammelStageKind trammel_stage_gearbox;
extern const TrammelStageKind trammel_stage_coupling;

/* @above/@below of two fields that hold whole numbers, negative when @negative. */
gboolean trammel_stage_teeth_ratio (const TrammelRecord *stage, const char *above, const char *below, gboolean negative,
                                    TrammelExact *out, GError **error);

/* Module × teeth of @key, mm; NaN when one is not set. */
double trammel_stage_pitch_diameter (const TrammelRecord *stage, const char *key);
/* Pitch × teeth / π of @key, mm. */
double trammel_stage_pulley_diameter (const TrammelRecord *stage, const char *key);
/* A pair of module gears, `driver` and `driven`, both with their teeth outside. */
double trammel_stage_gear_lash_diameter (const TrammelRecord *stage);
void trammel_stage_gear_disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner);
/* A pair of pulleys. */
double trammel_stage_pulley_lash_diameter (const TrammelRecord *stage);
void trammel_stage_pulley_disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner);

/* A ring is about as thick behind its teeth as they are high: 3 modules from its pitch circle to its outside. Common
 * practice, no source. */
#define TRAMMEL_RING_WALL 3

/* clang-format off */
#define TRAMMEL_STAGE_TEETH(key_, label_, meaning_, initial_)                                                         \
  { .key = key_, .label = label_, .meaning = meaning_, .type = TRAMMEL_FIELD_INTEGER,                                 \
    .low = 1, .high = TRAMMEL_PART_MOST_TEETH, .initial = initial_, .required = TRUE }

#define TRAMMEL_STAGE_MODULE                                                                                          \
  { .key = "module", .table = "module", .label = N_ ("Module"),                                                       \
    .meaning = N_ ("pitch diameter divided by teeth; sizes the drawing and the center distance, not the ratio"),      \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_MODULE,                                            \
    .low = 0, .above_low = TRUE, .high = TRAMMEL_GEAR_MOST_MODULE, .initial = "1 mm" }

#define TRAMMEL_STAGE_REVERSE                                                                                         \
  { .key = "reverse", .label = N_ ("Reverse"),                                                                        \
    .meaning = N_ ("the output shaft turns the other way than it would in the usual arrangement"),                    \
    .type = TRAMMEL_FIELD_FLAG }

/* What any stage may carry; the last entries of its fields. */
#define TRAMMEL_STAGE_COMMON_FIELDS                                                                                   \
  { .key = "lash", .label = N_ ("Lash"),                                                                              \
    .meaning = N_ ("play on reversal: a length at the pitch circle, or an angle at the output shaft"),                \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LASH, .low = 0, .high = 1000 },                    \
  { .key = "efficiency", .table = "efficiency", .label = N_ ("Efficiency"),                                           \
    .meaning = N_ ("share of the power that gets through, 0.97 or 97 %"),                                             \
    .type = TRAMMEL_FIELD_EXACT, .low = 0, .above_low = TRUE, .high = 1 },                                            \
  { .key = "note", .label = N_ ("Note"),                                                                              \
    .meaning = N_ ("anything worth remembering: where the part comes from, what it was salvaged from"),               \
    .type = TRAMMEL_FIELD_TEXT }
/* clang-format on */

#define TRAMMEL_STAGE_FIELDS(fields_) .fields = (fields_), .n_fields = G_N_ELEMENTS (fields_)

G_END_DECLS
