/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/gear-root.h"

#include <math.h>

#define BISECTIONS 60

/* The rack's corner, in modules: its radius, where the center of the rounding lies beside the center of the rack's
 * tooth and below the pitch line. */
typedef struct
{
  double radius, place, depth;
} Corner;

/* A point of the gear that the corner cuts: radius in modules, half the angle of the space there. */
typedef struct
{
  double radius, half_space;
} Cut;

static Corner
corner_of_rack (TrammelGear gear)
{
  /* Half of the rack's tip, were it not rounded, and the largest radius that fits on it. */
  const double half_tip = fmax (G_PI_4 - TRAMMEL_GEAR_DEDENDUM * tan (gear.angle), 0);
  const double fits = half_tip * cos (gear.angle) / (1 - sin (gear.angle));
  Corner corner = { .radius = fmin (TRAMMEL_GEAR_FILLET, fits) };
  const double depth = TRAMMEL_GEAR_DEDENDUM - corner.radius;

  corner.place = fmax (G_PI_4 - depth * tan (gear.angle) - corner.radius / cos (gear.angle), 0);
  corner.depth = depth - gear.shift;
  return corner;
}

static Cut
cut_at_slant (TrammelGear gear, Corner corner, double slant)
{
  const double pitch = gear.teeth / 2.0, beside = corner.depth * tan (slant);
  const double reach = corner.depth / cos (slant) + corner.radius;
  const double x = reach * sin (slant), y = pitch - reach * cos (slant);
  return (Cut){ hypot (x, y), atan2 (x, y) - (beside - corner.place) / pitch };
}

/* Half the angle of the space between two involutes; the whole pitch below the base circle. */
static double
half_space_of_involute (TrammelGear gear, double radius)
{
  if (2 * radius * gear.module <= trammel_gear_base_diameter (gear))
    return G_PI / gear.teeth;
  return G_PI / gear.teeth - trammel_gear_thickness (gear, 2 * radius * gear.module) / (2 * radius * gear.module);
}

/* The slant at which the corner hands over to the straight flank, or, when it cuts under the involute, that at which it
 * leaves the tooth. */
static double
last_slant (TrammelGear gear, Corner corner)
{
  const double hand_over = G_PI_2 - gear.angle, base = trammel_gear_base_diameter (gear) / (2 * gear.module);
  const double reach = corner.depth / cos (hand_over) + corner.radius;
  if (reach <= base * tan (gear.angle))
    return hand_over;

  double low = 0, high = hand_over;
  for (int i = 0; i < BISECTIONS; i++)
    {
      const double middle = (low + high) / 2;
      const Cut cut = cut_at_slant (gear, corner, middle);
      if (cut.radius < base || cut.half_space > half_space_of_involute (gear, cut.radius))
        low = middle;
      else
        high = middle;
    }
  return high;
}

double
trammel_gear_form_diameter (TrammelGear gear)
{
  if (gear.internal)
    return trammel_gear_root_diameter (gear);
  const Corner corner = corner_of_rack (gear);
  return 2 * gear.module * cut_at_slant (gear, corner, last_slant (gear, corner)).radius;
}

double
trammel_gear_root_half_space (TrammelGear gear, double diameter)
{
  g_return_val_if_fail (!gear.internal, NAN);

  const Corner corner = corner_of_rack (gear);
  double low = 0, high = last_slant (gear, corner);
  for (int i = 0; i < BISECTIONS; i++)
    {
      const double middle = (low + high) / 2;
      if (2 * gear.module * cut_at_slant (gear, corner, middle).radius < diameter)
        low = middle;
      else
        high = middle;
    }
  return cut_at_slant (gear, corner, high).half_space;
}
