/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/involute.h"

#include <math.h>
#include <string.h>

#define FEWEST_CUT_TEETH 3
#define THINNEST_TOOTH 0.1
/* How far a chord may leave its curve, in modules: where the curve is hollow the chord eats into the play. */
#define SAG 0.003
#define HOLLOW_SAG 0.002
#define CORNER_STEPS 48
#define FLANK_STEPS 48

/* One half of a tooth (or of a ring's space): radius and half angle, from root to tip. */
typedef struct
{
  double radius[CORNER_STEPS + FLANK_STEPS + 3];
  double half_angle[CORNER_STEPS + FLANK_STEPS + 3];
  int n;
} Profile;

TrammelToothForm
trammel_tooth_form (int teeth)
{
  return (TrammelToothForm){ .teeth = teeth,
                             .pressure_angle = TRAMMEL_GEAR_USUAL_ANGLE,
                             .play = TRAMMEL_INVOLUTE_BACKLASH / 2 };
}

static double
pitch_radius (const TrammelToothForm *form)
{
  return form->teeth / 2.0;
}

static double
base_radius (const TrammelToothForm *form)
{
  return pitch_radius (form) * cos (form->pressure_angle);
}

double
trammel_involute_half_tooth (const TrammelToothForm *form, double radius)
{
  double pressure_angle = acos (MIN (base_radius (form) / radius, 1));
  return (G_PI / 2 + 2 * form->shift * tan (form->pressure_angle)) / form->teeth
         + trammel_gear_involute (form->pressure_angle) - trammel_gear_involute (pressure_angle);
}

/* Half the angle by which a tooth is thinner. */
static double
play_angle (const TrammelToothForm *form)
{
  return form->play / 2 / pitch_radius (form);
}

/* The rounding of the rack's corner: so that its straight flank ends at depth 1, if there is room for that. */
static double
corner_radius (const TrammelToothForm *form)
{
  double slope = tan (form->pressure_angle), clearance = TRAMMEL_GEAR_DEDENDUM - TRAMMEL_GEAR_ADDENDUM;
  double room = (G_PI / 4 - TRAMMEL_GEAR_DEDENDUM * slope) / (1 / cos (form->pressure_angle) - slope);
  return MIN (clearance / (1 - sin (form->pressure_angle)), room);
}

/* What the rounded corner of the rack leaves of a tooth: half its angle, and @radius where that is. The common normal
 * passes through the pitch point, at the angle @normal to the pitch line; the corner's center is then @beside that
 * point, and the gear has turned by (beside − the center's place in the rack)/pitch radius. */
static double
half_tooth_by_rack_corner (const TrammelToothForm *form, double normal, double *radius)
{
  double pitch = pitch_radius (form), corner = corner_radius (form), in_rack = TRAMMEL_GEAR_DEDENDUM - corner;
  double place = G_PI / 4 - in_rack * tan (form->pressure_angle) - corner / cos (form->pressure_angle);
  double depth = in_rack - form->shift, beside = depth / tan (normal);
  double x = beside + corner * cos (normal), y = pitch - depth - corner * sin (normal);
  *radius = hypot (x, y);
  return G_PI / form->teeth - atan2 (x, y) + (beside - place) / pitch;
}

static gboolean
is_undercut (const TrammelToothForm *form)
{
  double depth = TRAMMEL_GEAR_DEDENDUM - corner_radius (form) * (1 - sin (form->pressure_angle)) - form->shift;
  return depth > pitch_radius (form) * sin (form->pressure_angle) * sin (form->pressure_angle);
}

/* The normal where the corner leaves the tooth and the involute begins: that of the straight flank, or, when the corner
 * cuts under the involute, where the two cross. */
static double
involute_start (const TrammelToothForm *form, double *radius)
{
  double base = base_radius (form), low = form->pressure_angle, high = G_PI / 2;
  if (is_undercut (form))
    for (int i = 0; i < 50; i++)
      {
        double middle = (low + high) / 2, half = half_tooth_by_rack_corner (form, middle, radius);
        if (*radius < base || half < trammel_involute_half_tooth (form, *radius))
          high = middle;
        else
          low = middle;
      }
  half_tooth_by_rack_corner (form, low, radius);
  return low;
}

static void
profile_add (Profile *profile, double radius, double half_angle)
{
  g_return_if_fail (profile->n < (int)G_N_ELEMENTS (profile->radius));
  profile->radius[profile->n] = radius;
  profile->half_angle[profile->n++] = half_angle;
}

static TrammelPoint
polar (double radius, double angle)
{
  return (TrammelPoint){ radius * cos (angle), radius * sin (angle) };
}

static TrammelPoint
profile_point (const Profile *profile, int i)
{
  return polar (profile->radius[i], profile->half_angle[i]);
}

