/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* A belt or a chain around two wheels: length from center distance and the reverse. Exact for a belt; a chain is
 * taken to run on and off its sprockets at their pitch circles, and to take up a link for every tooth between: that its
 * links are straight there, so that it rises and falls a little as they come on, is left out. Lengths in mm. */

/* Teeth of a pulley that a belt should lie on, so that they share the pull: common practice, no source. */
#define TRAMMEL_LOOP_LEAST_TEETH 6

typedef struct
{
  double pitch;
  double radius[2];     /* of the pitch circles, driver and driven */
  double per_radian[2]; /* loop taken up by a radian of wrap: the pitch radius of a belt; of a chain, whose links are
                         * chords, teeth·pitch/2π */
  double teeth[2];
  gboolean crossed;
} TrammelLoop;

/* Of the circle through the pins of a chain on a sprocket, pitch/sin(π/teeth) (Budynas & Nisbett, equation 17-29). */
double trammel_sprocket_diameter (double pitch, double teeth);

/* Of a stage of kind belt or chain. FALSE when pitch is not set, or for a chain whose outside drives (crossed), which
 * needs more than two wheels. Radius of a pulley teeth·pitch/2π, of a sprocket half of trammel_sprocket_diameter(). */
gboolean trammel_loop_from_stage (const TrammelRecord *stage, TrammelLoop *out);

/* The length of the closed loop that @stage (belt or chain) tells, in pitches: belt_teeth or links; NaN. */
double trammel_loop_pitches_of_stage (const TrammelRecord *stage);
/* The center distance that it tells, mm: as given, else the one that its length needs; NaN where it tells neither, or
 * is too short for its wheels. */
double trammel_loop_center_of_stage (const TrammelRecord *stage);

/* The center distance below which there is no such loop: open |r₂ − r₁|, crossed r₁ + r₂. */
double trammel_loop_least_center (const TrammelLoop *loop);
/* Where the pitch circles touch, r₁ + r₂. */
double trammel_loop_touching_center (const TrammelLoop *loop);

/**
 * trammel_loop_length:
 *
 * 2 C cos α + r₁ φ₁ + r₂ φ₂; open: sin α = (r₂ − r₁)/C, wrap φ₁ = π − 2α and φ₂ = π + 2α; crossed: sin α = (r₁ + r₂)/C,
 * both wraps π + 2α (Budynas & Nisbett, equations 17-1 and 17-2 and those for a crossed belt beside them). NaN below
 * the least center distance.
 */
double trammel_loop_length (const TrammelLoop *loop, double center);

/* The center distance for a length, solved to 1e-12 of it; NaN when the loop is too short for the wheels to clear each
 * other. */
double trammel_loop_center (const TrammelLoop *loop, double length);

/* Wrap of the wheel that has the least teeth in it, in teeth: teeth·φ/2π of the smaller one. */
double trammel_loop_teeth_in_mesh (const TrammelLoop *loop, double center);

/* A loop of whole pitches and the center distance that it needs. */
typedef struct
{
  gint64 pitches;
  double length;
  double center;
} TrammelLoopChoice;

#define TRAMMEL_LOOP_CHOICES 4

/**
 * trammel_loop_choices:
 *
 * The whole-pitch lengths around what @center asks for, two shorter (or equal) and two longer, rising; of a chain the
 * even numbers only, since an odd one takes a cranked link. Those too short for the wheels are left out.
 *
 * Returns: how many were written, up to TRAMMEL_LOOP_CHOICES.
 */
gsize trammel_loop_choices (const TrammelLoop *loop, double center, gboolean even, TrammelLoopChoice *choices);

G_END_DECLS
