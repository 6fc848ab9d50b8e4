/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "diameter", .label = N_ ("Diameter"),
    .meaning = N_ ("effective: where the roller grips, at the bottom of its groove or hobbing"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = 10000, .initial = "8 mm", .required = TRUE },
  TRAMMEL_PART_FACE (N_ ("of the roller; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_OUTPUT_COMMON_FIELDS (
      N_ ("all that turns with the roller; estimated from a solid disc where it is not given")),
};
/* clang-format on */

static gboolean
travel_per_turn (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  const TrammelExact pi = { 1, 1, 1 };
  TrammelExact diameter;
  return trammel_record_exact (output, "diameter", &diameter, error)
         && trammel_exact_multiply (diameter, pi, out, error);
}

static char *
words (const TrammelRecord *output)
{
  g_autofree char *diameter = trammel_words_of_field (output, "diameter");
  return g_strdup_printf (_ ("roller %s"), diameter);
}

static const char *
turning_part (const TrammelRecord *output)
{
  return N_ ("roller");
}

const TrammelOutputKind trammel_output_roller = {
  .record = { .type = "roller", .label = N_ ("Roller"), TRAMMEL_OUTPUT_FIELDS (fields) },
  .travel_per_turn = travel_per_turn,
  .words = words,
  .usual_efficiency = 0.95,
  .bar = trammel_output_wheel_bar,
  .bar_wants = trammel_output_wheel_bar_wants,
  .turning_part = turning_part,
};
