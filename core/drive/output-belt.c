/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "teeth", .label = N_ ("Teeth"), .meaning = N_ ("of the pulley that drives the belt"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = TRAMMEL_PART_MOST_TEETH, .initial = "20", .required = TRUE },
  { .key = "pitch", .table = "belt-pitch", .label = N_ ("Pitch"),
    .meaning = N_ ("from tooth to tooth of the belt: 2 mm, 2.032 mm for MXL, 5.08 mm for XL"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,
    .low = 0, .above_low = TRUE, .high = 1000, .initial = "2 mm", .required = TRUE },
  { .key = "fall", .label = N_ ("Falls"),
    .meaning = N_ ("1, or 2 where the belt runs over a pulley on the carriage, which then moves half as far"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 2, .initial = "1", .required = TRUE },
  TRAMMEL_PART_FACE (N_ ("of the driving pulley; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_OUTPUT_COMMON_FIELDS (
      N_ ("all that turns with the driving pulley; estimated from a solid disc where it is not given")),
};
/* clang-format on */

static gboolean
travel_per_turn (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  TrammelExact pitch, teeth, fall, around;
  return trammel_record_exact (output, "pitch", &pitch, error) && trammel_record_exact (output, "teeth", &teeth, error)
         && trammel_record_exact (output, "fall", &fall, error) && trammel_exact_divide (teeth, fall, &around, error)
         && trammel_exact_multiply (pitch, around, out, error);
}

static char *
words (const TrammelRecord *output)
{
  g_autofree char *teeth = trammel_words_of_field (output, "teeth");
  g_autofree char *pitch = trammel_words_of_field (output, "pitch");
  if (trammel_record_integer (output, "fall") == 2)
    return g_strdup_printf (_ ("belt %s × %s, 2 falls"), teeth, pitch);
  return g_strdup_printf (_ ("belt %s × %s"), teeth, pitch);
}

/* Of the driving pulley, however many falls its belt has. */
static void
bar (const TrammelRecord *output, double *diameter, double *length)
{
  trammel_output_wheel_bar (output, diameter, length);
  *diameter *= trammel_record_value (output, "fall");
}

static const char *
turning_part (const TrammelRecord *output)
{
  return N_ ("pulley");
}

static double
travel_per_tooth (const TrammelRecord *output)
{
  return trammel_record_value (output, "pitch") / trammel_record_value (output, "fall");
}

const TrammelOutputKind trammel_output_belt = {
  .record = { .type = "belt", .label = N_ ("Belt"), TRAMMEL_OUTPUT_FIELDS (fields) },
  .travel_per_turn = travel_per_turn,
  .words = words,
  .usual_efficiency = 0.95,
  .bar = bar,
  .bar_wants = trammel_output_wheel_bar_wants,
  .turning_part = turning_part,
  .travel_per_tooth = travel_per_tooth,
};
