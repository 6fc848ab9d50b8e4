/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/output.h"
#include "drive/part-fields.h"
#include "drive/words.h"

#include <glib/gi18n-lib.h>

G_BEGIN_DECLS

/* Inside of core/drive: what a kind of output is, beside its fields. The table in output.c lists them in the order
 * offered to people. */
typedef struct
{
  TrammelRecordKind record;
  gboolean rotary;
  /* Signed travel per turn, of an output that has passed its check. */
  gboolean (*travel_per_turn) (const TrammelRecord *output, TrammelExact *out, GError **error);
  /* (transfer full): in words, translated: "screw 2 mm × 4 starts". */
  char *(*words) (const TrammelRecord *output);
  /* Share of the power that gets through: common practice, no source. */
  double usual_efficiency;
  /* Both ways, where they differ: given, or as it follows from the parts. NULL: given, or the usual one, both ways. */
  TrammelEfficiency (*efficiency) (const TrammelRecord *output);
  /* Diameter (mm) and length of the bar that turns with the shaft; NULL: no such estimate. */
  void (*bar) (const TrammelRecord *output, double *diameter, double *length);
  /* Key of the field that the bar still wants; NULL: its inertia has to be told. */
  const char *(*bar_wants) (const TrammelRecord *output);
  /* What turns with the last shaft, N_(): "screw". */
  const char *(*turning_part) (const TrammelRecord *output);
  /* Travel per tooth; NULL: there are no teeth. */
  double (*travel_per_tooth) (const TrammelRecord *output);
} TrammelOutputKind;

extern const TrammelOutputKind trammel_output_screw;
extern const TrammelOutputKind trammel_output_rack;
extern const TrammelOutputKind trammel_output_worm_rack;
extern const TrammelOutputKind trammel_output_belt;
extern const TrammelOutputKind trammel_output_roller;
extern const TrammelOutputKind trammel_output_table;

/* clang-format off */
/* What any output may carry; the last entries of its fields. */
#define TRAMMEL_OUTPUT_COMMON_FIELDS(inertia_meaning_)                                                                \
  TRAMMEL_PART_INERTIA ("inertia", N_ ("Inertia"), inertia_meaning_),                                                 \
  { .key = "efficiency", .table = "efficiency", .label = N_ ("Efficiency"),                                           \
    .meaning = N_ ("share of the power that gets through, 0.97 or 97 %"),                                             \
    .type = TRAMMEL_FIELD_EXACT, .low = 0, .above_low = TRUE, .high = 1, .group = TRAMMEL_GROUP_LOAD },               \
  { .key = "lash", .label = N_ ("Lash"),                                                                              \
    .meaning = N_ ("play on reversal: a length at the carriage, or an angle at the shaft"),                           \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LASH, .low = 0, .high = 1000,                      \
    .group = TRAMMEL_GROUP_LOAD }
/* clang-format on */

/* The bar of a wheel: travel per turn over π, as long as its face is wide; and what it wants. */
void trammel_output_wheel_bar (const TrammelRecord *output, double *diameter, double *length);
const char *trammel_output_wheel_bar_wants (const TrammelRecord *output);

#define TRAMMEL_OUTPUT_FIELDS(fields_) .fields = (fields_), .n_fields = G_N_ELEMENTS (fields_)

G_END_DECLS
