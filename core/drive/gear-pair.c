/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/gear-pair.h"

#include "base/error.h"
#include "drive/gear-interference.h"
#include "drive/gear-root.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Rounding, in modules. */
#define NO_BACKLASH 1e-9

/* z₁ + z₂ with a ring's teeth negative. */
static int
sum_of_teeth (const TrammelGearPair *pair)
{
  return pair->a.teeth + (pair->b.internal ? -pair->b.teeth : pair->b.teeth);
}

static gboolean
check_gear (TrammelGear gear, int number, GError **error)
{
  if (trammel_gear_check (gear, error))
    return TRUE;
  g_prefix_error (error, _ ("gear %d: "), number);
  return FALSE;
}

gboolean
trammel_gear_pair_check (const TrammelGearPair *pair, GError **error)
{
  g_return_val_if_fail (pair != NULL, FALSE);

  if (!check_gear (pair->a, 1, error) || !check_gear (pair->b, 2, error))
    return FALSE;
  if (pair->a.module != pair->b.module || pair->a.angle != pair->b.angle)
    g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                         _ ("found two modules or two pressure angles; gears that mesh have the same"));
  else if (pair->a.internal)
    g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                         _ ("gear 1: found a ring; a gear with its teeth outside is wanted"));
  else if (pair->b.internal && pair->b.teeth <= pair->a.teeth)
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                 _ ("found a ring of %d teeth around a pinion of %d; a ring with more teeth than its pinion is wanted"),
                 pair->b.teeth, pair->a.teeth);
  else
    return TRUE;
  return FALSE;
}

double
trammel_gear_pair_reference_distance (const TrammelGearPair *pair)
{
  g_return_val_if_fail (pair != NULL, NAN);

  return abs (sum_of_teeth (pair)) * pair->a.module / 2;
}

gboolean
trammel_gear_pair_distance (const TrammelGearPair *pair, double *out, GError **error)
{
  g_return_val_if_fail (pair != NULL && out != NULL, FALSE);

  if (!trammel_gear_pair_check (pair, error))
    return FALSE;
  const double shifts = pair->a.shift + pair->b.shift, alpha = pair->a.angle;
  if (shifts == 0)
    {
      *out = trammel_gear_pair_reference_distance (pair);
      return TRUE;
    }

  const double value = trammel_gear_involute (alpha) + 2 * shifts * tan (alpha) / sum_of_teeth (pair);
  const double working = trammel_gear_involute_inverse (value);
  if (isnan (working))
    {
      g_set_error (
          error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
          _ ("found profile shifts of %g and %g, with which there is backlash at every center distance; a %s sum "
             "is wanted"),
          pair->a.shift, pair->b.shift, pair->b.internal ? _ ("smaller") : _ ("greater"));
      return FALSE;
    }
  *out = trammel_gear_pair_reference_distance (pair) * cos (alpha) / cos (working);
  return TRUE;
}

/* √(r² − r_b²): how far along the line of action, from where it touches the base circle, the circle of @diameter lies.
 */
static double
along_line_of_action (TrammelGear gear, double diameter)
{
  const double radius = diameter / 2, base = trammel_gear_base_diameter (gear) / 2;
  return sqrt (fmax (radius * radius - base * base, 0));
}

/* From one base circle's end of the line of action to the other's; past it in a ring. */
static double
distance_along_line_of_action (const TrammelGearPair *pair, const TrammelMesh *mesh)
{
  return mesh->distance * sin (mesh->working_angle) * (pair->b.internal ? -1 : 1);
}

/* Contact from @start to @end along the line of action, measured from the pinion's base circle. */
static double
ratio_of_contact (const TrammelGearPair *pair, double start, double end)
{
  return fmax (end - start, 0) / (G_PI * pair->a.module * cos (pair->a.angle));
}

/* Where contact starts and ends if tips reach from circle to circle. */
static void
find_contact (const TrammelGearPair *pair, const TrammelMesh *mesh, double *start, double *end)
{
  const double tip_b = along_line_of_action (pair->b, trammel_gear_tip_diameter (pair->b));
  const double between = distance_along_line_of_action (pair, mesh);
  *start = pair->b.internal ? between + tip_b : between - tip_b;
  *end = along_line_of_action (pair->a, trammel_gear_tip_diameter (pair->a));
}

/* What is left of that where flanks begin farther out. */
static double
true_contact_ratio (const TrammelGearPair *pair, const TrammelMesh *mesh)
{
  const double form_a = along_line_of_action (pair->a, trammel_gear_form_diameter (pair->a));
  const double form_b = along_line_of_action (pair->b, trammel_gear_form_diameter (pair->b));
  const double between = distance_along_line_of_action (pair, mesh);
  double start, end;

  find_contact (pair, mesh, &start, &end);
  return ratio_of_contact (pair, fmax (start, form_a),
                           fmin (end, pair->b.internal ? between + form_b : between - form_b));
}

