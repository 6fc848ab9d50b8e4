/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Lengths are stated for 20 °C: ISO 1, Geometrical product specifications, Standard reference temperature. */
#define TRAMMEL_REFERENCE_TEMPERATURE 20

/**
 * TrammelThermal:
 *
 * How warm a thing was, and how it grows with that. All zeros: nothing is known, and nothing is corrected.
 */
typedef struct
{
  double expansion;   /* linear, 1/K; 0: not given */
  double temperature; /* °C */
  gboolean has_temperature;
} TrammelThermal;

/* Greatest that is taken: beyond it there is no solid that parts and rulers are made of. 1/K. */
#define TRAMMEL_MAX_EXPANSION 1e-3
#define TRAMMEL_MIN_TEMPERATURE (-100)
#define TRAMMEL_MAX_TEMPERATURE 500

/* Growth against 20 °C as a fraction: α (t − 20); 0 when either is not given. */
double trammel_thermal_strain (const TrammelThermal *thermal);
gboolean trammel_thermal_equal (const TrammelThermal *a, const TrammelThermal *b);
/* Within the bounds above, or not given; FALSE for NaN. */
gboolean trammel_thermal_is_usable (const TrammelThermal *thermal);

/**
 * TrammelInstrument:
 *
 * What readings are taken with. Beyond name and u everything may be left at 0: not given.
 */
typedef struct
{
  GRefString *name;
  double u;               /* standard uncertainty of one reading, mm */
  double resolution;      /* smallest step that it shows, mm */
  double scale_u;         /* relative standard uncertainty of its scale, shared by all of its readings */
  TrammelThermal thermal; /* its own: of the ruler */
} TrammelInstrument;

/* 0.5 would be an instrument that shows twice the length as soon as not. */
#define TRAMMEL_MAX_SCALE_U 0.5

/* Standard uncertainty from @resolution: a rectangular distribution of that width, resolution/√12. Source: JCGM
 * 100:2008 (GUM), F.2.2.1. */
double trammel_resolution_u (double resolution);

/* All but name and u: resolution 0…1e9 mm, scale_u 0…TRAMMEL_MAX_SCALE_U, usable
 * thermal. */
gboolean trammel_instrument_details_are_usable (const TrammelInstrument *instrument);
gboolean trammel_instrument_equal (const TrammelInstrument *a, const TrammelInstrument *b);

G_END_DECLS
