/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/reading-hints.h"

#include <glib/gi18n.h>
#include <string.h>

static const char *const hints[TRAMMEL_N_READING_KINDS] = {
  [TRAMMEL_READING_OUTSIDE]
  = N_ ("Close the outer jaws flat over the two faces, above the lowest layers and away from "
        "blobs and seams. Let the part cool first, and press no harder than the thumb roll does."),
  [TRAMMEL_READING_INSIDE] = N_ ("Open the inner jaws between the two faces. Rock a little and take the smallest value "
                                 "across, so that the jaws stand square to the faces."),
  [TRAMMEL_READING_CENTER] = N_ ("From one face to the like face of the next feature, left to left or right to right: "
                                 "the bead adds the same at both ends and drops out."),
  [TRAMMEL_READING_HEIGHT] = N_ ("From the face that lay on the bed up to the top, away from the very edge, where the "
                                 "first layer may be squashed outwards."),
  [TRAMMEL_READING_TRAVEL]
  = N_ ("Nothing is printed: set the instrument to zero at the carriage, command the nominal "
        "length and read it. Arrive from the same side; if the direction was reversed just "
        "before, enter “reversed” under approach. Keep fingers away from the moving carriage."),
  [TRAMMEL_READING_POSITION]
  = N_ ("Command the target and read the place against one datum, which stays untouched for a "
        "whole set. Enter + under approach when arriving from below, - from above. Keep "
        "fingers away from the moving carriage."),
  [TRAMMEL_READING_HOME]
  = N_ ("Home the axis again and again, ten times or more, and read each time where it stood when the switch fired, "
        "as a dial indicator or the counts tell. Under set name the way of approach, such as fast or two-speed. It "
        "tells how well the switch repeats and takes no part in the fit. Keep fingers away from the moving "
        "carriage."),
  [TRAMMEL_READING_REVERSAL]
  = N_ ("Reach one place moving up and again moving down, and read how far apart: from line to line of the ladder, "
        "center to center, or with an indicator. Play makes it positive: the line reached moving down lies farther "
        "along the axis. Nominal is that place, and may stay blank."),
};

static gboolean
is_across (const TrammelReading *reading)
{
  return reading->has_along && !trammel_direction_is_single (&reading->along);
}

char *
trammel_reading_hint (const TrammelReading *reading)
{
  g_return_val_if_fail (reading != NULL && reading->kind < TRAMMEL_N_READING_KINDS, NULL);

  const char *hint = _ (hints[reading->kind]);
  if (!is_across (reading) || !trammel_reading_kind_is_printed (reading->kind))
    return g_strdup (hint);
  return g_strconcat (
      _ ("Corner to corner: measure both diagonals, since their difference tells how square the axes are."), " ", hint,
      NULL);
}
