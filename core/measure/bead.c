/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/bead.h"

#include <math.h>

#define MM3_PER_M3 1e9

static const TrammelAmount nothing = { NAN, NAN };

static gboolean
is_positive (TrammelAmount amount)
{
  return isfinite (amount.value) && amount.value > 0 && amount.u >= 0;
}

TrammelAmount
trammel_bead_area (TrammelAmount width, TrammelAmount height)
{
  double w = width.value, h = height.value;

  if (!is_positive (width) || !is_positive (height) || w < h)
    return nothing;
  /* ∂A/∂w = h, ∂A/∂h = w − 2 h + π h/2 */
  return (TrammelAmount){ (w - h) * h + G_PI_4 * h * h, hypot (h * width.u, (w - 2 * h + G_PI_2 * h) * height.u) };
}

TrammelAmount
trammel_bead_width (TrammelAmount area, TrammelAmount height)
{
  double h = height.value, w;

  if (!is_positive (area) || !is_positive (height))
    return nothing;
  w = area.value / h + h * (1 - G_PI_4);
  if (w < h)
    return nothing;
  /* ∂w/∂A = 1/h, ∂w/∂h = 1 − π/4 − A/h² */
  return (TrammelAmount){ w, hypot (area.u / h, (1 - G_PI_4 - area.value / (h * h)) * height.u) };
}

/* Product of powers: the relative uncertainties add in squares. */
static TrammelAmount
product (double value, TrammelAmount a, double power_a, TrammelAmount b, double power_b, TrammelAmount c,
         double power_c)
{
  double ra = power_a * a.u / a.value, rb = power_b * b.u / b.value, rc = power_c * c.u / c.value;

  if (!is_positive (a) || !is_positive (b) || !is_positive (c))
    return nothing;
  return (TrammelAmount){ value, value * sqrt (ra * ra + rb * rb + rc * rc) };
}

static const TrammelAmount one = { 1, 0 };

TrammelAmount
trammel_bead_flow_of_filament (TrammelAmount diameter, TrammelAmount feed)
{
  return product (G_PI_4 * diameter.value * diameter.value * feed.value, diameter, 2, feed, 1, one, 0);
}

TrammelAmount
trammel_bead_flow_of_length (TrammelAmount diameter, TrammelAmount length, TrammelAmount time)
{
  return product (G_PI_4 * diameter.value * diameter.value * length.value / time.value, diameter, 2, length, 1, time,
                  -1);
}

TrammelAmount
trammel_bead_flow_of_mass (TrammelAmount mass, TrammelAmount density, TrammelAmount time)
{
  return product (mass.value / density.value * MM3_PER_M3 / time.value, mass, 1, density, -1, time, -1);
}

TrammelAmount
trammel_bead_flow (TrammelAmount area, TrammelAmount speed)
{
  return product (area.value * speed.value, area, 1, speed, 1, one, 0);
}

TrammelAmount
trammel_bead_quotient (TrammelAmount flow, TrammelAmount divisor)
{
  return product (flow.value / divisor.value, flow, 1, divisor, -1, one, 0);
}

TrammelAmount
trammel_bead_feed (TrammelAmount flow, TrammelAmount diameter)
{
  return product (flow.value / (G_PI_4 * diameter.value * diameter.value), flow, 1, diameter, -2, one, 0);
}
