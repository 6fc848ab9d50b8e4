/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/involute.h"

#include <math.h>

#define ALPHA TRAMMEL_INVOLUTE_PRESSURE_ANGLE
#define FEWEST_CUT_TEETH 3
/* Of the rack, so that its straight flank ends at depth 1. */
#define CORNER_RADIUS 0.38
/* Half of the play, and of that a half on each flank. */
#define FLANK_PLAY (TRAMMEL_INVOLUTE_BACKLASH / 4)
#define THINNEST_TOOTH 0.1

/* One half of a tooth (or of a ring's space): radius and half angle, from root to tip. */
typedef struct
{
  double radius[16];
  double half_angle[16];
  int n;
} Profile;

double
trammel_involute_function (double angle)
{
  return tan (angle) - angle;
}

static double
pitch_radius (int teeth)
{
  return teeth / 2.0;
}

static double
base_radius (int teeth)
{
  return pitch_radius (teeth) * cos (ALPHA);
}

double
trammel_involute_half_tooth (int teeth, double radius)
{
  double pressure_angle = acos (MIN (base_radius (teeth) / radius, 1));
  return G_PI / (2.0 * teeth) + trammel_involute_function (ALPHA) - trammel_involute_function (pressure_angle);
}

/* What the rounded corner of the rack leaves of a tooth: half its angle, and @radius where that is. The rounding
 * touches the tooth on the line from its center through the pitch point; with its center @u beside that point the gear
 * has turned by (u − the center's place in the rack)/pitch radius. */
static double
half_tooth_by_rack_corner (int teeth, double u, double *radius)
{
  double pitch = pitch_radius (teeth), depth = TRAMMEL_INVOLUTE_DEDENDUM - CORNER_RADIUS;
  double place = G_PI / 4 - depth * tan (ALPHA) - CORNER_RADIUS / cos (ALPHA);
  double reach = 1 + CORNER_RADIUS / hypot (u, depth);
  double x = u * reach, y = pitch - depth * reach;
  *radius = hypot (x, y);
  return G_PI / teeth - atan2 (x, y) + (u - place) / pitch;
}

/* How far beside the pitch point the corner leaves the tooth, where the involute begins: when it hands over to the
 * straight flank, or, when it cuts under the involute, where the two cross. */
static double
involute_start (int teeth, double *radius)
{
  double depth = TRAMMEL_INVOLUTE_DEDENDUM - CORNER_RADIUS, hand_over = depth / tan (ALPHA);
  double base = base_radius (teeth), low = 0, high = hand_over;
  if (base * tan (ALPHA) >= TRAMMEL_INVOLUTE_ADDENDUM / sin (ALPHA))
    {
      half_tooth_by_rack_corner (teeth, hand_over, radius);
      return hand_over;
    }
  for (int i = 0; i < 50; i++)
    {
      double middle = (low + high) / 2, half = half_tooth_by_rack_corner (teeth, middle, radius);
      if (*radius < base || half < trammel_involute_half_tooth (teeth, *radius))
        low = middle;
      else
        high = middle;
    }
  half_tooth_by_rack_corner (teeth, high, radius);
  return high;
}

static void
profile_add (Profile *profile, double radius, double half_angle)
{
  g_return_if_fail (profile->n < (int)G_N_ELEMENTS (profile->radius));
  profile->radius[profile->n] = radius;
  profile->half_angle[profile->n++] = half_angle;
}

static double
tip_radius_not_pointed (int teeth, double start)
{
  double tip = pitch_radius (teeth) + TRAMMEL_INVOLUTE_ADDENDUM;
  while (trammel_involute_half_tooth (teeth, tip) * tip < THINNEST_TOOTH / 2 && tip > start)
    tip -= 0.02;
  return tip;
}

static Profile
tooth_profile (int teeth)
{
  Profile profile = { .n = 0 };
  double start, end = involute_start (teeth, &start), play = FLANK_PLAY / pitch_radius (teeth);
  double tip = tip_radius_not_pointed (teeth, start);
  int corner_steps = teeth < 60 ? 4 : 3, flank_steps = teeth < 60 ? 3 : 2;

  for (int i = 0; i < corner_steps; i++)
    {
      double radius, half = half_tooth_by_rack_corner (teeth, end * i / corner_steps, &radius);
      profile_add (&profile, radius, MAX (half - play, THINNEST_TOOTH / 4 / radius));
    }
  for (int i = 0; i <= flank_steps; i++)
    {
      double radius = start + (tip - start) * i / flank_steps;
      profile_add (&profile, radius, trammel_involute_half_tooth (teeth, radius) - play);
    }
  return profile;
}

static TrammelPoint
polar (double radius, double angle)
{
  return (TrammelPoint){ radius * cos (angle), radius * sin (angle) };
}

/* All teeth from one half: up the near flank, down the far one. */
static TrammelPoint *
outline_of_profile (int teeth, const Profile *profile, gsize *n)
{
  gsize per_tooth = 2 * (gsize)profile->n;
  TrammelPoint *points = g_new (TrammelPoint, per_tooth * teeth);
  for (int tooth = 0; tooth < teeth; tooth++)
    {
      TrammelPoint *p = points + per_tooth * tooth;
      double center = 2 * G_PI * tooth / teeth;
      for (int i = 0; i < profile->n; i++)
        {
          p[i] = polar (profile->radius[i], center - profile->half_angle[i]);
          p[per_tooth - 1 - i] = polar (profile->radius[i], center + profile->half_angle[i]);
        }
    }
  *n = per_tooth * teeth;
  return points;
}

