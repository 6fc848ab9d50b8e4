/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-private.h"

#include <math.h>
#include <string.h>

#define MOST TRAMMEL_FINDER_MOST_PAIRS

static int
times_used (const TrammelFinderCandidate *candidate, int size)
{
  int n = 0;
  for (int i = 0; i < candidate->n_pairs; i++)
    n += (trammel_finder_member (candidate->drivers, i) == size)
         + (trammel_finder_member (candidate->driven, i) == size);
  return n;
}

static gboolean
has_module (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate, int module)
{
  for (int i = 0; i < candidate->n_pairs; i++)
    if (stock->module[trammel_finder_member (candidate->drivers, i)] == module)
      return TRUE;
  return FALSE;
}

static double
diameter (const TrammelFinderStock *stock, int size)
{
  return stock->mm[stock->module[size]] * stock->teeth[size];
}

static gboolean
can_be_arranged (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate, TrammelFinderTurn turn)
{
  TrammelFinderTrain ignored;
  return stock->fits_everywhere || trammel_finder_arrange (stock, candidate, &turn, &ignored);
}

/* The smallest idler for @candidate of what is left; −1 where none is. */
static int
spare_idler (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate)
{
  int best = -1;
  for (int size = 0; size < stock->n; size++)
    if ((best < 0 || diameter (stock, size) < diameter (stock, best))
        && stock->count[size] > times_used (candidate, size) && has_module (stock, candidate, stock->module[size])
        && can_be_arranged (stock, candidate, (TrammelFinderTurn){ size, -1 }))
      best = size;
  return best;
}

static int
spare_equal_pair (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate)
{
  int best = -1;
  for (int size = 0; size < stock->n; size++)
    if ((best < 0 || diameter (stock, size) < diameter (stock, best))
        && stock->count[size] >= times_used (candidate, size) + 2
        && can_be_arranged (stock, candidate, (TrammelFinderTurn){ -1, size }))
      best = size;
  return best;
}

gboolean
trammel_finder_turn (const TrammelFinderStock *stock, const TrammelFinderQuery *query,
                     const TrammelFinderCandidate *candidate, TrammelFinderTurn *out)
{
  const gboolean is_opposite = candidate->n_pairs % 2 == 1;
  *out = (TrammelFinderTurn){ -1, -1 };
  if (query->direction == TRAMMEL_FINDER_ANY || is_opposite == (query->direction == TRAMMEL_FINDER_OPPOSITE))
    return TRUE;

  out->idler = spare_idler (stock, candidate);
  if (out->idler < 0 && candidate->n_pairs < query->most_pairs)
    out->equal_pair = spare_equal_pair (stock, candidate);
  return out->idler >= 0 || out->equal_pair >= 0;
}

double
trammel_finder_span (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate,
                     const TrammelFinderTurn *turn)
{
  int teeth[TRAMMEL_GEARS_MOST_MODULES] = { 0 }; /* whole numbers first, so that equal spans come out equal */
  double span = 0;

  for (int i = 0; i < candidate->n_pairs; i++)
    {
      const int driver = trammel_finder_member (candidate->drivers, i);
      const int driven = trammel_finder_member (candidate->driven, i);
      teeth[stock->module[driver]] += stock->teeth[driver];
      teeth[stock->module[driven]] += stock->teeth[driven];
    }
  if (turn->idler >= 0)
    teeth[stock->module[turn->idler]] += 2 * stock->teeth[turn->idler];
  if (turn->equal_pair >= 0)
    teeth[stock->module[turn->equal_pair]] += 2 * stock->teeth[turn->equal_pair];
  for (int module = 0; module < stock->n_modules; module++)
    span += stock->mm[module] * teeth[module] / 2;
  return span;
}

/* Pairs as they are tried, from the output back: drivers rising, driven falling, so that the first try is the best
 * where all is of one module and fits everywhere. */
typedef struct
{
  const TrammelFinderStock *stock;
  int n;
  int drivers[MOST], driven[MOST];
  int idler; /* −1: none */
  /* The trial: pairs from the last one forward. */
  gboolean driver_used[MOST], driven_used[MOST];
  int tried_driver[MOST], tried_driven[MOST];
  /* The best. */
  double play;
  int best_driver[MOST], best_driven[MOST], idler_at;
} Arrangement;

static void
put_in_order (const TrammelFinderStock *stock, int *sizes, int n, gboolean falling)
{
  for (int i = 1; i < n; i++)
    for (int j = i; j > 0 && (stock->teeth[sizes[j]] > stock->teeth[sizes[j - 1]]) == falling
                    && stock->teeth[sizes[j]] != stock->teeth[sizes[j - 1]];
         j--)
      {
        const int moved = sizes[j];
        sizes[j] = sizes[j - 1];
        sizes[j - 1] = moved;
      }
}

