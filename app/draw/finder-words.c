/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/finder-words.h"

#include "draw/display.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#define MOST_PPM 999.5

static void
append_pair (GString *text, const TrammelFinderPair *pair)
{
  if (pair->idler > 0)
    g_string_append_printf (text, "%d:(%d):%d", pair->driver, pair->idler, pair->driven);
  else
    g_string_append_printf (text, "%d:%d", pair->driver, pair->driven);
  if (!trammel_exact_equal (pair->module, TRAMMEL_EXACT_ONE))
    {
      g_autofree char *module = trammel_display_significant (trammel_exact_to_double (pair->module), 6);
      g_string_append_printf (text, " @%s", module);
    }
}

char *
trammel_finder_words_train (const TrammelFinderTrain *train)
{
  GString *text = g_string_new (NULL);
  for (int i = 0; i < train->n_pairs; i++)
    {
      if (i > 0)
        g_string_append (text, " · ");
      append_pair (text, &train->pairs[i]);
    }
  return g_string_free (text, FALSE);
}

char *
trammel_finder_words_error (double error)
{
  const gboolean in_ppm = fabs (error) * 1e6 < MOST_PPM;
  if (error == 0)
    return g_strdup (_ ("exact"));

  g_autofree char *number = trammel_display_significant (error * (in_ppm ? 1e6 : 1e2), 3);
  return g_strdup_printf ("%s%s %s", error > 0 ? "+" : "", number, in_ppm ? "ppm" : "%");
}

char *
trammel_finder_words_meaning (const TrammelFinderTrain *train)
{
  if (train->error == 0)
    return g_strdup (_ ("Exactly what is wanted."));

  /* More turns in for one out: the carriage goes less far for the same turns of the motor. */
  const double travel = 1 / (1 + train->error) - 1;
  g_autofree char *number = trammel_display_significant (fabs (travel) * 100, 3);
  return g_strdup_printf (travel < 0 ? _ ("Moves %s %% too little.") : _ ("Moves %s %% too far."), number);
}

char *
trammel_finder_words_direction (const TrammelFinderTrain *train)
{
  return g_strdup (train->direction > 0 ? _ ("turns the same way") : _ ("turns the other way"));
}
