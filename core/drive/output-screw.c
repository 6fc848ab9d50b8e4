/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/output-kind.h"

static const char *const hands[] = { "right", "left", NULL };
static const char *const hand_labels[] = { N_ ("right"), N_ ("left"), NULL };
static const char *const turning_parts[] = { "screw", "nut", NULL };
static const char *const turning_labels[] = { N_ ("screw"), N_ ("nut"), NULL };

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

const TrammelOutputKind trammel_output_screw = {
  .record = { .type = "screw", .label = N_ ("Lead screw"), TRAMMEL_OUTPUT_FIELDS (fields) },
  .travel_per_turn = travel_per_turn,
  .words = words,
};
