/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/stage-kind.h"

static const char *const members[] = { "sun", "ring", "carrier", NULL };
static const char *const member_labels[] = { N_ ("sun"), N_ ("ring"), N_ ("carrier"), NULL };

/* clang-format off */
#define MEMBER(key_, label_, meaning_, initial_)                                                                      \
  { .key = key_, .label = label_, .meaning = meaning_, .type = TRAMMEL_FIELD_CHOICE,                                  \
    .choices = members, .choice_labels = member_labels, .initial = initial_, .required = TRUE }

static const TrammelField fields[] = {
  TRAMMEL_STAGE_TEETH ("sun", N_ ("Sun"), N_ ("teeth of the gear in the middle"), "20"),
  TRAMMEL_STAGE_TEETH ("ring", N_ ("Ring"), N_ ("teeth of the ring around the planets"), "80"),
  MEMBER ("held", N_ ("Held"), N_ ("the member that does not turn"), "ring"),
  MEMBER ("in", N_ ("In"), N_ ("the member on the motor's side"), "sun"),
  MEMBER ("out", N_ ("Out"), N_ ("the member that drives what follows"), "carrier"),
  TRAMMEL_STAGE_MODULE,
  TRAMMEL_PART_FACE (N_ ("how wide the teeth are along the shaft; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_PART_PAIR_INERTIAS,
  TRAMMEL_STAGE_COMMON_FIELDS,
};
/* clang-format on */

static gboolean
differ (const TrammelRecord *stage, const char *one, const char *other, GError **error)
{
  const char *member = trammel_record_choice (stage, one);
  if (!g_str_equal (member, trammel_record_choice (stage, other)))
    return TRUE;

  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
               _ ("%s: found %s, which is “%s” too; three different members are wanted for held, in and out"), other,
               member, one);
  return FALSE;
}

static gboolean
check (const TrammelRecord *stage, GError **error)
{
  if (!differ (stage, "held", "in", error) || !differ (stage, "held", "out", error)
      || !differ (stage, "in", "out", error))
    return FALSE;

  const int sun = (int)trammel_record_integer (stage, "sun"), ring = (int)trammel_record_integer (stage, "ring");
  if (ring <= sun)
    {
      g_set_error (
          error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
          _ ("ring: found %d teeth around a sun of %d; a ring with more teeth than the sun, so that planets fit "
             "between them, is wanted"),
          ring, sun);
      return FALSE;
    }
  if ((ring - sun) % 2 != 0)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                   _ ("ring: found %d teeth around a sun of %d, so that planets would need %d and a half; two even or "
                      "two odd numbers are wanted"),
                   ring, sun, (ring - sun) / 2);
      return FALSE;
    }
  return TRUE;
}

/* Willis, cleared of its fractions: sun·n_sun + ring·n_ring − (sun + ring)·n_carrier = 0. This is the factor of @member
 * in it. */
static gint64
weight (const TrammelRecord *stage, const char *member)
{
  const gint64 sun = trammel_record_integer (stage, "sun"), ring = trammel_record_integer (stage, "ring");
  if (g_str_equal (member, "sun"))
    return sun;
  return g_str_equal (member, "ring") ? ring : -(sun + ring);
}

static gboolean
ratio (const TrammelRecord *stage, TrammelExact *out, GError **error)
{
  /* With the held member at rest, two terms are left. */
  const gint64 in = weight (stage, trammel_record_choice (stage, "in"));
  return trammel_exact_make (-in, weight (stage, trammel_record_choice (stage, "out")), 0, out, error);
}

static char *
words (const TrammelRecord *stage)
{
  const char *held = trammel_record_choice (stage, "held");
  g_autofree char *pair = trammel_words_of_pair (stage, _ ("planetary"), "sun", "ring");
  for (gsize i = 0; members[i] != NULL; i++)
    if (g_strcmp0 (members[i], held) == 0)
      return g_strdup_printf (_ ("%s, %s held"), pair, _ (member_labels[i]));
  return g_steal_pointer (&pair);
}

/* The member that moves by Willis' equation when a tooth of the sun or the ring moves by the lash. */
static double
lash_diameter (const TrammelRecord *stage)
{
  const gint64 teeth = weight (stage, trammel_record_choice (stage, "out"));
  return trammel_record_value (stage, "module") * (double)ABS (teeth);
}

/* The carrier with its planets fills the ring. */
static void
disc (const TrammelRecord *stage, gboolean driven, double *outer, double *inner)
{
  const char *member = trammel_record_choice (stage, driven ? "out" : "in");
  *outer = trammel_stage_pitch_diameter (stage, g_str_equal (member, "sun") ? "sun" : "ring");
  if (!g_str_equal (member, "ring"))
    return;
  *inner = *outer;
  *outer += 2 * TRAMMEL_RING_WALL * trammel_record_value (stage, "module");
}

/* Turns of one member per turn of the input. */
static double
turns_of (const TrammelRecord *stage, const char *member, double turns_out)
{
  if (g_strcmp0 (trammel_record_choice (stage, "held"), member) == 0)
    return 0;
  return g_strcmp0 (trammel_record_choice (stage, "in"), member) == 0 ? 1 : turns_out;
}

/* The planets. */
static void
add_turning (const TrammelRecord *stage, const TrammelStageTurning *turning, GArray *parts)
{
  const double sun = trammel_record_value (stage, "sun"), ring = trammel_record_value (stage, "ring");
  const double planet = (ring - sun) / 2, turns_out = turning->travel_in / turning->travel_out;
  const double against_carrier = turns_of (stage, "sun", turns_out) - turns_of (stage, "carrier", turns_out);
  const double turns = against_carrier * sun / planet;

  if (turns != 0)
    trammel_turning_add (parts, g_strdup_printf (_ ("planets of stage %u"), turning->number),
                         turning->travel_in / turns);
}

const TrammelStageKind trammel_stage_planetary = {
  .record = { .type = "planetary", .label = N_ ("Planetary set"), TRAMMEL_STAGE_FIELDS (fields), .check = check },
  .ratio = ratio,
  .words = words,
  .usual_efficiency = 0.95,
  .lash_diameter = lash_diameter,
  .add_turning = add_turning,
  .disc = disc,
};
