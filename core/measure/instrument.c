/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/instrument.h"

#include <math.h>
#include <string.h>

#define COARSEST 1e9

double
trammel_thermal_strain (const TrammelThermal *thermal)
{
  g_return_val_if_fail (thermal != NULL, 0);

  return thermal->has_temperature ? thermal->expansion * (thermal->temperature - TRAMMEL_REFERENCE_TEMPERATURE) : 0;
}

gboolean
trammel_thermal_equal (const TrammelThermal *a, const TrammelThermal *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return a->expansion == b->expansion && !a->has_temperature == !b->has_temperature
         && (!a->has_temperature || a->temperature == b->temperature);
}

/* Written so that NaN fails too. */
static gboolean
is_within (double value, double low, double high)
{
  return value >= low && value <= high;
}

gboolean
trammel_thermal_is_usable (const TrammelThermal *thermal)
{
  g_return_val_if_fail (thermal != NULL, FALSE);

  return is_within (thermal->expansion, 0, TRAMMEL_MAX_EXPANSION)
         && (!thermal->has_temperature
             || is_within (thermal->temperature, TRAMMEL_MIN_TEMPERATURE, TRAMMEL_MAX_TEMPERATURE));
}

double
trammel_resolution_u (double resolution)
{
  return resolution / sqrt (12);
}

gboolean
trammel_instrument_details_are_usable (const TrammelInstrument *instrument)
{
  g_return_val_if_fail (instrument != NULL, FALSE);

  return is_within (instrument->resolution, 0, COARSEST) && is_within (instrument->scale_u, 0, TRAMMEL_MAX_SCALE_U)
         && trammel_thermal_is_usable (&instrument->thermal);
}

gboolean
trammel_instrument_equal (const TrammelInstrument *a, const TrammelInstrument *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return strcmp (a->name, b->name) == 0 && a->u == b->u && a->resolution == b->resolution && a->scale_u == b->scale_u
         && trammel_thermal_equal (&a->thermal, &b->thermal);
}
