/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/train.h"

G_BEGIN_DECLS

/* What turns in a train: shafts with all that is fixed to them, idlers, planets. */
typedef struct
{
  char *name;             /* translated: "motor shaft", "screw", "idler of 20 teeth in stage 1" */
  double travel_per_turn; /* > 0; mm (degrees) of travel for one turn of it (of a planet: against its carrier) */
} TrammelTurning;

/**
 * trammel_train_turning_parts:
 *
 * From the motor to the output. Parts that turn in step are named once, as the later of them ("screw", not the shaft
 * behind the coupling before it). A planet of (ring − sun)/2 teeth turns against its carrier sun/planet times as often
 * as the sun does (Willis equation, seen from the carrier).
 *
 * Returns: (transfer full) (nullable): GArray of TrammelTurning that clears its elements. Errors as
 * trammel_train_facts().
 */
GArray *trammel_train_turning_parts (const TrammelTrain *train, GError **error);

G_END_DECLS
