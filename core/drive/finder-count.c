/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-private.h"

#define MOST TRAMMEL_FINDER_MOST_PAIRS

/* In how many ways @drivers drivers and @driven driven can be taken from a bin. */
typedef struct
{
  guint64 ways[MOST + 1][MOST + 1];
} Ways;

/* One size more, which may be driver or driven, up to @count times, but not both. */
static Ways
with_size (const Ways *before, int count)
{
  Ways after = *before;
  for (int drivers = 0; drivers <= MOST; drivers++)
    for (int driven = 0; driven <= MOST; driven++)
      {
        for (int times = 1; times <= MIN (count, drivers); times++)
          after.ways[drivers][driven] += before->ways[drivers - times][driven];
        for (int times = 1; times <= MIN (count, driven); times++)
          after.ways[drivers][driven] += before->ways[drivers][driven - times];
      }
  return after;
}

/* Trains of each number of pairs: @trains of other modules joined with those of @module. */
static void
join_module (const TrammelFinderStock *stock, int module, guint64 trains[MOST + 1])
{
  Ways ways = { { { 0 } } };
  guint64 joined[MOST + 1] = { 0 };

  ways.ways[0][0] = 1;
  for (int size = stock->first[module]; size < stock->first[module + 1]; size++)
    ways = with_size (&ways, stock->count[size]);
  for (int pairs = 0; pairs <= MOST; pairs++)
    for (int here = 0; here <= pairs; here++)
      joined[pairs] += trains[pairs - here] * ways.ways[here][here];
  for (int pairs = 0; pairs <= MOST; pairs++)
    trains[pairs] = joined[pairs];
}

guint64
trammel_finder_count (const TrammelFinderStock *stock, int most_pairs)
{
  guint64 trains[MOST + 1] = { 1 };
  guint64 n = 0;

  for (int module = 0; module < stock->n_modules; module++)
    join_module (stock, module, trains);
  for (int pairs = 1; pairs <= most_pairs; pairs++)
    n += trains[pairs];
  for (int size = 0; size < stock->n; size++)
    n += stock->count[size] >= 2 ? 1 : 0;
  return n;
}
