/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/piece-rows.h"

#include <glib/gi18n.h>
#include <math.h>

/* A row that waits for the same measurement, in @rows before @n; −1: none. */
static int
waiting_row (const TrammelReading *rows, gsize n, const TrammelReading *planned)
{
  for (gsize i = 0; i < n; i++)
    if (isnan (rows[i].measured) && rows[i].kind == planned->kind && rows[i].has_along
        && trammel_direction_equal (&rows[i].along, &planned->along) && rows[i].nominal == planned->nominal)
      return (int)i;
  return -1;
}

gsize
trammel_piece_rows_add (TrammelSession *session, const TrammelTestPiece *piece, int *first)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session) && piece != NULL, 0);

  const TrammelMachine *machine = trammel_session_machine (session);
  const TrammelReadings *readings = trammel_machine_readings (machine);
  g_autoptr (TrammelReadings) plan = trammel_test_piece_plan (piece);
  g_autoptr (GArray) added = trammel_reading_array_new (trammel_readings_length (plan));
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);
  int earliest = -1;

  for (gsize i = 0; i < trammel_readings_length (plan); i++)
    {
      const TrammelReading *planned = trammel_readings_get (plan, i);
      int row = waiting_row (rows, n, planned);
      if (row < 0)
        {
          TrammelReading copy;
          trammel_reading_copy (planned, &copy);
          g_array_append_val (added, copy);
        }
      else if (earliest < 0 || row < earliest)
        earliest = row;
    }
  if (first)
    *first = added->len > 0 ? (int)n : earliest;
  if (added->len == 0)
    return 0;

  g_autoptr (TrammelReadings) more
      = trammel_readings_splice (readings, n, 0, (const TrammelReading *)(gpointer)added->data, added->len);
  trammel_session_edit (session, trammel_machine_with_readings (machine, more), _ ("add the test piece’s rows"), NULL);
  return added->len;
}

char *
trammel_piece_rows_words (gsize n_added)
{
  if (n_added == 0)
    return g_strdup (_ ("All rows of the test piece wait to be measured already."));
  return g_strdup_printf (ngettext ("%d row added to the readings, waiting to be measured.",
                                    "%d rows added to the readings, waiting to be measured.", n_added),
                          (int)n_added);
}
