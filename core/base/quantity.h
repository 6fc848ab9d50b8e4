/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/exact.h"

G_BEGIN_DECLS

/* What a quantity measures. The base unit of each is what the core computes in. */
typedef enum
{
  TRAMMEL_DIMENSION_NUMBER,   /* 1; also reads % */
  TRAMMEL_DIMENSION_LENGTH,   /* mm; reads mm, cm, m, µm (um), in, ″ ("), ft, mil, thou */
  TRAMMEL_DIMENSION_PITCH,    /* mm; as length, and `20 tpi` (25.4/20 mm) */
  TRAMMEL_DIMENSION_MODULE,   /* mm; as length, and `24 DP` (25.4/24 mm) */
  TRAMMEL_DIMENSION_ANGLE,    /* rad; reads rad, mrad, deg (°), arcmin (′), arcsec (″), turn */
  TRAMMEL_DIMENSION_MASS,     /* kg; kg, g, lb, oz */
  TRAMMEL_DIMENSION_FORCE,    /* N; N, mN, kN, kgf, gf, lbf, ozf */
  TRAMMEL_DIMENSION_TORQUE,   /* N·m; Nm (N·m, N m), Ncm, mNm, kgf cm, ozf in, lbf in */
  TRAMMEL_DIMENSION_INERTIA,  /* kg·m²; kg m², g cm² */
  TRAMMEL_DIMENSION_SPEED,    /* mm/s; mm/s, mm/min, cm/s, m/s, m/min, in/s, in/min */
  TRAMMEL_DIMENSION_ROTATION, /* rad/s; rad/s, rpm (rev/min, 1/min), rev/s, deg/s */
  TRAMMEL_DIMENSION_TIME,     /* s; s, ms, min, h */
  TRAMMEL_DIMENSION_RATE,     /* 1/s; /s, 1/s, Hz, kHz, MHz */
  TRAMMEL_DIMENSION_LASH,     /* mm or rad: a length at the pitch circle or an angle at the shaft; the unit tells */

  TRAMMEL_DIMENSION_ACCELERATION,         /* mm/s²; mm/s², m/s², in/s² */
  TRAMMEL_DIMENSION_ANGULAR_ACCELERATION, /* rad/s²; rad/s², deg/s², rev/s² */
  TRAMMEL_DIMENSION_DENSITY,              /* kg/m³; kg/m³, g/cm³, lb/in³ */
  TRAMMEL_DIMENSION_STRESS,               /* N/mm², also of a modulus; MPa (N/mm²), GPa, kPa, psi, ksi */
  TRAMMEL_N_DIMENSIONS,
} TrammelDimension;

/* A unit: a row of a constant table; compare by pointer. */
typedef struct _TrammelUnit TrammelUnit;

/* The symbol as written to files ("mm", "in", "tpi", "deg", …; "" for a pure number). */
const char *trammel_unit_symbol (const TrammelUnit *unit);
/* The base unit of a dimension (mm, rad, …); never NULL. */
const TrammelUnit *trammel_unit_base (TrammelDimension dimension);
/* LENGTH or ANGLE for the units of LASH; else the dimension that the unit belongs to. */
TrammelDimension trammel_unit_dimension (const TrammelUnit *unit);
/* What people mean where no unit is written, and see: degrees for an angle, else the base unit. */
const TrammelUnit *trammel_unit_usual (TrammelDimension dimension);
/* The unit that @symbol names in @dimension, or NULL. */
const TrammelUnit *trammel_unit_find (TrammelDimension dimension, const char *symbol);
/* How many base units one of @unit is (25.4 for in). Meaningless for reciprocal units (tpi, DP). */
double trammel_unit_factor (const TrammelUnit *unit);

/**
 * TrammelQuantity:
 * @number: as typed, exact
 * @unit: as typed
 *
 * A quantity as a person gave it; nothing is lost by converting. `1/4 in` stays `1/4 in`. A plain value.
 */
typedef struct
{
  TrammelExact number;
  const TrammelUnit *unit;
} TrammelQuantity;

/**
 * trammel_quantity_parse:
 * @text: UTF-8: a number as trammel_exact_parse() reads and a unit, with or without a space: `12.8 cm`, `5 in`, `5"`,
 *   `1/4 in`, `5 2/11 mm`, `0.4`, `12,5 mm`, `20 tpi`
 * @assumed: (nullable): unit when none is written; NULL: the base unit (degrees for an angle)
 *
 * Errors: TRAMMEL_ERROR_PARSE (says which units can be used), _OVERFLOW, _RANGE (`0 tpi`).
 */
gboolean trammel_quantity_parse (const char *text, TrammelDimension dimension, const TrammelUnit *assumed,
                                 TrammelQuantity *out, GError **error);

/**
 * trammel_quantity_parse_value:
 *
 * The same for a measured value: any finite decimal, in the base unit of @dimension, without the bounds of exact
 * numbers (`99.71234567890123 mm`). Fractions are read too. Never NaN or infinite.
 * Accepts at least 1e-300…1e300; beyond that TRAMMEL_ERROR_RANGE.
 */
gboolean trammel_quantity_parse_value (const char *text, TrammelDimension dimension, const TrammelUnit *assumed,
                                       double *out, GError **error);

/* The exact value in the base unit (1/4 in is 127/20; 90 deg is π/2). Errors: TRAMMEL_ERROR_OVERFLOW. */
gboolean trammel_quantity_base (TrammelQuantity q, TrammelExact *out, GError **error);

/* The value in the base unit as a double. */
double trammel_quantity_value (TrammelQuantity q);

gboolean trammel_quantity_equal (TrammelQuantity a, TrammelQuantity b);

/* (transfer full): number and unit as trammel_quantity_parse() reads them, C locale: `2 mm`, `1/4 in`, `20 tpi`. */
char *trammel_quantity_to_text (TrammelQuantity q);

G_END_DECLS
