/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/gear-fields.h"
#include "drive/stage-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  TRAMMEL_STAGE_TEETH ("driver", N_ ("Driver"), N_ ("teeth of the gear on the motor's side"), "12"),
  TRAMMEL_STAGE_TEETH ("driven", N_ ("Driven"), N_ ("teeth of the gear that is turned"), "36"),
  { .key = "idlers", .label = N_ ("Idlers"),
    .meaning = N_ ("teeth of the gears between them, in order; they turn the direction, not the ratio"),
    .type = TRAMMEL_FIELD_INTEGERS, .low = 1, .high = TRAMMEL_PART_MOST_TEETH },
  TRAMMEL_STAGE_MODULE,
  TRAMMEL_GEAR_FIELDS,
  { .key = "center", .label = N_ ("Center distance"),
    .meaning = N_ ("from shaft to shaft, as built; with idlers one for each mesh, from the driver on: 36 mm; 60 mm; "
                   "without backlash where it is not given"),
    .type = TRAMMEL_FIELD_QUANTITIES, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = TRAMMEL_PART_LONGEST, .group = TRAMMEL_GROUP_GEOMETRY },
  TRAMMEL_PART_FACE (N_ ("how wide the teeth are along the shaft; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_PART_PAIR_INERTIAS,
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
check (const TrammelRecord *stage, GError **error)
{
  const gsize meshes = trammel_stage_meshes (stage);
  gsize n;
  trammel_record_quantities (stage, "center", &n);
  if (n <= meshes)
    return TRUE;

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
               g_dngettext (GETTEXT_PACKAGE,
                            "center: found %u center distances; with these idlers there is %u mesh, and at most one "
                            "for each is wanted",
                            "center: found %u center distances; with these idlers there are %u meshes, and at most one "
                            "for each is wanted",
                            meshes),
               (guint)n, (guint)meshes);
  return FALSE;
}

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  const gboolean negative = trammel_stage_meshes (stage) % 2 == 1;
  return trammel_stage_teeth_ratio (stage, "driver", "driven", negative, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  gsize n_idlers;
  trammel_record_integers (stage, "idlers", &n_idlers);
  g_autofree char *pair = trammel_words_of_pair (stage, _ ("spur"), "driver", "driven");
  if (n_idlers == 0)
    return g_steal_pointer (&pair);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s over %u idler", "%s over %u idlers", n_idlers), pair,
                          (guint)n_idlers);
}

static void
add_turning (const TrammelRecord *stage, const TrammelStageTurning *turning, GArray *parts)
{
  gsize n;
  const gint64 *idlers = trammel_record_integers (stage, "idlers", &n);
  const double driver = trammel_record_value (stage, "driver");

  for (gsize i = 0; i < n; i++)
    trammel_turning_add (parts, g_strdup_printf (_ ("idler of %d teeth in stage %u"), (int)idlers[i], turning->number),
                         turning->travel_in * (double)idlers[i] / driver);
}

const TrammelStageKind trammel_stage_spur = {
  .record = { .type = "spur", .label = N_ ("Spur pair"), TRAMMEL_STAGE_FIELDS (fields), .check = check },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.97,
  .lash_diameter = trammel_stage_gear_lash_diameter,
  .teeth_in = "driver",
  .add_turning = add_turning,
  .disc = trammel_stage_gear_disc,
};
