/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/bead-task.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

static const TrammelAmount unknown = { NAN, NAN };

void
trammel_bead_init (TrammelBead *bead)
{
  g_return_if_fail (bead != NULL);

  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    bead->given[i] = unknown;
  bead->width = bead->speed = bead->flow = bead->area = bead->feed = unknown;
}

gboolean
trammel_bead_is_given (const TrammelBead *bead, TrammelBeadGiven which)
{
  g_return_val_if_fail (bead != NULL && which < TRAMMEL_BEAD_N_GIVEN, FALSE);

  return !isnan (bead->given[which].value);
}

static gboolean
is_known (TrammelAmount amount)
{
  return !isnan (amount.value);
}

static TrammelAmount
flow_given (const TrammelBead *bead)
{
  const TrammelAmount *given = bead->given;

  if (trammel_bead_is_given (bead, TRAMMEL_BEAD_FEED))
    return trammel_bead_flow_of_filament (given[TRAMMEL_BEAD_FILAMENT], given[TRAMMEL_BEAD_FEED]);
  if (trammel_bead_is_given (bead, TRAMMEL_BEAD_LENGTH))
    return trammel_bead_flow_of_length (given[TRAMMEL_BEAD_FILAMENT], given[TRAMMEL_BEAD_LENGTH],
                                        given[TRAMMEL_BEAD_TIME]);
  if (trammel_bead_is_given (bead, TRAMMEL_BEAD_MASS))
    return trammel_bead_flow_of_mass (given[TRAMMEL_BEAD_MASS], given[TRAMMEL_BEAD_DENSITY], given[TRAMMEL_BEAD_TIME]);
  return unknown;
}

static TrammelAmount
feed_of (const TrammelBead *bead)
{
  const TrammelAmount *given = bead->given;

  if (trammel_bead_is_given (bead, TRAMMEL_BEAD_FEED))
    return given[TRAMMEL_BEAD_FEED];
  if (trammel_bead_is_given (bead, TRAMMEL_BEAD_LENGTH))
    return trammel_bead_quotient (given[TRAMMEL_BEAD_LENGTH], given[TRAMMEL_BEAD_TIME]);
  if (trammel_bead_is_given (bead, TRAMMEL_BEAD_FILAMENT))
    return trammel_bead_feed (bead->flow, given[TRAMMEL_BEAD_FILAMENT]);
  return unknown;
}

static gboolean
check_given (const TrammelBead *bead, GError **error)
{
  const int known = is_known (bead->width) + is_known (bead->speed) + is_known (bead->flow);

  for (gsize i = 0; i < TRAMMEL_BEAD_N_GIVEN; i++)
    if (is_known (bead->given[i]) && !(bead->given[i].value > 0))
      {
        g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("values above 0 are wanted"));
        return FALSE;
      }
  if (known == 2 && trammel_bead_is_given (bead, TRAMMEL_BEAD_HEIGHT))
    return TRUE;
  g_set_error_literal (
      error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
      known > 2 ? _ ("only two of the width, the speed and what flows are wanted; the third follows")
                : _ ("the height and two of the width, the speed and what flows are wanted; the third follows"));
  return FALSE;
}

static void
find_bead (TrammelBead *bead)
{
  if (is_known (bead->width))
    {
      bead->area = trammel_bead_area (bead->width, bead->given[TRAMMEL_BEAD_HEIGHT]);
      return;
    }
  bead->area = trammel_bead_quotient (bead->flow, bead->speed);
  bead->width = trammel_bead_width (bead->area, bead->given[TRAMMEL_BEAD_HEIGHT]);
}

gboolean
trammel_bead_solve (TrammelBead *bead, GError **error)
{
  g_return_val_if_fail (bead != NULL, FALSE);

  bead->width = bead->given[TRAMMEL_BEAD_WIDTH];
  bead->speed = bead->given[TRAMMEL_BEAD_SPEED];
  bead->flow = flow_given (bead);
  if (!check_given (bead, error))
    return FALSE;
  find_bead (bead);
  if (!is_known (bead->area) || !is_known (bead->width))
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE,
                           _ ("found a bead narrower than it is high; it would not fill its layer"));
      return FALSE;
    }
  if (!is_known (bead->speed))
    bead->speed = trammel_bead_quotient (bead->flow, bead->area);
  if (!is_known (bead->flow))
    bead->flow = trammel_bead_flow (bead->area, bead->speed);
  bead->feed = feed_of (bead);
  return TRUE;
}
