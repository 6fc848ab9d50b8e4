/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/gear-interference.h"

#include "drive/gear-root.h"

#include <math.h>

/* How far a corner may cut in before it counts, in modules: less than any gear is true. */
#define OVERLAP_OF_NO_ACCOUNT 0.005
#define SAMPLES 64

/* A corner of a mate's tip on its way through the root of a gear. */
typedef struct
{
  TrammelGear gear;
  gboolean mate_is_ring;
  double distance;
  double tip_radius, half_tip; /* of the mate: mm, rad */
  double turns;                /* of the gear per turn of the mate */
  double slack;                /* rad at the gear's center, from the middle of the space to contact */
} Way;

/* How far the corner, @beside the line of centers as seen from the mate's center, lies in the gear's material;
 * negative: free of it. Along the circle about the gear's center, mm. */
static double
overlap_at (const Way *way, double beside)
{
  const double x = way->tip_radius * sin (beside);
  const double toward_mate = way->distance - way->tip_radius * cos (beside);
  const double y = way->mate_is_ring ? -toward_mate : toward_mate, radius = hypot (x, y);
  const double from_middle = atan2 (x, y) - (beside - way->half_tip) * way->turns + way->slack;
  return radius * (from_middle - trammel_gear_root_half_space (way->gear, 2 * radius));
}

static gboolean
corner_fouls_root (TrammelGear gear, TrammelGear mate, double distance, double backlash)
{
  const double tip = trammel_gear_tip_diameter (mate) / 2, form = trammel_gear_form_diameter (gear) / 2;
  const double cosine = (distance * distance + tip * tip - form * form) / (2 * distance * tip);
  const int sum = mate.internal ? mate.teeth - gear.teeth : mate.teeth + gear.teeth;
  const double working_radius = distance * gear.teeth / sum;
  const Way way = {
    .gear = gear,
    .mate_is_ring = mate.internal,
    .distance = distance,
    .tip_radius = tip,
    .half_tip = trammel_gear_thickness (mate, 2 * tip) / (2 * tip),
    .turns = (double)mate.teeth / gear.teeth,
    .slack = backlash / (2 * working_radius),
  };

  if (!(cosine < 1))
    return FALSE;
  const double furthest = acos (fmax (cosine, -1));
  for (int i = 0; i <= SAMPLES; i++)
    if (overlap_at (&way, furthest * (2.0 * i / SAMPLES - 1)) > OVERLAP_OF_NO_ACCOUNT * gear.module)
      return TRUE;
  return FALSE;
}

gboolean
trammel_gear_tips_foul_roots (const TrammelGearPair *pair, double distance, double backlash)
{
  return corner_fouls_root (pair->a, pair->b, distance, backlash)
         || (!pair->b.internal && corner_fouls_root (pair->b, pair->a, distance, backlash));
}

/* inv of the pressure angle at the tip; 0 for a tip inside the base circle. */
static double
involute_at_tip (TrammelGear gear)
{
  const double cosine = trammel_gear_base_diameter (gear) / trammel_gear_tip_diameter (gear);
  return trammel_gear_involute (acos (fmin (cosine, 1)));
}

gboolean
trammel_gear_tips_meet (const TrammelGearPair *pair, double distance, double working_angle)
{
  const double tip_a = trammel_gear_tip_diameter (pair->a) / 2, tip_b = trammel_gear_tip_diameter (pair->b) / 2;
  const double cosine_a = (tip_b * tip_b - tip_a * tip_a - distance * distance) / (2 * distance * tip_a);
  const double cosine_b = (distance * distance + tip_b * tip_b - tip_a * tip_a) / (2 * distance * tip_b);

  /* Where they do not cross one lies within the other, on every side. */
  if (fabs (cosine_a) > 1 || fabs (cosine_b) > 1)
    return distance + tip_a > tip_b;
  const double working = trammel_gear_involute (working_angle);
  const double turned = acos (cosine_a) + involute_at_tip (pair->a) - working;
  const double corner = turned * pair->a.teeth / pair->b.teeth + working - involute_at_tip (pair->b);
  return corner < acos (cosine_b);
}