/* One or two teeth cannot be cut: fingers on a small drum. */
static TrammelPoint *
indicated_teeth (int teeth, gsize *n)
{
  enum
  {
    AROUND = 24
  };
  TrammelPoint *points = g_new (TrammelPoint, AROUND);
  double pitch = pitch_radius (teeth);
  for (int i = 0; i < AROUND; i++)
    {
      int within = (i + 2) % (AROUND / teeth);
      gboolean on_tooth = within >= 1 && within <= 3;
      points[i] = polar (on_tooth ? pitch + TRAMMEL_INVOLUTE_ADDENDUM : 0.45 * pitch, 2 * G_PI * i / AROUND);
    }
  *n = AROUND;
  return points;
}

TrammelPoint *
trammel_involute_external (int teeth, gsize *n)
{
  g_return_val_if_fail (teeth >= 1 && n != NULL, NULL);
  if (teeth < FEWEST_CUT_TEETH)
    return indicated_teeth (teeth, n);
  Profile profile = tooth_profile (teeth);
  return outline_of_profile (teeth, &profile, n);
}

/* Half the angle that the tip corners of a gear with @mate teeth sweep at @radius of a ring with @teeth, in which it
 * rolls. @side, the sign of the angle at which the corner meets that radius before or after the line of centers. */
static double
half_space_swept (int teeth, int mate, double radius, int side)
{
  double distance = (teeth - mate) / 2.0, tip = pitch_radius (mate) + TRAMMEL_INVOLUTE_ADDENDUM;
  double cosine = (radius * radius - distance * distance - tip * tip) / (2 * distance * tip);
  if (!(cosine > -1 && cosine < 1))
    return 0;
  double meets = side * acos (cosine);
  double half_tip = trammel_involute_half_tooth (mate, tip);
  double rolled = (half_tip - meets) * mate / teeth;
  return fabs (rolled + atan2 (tip * sin (meets), distance + tip * cos (meets)));
}

static double
ring_half_space (int teeth, int mate, double radius)
{
  double half = trammel_involute_half_tooth (teeth, radius);
  if (mate > 0 && mate < teeth)
    {
      half = MAX (half, half_space_swept (teeth, mate, radius, 1));
      half = MAX (half, half_space_swept (teeth, mate, radius, -1));
    }
  double widest = (G_PI - THINNEST_TOOTH) / teeth, narrowest = THINNEST_TOOTH / teeth;
  return CLAMP (half + 3 * FLANK_PLAY / pitch_radius (teeth), narrowest, widest);
}

/* Ring teeth end where the involute of the mate begins (no interference), and at their own base circle at the latest.
 * On the line of action the ring's contact point is the distance of the centers times sin α farther out. */
static double
ring_tip_radius (int teeth, int mate)
{
  double base = base_radius (teeth), tip = MAX (pitch_radius (teeth) - TRAMMEL_INVOLUTE_ADDENDUM, base);
  if (mate < FEWEST_CUT_TEETH || mate >= teeth)
    return tip;
  double mate_base = base_radius (mate), mate_start;
  involute_start (mate, &mate_start);
  double roll = sqrt (mate_start * mate_start - mate_base * mate_base);
  return MAX (tip, hypot (base, roll + (teeth - mate) / 2.0 * sin (ALPHA)));
}

double
trammel_involute_ring_root (int teeth)
{
  return pitch_radius (teeth) + TRAMMEL_INVOLUTE_DEDENDUM;
}

TrammelPoint *
trammel_involute_internal (int teeth, int mate, gsize *n)
{
  g_return_val_if_fail (teeth >= 3 && mate >= 0 && n != NULL, NULL);

  Profile profile = { .n = 0 };
  double tip = ring_tip_radius (teeth, mate), end = pitch_radius (teeth) + TRAMMEL_INVOLUTE_ADDENDUM;
  int steps = teeth < 60 ? 5 : 4;
  for (int i = 0; i <= steps; i++)
    {
      double radius = tip + (end - tip) * i / steps;
      profile_add (&profile, radius, ring_half_space (teeth, mate, radius));
    }
  profile_add (&profile, trammel_involute_ring_root (teeth), 0.75 * profile.half_angle[steps]);
  return outline_of_profile (teeth, &profile, n);
}

/* Place of @direction among the teeth of a gear, in pitches from the last tooth center. */
static double
place_among_teeth (int teeth, double rotation, double direction)
{
  double pitches = (direction - rotation) * teeth / (2 * G_PI);
  return pitches - floor (pitches);
}

double
trammel_involute_mesh (int teeth_a, double rotation_a, int teeth_b, double direction)
{
  double place = place_among_teeth (teeth_a, rotation_a, direction);
  return direction + G_PI + 2 * G_PI / teeth_b * (place + 0.5);
}

double
trammel_involute_mesh_ring (int teeth_a, double rotation_a, int ring_b, double direction)
{
  return direction - 2 * G_PI / ring_b * place_among_teeth (teeth_a, rotation_a, direction);
}
