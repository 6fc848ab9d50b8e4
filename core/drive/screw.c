/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/screw.h"

#include <math.h>

#define MM 1e-3 /* in m */
#define DEGREE (G_PI / 180)
#define USUAL_THREAD "trapezoidal"

/* Above the pitch's own depth, on both sides (ISO 2901). */
static double
trapezoidal_clearance (double pitch)
{
  if (pitch < 2)
    return 0.15;
  if (pitch <= 5)
    return 0.25;
  return pitch <= 12 ? 0.5 : 1;
}

/* 0.010 in for 10 threads per inch and coarser, else 0.005 in (ASME B1.5). */
static double
acme_clearance (double pitch)
{
  return pitch >= 2.54 ? 0.254 : 0.127;
}

double
trammel_thread_half_angle (const char *thread)
{
  if (g_strcmp0 (thread, "trapezoidal") == 0)
    return 15 * DEGREE;
  if (g_strcmp0 (thread, "acme") == 0)
    return 14.5 * DEGREE;
  return g_strcmp0 (thread, "metric") == 0 ? 30 * DEGREE : 0;
}

double
trammel_thread_mean_diameter (const char *thread, double major, double pitch)
{
  /* 3/4 of the height √3/2·p of the sharp triangle. */
  return g_strcmp0 (thread, "metric") == 0 ? major - 3 * sqrt (3) / 8 * pitch : major - pitch / 2;
}

double
trammel_thread_root_diameter (const char *thread, double major, double pitch)
{
  if (g_strcmp0 (thread, "trapezoidal") == 0)
    return major - pitch - 2 * trapezoidal_clearance (pitch);
  if (g_strcmp0 (thread, "acme") == 0)
    return major - pitch - 2 * acme_clearance (pitch);
  return g_strcmp0 (thread, "metric") == 0 ? major - 17 * sqrt (3) / 24 * pitch : major - pitch;
}

/* f sec α. */
static double
flank_friction (const TrammelScrew *screw)
{
  return screw->friction / cos (screw->half_angle);
}

static double
collar_torque (const TrammelScrew *screw)
{
  return screw->collar_friction * screw->collar_diameter / 2 * MM;
}

double
trammel_screw_raising (const TrammelScrew *screw)
{
  g_return_val_if_fail (screw != NULL, NAN);

  const double f = flank_friction (screw), around = G_PI * screw->mean;
  if (around <= f * screw->lead)
    return INFINITY;
  return screw->mean / 2 * MM * (screw->lead + f * around) / (around - f * screw->lead) + collar_torque (screw);
}

double
trammel_screw_lowering (const TrammelScrew *screw)
{
  g_return_val_if_fail (screw != NULL, NAN);

  const double f = flank_friction (screw), around = G_PI * screw->mean;
  return screw->mean / 2 * MM * (f * around - screw->lead) / (around + f * screw->lead) + collar_torque (screw);
}

double
trammel_screw_efficiency (const TrammelScrew *screw)
{
  g_return_val_if_fail (screw != NULL, NAN);

  return screw->lead * MM / (2 * G_PI * trammel_screw_raising (screw));
}

double
trammel_screw_backward_efficiency (const TrammelScrew *screw)
{
  g_return_val_if_fail (screw != NULL, NAN);

  return -trammel_screw_lowering (screw) * 2 * G_PI / (screw->lead * MM);
}

double
trammel_screw_friction_of_efficiency (const TrammelScrew *screw, double efficiency)
{
  g_return_val_if_fail (screw != NULL, NAN);

  const double slope = screw->lead / (G_PI * screw->mean);
  const double whole = 1 / efficiency, collar = collar_torque (screw) * 2 * G_PI / (screw->lead * MM);
  if (!(whole - collar > 1))
    return 0;
  const double thread = 1 / (whole - collar);
  return slope * (1 - thread) / (thread + slope * slope) * cos (screw->half_angle);
}

gboolean
trammel_screw_is_self_locking (const TrammelScrew *screw)
{
  g_return_val_if_fail (screw != NULL, FALSE);

  return flank_friction (screw) * G_PI * screw->mean >= screw->lead;
}

const char *const trammel_fixity_keys[] = {
  [TRAMMEL_FIXITY_FIXED_FREE] = "fixed-free",
  [TRAMMEL_FIXITY_SUPPORTED_SUPPORTED] = "supported-supported",
  [TRAMMEL_FIXITY_FIXED_SUPPORTED] = "fixed-supported",
  [TRAMMEL_FIXITY_FIXED_FIXED] = "fixed-fixed",
  NULL,
};

gboolean
trammel_fixity_from_key (const char *key, TrammelFixity *out)
{
  g_return_val_if_fail (out != NULL, FALSE);

  for (gsize i = 0; trammel_fixity_keys[i] != NULL; i++)
    if (g_strcmp0 (key, trammel_fixity_keys[i]) == 0)
      {
        *out = (TrammelFixity)i;
        return TRUE;
      }
  *out = TRAMMEL_FIXITY_SUPPORTED_SUPPORTED;
  return FALSE;
}

static const char *
thread_of (const TrammelRecord *output)
{
  const char *thread = trammel_record_choice (output, "thread");
  return thread != NULL ? thread : USUAL_THREAD;
}

gboolean
trammel_screw_turns (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL && trammel_record_is (output, "screw"), FALSE);

  return g_strcmp0 (trammel_record_choice (output, "turning"), "screw") == 0;
}

gboolean
trammel_screw_is_told_by_efficiency (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL && trammel_record_is (output, "screw"), FALSE);

  return trammel_record_has (output, "efficiency") && !trammel_record_has (output, "friction");
}

static void
set_friction (const TrammelRecord *output, TrammelScrew *out)
{
  if (trammel_screw_is_told_by_efficiency (output))
    {
      out->collar_friction = trammel_record_value_or (output, "collar_friction", 0);
      out->friction = trammel_screw_friction_of_efficiency (out, trammel_record_value (output, "efficiency"));
      return;
    }
  out->friction = trammel_record_value_or (output, "friction", TRAMMEL_SCREW_USUAL_FRICTION);
  out->collar_friction = trammel_record_value_or (output, "collar_friction", out->friction);
}

gboolean
trammel_screw_from_output (const TrammelRecord *output, TrammelScrew *out)
{
  g_return_val_if_fail (output != NULL && out != NULL && trammel_record_is (output, "screw"), FALSE);

  const double pitch = trammel_record_value (output, "pitch"), major = trammel_record_value (output, "major");
  const double mean = trammel_thread_mean_diameter (thread_of (output), major, pitch);
  if (!(mean > 0))
    return FALSE;

  out->mean = mean;
  out->lead = pitch * (double)trammel_record_integer (output, "starts");
  out->half_angle = trammel_thread_half_angle (thread_of (output));
  out->collar_diameter = trammel_record_value_or (output, "collar_diameter", 0);
  set_friction (output, out);
  return out->lead > 0;
}

double
trammel_screw_root_of_output (const TrammelRecord *output)
{
  g_return_val_if_fail (output != NULL && trammel_record_is (output, "screw"), NAN);

  if (trammel_record_has (output, "root"))
    return trammel_record_value (output, "root");
  const double root = trammel_thread_root_diameter (thread_of (output), trammel_record_value (output, "major"),
                                                    trammel_record_value (output, "pitch"));
  return root > 0 ? root : NAN;
}
