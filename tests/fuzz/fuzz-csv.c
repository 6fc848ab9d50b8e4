/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/homing-csv.h"
#include "machine/position-list.h"
#include "machine/readings-csv.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Any bytes as readings in CSV: refused with a message, or read, and what is read comes back from what is written. The
 * same bytes as homes, and as a plain list of positions where they are text: refused with a message, or finite numbers.
 */

static void
require (gboolean holds)
{
  if (!holds)
    __builtin_trap ();
}

static void
require_message (GError *error)
{
  require (error != NULL && g_str_has_prefix (error->message, "fuzz.csv: "));
  require (g_utf8_validate (error->message, -1, NULL) && strlen (error->message) < 4000);
  g_error_free (error);
}

static void
require_sound (const TrammelReading *reading)
{
  require (reading->has_along && !trammel_reading_has_faulty (reading));
  require (isfinite (reading->nominal)
           || (isnan (reading->nominal) && !trammel_reading_kind_needs_nominal (reading->kind)));
  require (!isinf (reading->measured) && !isinf (reading->u));
  require (!trammel_reading_is_complete (reading) || trammel_reading_check (reading, NULL));
}

static void
read_homes (const char *text, gsize length)
{
  GError *error = NULL;
  gsize n;
  g_autoptr (TrammelHomingRows) homes = trammel_homing_csv_read (text, length, "fuzz.csv", &error);

  if (homes == NULL)
    {
      require_message (error);
      return;
    }
  require (error == NULL);
  const TrammelHomingRow *rows = trammel_homing_rows_get (homes, &n);
  for (gsize i = 0; i < n; i++)
    require (isfinite (rows[i].measured) && !isinf (rows[i].run) && rows[i].group != NULL);
}

static void
read_list (const char *text, gsize length, gboolean rotary)
{
  const TrammelPositionListOptions options = { .letter = rotary ? 'C' : 'X', .rotary = rotary };
  g_auto (TrammelPositionList) list = { NULL };
  g_autoptr (GError) error = NULL;
  gsize n;

  if (!g_utf8_validate (text, (gssize)length, NULL))
    return;
  g_autofree char *terminated = g_strndup (text, length);
  if (!trammel_position_list_read (terminated, &options, &list, &error))
    {
      require (error != NULL && g_utf8_validate (error->message, -1, NULL) && strlen (error->message) < 4000);
      return;
    }
  require (error == NULL && list.n_targets > 0 && list.values != TRAMMEL_LIST_VALUES_GUESSED);
  const TrammelReading *rows = trammel_readings_rows (list.readings, &n);
  require (n == list.n_up + list.n_down + list.n_unsaid);
  for (gsize i = 0; i < n; i++)
    require (isfinite (rows[i].nominal) && isfinite (rows[i].measured) && rows[i].run > 0);
}

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  GError *error = NULL;
  gsize n;
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_read ((const char *)data, size, "fuzz.csv", NULL, &error);
  read_homes (size > 0 ? (const char *)data : "", size);
  for (int rotary = 0; rotary <= 1; rotary++)
    read_list (size > 0 ? (const char *)data : "", size, rotary != 0);
  if (readings == NULL)
    {
      require_message (error);
      return 0;
    }
  require (error == NULL);

  const TrammelReading *rows = trammel_readings_rows (readings, &n);
  for (gsize i = 0; i < n; i++)
    require_sound (&rows[i]);
  g_autofree char *csv = trammel_readings_csv_write (readings);
  g_autoptr (TrammelReadings) back = trammel_readings_csv_read (csv, strlen (csv), "fuzz.csv", NULL, NULL);
  require (back != NULL && trammel_readings_equal (readings, back));
  return 0;
}
