/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/readings-csv.h"

#include <math.h>
#include <stdint.h>
#include <string.h>

/* Any bytes as readings in CSV: refused with a message, or read, and what is read comes back from what is written. */

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
  require (isfinite (reading->nominal) && !isinf (reading->measured) && !isinf (reading->u));
  require (!trammel_reading_is_complete (reading) || trammel_reading_check (reading, NULL));
}

int LLVMFuzzerTestOneInput (const uint8_t *data, size_t size);

int
LLVMFuzzerTestOneInput (const uint8_t *data, size_t size)
{
  GError *error = NULL;
  gsize n;
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_read ((const char *)data, size, "fuzz.csv", &error);
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
  g_autoptr (TrammelReadings) back = trammel_readings_csv_read (csv, strlen (csv), "fuzz.csv", NULL);
  require (back != NULL && trammel_readings_equal (readings, back));
  return 0;
}
