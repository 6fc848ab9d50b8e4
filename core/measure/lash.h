/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/reading.h"

G_BEGIN_DECLS

/* Ways to learn the lash of an axis. */
typedef enum
{
  TRAMMEL_LASH_FROM_POSITIONS, /* places approached from one side and the other */
  TRAMMEL_LASH_FROM_TRAVEL,    /* travel after a reversal against travel without */
  TRAMMEL_LASH_FROM_REVERSALS, /* lines at one place, or an indicator */
} TrammelLashSource;
#define TRAMMEL_N_LASH_SOURCES 3

const char *trammel_lash_source_key (TrammelLashSource source); /* "positions", "travel", "reversals" */
/* What its readings are, translated: "positions", "reversed travel". */
const char *trammel_lash_source_label (TrammelLashSource source);
/* The source that @reading is of; −1: it does not depend on lash. */
int trammel_lash_source_of (const TrammelReading *reading);

/* What the readings of one source say by themselves. */
typedef struct
{
  TrammelLashSource source;
  gsize n_readings;
  double value, u; /* mm (degrees along a rotary axis); u is standard; NaN: these readings cannot tell it */
} TrammelSourceLash;

/**
 * TrammelLashAgreement:
 *
 * Whether the lash of an axis is the same by every way in which it was found: a fit with one unknown lash per source
 * of the axis, about none of which anything is stated, all else as in the adjustment; so what the sources share (scale,
 * datum, an instrument) correlates them. With d the differences of the values from the first and D their joint
 * covariance, Q = dᵀ D⁻¹ d is χ² with one degree of freedom less than there are sources, when the lash is one (the
 * general linear hypothesis: C. R. Rao, Linear Statistical Inference and Its Applications, 2nd ed., Wiley 1973, section
 * 4b.2, from memory; for independent sources it is the Q of W. G. Cochran, Biometrics 10 (1954) 101). Where the scatter
 * of the readings is estimated, or where it is so great that all u were multiplied by the Birge ratio of that fit,
 * Q/(k−1) is F with the fit's degrees of freedom.
 */
typedef struct
{
  char letter;
  guint n; /* sources, at least 2 */
  TrammelSourceLash sources[TRAMMEL_N_LASH_SOURCES];
  double coverage_factor; /* half-width of a 95 % interval in units of u */
  double p_value;         /* NaN: fewer than two sources can tell it, or nothing is left to judge scatter by */
  gboolean agree;         /* p is not below TRAMMEL_LASH_SIGNIFICANCE */
} TrammelLashAgreement;

#define TRAMMEL_LASH_SIGNIFICANCE 0.05

G_END_DECLS
