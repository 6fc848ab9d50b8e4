/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-private.h"

#include <math.h>

/* What rounding may have moved an error by that was found without exact numbers. */
#define SLACK 1e-14

struct _TrammelFinderList
{
  const TrammelFinderStock *stock;
  const TrammelFinderQuery *query;
  GPtrArray *trains; /* of TrammelFinderTrain, best first; not used where only the unbeaten are wanted */
  /* The unbeaten among trains of at most so many gears: error rising, span falling. */
  GArray *unbeaten[TRAMMEL_FINDER_MOST_GEARS + 1];
};

TrammelFinderList *
trammel_finder_list_new (const TrammelFinderStock *stock, const TrammelFinderQuery *query)
{
  TrammelFinderList *list = g_new0 (TrammelFinderList, 1);
  list->stock = stock;
  list->query = query;
  list->trains = g_ptr_array_new_with_free_func (g_free);
  for (gsize i = 0; i < G_N_ELEMENTS (list->unbeaten); i++)
    list->unbeaten[i] = g_array_new (FALSE, FALSE, sizeof (TrammelFinderTrain));
  return list;
}

void
trammel_finder_list_free (TrammelFinderList *list)
{
  g_ptr_array_unref (list->trains);
  for (gsize i = 0; i < G_N_ELEMENTS (list->unbeaten); i++)
    g_array_unref (list->unbeaten[i]);
  g_free (list);
}

static int
compare_numbers (double a, double b)
{
  return (a > b) - (a < b);
}

/* Any order will do, as long as it is always the same. */
static int
compare_pairs (const TrammelFinderTrain *a, const TrammelFinderTrain *b)
{
  for (int i = 0; i < MIN (a->n_pairs, b->n_pairs); i++)
    {
      const TrammelFinderPair *one = &a->pairs[i], *other = &b->pairs[i];
      if (one->driver != other->driver)
        return one->driver - other->driver;
      if (one->driven != other->driven)
        return one->driven - other->driven;
      if (!trammel_exact_equal (one->module, other->module))
        return compare_numbers (trammel_exact_to_double (one->module), trammel_exact_to_double (other->module));
    }
  return 0;
}

static int
compare_trains (const TrammelFinderTrain *a, const TrammelFinderTrain *b, const TrammelFinderQuery *query)
{
  int order = 0;
  if (query->order == TRAMMEL_FINDER_BY_GEARS)
    order = a->gears - b->gears;
  else if (query->order == TRAMMEL_FINDER_BY_SPAN)
    order = compare_numbers (a->span, b->span);
  else if (query->order == TRAMMEL_FINDER_BY_PLAY)
    order = compare_numbers (a->play, b->play);
  if (order == 0)
    order = trammel_finder_compare_errors (a->ratio, b->ratio, query->target);
  if (order == 0)
    order = a->gears - b->gears;
  if (order == 0)
    order = compare_numbers (a->span, b->span);
  return order != 0 ? order : compare_pairs (a, b);
}

static int
least_gears (const TrammelFinderQuery *query, int n_pairs)
{
  const gboolean is_opposite = n_pairs % 2 == 1;
  const gboolean must_turn
      = query->direction != TRAMMEL_FINDER_ANY && is_opposite != (query->direction == TRAMMEL_FINDER_OPPOSITE);
  return 2 * n_pairs + (must_turn ? 1 : 0);
}

/* The last one of a full list; NULL while there is room. */
static const TrammelFinderTrain *
worst_listed (const TrammelFinderList *list)
{
  if (list->query->unbeaten || list->trains->len < list->query->list)
    return NULL;
  return g_ptr_array_index (list->trains, list->trains->len - 1);
}

double
trammel_finder_list_bound (const TrammelFinderList *list, int n_pairs)
{
  const TrammelFinderQuery *query = list->query;
  const TrammelFinderTrain *worst = worst_listed (list);
  const int gears = least_gears (query, n_pairs);

  if (worst == NULL || query->order == TRAMMEL_FINDER_BY_SPAN || query->order == TRAMMEL_FINDER_BY_PLAY)
    return query->tolerance;
  if (query->order == TRAMMEL_FINDER_BY_GEARS && worst->gears != gears)
    return worst->gears < gears ? -1 : query->tolerance;
  if (worst->error == 0 && worst->gears < gears)
    return -1;
  return fabs (worst->error);
}

