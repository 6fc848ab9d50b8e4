/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/gear.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define DEGREE (G_PI / 180)
/* So that 35° is 35° however it was converted. */
#define ROUNDING 1e-12
/* In teeth. */
#define UNDERCUT_OF_NO_ACCOUNT 0.1

double
trammel_gear_involute (double angle)
{
  /* For small angles the difference loses digits; seven terms of its series are exact to 1e-16 there. */
  static const double terms[]
      = { 1.0 / 3, 2.0 / 15, 17.0 / 315, 62.0 / 2835, 1382.0 / 155925, 21844.0 / 6081075, 929569.0 / 638512875 };

  if (fabs (angle) > 0.1)
    return tan (angle) - angle;
  double sum = 0;
  for (gsize i = G_N_ELEMENTS (terms); i > 0; i--)
    sum = terms[i - 1] + angle * angle * sum;
  return angle * angle * angle * sum;
}

double
trammel_gear_involute_inverse (double value)
{
  if (!(value >= 0) || isinf (value))
    return NAN;
  if (value == 0)
    return 0;

  /* Both are upper bounds: inv α ≥ α³/3, and tan α = value + α < value + π/2. */
  double angle = fmin (cbrt (3 * value), atan (value + G_PI_2));
  for (int i = 0; i < 100; i++)
    {
      const double tangent = tan (angle);
      const double step = (trammel_gear_involute (angle) - value) / (tangent * tangent);
      angle -= step;
      if (fabs (step) <= 1e-15 * angle)
        break;
    }
  return angle;
}

/* +1 external, −1 ring: on which side of the reference circle the tips are. */
static int
side (TrammelGear gear)
{
  return gear.internal ? -1 : 1;
}

double
trammel_gear_reference_diameter (TrammelGear gear)
{
  return gear.teeth * gear.module;
}

double
trammel_gear_base_diameter (TrammelGear gear)
{
  return trammel_gear_reference_diameter (gear) * cos (gear.angle);
}

double
trammel_gear_tip_diameter (TrammelGear gear)
{
  return trammel_gear_reference_diameter (gear) + 2 * side (gear) * (TRAMMEL_GEAR_ADDENDUM + gear.shift) * gear.module;
}

double
trammel_gear_root_diameter (TrammelGear gear)
{
  return trammel_gear_reference_diameter (gear) - 2 * side (gear) * (TRAMMEL_GEAR_DEDENDUM - gear.shift) * gear.module;
}

/* Half the angle that a tooth spans on the reference circle. */
static double
half_angle_at_reference (TrammelGear gear)
{
  return (G_PI_2 + 2 * gear.shift * tan (gear.angle)) / gear.teeth;
}

double
trammel_gear_thickness (TrammelGear gear, double diameter)
{
  const double angle = acos (fmin (trammel_gear_base_diameter (gear) / diameter, 1));
  const double growth = trammel_gear_involute (gear.angle) - trammel_gear_involute (angle);
  return fmax (diameter * (half_angle_at_reference (gear) + side (gear) * growth), 0);
}

double
trammel_gear_pointed_diameter (TrammelGear gear)
{
  if (gear.internal)
    return NAN;
  const double value = trammel_gear_involute (gear.angle) + half_angle_at_reference (gear);
  return trammel_gear_base_diameter (gear) / cos (trammel_gear_involute_inverse (value));
}

gboolean
trammel_gear_is_pointed (TrammelGear gear)
{
  return !gear.internal && trammel_gear_pointed_diameter (gear) < trammel_gear_tip_diameter (gear);
}

double
trammel_gear_undercut_limit (double angle, double shift)
{
  return 2 * (TRAMMEL_GEAR_ADDENDUM - shift) / (sin (angle) * sin (angle));
}

int
trammel_gear_fewest_teeth (double angle, double shift)
{
  const double limit = trammel_gear_undercut_limit (angle, shift);
  return (int)fmax (ceil (limit - UNDERCUT_OF_NO_ACCOUNT), TRAMMEL_GEAR_FEWEST_TEETH);
}

double
trammel_gear_undercut_shift (int teeth, double angle)
{
  return TRAMMEL_GEAR_ADDENDUM - teeth * sin (angle) * sin (angle) / 2;
}

gboolean
trammel_gear_is_undercut (TrammelGear gear)
{
  return !gear.internal && gear.teeth < trammel_gear_fewest_teeth (gear.angle, gear.shift);
}

static gboolean
check_bounds (TrammelGear gear, GError **error)
{
  if (gear.teeth < TRAMMEL_GEAR_FEWEST_TEETH || gear.teeth > TRAMMEL_GEAR_MOST_TEETH)
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found %d teeth; from %d to %d are wanted"), gear.teeth,
                 TRAMMEL_GEAR_FEWEST_TEETH, TRAMMEL_GEAR_MOST_TEETH);
  else if (!(gear.module > 0 && gear.module <= TRAMMEL_GEAR_MOST_MODULE))
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                 _ ("found a module of %g mm; one above 0 and up to %d mm is wanted"), gear.module,
                 TRAMMEL_GEAR_MOST_MODULE);
  else if (!(gear.angle >= TRAMMEL_GEAR_LEAST_ANGLE * DEGREE - ROUNDING
             && gear.angle <= TRAMMEL_GEAR_MOST_ANGLE * DEGREE + ROUNDING))
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                 _ ("found a pressure angle of %g°; one from %d° to %d° is wanted"), gear.angle / DEGREE,
                 TRAMMEL_GEAR_LEAST_ANGLE, TRAMMEL_GEAR_MOST_ANGLE);
  else if (!(fabs (gear.shift) <= TRAMMEL_GEAR_MOST_SHIFT))
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                 _ ("found a profile shift of %g; one from −%d to %d is wanted"), gear.shift, TRAMMEL_GEAR_MOST_SHIFT,
                 TRAMMEL_GEAR_MOST_SHIFT);
  else
    return TRUE;
  return FALSE;
}

gboolean
trammel_gear_check (TrammelGear gear, GError **error)
{
  if (!check_bounds (gear, error))
    return FALSE;

  const double tip = trammel_gear_tip_diameter (gear), root = trammel_gear_root_diameter (gear);
  if (!(fmin (tip, root) > 0) || half_angle_at_reference (gear) <= 0
      || half_angle_at_reference (gear) * gear.teeth >= G_PI)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                   _ ("found %d teeth with a profile shift of %g, which leave no tooth or no space; "
                      "more teeth or another shift is wanted"),
                   gear.teeth, gear.shift);
      return FALSE;
    }
  return TRUE;
}
