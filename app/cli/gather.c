/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/gather.h"

#include "machine/readings-csv.h"

TrammelReadings *
cli_gather_readings (const TrammelMachine *machine, const char *csv_path, gboolean only, GError **error)
{
  g_autoptr (TrammelReadings) of_file = NULL;
  const TrammelReadings *own = trammel_machine_readings (machine);
  const TrammelReading *rows;
  gsize n;

  if (!csv_path)
    return trammel_readings_ref (own);
  of_file = trammel_readings_csv_load (csv_path, machine, error);
  if (!of_file)
    return NULL;
  if (only || trammel_readings_length (own) == 0)
    return g_steal_pointer (&of_file);
  rows = trammel_readings_rows (of_file, &n);
  return trammel_readings_splice (own, trammel_readings_length (own), 0, rows, n);
}
