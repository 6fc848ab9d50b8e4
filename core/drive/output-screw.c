/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"
#include "drive/screw.h"

#include <math.h>

static const char *const hands[] = { "right", "left", NULL };
static const char *const hand_labels[] = { N_ ("right"), N_ ("left"), NULL };
static const char *const turning_parts[] = { "screw", "nut", NULL };
static const char *const turning_labels[] = { N_ ("screw"), N_ ("nut"), NULL };
static const char *const threads[] = { "square", "trapezoidal", "acme", "metric", NULL };
static const char *const thread_labels[]
    = { N_ ("square"), N_ ("trapezoidal, 15°"), N_ ("Acme, 14.5°"), N_ ("metric, 30°"), NULL };
static const char *const fixity_labels[]
    = { N_ ("fixed, free"), N_ ("supported, supported"), N_ ("fixed, supported"), N_ ("fixed, fixed"), NULL };

/* clang-format off */
static const TrammelField fields[] = {
  { .key = "pitch", .table = "thread-pitch", .label = N_ ("Pitch"),
    .meaning = N_ ("from one thread to the next: 1.25 mm for M8, 2 mm for Tr 8 × 8 with 4 starts, or 20 tpi"),
    .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_PITCH,
    .low = 0, .above_low = TRUE, .high = 1000, .initial = "2 mm", .required = TRUE },
  { .key = "starts", .label = N_ ("Starts"),
    .meaning = N_ ("threads side by side, counted at the end of the screw; lead = pitch × starts"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 100, .initial = "4", .required = TRUE },
  { .key = "hand", .label = N_ ("Hand"),
    .meaning = N_ ("which way the thread winds; nearly all are right, a left-hand one moves the other way"),
    .type = TRAMMEL_FIELD_CHOICE, .choices = hands, .choice_labels = hand_labels,
    .initial = "right", .required = TRUE },
  { .key = "turning", .label = N_ ("Turning part"),
    .meaning = N_ ("what the train turns: the screw, or the nut on a screw that stands still"),
    .type = TRAMMEL_FIELD_CHOICE, .choices = turning_parts, .choice_labels = turning_labels,
    .initial = "screw", .required = TRUE },
  { .key = "count", .label = N_ ("Screws"), .meaning = N_ ("equal screws side by side that move the axis together"),
    .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 16, .initial = "1", .required = TRUE },
  TRAMMEL_PART_LENGTH ("major", N_ ("Major diameter"), N_ ("over the crests of the thread: 8 mm for M8 or Tr 8"),
                       TRAMMEL_GROUP_LOAD),
  TRAMMEL_PART_LENGTH ("root", N_ ("Root diameter"),
                       N_ ("at the bottom of the thread; found from the others where it is not given"),
                       TRAMMEL_GROUP_LOAD),
  { .key = "thread", .label = N_ ("Thread"), .meaning = N_ ("shape of the thread: its half angle adds to the friction"),
    .type = TRAMMEL_FIELD_CHOICE, .choices = threads, .choice_labels = thread_labels, .group = TRAMMEL_GROUP_LOAD },
  TRAMMEL_PART_COEFFICIENT ("friction", N_ ("Friction"),
                            N_ ("coefficient between screw and nut: 0.1 oiled bronze, 0.15 greased, 0.2 dry")),
  TRAMMEL_PART_COEFFICIENT ("collar_friction", N_ ("Collar friction"),
                            N_ ("coefficient where the screw's end bears the push; 0 on a thrust bearing")),
  TRAMMEL_PART_LENGTH ("collar_diameter", N_ ("Collar diameter"),
                       N_ ("mean diameter of the face that bears the push; leave empty on a thrust bearing"),
                       TRAMMEL_GROUP_LOAD),
  TRAMMEL_PART_LENGTH ("length", N_ ("Free length"), N_ ("the longest stretch of screw without a bearing or nut"),
                       TRAMMEL_GROUP_LOAD),
  { .key = "fixity", .label = N_ ("Ends"),
    .meaning = N_ ("how its ends are held: fixed in two bearings or one long one, supported in one that gives, free"),
    .type = TRAMMEL_FIELD_CHOICE, .choices = trammel_fixity_keys, .choice_labels = fixity_labels, .group = TRAMMEL_GROUP_LOAD },
  TRAMMEL_PART_STRESS ("modulus", N_ ("Modulus"), N_ ("of elasticity: steel 207 GPa, brass 106 GPa"), "modulus"),
  TRAMMEL_PART_STRESS ("yield", N_ ("Yield strength"),
                       N_ ("of the screw's material, for short screws: mild steel 250 MPa, stainless 210 MPa"), NULL),
  TRAMMEL_PART_DENSITY,
  TRAMMEL_OUTPUT_COMMON_FIELDS (
      N_ ("all that turns with the screw, of one screw; estimated from a solid bar where it is not given")),
};
/* clang-format on */

static gboolean
travel_per_turn (const TrammelRecord *output, TrammelExact *out, GError **error)
{
  const gboolean left = g_str_equal (trammel_record_choice (output, "hand"), "left");
  TrammelExact pitch, starts;
  return trammel_record_exact (output, "pitch", &pitch, error)
         && trammel_record_exact (output, "starts", &starts, error)
         && trammel_exact_multiply (pitch, left ? trammel_exact_negate (starts) : starts, out, error);
}

static char *
words (const TrammelRecord *output)
{
  const gint64 starts = trammel_record_integer (output, "starts");
  g_autofree char *pitch = trammel_words_of_field (output, "pitch");
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "screw %s × %u start", "screw %s × %u starts", (gulong)starts),
                          pitch, (guint)starts);
}

static TrammelEfficiency
efficiency (const TrammelRecord *output)
{
  const double given = trammel_record_value (output, "efficiency");
  TrammelScrew screw;
  if (!trammel_screw_from_output (output, &screw))
    return isnan (given) ? (TrammelEfficiency){ NAN, NAN, FALSE } : trammel_efficiency_of_slide (given);
  const double thread = trammel_screw_efficiency (&screw), backward = trammel_screw_backward_efficiency (&screw);
  if (isnan (given))
    return (TrammelEfficiency){ thread, backward, FALSE };
  /* What the friction that is given beside it does not account for is lost in bearings, both ways. */
  const double rest = thread > given ? given / thread : 1;
  return (TrammelEfficiency){ given, backward > 0 ? backward * rest : backward, TRUE };
}

static void
bar (const TrammelRecord *output, double *diameter, double *length)
{
  TrammelScrew screw;
  if (!trammel_screw_turns (output) || !trammel_screw_from_output (output, &screw))
    return;
  *diameter = screw.mean;
  *length = trammel_record_value (output, "length");
}

/* Of a nut there is no estimate. */
static const char *
bar_wants (const TrammelRecord *output)
{
  if (!trammel_screw_turns (output))
    return "inertia";
  return trammel_record_has (output, "major") ? "length" : "major";
}

static const char *
turning_part (const TrammelRecord *output)
{
  return trammel_screw_turns (output) ? N_ ("screw") : N_ ("nut");
}

const TrammelOutputKind trammel_output_screw = {
  .record = { .type = "screw", .label = N_ ("Lead screw"), TRAMMEL_OUTPUT_FIELDS (fields) },
  .travel_per_turn = travel_per_turn,
  .words = words,
  .efficiency = efficiency,
  .bar = bar,
  .bar_wants = bar_wants,
  .turning_part = turning_part,
};
