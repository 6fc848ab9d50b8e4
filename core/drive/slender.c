/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/slender.h"

#include <math.h>

/* By fixity: the first root of the beam's frequency equation, and the end condition of its column. */
static const struct
{
  double root;
  double column;
} ends[] = {
  [TRAMMEL_FIXITY_FIXED_FREE] = { 1.8751040687119611, 0.25 },
  [TRAMMEL_FIXITY_SUPPORTED_SUPPORTED] = { G_PI, 1 },
  [TRAMMEL_FIXITY_FIXED_SUPPORTED] = { 3.9266023120479188, 2 },
  [TRAMMEL_FIXITY_FIXED_FIXED] = { 4.7300407448627040, 4 },
};

double
trammel_bar_whirl (const TrammelBar *bar)
{
  g_return_val_if_fail (bar != NULL && bar->fixity < G_N_ELEMENTS (ends), NAN);

  const double speed_of_sound = sqrt (bar->modulus * 1e6 / bar->density) * 1e3; /* mm/s */
  const double k = ends[bar->fixity].root / bar->length;
  return k * k * bar->diameter / 4 * speed_of_sound;
}

double
trammel_bar_slenderness (const TrammelBar *bar)
{
  g_return_val_if_fail (bar != NULL, NAN);

  return bar->length / (bar->diameter / 4);
}

double
trammel_bar_slenderness_limit (const TrammelBar *bar)
{
  g_return_val_if_fail (bar != NULL && bar->fixity < G_N_ELEMENTS (ends), NAN);

  return sqrt (2 * G_PI * G_PI * ends[bar->fixity].column * bar->modulus / bar->yield);
}

double
trammel_bar_buckling (const TrammelBar *bar)
{
  g_return_val_if_fail (bar != NULL && bar->fixity < G_N_ELEMENTS (ends), NAN);

  const double area = G_PI / 4 * bar->diameter * bar->diameter, slenderness = trammel_bar_slenderness (bar);
  const double column = ends[bar->fixity].column;
  if (slenderness > trammel_bar_slenderness_limit (bar))
    return column * G_PI * G_PI * bar->modulus * area / (slenderness * slenderness);

  const double bent = bar->yield / (2 * G_PI) * slenderness;
  return area * (bar->yield - bent * bent / (column * bar->modulus));
}

gboolean
trammel_bar_from_output (const TrammelRecord *output, TrammelBar *out)
{
  g_return_val_if_fail (output != NULL && out != NULL && trammel_record_is (output, "screw"), FALSE);

  out->diameter = trammel_screw_root_of_output (output);
  out->length = trammel_record_value (output, "length");
  trammel_fixity_from_key (trammel_record_choice (output, "fixity"), &out->fixity);
  out->modulus = trammel_record_value_or (output, "modulus", TRAMMEL_STEEL_MODULUS);
  out->density = trammel_record_value_or (output, "density", TRAMMEL_STEEL_DENSITY);
  out->yield = trammel_record_value_or (output, "yield", TRAMMEL_STEEL_YIELD);
  return out->diameter > 0 && out->length > 0;
}
