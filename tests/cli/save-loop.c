/* SPDX-License-Identifier: GPL-3.0-or-later */
/* save-loop FILE ONE OTHER: writes what two machines look like on disk to ONE and OTHER, says so, and then saves the
 * two to FILE in turn until it is killed. */
#include "machine/codec.h"
#include "machine/store.h"

#include <stdio.h>
#include <unistd.h>

static TrammelMachine *
machine_with_rows (const char *name, int n)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  g_autoptr (TrammelMachine) machine = trammel_machine_with_name (empty, name);
  GArray *rows = trammel_reading_array_new ((gsize)n);
  for (int i = 0; i < n; i++)
    {
      TrammelReading reading;
      trammel_reading_init (&reading);
      reading.nominal = i;
      reading.measured = i + 0.25;
      g_array_append_val (rows, reading);
    }
  g_autoptr (TrammelReadings) readings = trammel_readings_take (rows);
  return trammel_machine_with_readings (machine, readings);
}

static gboolean
write_expected (const TrammelMachine *machine, const char *path)
{
  gsize length;
  g_autofree char *text = trammel_codec_write (machine, &length);
  return g_file_set_contents (path, text, (gssize)length, NULL);
}

int
main (int argc, char **argv)
{
  if (argc != 4)
    return 2;
  g_autoptr (TrammelMachine) one = machine_with_rows ("one", 3000);
  g_autoptr (TrammelMachine) other = machine_with_rows ("other", 5000);
  if (!write_expected (one, argv[2]) || !write_expected (other, argv[3]))
    return 1;
  if (write (STDOUT_FILENO, "\n", 1) != 1)
    return 1;
  for (int i = 0;; i++)
    {
      g_autoptr (GError) error = NULL;
      if (!trammel_store_save (i % 2 == 0 ? one : other, argv[1], &error))
        {
          fprintf (stderr, "%s\n", error->message);
          return 1;
        }
    }
}
