/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/gear-fields.h"
#include "drive/stage-kind.h"

static const char *const members[] = { "driven", "driver", NULL };
static const char *const member_labels[] = { N_ ("driven"), N_ ("driver"), NULL };

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_STAGE_TEETH ("driver", N_ ("Driver"), N_ ("teeth of the gear on the motor's side"), "15"),
  TRAMMEL_STAGE_TEETH ("driven", N_ ("Driven"), N_ ("teeth of the gear that is turned"), "60"),
  { .key = "ring", .label = N_ ("Ring"), .meaning = N_ ("which of the two is the ring, with its teeth inside"),
    .type = TRAMMEL_FIELD_CHOICE, .choices = members, .choice_labels = member_labels,
    .initial = "driven", .required = TRUE },
  TRAMMEL_STAGE_MODULE,
  TRAMMEL_GEAR_FIELDS,
  TRAMMEL_PART_LENGTH ("center", N_ ("Center distance"),
                       N_ ("from shaft to shaft, as built; without backlash where it is not given"),
                       TRAMMEL_GROUP_GEOMETRY),
  TRAMMEL_PART_FACE (N_ ("how wide the teeth are along the shaft; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_PART_PAIR_INERTIAS,
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
check (const TrammelRecord *stage, GError **error)
{
  const char *ring = trammel_record_choice (stage, "ring");
  const char *pinion = g_str_equal (ring, "driven") ? "driver" : "driven";
  const int outer = (int)trammel_record_integer (stage, ring), inner = (int)trammel_record_integer (stage, pinion);
  if (outer > inner)
    return TRUE;

  g_set_error (
      error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
      _ ("%s: found a ring of %d teeth around a pinion of %d; a ring with more teeth than its pinion is wanted"), ring,
      outer, inner);
  return FALSE;
}

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  return trammel_stage_teeth_ratio (stage, "driver", "driven", FALSE, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  return trammel_words_of_pair (stage, _ ("internal"), "driver", "driven");
}

static void
disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  trammel_stage_gear_disc (stage, driven, outer, inner);
  if (driven != g_str_equal (trammel_record_choice (stage, "ring"), "driven"))
    return;
  *inner = *outer;
  *outer += 2 * TRAMMEL_RING_WALL * trammel_record_value (stage, "module");
}

const TrammelStageKind trammel_stage_internal = {
  .record = { .type = "internal", .label = N_ ("Internal pair"), TRAMMEL_STAGE_FIELDS (fields), .check = check },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.98,
  .lash_diameter = trammel_stage_gear_lash_diameter,
  .teeth_in = "driver",
  .disc = disc,
};
