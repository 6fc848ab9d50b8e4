/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/train.h"

G_BEGIN_DECLS

/* Moment of inertia of a disc or ring about its axis, kg·m²: π ρ b (D⁴ − d⁴)/32 (outer and inner diameter and width in
 * mm, density in kg/m³). A textbook formula; from m (D² + d²)/8. */
double trammel_disc_inertia (double outer, double inner, double width, double density);

/* What turns on one shaft of a train. */
typedef struct
{
  gsize part;       /* 0: the motor; 1 + i: stage i; 1 + n_stages: the output */
  const char *role; /* static: "rotor", "driver", "driven", "idler", "whole", "output" */
  gsize shaft;      /* as in TrammelFacts */
  double inertia;   /* kg·m², about that shaft; of an idler as the driver's shaft feels it */
  double reflected; /* kg·m², as the motor's shaft feels it: inertia × (turns per motor turn)² */
  gboolean given;   /* entered, not estimated */
} TrammelRotor;

/**
 * trammel_train_rotors:
 * @needs: (nullable): gets what is missing (drive/needs.h)
 *
 * Everything that turns and whose inertia is given or can be estimated from its size (drive/stage.h,
 * trammel_stage_disc(); drive/output.h, trammel_output_bar()), steel where no density is given. What cannot be told is
 * left out and needed. Several screws count with their number.
 *
 * Returns: (transfer full): of TrammelRotor, in the order the motion flows.
 */
GArray *trammel_train_rotors (const TrammelTrain *train, const TrammelFacts *facts, GPtrArray *needs);

G_END_DECLS