static gboolean
chord_is_near (const Profile *profile, int from, int to, double sag)
{
  TrammelPoint a = profile_point (profile, from), b = profile_point (profile, to);
  double dx = b.x - a.x, dy = b.y - a.y, length = MAX (hypot (dx, dy), 1e-12);
  for (int i = from + 1; i < to; i++)
    {
      TrammelPoint p = profile_point (profile, i);
      if (fabs ((p.x - a.x) * dy - (p.y - a.y) * dx) > sag * length)
        return FALSE;
    }
  return TRUE;
}

/* Between two of its points leaves only those that are needed. Returns where the last of them is now. */
static int
profile_thin_out (Profile *profile, int first, int last, double sag)
{
  int kept = first;
  for (int at = first; at < last;)
    {
      int next = at + 1;
      while (next < last && chord_is_near (profile, at, next + 1, sag))
        next++;
      at = next;
      kept++;
      profile->radius[kept] = profile->radius[at];
      profile->half_angle[kept] = profile->half_angle[at];
    }
  int tail = profile->n - 1 - last;
  memmove (profile->radius + kept + 1, profile->radius + last + 1, tail * sizeof *profile->radius);
  memmove (profile->half_angle + kept + 1, profile->half_angle + last + 1, tail * sizeof *profile->half_angle);
  profile->n = kept + 1 + tail;
  return kept;
}

static double
tip_not_pointed (const TrammelToothForm *form, double start)
{
  double tip = pitch_radius (form) + TRAMMEL_GEAR_ADDENDUM + form->shift - form->shorter;
  while (trammel_involute_half_tooth (form, tip) * tip < THINNEST_TOOTH / 2 && tip > start)
    tip -= 0.02;
  return tip;
}

double
trammel_involute_tip (const TrammelToothForm *form)
{
  double start;
  if (form->teeth < FEWEST_CUT_TEETH)
    return pitch_radius (form) + TRAMMEL_GEAR_ADDENDUM;
  involute_start (form, &start);
  return tip_not_pointed (form, start);
}

/* Roll angle of the involute at @radius. */
static double
roll_at (const TrammelToothForm *form, double radius)
{
  double base = base_radius (form);
  return sqrt (MAX (radius * radius - base * base, 0)) / base;
}

static double
radius_at_roll (const TrammelToothForm *form, double roll)
{
  return base_radius (form) * hypot (1, roll);
}

static Profile
tooth_profile (const TrammelToothForm *form)
{
  Profile profile = { .n = 0 };
  double start, normal = involute_start (form, &start), play = play_angle (form);
  double from = roll_at (form, start), to = roll_at (form, tip_not_pointed (form, start));
  int start_at;

  for (int i = 0; i < CORNER_STEPS; i++)
    {
      double radius, at = G_PI / 2 + (normal - G_PI / 2) * i / CORNER_STEPS;
      double half = half_tooth_by_rack_corner (form, at, &radius);
      profile_add (&profile, radius, MAX (half - play, THINNEST_TOOTH / 4 / radius));
    }
  start_at = profile.n;
  for (int i = 0; i <= FLANK_STEPS; i++)
    {
      double radius = radius_at_roll (form, from + (to - from) * i / FLANK_STEPS);
      profile_add (&profile, radius, trammel_involute_half_tooth (form, radius) - play);
    }
  start_at = profile_thin_out (&profile, 0, start_at, HOLLOW_SAG);
  profile_thin_out (&profile, start_at, profile.n - 1, SAG);
  return profile;
}

