/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/bead-sentences.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/display.h"

#define DIGITS 5

/* clang-format off */
static const TrammelBeadField fields[TRAMMEL_BEAD_N_GIVEN] = {
  { "width",    N_ ("Bead width"),        N_ ("Width of the bead, all of it"),                    TRAMMEL_DIMENSION_LENGTH },
  { "height",   N_ ("Layer height"),      N_ ("Its height: that of the layer"),                   TRAMMEL_DIMENSION_LENGTH },
  { "speed",    N_ ("Speed"),             N_ ("Speed at which it is laid"),                       TRAMMEL_DIMENSION_SPEED },
  { "filament", N_ ("Filament diameter"), N_ ("Diameter of the filament"),                        TRAMMEL_DIMENSION_LENGTH },
  { "feed",     N_ ("Filament feed"),     N_ ("How fast filament is fed"),                        TRAMMEL_DIMENSION_SPEED },
  { "length",   N_ ("Filament used"),     N_ ("Measured: the filament used up in the time"),      TRAMMEL_DIMENSION_LENGTH },
  { "mass",     N_ ("Mass"),              N_ ("Measured: what came out in the time, such as 1.2 g"), TRAMMEL_DIMENSION_MASS },
  { "density",  N_ ("Density"),           N_ ("Density of the material, such as 1.24 g/cm³"),     TRAMMEL_DIMENSION_DENSITY },
  { "time",     N_ ("Time"),              N_ ("How long it was measured"),                        TRAMMEL_DIMENSION_TIME },
};
/* clang-format on */

const TrammelBeadField *
trammel_bead_fields (void)
{
  return fields;
}

/* Where the given values are exact nothing stands behind the number. */
static char *
amount_text (TrammelAmount amount, const TrammelUnit *unit, int power, const char *behind)
{
  const double factor = pow (trammel_unit_factor (unit), power);
  g_autofree char *number
      = amount.u > 0 ? trammel_display_interval (amount.value / factor, TRAMMEL_DISPLAY_95 * amount.u / factor)
                     : trammel_display_significant (amount.value / factor, DIGITS);

  return g_strconcat (number, " ", trammel_unit_symbol (unit), behind, NULL);
}

static void
line_clear (gpointer line)
{
  g_free (((TrammelBeadLine *)line)->text);
}

static void
add_line (GArray *lines, const char *label, TrammelAmount amount, const TrammelUnit *unit, int power,
          const char *behind)
{
  const TrammelBeadLine line = { label, amount_text (amount, unit, power, behind) };
  g_array_append_val (lines, line);
}

GArray *
trammel_sentences_bead_lines (const TrammelBead *bead, const TrammelUnit *unit)
{
  g_return_val_if_fail (bead != NULL && unit != NULL, NULL);

  GArray *lines = g_array_new (FALSE, FALSE, sizeof (TrammelBeadLine));
  g_array_set_clear_func (lines, line_clear);
  add_line (lines, _ ("Bead width"), bead->width, unit, 1, "");
  add_line (lines, _ ("Layer height"), bead->given[TRAMMEL_BEAD_HEIGHT], unit, 1, "");
  add_line (lines, _ ("Section"), bead->area, unit, 2, "²");
  add_line (lines, _ ("Speed"), bead->speed, unit, 1, "/s");
  add_line (lines, _ ("Flow"), bead->flow, unit, 3, "³/s");
  if (!isnan (bead->feed.value))
    add_line (lines, _ ("Filament feed"), bead->feed, unit, 1, "/s");
  return lines;
}

static char *
flow_sentence (const TrammelBead *bead, const TrammelUnit *unit, const char *width, const char *speed)
{
  g_autofree char *flow = amount_text (bead->flow, unit, 3, "³/s");

  if (isnan (bead->feed.value))
    return g_strdup_printf (_ ("A bead %s wide at %s takes a flow of %s."), width, speed, flow);
  g_autofree char *feed = amount_text (bead->feed, unit, 1, "/s");
  return g_strdup_printf (_ ("A bead %s wide at %s takes a flow of %s: filament fed at %s."), width, speed, flow, feed);
}

char *
trammel_sentences_bead (const TrammelBead *bead, const TrammelUnit *unit)
{
  g_return_val_if_fail (bead != NULL && unit != NULL, NULL);

  g_autofree char *width = amount_text (bead->width, unit, 1, "");
  g_autofree char *speed = amount_text (bead->speed, unit, 1, "/s");

  if (!trammel_bead_is_given (bead, TRAMMEL_BEAD_WIDTH))
    return g_strdup_printf (_ ("At %s this flow lays a bead %s wide."), speed, width);
  if (!trammel_bead_is_given (bead, TRAMMEL_BEAD_SPEED))
    return g_strdup_printf (_ ("This flow lays a bead %s wide at %s."), width, speed);
  return flow_sentence (bead, unit, width, speed);
}

const char *
trammel_sentences_bead_note (const TrammelBead *bead)
{
  g_return_val_if_fail (bead != NULL, NULL);

  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    if (bead->given[i].u > 0)
      /* xgettext:no-c-format */
      return _ ("What is found stands with a 95 % interval; what is given, with a standard uncertainty.");
  return NULL;
}

const char *
trammel_sentences_bead_caution (void)
{
  return _ ("The hot tip and fresh plastic burn; a pen held on past its rated time overheats; ventilate; never leave a "
            "heated machine alone.");
}
