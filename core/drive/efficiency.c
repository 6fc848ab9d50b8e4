/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/efficiency.h"

#include "drive/gear.h"

#include <math.h>

TrammelEfficiency
trammel_worm_efficiency (double slope, double friction)
{
  const double c = cos (TRAMMEL_GEAR_USUAL_ANGLE);
  return (TrammelEfficiency){ fmax (0, (c - friction * slope) / (c + friction / slope)),
                              (c - friction / slope) / (c + friction * slope), FALSE };
}

TrammelEfficiency
trammel_efficiency_of_slide (double forward)
{
  return (TrammelEfficiency){ forward, 2 - 1 / forward, TRUE };
}
