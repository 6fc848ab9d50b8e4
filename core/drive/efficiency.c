/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/efficiency.h"

#include <math.h>

#define COS_PRESSURE_ANGLE 0.93969262078590838 /* of 20° */

TrammelEfficiency
trammel_worm_efficiency (double slope, double friction)
{
  const double c = COS_PRESSURE_ANGLE;
  return (TrammelEfficiency){ fmax (0, (c - friction * slope) / (c + friction / slope)),
                              (c - friction / slope) / (c + friction * slope), FALSE };
}

TrammelEfficiency
trammel_efficiency_of_slide (double forward)
{
  return (TrammelEfficiency){ forward, 2 - 1 / forward, TRUE };
}
