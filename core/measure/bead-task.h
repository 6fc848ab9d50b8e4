/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/bead.h"

G_BEGIN_DECLS

/* Width, speed and flow of a bead of known height: of two of them follows the third. */

typedef enum
{
  TRAMMEL_BEAD_WIDTH,    /* all of it */
  TRAMMEL_BEAD_HEIGHT,   /* that of the layer */
  TRAMMEL_BEAD_SPEED,    /* at which it is laid */
  TRAMMEL_BEAD_FILAMENT, /* its diameter */
  TRAMMEL_BEAD_FEED,     /* how fast filament is fed */
  TRAMMEL_BEAD_LENGTH,   /* of filament used up in the time */
  TRAMMEL_BEAD_MASS,     /* that came out in the time */
  TRAMMEL_BEAD_DENSITY,  /* of it */
  TRAMMEL_BEAD_TIME,     /* that it was measured for */
  TRAMMEL_BEAD_N_GIVEN
} TrammelBeadGiven;

/* In mm, s, kg, kg/m³; NaN for what is not known. */
typedef struct
{
  TrammelAmount given[TRAMMEL_BEAD_N_GIVEN];
  TrammelAmount width, speed, flow; /* given, or what follows */
  TrammelAmount area;
  TrammelAmount feed; /* of filament, where its diameter is given or drops out */
} TrammelBead;

/* Nothing is given. */
void trammel_bead_init (TrammelBead *bead);
gboolean trammel_bead_is_given (const TrammelBead *bead, TrammelBeadGiven which);

/**
 * trammel_bead_solve:
 * @bead: with the height, and two of width, speed and flow given; the flow by filament and feed, by filament, length
 *   and time, or by mass, density and time
 *
 * Uncertainties as of the functions of measure/bead.h. Where the flow is told by the filament itself, the feed has
 * nothing to do with its diameter.
 *
 * Errors: TRAMMEL_ERROR_DATA when not just two of the three are given or what is given is not above 0,
 * TRAMMEL_ERROR_IMPOSSIBLE for a bead that would be narrower than it is high.
 */
gboolean trammel_bead_solve (TrammelBead *bead, GError **error);

G_END_DECLS