/* What is known of a candidate before it is looked at closely. */
typedef struct
{
  const TrammelFinderCandidate *candidate;
  double error; /* |error|, to SLACK */
  int gears;    /* at least */
  double span;  /* at least */
} Glimpse;

static gboolean
has_ratio (const Glimpse *glimpse, const TrammelFinderTrain *train)
{
  return (unsigned __int128)glimpse->candidate->num * (guint64)train->ratio.den
         == (unsigned __int128)glimpse->candidate->den * (guint64)train->ratio.num;
}

/* TRUE where the candidate surely comes behind @train in error, gears and span. */
static gboolean
surely_behind (const Glimpse *glimpse, const TrammelFinderTrain *train)
{
  if (has_ratio (glimpse, train))
    return glimpse->gears > train->gears || (glimpse->gears == train->gears && glimpse->span > train->span);
  return glimpse->error > fabs (train->error) + SLACK;
}

/* The least play that any arrangement could have, were all of one module and without an idler. */
static double
least_play (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate)
{
  int drivers[TRAMMEL_FINDER_MOST_PAIRS], driven[TRAMMEL_FINDER_MOST_PAIRS];
  double carry = 1, play = 0;

  for (int i = 0; i < candidate->n_pairs; i++)
    {
      int at;
      const int driver = stock->teeth[trammel_finder_member (candidate->drivers, i)];
      const int turned = stock->teeth[trammel_finder_member (candidate->driven, i)];
      for (at = i; at > 0 && drivers[at - 1] > driver; at--)
        drivers[at] = drivers[at - 1];
      drivers[at] = driver;
      for (at = i; at > 0 && driven[at - 1] < turned; at--)
        driven[at] = driven[at - 1];
      driven[at] = turned;
    }
  for (int i = 0; i < candidate->n_pairs; i++)
    {
      play += 2 * TRAMMEL_FINDER_PLAY / driven[i] * carry;
      carry *= (double)drivers[i] / driven[i];
    }
  return play;
}

static gboolean
surely_not_listed (const TrammelFinderList *list, const Glimpse *glimpse)
{
  const TrammelFinderTrain *worst = worst_listed (list);
  if (worst == NULL)
    return FALSE;
  switch (list->query->order)
    {
    case TRAMMEL_FINDER_BY_GEARS:
      return glimpse->gears > worst->gears || (glimpse->gears == worst->gears && surely_behind (glimpse, worst));
    case TRAMMEL_FINDER_BY_SPAN:
      return glimpse->span > worst->span || (glimpse->span == worst->span && surely_behind (glimpse, worst));
    case TRAMMEL_FINDER_BY_PLAY:
      return least_play (list->stock, glimpse->candidate) > worst->play * (1 + 1e-12);
    case TRAMMEL_FINDER_BY_ERROR:
    default:
      return surely_behind (glimpse, worst);
    }
}

/* How many of @trains, error rising, have an |error| up to @most. */
static guint
n_within (const GArray *trains, double most)
{
  guint first = 0, last = trains->len;
  while (first < last)
    {
      const guint middle = first + (last - first) / 2;
      if (fabs (g_array_index (trains, TrammelFinderTrain, middle).error) <= most)
        first = middle + 1;
      else
        last = middle;
    }
  return first;
}

static gboolean
surely_beaten (const TrammelFinderList *list, const Glimpse *glimpse)
{
  const GArray *trains = list->unbeaten[glimpse->gears];
  const guint n = n_within (trains, glimpse->error + SLACK);
  if (n == 0)
    return FALSE;

  const TrammelFinderTrain *nearest = &g_array_index (trains, TrammelFinderTrain, n - 1);
  return nearest->span <= glimpse->span
         && (fabs (nearest->error) < glimpse->error - SLACK || has_ratio (glimpse, nearest));
}

/* Puts @train among @trains, and those out that it beats; FALSE where one there beats it. */
static gboolean
enter_unbeaten (GArray *trains, const TrammelFinderTrain *train, TrammelExact target)
{
  guint at = 0, n_beaten = 0;
  while (at < trains->len
         && trammel_finder_compare_errors (g_array_index (trains, TrammelFinderTrain, at).ratio, train->ratio, target)
                < 0)
    at++;
  if (at > 0 && g_array_index (trains, TrammelFinderTrain, at - 1).span <= train->span)
    return FALSE;
  if (at < trains->len && g_array_index (trains, TrammelFinderTrain, at).span <= train->span
      && trammel_finder_compare_errors (g_array_index (trains, TrammelFinderTrain, at).ratio, train->ratio, target)
             == 0)
    return FALSE;
  while (at + n_beaten < trains->len && g_array_index (trains, TrammelFinderTrain, at + n_beaten).span >= train->span)
    n_beaten++;
  if (n_beaten > 0)
    g_array_remove_range (trains, at, n_beaten);
  g_array_insert_val (trains, at, *train);
  return TRUE;
}

