/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/stage-kind.h"

#include <math.h>

static const char *const hands[] = { "right", "left", NULL };
static const char *const hand_labels[] = { N_ ("right"), N_ ("left"), NULL };

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "starts", .label = N_ ("Starts"),
    .meaning = N_ ("threads of the worm: how many teeth one turn of it moves the wheel"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = TRAMMEL_PART_MOST_TEETH, .initial = "1", .required = TRUE },
  TRAMMEL_STAGE_TEETH ("wheel", N_ ("Wheel"), N_ ("teeth of the worm wheel"), "40"),
  { .key = "hand", .label = N_ ("Hand"),
    .meaning = N_ ("which way the worm's thread winds; a right-hand one goes away when turned clockwise"),
    .type = TRAMMEL_FIELD_CHOICE, .choices = hands, .choice_labels = hand_labels,
    .initial = "right", .required = TRUE },
  TRAMMEL_STAGE_REVERSE,
  TRAMMEL_STAGE_MODULE,
  TRAMMEL_PART_LENGTH ("diameter", N_ ("Worm diameter"),
                       N_ ("pitch diameter of the worm; with the friction it gives the efficiency"), TRAMMEL_GROUP_LOAD),
  TRAMMEL_PART_COEFFICIENT ("friction", N_ ("Friction"),
                            N_ ("coefficient between worm and wheel: 0.05 well oiled, 0.1 greased, 0.2 dry plastic")),
  TRAMMEL_PART_FACE (N_ ("how wide the teeth are along the shaft; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_PART_PAIR_INERTIAS,
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  const gboolean left = g_str_equal (trammel_record_choice (stage, "hand"), "left");
  const gboolean negative = left != trammel_record_flag (stage, "reverse");
  return trammel_stage_teeth_ratio (stage, "starts", "wheel", negative, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  return trammel_words_of_pair (stage, _ ("worm"), "starts", "wheel");
}

static TrammelEfficiency
efficiency (const TrammelRecord *stage)
{
  const double starts = trammel_record_value (stage, "starts"), module = trammel_record_value (stage, "module");
  const double thickness = trammel_record_value (stage, "diameter") / module;
  return trammel_worm_efficiency (starts / (isnan (thickness) ? TRAMMEL_WORM_USUAL_THICKNESS : thickness),
                                  trammel_record_value_or (stage, "friction", TRAMMEL_WORM_USUAL_FRICTION));
}

static double
lash_diameter (const TrammelRecord *stage)
{
  return trammel_stage_pitch_diameter (stage, "wheel");
}

static void
disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  *outer = driven ? trammel_stage_pitch_diameter (stage, "wheel") : trammel_record_value (stage, "diameter");
}

const TrammelStageKind trammel_stage_worm = {
  .record = { .type = "worm", .label = N_ ("Worm and wheel"), TRAMMEL_STAGE_FIELDS (fields) },
  .ratio = ratio,
  .words = words,
  .efficiency = efficiency,
  .lash_diameter = lash_diameter,
  .teeth_in = "starts",
  .disc = disc,
};