static void
begin (Arrangement *arrangement, const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate,
       const TrammelFinderTurn *turn)
{
  memset (arrangement, 0, sizeof *arrangement);
  arrangement->stock = stock;
  arrangement->n = candidate->n_pairs;
  for (int i = 0; i < candidate->n_pairs; i++)
    {
      arrangement->drivers[i] = trammel_finder_member (candidate->drivers, i);
      arrangement->driven[i] = trammel_finder_member (candidate->driven, i);
    }
  if (turn->equal_pair >= 0)
    {
      arrangement->drivers[arrangement->n] = arrangement->driven[arrangement->n] = turn->equal_pair;
      arrangement->n++;
    }
  put_in_order (stock, arrangement->drivers, arrangement->n, FALSE);
  put_in_order (stock, arrangement->driven, arrangement->n, TRUE);
  arrangement->idler = turn->idler;
  arrangement->idler_at = -1;
  arrangement->play = INFINITY;
}

/* TRUE where pair @at can take the idler, or mesh by itself when @with_idler is FALSE. */
static gboolean
pair_fits (const Arrangement *arrangement, int at, gboolean with_idler)
{
  const int driver = arrangement->tried_driver[at], driven = arrangement->tried_driven[at];
  const int idler = arrangement->idler;
  if (!with_idler)
    return arrangement->stock->fits[driver][driven];
  return arrangement->stock->fits[driver][idler] && arrangement->stock->fits[idler][driven];
}

static void
keep_if_better (Arrangement *arrangement, double play, int idler_at)
{
  if (play >= arrangement->play * (1 - 1e-12))
    return;
  arrangement->play = play;
  arrangement->idler_at = idler_at;
  memcpy (arrangement->best_driver, arrangement->tried_driver, sizeof arrangement->best_driver);
  memcpy (arrangement->best_driven, arrangement->tried_driven, sizeof arrangement->best_driven);
}

/* Pairs from @at on, counted from the output; @carry: turns of the output per turn of the driven at @at; @idler_at:
 * where the idler is, −1 while it is nowhere. */
static void
try_from (Arrangement *arrangement, int at, double carry, double play, int idler_at)
{
  if (at == arrangement->n)
    {
      if (arrangement->idler < 0 || idler_at >= 0)
        keep_if_better (arrangement, play, idler_at);
      return;
    }
  if (play >= arrangement->play)
    return;
  for (int i = 0; i < arrangement->n; i++)
    for (int j = 0; j < arrangement->n; j++)
      {
        const int driver = arrangement->drivers[i], driven = arrangement->driven[j];
        if (arrangement->driver_used[i] || arrangement->driven_used[j]
            || arrangement->stock->module[driver] != arrangement->stock->module[driven])
          continue;
        const double driven_teeth = arrangement->stock->teeth[driven];
        const double mesh = 2 * TRAMMEL_FINDER_PLAY / driven_teeth * carry;
        const double onward = carry * arrangement->stock->teeth[driver] / driven_teeth;

        arrangement->driver_used[i] = arrangement->driven_used[j] = TRUE;
        arrangement->tried_driver[at] = driver;
        arrangement->tried_driven[at] = driven;
        if (pair_fits (arrangement, at, FALSE))
          try_from (arrangement, at + 1, onward, play + mesh, idler_at);
        if (arrangement->idler >= 0 && idler_at < 0
            && arrangement->stock->module[arrangement->idler] == arrangement->stock->module[driver]
            && pair_fits (arrangement, at, TRUE))
          try_from (arrangement, at + 1, onward, play + 2 * mesh, at);
        arrangement->driver_used[i] = arrangement->driven_used[j] = FALSE;
      }
}

gboolean
trammel_finder_arrange (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate,
                        const TrammelFinderTurn *turn, TrammelFinderTrain *out)
{
  Arrangement arrangement;
  begin (&arrangement, stock, candidate, turn);
  try_from (&arrangement, 0, 1, 0, -1);
  if (!isfinite (arrangement.play))
    return FALSE;

  out->n_pairs = arrangement.n;
  out->play = arrangement.play;
  for (int at = 0; at < arrangement.n; at++)
    {
      const int driver = arrangement.best_driver[at];
      out->pairs[arrangement.n - 1 - at] = (TrammelFinderPair){
        .driver = stock->teeth[driver],
        .driven = stock->teeth[arrangement.best_driven[at]],
        .idler = at == arrangement.idler_at ? stock->teeth[arrangement.idler] : 0,
        .module = stock->exact_module[stock->module[driver]],
      };
    }
  return TRUE;
}
