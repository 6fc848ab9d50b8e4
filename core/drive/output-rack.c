/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "drive/output-kind.h"

#include <math.h>

/* A pinion on a rack, and a worm on a rack: teeth or starts, times the circular pitch, which may be told as a module.
 */

/* clang-format off */
#define TOOTH_FIELDS(pitch_meaning_)                                                                                  \
  { .key = "module", .table = "module", .label = N_ ("Module"),                                                       \
    .meaning = N_ ("of the teeth: circular pitch divided by π; this or the pitch"),                                   \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_MODULE,                                            \
    .low = 0, .above_low = TRUE, .high = 1000, .initial = "1 mm" },                                                   \
  { .key = "pitch", .label = N_ ("Pitch"), .meaning = pitch_meaning_,                                                 \
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_LENGTH,                                            \
    .low = 0, .above_low = TRUE, .high = 1000 }

static const TrammelField rack_fields[] = {
  { .key = "teeth", .label = N_ ("Teeth"), .meaning = N_ ("of the pinion that runs on the rack"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = TRAMMEL_PART_MOST_TEETH, .initial = "15", .required = TRUE },
  TOOTH_FIELDS (N_ ("from tooth to tooth along the rack; this or the module")),
  TRAMMEL_PART_FACE (N_ ("of the pinion; gives the estimate of inertia")),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_OUTPUT_COMMON_FIELDS (
      N_ ("all that turns with the pinion; estimated from a solid disc where it is not given")),
};

static const TrammelField worm_rack_fields[] = {
  { .key = "starts", .label = N_ ("Starts"), .meaning = N_ ("threads of the worm: how many rack teeth one turn moves"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = TRAMMEL_PART_MOST_TEETH, .initial = "1", .required = TRUE },
  TOOTH_FIELDS (N_ ("from tooth to tooth along the rack, and along the worm; this or the module")),
  TRAMMEL_OUTPUT_COMMON_FIELDS (N_ ("all that turns with the worm")),
};
/* clang-format on */

static gboolean
check (const TrammelRecord *output, GError **error)
{
  const gboolean module = trammel_record_has (output, "module"), pitch = trammel_record_has (output, "pitch");
  if (module != pitch)
    return TRUE;

  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                       module ? _ ("pitch: found a module too; one of the two is wanted")
                              : _ ("module: not set, and no pitch either; one of the two is wanted"));
  return FALSE;
}

/* Circular pitch: as given, or π·module. */
static gboolean
circular_pitch (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  const TrammelExact pi = { 1, 1, 1 };
  TrammelExact module;
  if (trammel_record_has (output, "pitch"))
    return trammel_record_exact (output, "pitch", out, error);
  return trammel_record_exact (output, "module", &module, error) && trammel_exact_multiply (module, pi, out, error);
}

static gboolean
pitches_per_turn (const TrammelRecord *output, const char *key, TrammelExact *out, GError **error)
{
  TrammelExact pitch, number;
  return circular_pitch (output, &pitch, error) && trammel_record_exact (output, key, &number, error)
         && trammel_exact_multiply (pitch, number, out, error);
}

static gboolean
rack_travel (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  return pitches_per_turn (output, "teeth", out, error);
}

static gboolean
worm_rack_travel (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  return pitches_per_turn (output, "starts", out, error);
}

/* "module 1 mm" or "pitch 3 mm". */
static char *
tooth_words (const TrammelRecord *output)
{
  const gboolean by_pitch = trammel_record_has (output, "pitch");
  g_autofree char *size = trammel_words_of_field (output, by_pitch ? "pitch" : "module");
  return g_strdup_printf (by_pitch ? _ ("pitch %s") : _ ("module %s"), size);
}

static char *
rack_words (const TrammelRecord *output)
{
  g_autofree char *teeth = trammel_words_of_field (output, "teeth");
  g_autofree char *size = tooth_words (output);
  return g_strdup_printf (_ ("rack, pinion of %s, %s"), teeth, size);
}

static char *
worm_rack_words (const TrammelRecord *output)
{
  const gint64 starts = trammel_record_integer (output, "starts");
  g_autofree char *size = tooth_words (output);
  return g_strdup_printf (
      g_dngettext (GETTEXT_PACKAGE, "worm of %u start on rack, %s", "worm of %u starts on rack, %s", (gulong)starts),
      (guint)starts, size);
}

static const char *
pinion (const TrammelRecord *output)
{
  return N_ ("pinion");
}

static const char *
worm (const TrammelRecord *output)
{
  return N_ ("worm");
}

static double
travel_per_tooth (const TrammelRecord *output)
{
  TrammelExact pitch;
  return circular_pitch (output, &pitch, NULL) ? trammel_exact_to_double (pitch) : NAN;
}

const TrammelOutputKind trammel_output_rack = {
  .record = { .type = "rack", .label = N_ ("Rack and pinion"), TRAMMEL_OUTPUT_FIELDS (rack_fields), .check = check },
  .travel_per_turn = rack_travel,
  .words = rack_words,
  .usual_efficiency = 0.95,
  .bar = trammel_output_wheel_bar,
  .bar_wants = trammel_output_wheel_bar_wants,
  .turning_part = pinion,
  .travel_per_tooth = travel_per_tooth,
};

static TrammelEfficiency
worm_rack_efficiency (const TrammelRecord *output)
{
  const double given = trammel_record_value (output, "efficiency");
  if (!isnan (given))
    return trammel_efficiency_of_slide (given);
  return trammel_worm_efficiency (trammel_record_value (output, "starts") / TRAMMEL_WORM_USUAL_THICKNESS,
                                  TRAMMEL_WORM_USUAL_FRICTION);
}

const TrammelOutputKind trammel_output_worm_rack = {
  .record
  = { .type = "worm-rack", .label = N_ ("Worm on rack"), TRAMMEL_OUTPUT_FIELDS (worm_rack_fields), .check = check },
  .travel_per_turn = worm_rack_travel,
  .words = worm_rack_words,
  .efficiency = worm_rack_efficiency,
  .turning_part = worm,
  .travel_per_tooth = travel_per_tooth,
};