/* All teeth from one half: up the near flank, down the far one. */
static TrammelPoint *
outline_of_profile (int teeth, const Profile *profile, gsize *n)
{
  gsize per_tooth = 2 * (gsize)profile->n;
  TrammelPoint *points = g_new (TrammelPoint, per_tooth * teeth);
  g_autofree TrammelPoint *first = g_new (TrammelPoint, per_tooth);
  for (int i = 0; i < profile->n; i++)
    {
      first[i] = polar (profile->radius[i], -profile->half_angle[i]);
      first[per_tooth - 1 - i] = polar (profile->radius[i], profile->half_angle[i]);
    }
  for (int tooth = 0; tooth < teeth; tooth++)
    {
      TrammelPoint *p = points + per_tooth * tooth, turn = polar (1, 2 * G_PI * tooth / teeth);
      for (gsize i = 0; i < per_tooth; i++)
        p[i] = (TrammelPoint){ first[i].x * turn.x - first[i].y * turn.y, first[i].x * turn.y + first[i].y * turn.x };
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
  double pitch = teeth / 2.0;
  for (int i = 0; i < AROUND; i++)
    {
      int within = (i + 2) % (AROUND / teeth);
      gboolean on_tooth = within >= 1 && within <= 3;
      points[i] = polar (on_tooth ? pitch + TRAMMEL_GEAR_ADDENDUM : 0.45 * pitch, 2 * G_PI * i / AROUND);
    }
  *n = AROUND;
  return points;
}

TrammelPoint *
trammel_involute_external (const TrammelToothForm *form, gsize *n)
{
  g_return_val_if_fail (form != NULL && form->teeth >= 1 && n != NULL, NULL);
  if (form->teeth < FEWEST_CUT_TEETH)
    return indicated_teeth (form->teeth, n);
  Profile profile = tooth_profile (form);
  return outline_of_profile (form->teeth, &profile, n);
}

/* A ring and what turns in it. */
typedef struct
{
  const TrammelToothForm *ring, *mate;
  double distance;
  double mate_tip;
  double mate_half_tip; /* half the angle of its tooth there */
} RingPair;

/* Half the angle that the tip corners of the mate sweep at @radius of the ring, in which it rolls. @side, the sign of
 * the angle at which the corner meets that radius before or after the line of centers. */
static double
half_space_swept (const RingPair *pair, double radius, int side)
{
  double distance = pair->distance, tip = pair->mate_tip;
  double cosine = (radius * radius - distance * distance - tip * tip) / (2 * distance * tip);
  if (!(cosine > -1 && cosine < 1))
    return 0;
  double meets = side * acos (cosine);
  double rolled = (pair->mate_half_tip - meets) * pair->mate->teeth / pair->ring->teeth;
  return fabs (rolled + atan2 (tip * sin (meets), distance + tip * cos (meets)));
}

static double
ring_half_space (const RingPair *pair, double radius)
{
  const TrammelToothForm *ring = pair->ring;
  double half = trammel_involute_half_tooth (ring, radius) + play_angle (ring);
  if (pair->mate)
    {
      double clear = TRAMMEL_INVOLUTE_BACKLASH / 4 / radius;
      half = MAX (half, half_space_swept (pair, radius, 1) + clear);
      half = MAX (half, half_space_swept (pair, radius, -1) + clear);
    }
  return CLAMP (half, THINNEST_TOOTH / ring->teeth, (G_PI - THINNEST_TOOTH) / ring->teeth);
}

/* Ring teeth end where the involute of the mate begins (no interference), and at their own base circle at the latest.
 * On the line of action the ring's contact point is the distance of the centers times the sine of the working pressure
 * angle farther out. */
static double
ring_tip_radius (const RingPair *pair)
{
  const TrammelToothForm *ring = pair->ring, *mate = pair->mate;
  double base = base_radius (ring);
  double tip = MAX (pitch_radius (ring) - TRAMMEL_GEAR_ADDENDUM + ring->shift + ring->shorter, base);
  if (!mate || mate->teeth < FEWEST_CUT_TEETH)
    return tip;
  double mate_base = base_radius (mate), mate_start, apart = MAX (pair->distance, base - mate_base);
  involute_start (mate, &mate_start);
  double roll = sqrt (MAX (mate_start * mate_start - mate_base * mate_base, 0));
  double between = sqrt (MAX (apart * apart - (base - mate_base) * (base - mate_base), 0));
  return MAX (tip, hypot (base, roll + between));
}

double
trammel_involute_ring_root (const TrammelToothForm *ring)
{
  return pitch_radius (ring) + TRAMMEL_GEAR_DEDENDUM + ring->shift;
}

TrammelPoint *
trammel_involute_internal (const TrammelToothForm *ring, const TrammelToothForm *mate, double distance, gsize *n)
{
  g_return_val_if_fail (ring != NULL && ring->teeth >= 3 && n != NULL, NULL);

  RingPair pair = { .ring = ring, .mate = mate && mate->teeth < ring->teeth ? mate : NULL, .distance = distance };
  if (pair.mate)
    {
      pair.mate_tip = trammel_involute_tip (mate);
      pair.mate_half_tip = trammel_involute_half_tooth (mate, pair.mate_tip);
    }
  Profile profile = { .n = 0 };
  double tip = ring_tip_radius (&pair), root = trammel_involute_ring_root (ring), end = MAX (root - 0.25, tip);
  double from = roll_at (ring, tip), to = roll_at (ring, end);
  for (int i = 0; i <= FLANK_STEPS; i++)
    {
      double radius = radius_at_roll (ring, from + (to - from) * i / FLANK_STEPS);
      profile_add (&profile, radius, ring_half_space (&pair, radius));
    }
  int deepest = profile_thin_out (&profile, 0, FLANK_STEPS, HOLLOW_SAG);
  profile_add (&profile, root, 0.75 * profile.half_angle[deepest]);
  return outline_of_profile (ring->teeth, &profile, n);
}

void
trammel_involute_rack (double pressure_angle, double play, TrammelPoint points[TRAMMEL_RACK_POINTS])
{
  double half = G_PI / 4 - play / 2, slope = tan (pressure_angle);
  double root = half + TRAMMEL_GEAR_DEDENDUM * slope, tip = half - TRAMMEL_GEAR_ADDENDUM * slope;
  points[0] = (TrammelPoint){ -root, -TRAMMEL_GEAR_DEDENDUM };
  points[1] = (TrammelPoint){ -tip, TRAMMEL_GEAR_ADDENDUM };
  points[2] = (TrammelPoint){ tip, TRAMMEL_GEAR_ADDENDUM };
  points[3] = (TrammelPoint){ root, -TRAMMEL_GEAR_DEDENDUM };
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
