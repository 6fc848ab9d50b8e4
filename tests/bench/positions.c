/* SPDX-License-Identifier: GPL-3.0-or-later */
/* positions-timing TABLE.csv MACHINE TRIALS: times in seconds, as JSON, for positions.py. */
#include <stdio.h>
#include <stdlib.h>

#include "machine/axis-cycles.h"
#include "machine/foresight.h"
#include "machine/readings-csv.h"
#include "machine/store.h"

static double
seconds_since (gint64 start)
{
  return (double)(g_get_monotonic_time () - start) / G_USEC_PER_SEC;
}

static void
time_positions (const TrammelMachine *machine, const TrammelReadings *readings)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (readings, &n);
  g_autoptr (GError) error = NULL;

  gint64 start = g_get_monotonic_time ();
  g_autoptr (TrammelPositions) positions = trammel_positions_new (rows, n, 'X', NULL, &error);
  const double analysis = seconds_since (start);
  if (!positions)
    g_error ("%s", error->message);
  start = g_get_monotonic_time ();
  g_autoptr (TrammelAxisCycles) cycles = trammel_axis_cycles_new (trammel_machine_axis (machine, 0), positions, &error);
  const double search = seconds_since (start);
  if (!cycles)
    g_error ("%s", error->message);
  printf ("{\"analysis\": %.6f, \"cycles\": %.6f, \"scale\": %.17g, \"amplitude\": %.17g, ", analysis, search,
          trammel_positions_line (positions).scale_error,
          g_array_index (cycles->cycles, TrammelCycle, cycles->cycles->len - 2).amplitude);
}

static void
time_trials (const TrammelMachine *machine, gsize trials)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelAdjustment) adjustment = trammel_machine_adjust (machine, NULL, NULL, &error);
  const TrammelMonteCarloOptions options = { .trials = trials, .seed = 1 };
  if (!adjustment)
    g_error ("%s", error->message);

  const gint64 start = g_get_monotonic_time ();
  g_autoptr (GArray) axes = trammel_machine_monte_carlo (machine, adjustment, NULL, &options, &error);
  printf ("\"trials\": %.6f, \"u\": %.17g}\n", seconds_since (start),
          axes ? g_array_index (axes, TrammelMonteCarloAxis, 0).u : 0);
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  if (argc != 4)
    return 2;
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_load (argv[1], NULL, &error);
  g_autoptr (TrammelMachine) machine = readings ? trammel_store_load (argv[2], &error) : NULL;
  if (!machine)
    g_error ("%s", error->message);
  time_positions (machine, readings);
  time_trials (machine, (gsize)strtoull (argv[3], NULL, 10));
  return 0;
}
