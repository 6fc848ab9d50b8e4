/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/loop.h"

#include <math.h>

#define MOST_STEPS 200

double
trammel_sprocket_diameter (double pitch, double teeth)
{
  return pitch / sin (G_PI / teeth);
}

gboolean
trammel_loop_from_stage (const TrammelRecord *stage, TrammelLoop *out)
{
  static const char *const keys[] = { "driver", "driven" };

  g_return_val_if_fail (stage != NULL && out != NULL, FALSE);
  const gboolean chain = trammel_record_is (stage, "chain");
  if (!chain && !trammel_record_is (stage, "belt"))
    return FALSE;

  out->pitch = trammel_record_value (stage, "pitch");
  out->crossed = trammel_record_flag (stage, "crossed");
  for (gsize i = 0; i < G_N_ELEMENTS (keys); i++)
    {
      out->teeth[i] = trammel_record_value (stage, keys[i]);
      out->per_radian[i] = out->teeth[i] * out->pitch / (2 * G_PI);
      out->radius[i] = chain ? trammel_sprocket_diameter (out->pitch, out->teeth[i]) / 2 : out->per_radian[i];
    }
  return out->pitch > 0 && out->teeth[0] > 1 && out->teeth[1] > 1 && !(chain && out->crossed);
}

double
trammel_loop_pitches_of_stage (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, NAN);

  return trammel_record_value (stage, trammel_record_is (stage, "chain") ? "links" : "belt_teeth");
}

double
trammel_loop_center_of_stage (const TrammelRecord *stage)
{
  g_return_val_if_fail (stage != NULL, NAN);

  TrammelLoop loop;
  const double center = trammel_record_value (stage, "center");
  if (!isnan (center) || !trammel_loop_from_stage (stage, &loop))
    return center;
  return trammel_loop_center (&loop, trammel_loop_pitches_of_stage (stage) * loop.pitch);
}

double
trammel_loop_touching_center (const TrammelLoop *loop)
{
  g_return_val_if_fail (loop != NULL, NAN);

  return loop->radius[0] + loop->radius[1];
}

double
trammel_loop_least_center (const TrammelLoop *loop)
{
  g_return_val_if_fail (loop != NULL, NAN);

  return loop->crossed ? trammel_loop_touching_center (loop) : fabs (loop->radius[1] - loop->radius[0]);
}

/* The angle that the straight runs make with the line of centers; that of the open loop has the sign of r₂ − r₁. */
static double
run_angle (const TrammelLoop *loop, double center)
{
  const double across = loop->crossed ? trammel_loop_touching_center (loop) : loop->radius[1] - loop->radius[0];
  return asin (across / center);
}

static double
wrap (const TrammelLoop *loop, gsize wheel, double angle)
{
  return wheel == 0 && !loop->crossed ? G_PI - 2 * angle : G_PI + 2 * angle;
}

double
trammel_loop_length (const TrammelLoop *loop, double center)
{
  g_return_val_if_fail (loop != NULL, NAN);

  if (!(center >= trammel_loop_least_center (loop)) || !(center > 0))
    return NAN;
  const double angle = run_angle (loop, center);
  return 2 * center * cos (angle) + loop->per_radian[0] * wrap (loop, 0, angle)
         + loop->per_radian[1] * wrap (loop, 1, angle);
}

/* The length only grows with the center distance, so halving the bounds always gets there. */
double
trammel_loop_center (const TrammelLoop *loop, double length)
{
  g_return_val_if_fail (loop != NULL, NAN);

  double low = trammel_loop_touching_center (loop), high = low + length;
  if (!(length >= trammel_loop_length (loop, low)) || !isfinite (high))
    return NAN;
  for (int i = 0; i < MOST_STEPS && high - low > 1e-13 * high; i++)
    {
      const double middle = (low + high) / 2;
      if (trammel_loop_length (loop, middle) < length)
        low = middle;
      else
        high = middle;
    }
  return (low + high) / 2;
}

double
trammel_loop_teeth_in_mesh (const TrammelLoop *loop, double center)
{
  g_return_val_if_fail (loop != NULL, NAN);

  if (!(center >= trammel_loop_least_center (loop)) || !(center > 0))
    return NAN;
  const double angle = run_angle (loop, center);
  return fmin (loop->teeth[0] * wrap (loop, 0, angle), loop->teeth[1] * wrap (loop, 1, angle)) / (2 * G_PI);
}

gsize
trammel_loop_choices (const TrammelLoop *loop, double center, gboolean even, TrammelLoopChoice *choices)
{
  g_return_val_if_fail (loop != NULL && choices != NULL, 0);

  const gint64 step = even ? 2 : 1;
  const double pitches = trammel_loop_length (loop, center) / loop->pitch;
  gsize n = 0;
  if (!(pitches < 1e9))
    return 0;
  /* A length that is whole but for rounding is that whole. */
  const gint64 below = (gint64)floor (pitches / (double)step + 1e-9) * step;
  for (gint64 whole = below - step; whole <= below + 2 * step; whole += step)
    {
      const double length = (double)whole * loop->pitch, needed = trammel_loop_center (loop, length);
      if (whole > 0 && !isnan (needed))
        choices[n++] = (TrammelLoopChoice){ whole, length, needed };
    }
  return n;
}
