/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Times an adjustment: adjustment-timing FILE.csv [REPEATS]. Prints one JSON object: seconds to read the file, seconds
 * of each adjustment, and how far the peak of memory rose above what the readings take, in kB. */
#include <stdio.h>
#include <stdlib.h>
#include <string.h>

#include "machine/readings-csv.h"
#include "measure/adjustment.h"

/* One of the sizes in /proc, in kB. */
static long
kilobytes (const char *key)
{
  g_autofree char *status = NULL;

  if (!g_file_get_contents ("/proc/self/status", &status, NULL, NULL))
    return 0;
  const char *found = strstr (status, key);
  return found ? atol (found + strlen (key)) : 0;
}

/* From here on the peak counts anew: what reading the file took for a while is forgotten. */
static void
forget_peak (void)
{
  FILE *file = fopen ("/proc/self/clear_refs", "w");

  if (file == NULL)
    return;
  fputs ("5", file);
  fclose (file);
}

static double
seconds_since (gint64 start)
{
  return (double)(g_get_monotonic_time () - start) / 1e6;
}

int
main (int argc, char **argv)
{
  g_autoptr (GError) error = NULL;
  int repeats = argc > 2 ? atoi (argv[2]) : 1;
  TrammelAdjustmentInput input = { 0 };
  double scale = 0, u = 0;
  long before;

  if (argc < 2)
    return 2;
  gint64 start = g_get_monotonic_time ();
  g_autoptr (TrammelReadings) readings = trammel_readings_csv_load (argv[1], NULL, &error);
  if (readings == NULL)
    {
      fprintf (stderr, "%s\n", error->message);
      return 1;
    }
  printf ("{\"load\": %.6f, \"adjust\": [", seconds_since (start));

  input.axes = "XYZ";
  input.readings = trammel_readings_rows (readings, &input.n_readings);
  input.scatter = TRAMMEL_SCATTER_ESTIMATED;
  forget_peak ();
  before = kilobytes ("VmRSS:");
  for (int i = 0; i < repeats; i++)
    {
      start = g_get_monotonic_time ();
      g_autoptr (TrammelAdjustment) adjustment = trammel_adjustment_new (&input, NULL, &error);
      printf (i > 0 ? ", %.6f" : "%.6f", seconds_since (start));
      if (adjustment == NULL)
        {
          fprintf (stderr, "%s\n", error->message);
          return 1;
        }
      scale = trammel_adjustment_axis (adjustment, 'X')->scale_error;
      u = trammel_adjustment_axis (adjustment, 'X')->u;
    }
  printf ("], \"kilobytes\": %ld, \"readings\": %" G_GSIZE_FORMAT ", \"scale\": %.17g, \"u\": %.17g}\n",
          kilobytes ("VmHWM:") - before, input.n_readings, scale, u);
  return 0;
}
