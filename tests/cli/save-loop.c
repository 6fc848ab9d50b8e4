/* SPDX-License-Identifier: GPL-3.0-or-later */
/* save-loop one|other FILE: saves two machines to FILE in turn, that one first, until it is killed; a line tells when
 * it begins. With show instead, writes what the two look like on disk to FILE.one and FILE.other. */
#include "machine/codec.h"
#include "machine/store.h"

#include <stdio.h>
#include <string.h>
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
  g_autofree char *name = g_strconcat (path, ".", trammel_machine_name (machine), NULL);
  gsize length;
  g_autofree char *text = trammel_codec_write (machine, &length);
  return g_file_set_contents (name, text, (gssize)length, NULL);
}

int
main (int argc, char **argv)
{
  if (argc != 3)
    return 2;
  g_autoptr (TrammelMachine) one = machine_with_rows ("one", 3000);
  g_autoptr (TrammelMachine) other = machine_with_rows ("other", 5000);
  if (strcmp (argv[1], "show") == 0)
    return write_expected (one, argv[2]) && write_expected (other, argv[2]) ? 0 : 1;
  if (write (STDOUT_FILENO, "\n", 1) != 1)
    return 1;
  for (int i = strcmp (argv[1], "one") == 0 ? 0 : 1;; i++)
    {
      g_autoptr (GError) error = NULL;
      if (!trammel_store_save (i % 2 == 0 ? one : other, argv[2], &error))
        {
          fprintf (stderr, "%s\n", error->message);
          return 1;
        }
    }
}
