/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/amount.h"

G_BEGIN_DECLS

/* A laid bead and the flow that makes it. Lengths in mm, times in s, masses in kg; densities in kg/m³. Uncertainties
 * are standard, carried to first order and taken to be independent: u² = Σ (∂f/∂x · u(x))². Source: JCGM 100:2008
 * (GUM), 5.1.2, equation 10. NaN comes out where nothing sensible goes in. */

/**
 * trammel_bead_area:
 *
 * The cross-section of a bead of @width and @height: a rectangle with half-round sides, (w − h)·h + π h²/4; w ≥ h > 0.
 * (Common practice, no source: what flattens between tip and layer below is taken to bulge in half circles.)
 */
TrammelAmount trammel_bead_area (TrammelAmount width, TrammelAmount height);

/* The width that @area makes at @height: area/h + h (1 − π/4). NaN when it would be narrower than it is high: then the
 * bead does not fill its layer. */
TrammelAmount trammel_bead_width (TrammelAmount area, TrammelAmount height);

/* The volume flow, mm³/s, of filament of @diameter fed at @feed mm/s: π d²/4 · feed. */
TrammelAmount trammel_bead_flow_of_filament (TrammelAmount diameter, TrammelAmount feed);
/* Filament of @diameter: @length of it used up in @time. */
TrammelAmount trammel_bead_flow_of_length (TrammelAmount diameter, TrammelAmount length, TrammelAmount time);
/* @mass that came out in @time, of @density. */
TrammelAmount trammel_bead_flow_of_mass (TrammelAmount mass, TrammelAmount density, TrammelAmount time);

/* The flow, mm³/s, that lays a bead of @area at @speed. */
TrammelAmount trammel_bead_flow (TrammelAmount area, TrammelAmount speed);

/* Flow over area: the speed, mm/s, that lays a bead of @area; with a speed in place of the area, the area that it
 * lays. */
TrammelAmount trammel_bead_quotient (TrammelAmount flow, TrammelAmount divisor);

/* How fast filament of @diameter must be fed, mm/s, for a @flow. */
TrammelAmount trammel_bead_feed (TrammelAmount flow, TrammelAmount diameter);

G_END_DECLS