static void
enter_list (TrammelFinderList *list, const TrammelFinderTrain *train)
{
  GPtrArray *trains = list->trains;
  guint first = 0, last = trains->len;
  while (first < last)
    {
      const guint middle = first + (last - first) / 2;
      if (compare_trains (g_ptr_array_index (trains, middle), train, list->query) <= 0)
        first = middle + 1;
      else
        last = middle;
    }
  if (first >= list->query->list)
    return;
  if (trains->len >= list->query->list)
    g_ptr_array_set_size (trains, (int)trains->len - 1);
  g_ptr_array_insert (trains, (int)first, g_memdup2 (train, sizeof *train));
}

/* @candidate as a train; FALSE where it cannot be built as asked. */
static gboolean
build (const TrammelFinderList *list, const TrammelFinderCandidate *candidate, TrammelFinderTrain *out)
{
  TrammelFinderTurn turn;
  *out = (TrammelFinderTrain){ .n_pairs = 0 };
  if (!trammel_exact_make ((gint64)candidate->num, (gint64)candidate->den, 0, &out->ratio, NULL))
    return FALSE;
  out->error = trammel_finder_error_of ((guint64)out->ratio.num, (guint64)out->ratio.den, list->query->target);
  if (fabs (out->error) > list->query->tolerance)
    return FALSE;
  if (!trammel_finder_turn (list->stock, list->query, candidate, &turn)
      || !trammel_finder_arrange (list->stock, candidate, &turn, out))
    return FALSE;
  out->gears = 2 * out->n_pairs + (turn.idler >= 0 ? 1 : 0);
  out->direction = out->gears % 2 == out->n_pairs % 2 ? 1 : -1;
  out->span = trammel_finder_span (list->stock, candidate, &turn);
  return TRUE;
}

void
trammel_finder_list_offer (TrammelFinderList *list, const TrammelFinderCandidate *candidate)
{
  static const TrammelFinderTurn none = { -1, -1 };
  const Glimpse glimpse = {
    .candidate = candidate,
    .error = fabs (trammel_finder_error_of (candidate->num, candidate->den, list->query->target)),
    .gears = least_gears (list->query, candidate->n_pairs),
    .span = trammel_finder_span (list->stock, candidate, &none),
  };
  TrammelFinderTrain train;

  if (glimpse.error > list->query->tolerance + SLACK
      || (list->query->unbeaten ? surely_beaten (list, &glimpse) : surely_not_listed (list, &glimpse))
      || !build (list, candidate, &train))
    return;
  if (!list->query->unbeaten)
    enter_list (list, &train);
  else if (enter_unbeaten (list->unbeaten[train.gears], &train, list->query->target))
    for (gsize i = (gsize)train.gears + 1; i < G_N_ELEMENTS (list->unbeaten); i++)
      enter_unbeaten (list->unbeaten[i], &train, list->query->target);
}

/* The unbeaten of each number of gears into the list. */
static void
list_unbeaten (TrammelFinderList *list)
{
  for (int gears = 0; gears <= TRAMMEL_FINDER_MOST_GEARS; gears++)
    for (guint i = 0; i < list->unbeaten[gears]->len; i++)
      {
        const TrammelFinderTrain *train = &g_array_index (list->unbeaten[gears], TrammelFinderTrain, i);
        if (train->gears == gears)
          enter_list (list, train);
      }
}

TrammelFinderTrain *
trammel_finder_list_finish (TrammelFinderList *list, gsize *n)
{
  if (list->query->unbeaten)
    list_unbeaten (list);
  TrammelFinderTrain *trains = g_new0 (TrammelFinderTrain, MAX (list->trains->len, 1));
  for (guint i = 0; i < list->trains->len; i++)
    trains[i] = *(TrammelFinderTrain *)g_ptr_array_index (list->trains, i);
  *n = list->trains->len;
  return trains;
}