static void
find_backlash (const TrammelGearPair *pair, TrammelMesh *mesh)
{
  const double alpha = pair->a.angle, module = pair->a.module;
  const double pitch = G_PI * module * cos (alpha) / cos (mesh->working_angle);
  const double opened = trammel_gear_involute (mesh->working_angle) - trammel_gear_involute (alpha);
  const double shifts = pair->a.shift + pair->b.shift;

  mesh->backlash = pitch / G_PI * (sum_of_teeth (pair) * opened - 2 * shifts * tan (alpha));
  if (fabs (mesh->backlash) < NO_BACKLASH * module)
    mesh->backlash = 0;
  mesh->normal_backlash = mesh->backlash * cos (mesh->working_angle);
}

static void
find_clearance (const TrammelGearPair *pair, TrammelMesh *mesh)
{
  const double tip_a = trammel_gear_tip_diameter (pair->a) / 2, root_a = trammel_gear_root_diameter (pair->a) / 2;
  const double tip_b = trammel_gear_tip_diameter (pair->b) / 2, root_b = trammel_gear_root_diameter (pair->b) / 2;

  mesh->tip_clearance[0] = pair->b.internal ? root_b - tip_a - mesh->distance : mesh->distance - tip_a - root_b;
  mesh->tip_clearance[1] = pair->b.internal ? tip_b - root_a - mesh->distance : mesh->distance - tip_b - root_a;
}

/* The tip circles do not cross. */
static gboolean
is_apart (const TrammelGearPair *pair, double distance)
{
  const double tip_a = trammel_gear_tip_diameter (pair->a) / 2, tip_b = trammel_gear_tip_diameter (pair->b) / 2;
  return pair->b.internal ? distance + tip_a <= tip_b : distance >= tip_a + tip_b;
}

static TrammelMeshState
state_of (const TrammelGearPair *pair, const TrammelMesh *mesh)
{
  if (is_apart (pair, mesh->distance))
    return TRAMMEL_MESH_APART;
  /* No line of action: external gears overlap; a pinion lies loose in the middle of its ring. */
  if (isnan (mesh->working_angle))
    return pair->b.internal ? TRAMMEL_MESH_SHORT : TRAMMEL_MESH_BINDS;
  if (mesh->backlash < 0)
    return TRAMMEL_MESH_BINDS;
  if (fmin (mesh->tip_clearance[0], mesh->tip_clearance[1]) < -NO_BACKLASH * pair->a.module)
    return TRAMMEL_MESH_BOTTOMS;
  if (mesh->contact_ratio < 1)
    return TRAMMEL_MESH_SHORT;
  if (pair->b.internal && trammel_gear_tips_meet (pair, mesh->distance, mesh->working_angle))
    return TRAMMEL_MESH_TIPS_MEET;
  return TRAMMEL_MESH_RUNS;
}

TrammelMesh
trammel_gear_pair_at (const TrammelGearPair *pair, double distance)
{
  TrammelMesh mesh = { distance, TRAMMEL_MESH_APART, NAN, NAN, NAN, NAN, NAN, FALSE, { NAN, NAN } };
  g_return_val_if_fail (pair != NULL && distance > 0, mesh);

  const double reference = trammel_gear_pair_reference_distance (pair);
  mesh.working_angle = distance == reference ? pair->a.angle : acos (reference * cos (pair->a.angle) / distance);
  find_clearance (pair, &mesh);
  if (!isnan (mesh.working_angle))
    {
      double start, end;
      find_backlash (pair, &mesh);
      find_contact (pair, &mesh, &start, &end);
      mesh.contact_ratio = ratio_of_contact (pair, start, end);
    }
  mesh.state = state_of (pair, &mesh);
  if (mesh.state == TRAMMEL_MESH_RUNS)
    {
      mesh.true_contact_ratio = true_contact_ratio (pair, &mesh);
      mesh.fouls = trammel_gear_tips_foul_roots (pair, distance, mesh.backlash);
    }
  return mesh;
}

const char *
trammel_mesh_to_words (const TrammelMesh *mesh, gboolean internal)
{
  g_return_val_if_fail (mesh != NULL, "");

  switch (mesh->state)
    {
    case TRAMMEL_MESH_RUNS:
      if (mesh->true_contact_ratio < 1)
        return _ ("runs, but roughly: undercut takes away contact");
      return mesh->fouls ? _ ("runs, if a tip does not touch the other gear's root fillet") : _ ("runs");
    case TRAMMEL_MESH_BINDS:
      return internal ? _ ("binds: the centers are too far apart") : _ ("binds: the centers are too near");
    case TRAMMEL_MESH_APART:
      return internal ? _ ("out of mesh: the centers are too near") : _ ("out of mesh: the centers are too far apart");
    case TRAMMEL_MESH_SHORT:
      return _ ("uneven: a tooth lets go before the next takes over");
    case TRAMMEL_MESH_BOTTOMS:
      return _ ("binds: a tip reaches the other gear's root");
    case TRAMMEL_MESH_TIPS_MEET:
      return _ ("binds: the tips run into each other beside the mesh");
    }
  g_return_val_if_reached ("");
}
