/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The finder against plain enumeration, one after the other in one run: 40 sizes, one of each, 25/3 wanted. Plain
 * enumeration takes every set of drivers with every set of driven, in the plainest loops that a compiler can make fast;
 * for four pairs only a part of the drivers, and the rest by proportion. Both must find as good a train. */
#include "drive/finder.h"

#include <math.h>
#include <stdio.h>
#include <string.h>

#define SIZES 40
#define SMALLEST 12
#define FEWEST 1e-15 /* an error that is none */

typedef struct
{
  double product;
  guint64 members; /* a bit for each size */
} Set;

/* Every set of @n of the sizes from @first on. */
static void
make_sets (GArray *sets, int n, int first, double product, guint64 members)
{
  if (n == 0)
    {
      const Set set = { product, members };
      g_array_append_val (sets, set);
      return;
    }
  for (int size = first; size < SIZES; size++)
    make_sets (sets, n - 1, size + 1, product * (SMALLEST + size), members | G_GUINT64_CONSTANT (1) << size);
}

/* Seconds that plain enumeration of trains of @n_pairs takes, @part of its drivers being tried; @best: the least
 * |error|. */
static double
enumerate (int n_pairs, double target, double part, double *best)
{
  g_autoptr (GArray) array = g_array_new (FALSE, FALSE, sizeof (Set));
  const gint64 start = g_get_monotonic_time ();
  make_sets (array, n_pairs, 0, 1, 0);
  const Set *sets = (const Set *)(gpointer)array->data;
  const guint n_drivers = (guint)(array->len * part);

  for (guint i = 0; i < n_drivers; i++)
    {
      const double wanted = target * sets[i].product;
      for (guint j = 0; j < array->len; j++)
        {
          const double error = fabs (sets[j].product - wanted);
          if (error < *best * wanted && (sets[i].members & sets[j].members) == 0)
            *best = error / wanted;
        }
    }
  return (double)(g_get_monotonic_time () - start) / 1e6 / part;
}

static TrammelGears *
forty_gears (void)
{
  g_autoptr (GString) text = g_string_new (NULL);
  for (int i = 0; i < SIZES; i++)
    g_string_append_printf (text, "%d,", SMALLEST + i);
  return trammel_gears_parse (text->str, NULL);
}

static double
find (const TrammelGears *gears, int n_pairs, TrammelExact target, TrammelFinderResult **result)
{
  TrammelFinderQuery query = trammel_finder_query (target);
  const gint64 start = g_get_monotonic_time ();
  query.most_pairs = n_pairs;
  *result = trammel_finder_search (gears, &query, NULL, NULL);
  return (double)(g_get_monotonic_time () - start) / 1e6;
}

static gboolean
compare (const TrammelGears *gears, int n_pairs, const char *text, double part, double budget)
{
  TrammelExact target;
  g_autoptr (TrammelFinderResult) result = NULL;
  double best = INFINITY, plain = 0;

  trammel_exact_parse (text, &target, NULL);
  const double found = find (gears, n_pairs, target, &result);
  for (int n = 1; n <= n_pairs; n++)
    plain += enumerate (n, trammel_exact_to_double (target), n == 4 ? part : 1, &best);
  const double error = result->n > 0 ? fabs (result->trains[0].error) : INFINITY;
  printf ("%d pairs for %-8s %14" G_GUINT64_FORMAT
          " trains: found in %7.1f ms; plain enumeration %9.1f ms%s: ratio %.0f; "
          "error %.3g, by enumeration %.3g\n",
          n_pairs, text, result->searched, found * 1e3, plain * 1e3, part < 1 && n_pairs == 4 ? " (by proportion)" : "",
          plain / found, error, best);
  return found <= budget && (error <= best + FEWEST || error <= FEWEST);
}

int
main (void)
{
  g_autoptr (TrammelGears) gears = forty_gears ();
  gboolean good = TRUE;
  static const char *const targets[] = { "25/3", "127/100", "pi" };
  for (gsize i = 0; i < G_N_ELEMENTS (targets); i++)
    good = compare (gears, 3, targets[i], 1, 1) && good;
  for (gsize i = 0; i < G_N_ELEMENTS (targets); i++)
    good = compare (gears, 4, targets[i], 0.02, 5) && good;
  printf ("%s\n", good ? "within budget" : "budget exceeded, or a better train missed");
  return good ? 0 : 1;
}
