/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-private.h"

#include "base/error.h"

#include <glib/gi18n-lib.h>
#include <math.h>

/* Sets made at a time. */
#define MOST_SETS ((gsize)1 << 19)
/* No product of four gears is larger. */
#define LARGEST_PRODUCT G_GUINT64_CONSTANT (10000000000000000)
/* Drivers between two looks at the cancellable. */
#define STRIDE 1024

typedef struct
{
  const TrammelFinderQuery *query;
  const TrammelFinderStock *stock;
  TrammelFinderList *list;
  double target;
  GArray *drivers, *driven; /* of TrammelFinderSet */
  GCancellable *cancellable;
  double done, whole, told; /* drivers */
} Search;

TrammelFinderQuery
trammel_finder_query (TrammelExact target)
{
  return (TrammelFinderQuery){ .target = target, .most_pairs = 3, .tolerance = 0.002, .list = 20 };
}

static gboolean
check_query (const TrammelFinderQuery *query, GError **error)
{
  if (trammel_exact_sign (query->target) <= 0)
    {
      g_autofree char *found = trammel_exact_to_text (query->target);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                   _ ("found the ratio %s; more than 0 turns in per turn out are wanted"), found);
      return FALSE;
    }
  if (query->most_pairs < 1 || query->most_pairs > TRAMMEL_FINDER_MOST_PAIRS)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found %d pairs; 1 to %d are wanted"),
                   query->most_pairs, TRAMMEL_FINDER_MOST_PAIRS);
      return FALSE;
    }
  if (!(query->tolerance >= 0))
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("a tolerance of 0 or more is wanted"));
      return FALSE;
    }
  if (query->list >= 1 && query->list <= TRAMMEL_FINDER_MOST_LISTED)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("1 to %d trains can be listed"),
               TRAMMEL_FINDER_MOST_LISTED);
  return FALSE;
}

static void
ask_what_fits (TrammelFinderStock *stock, const TrammelGears *gears, const TrammelFinderQuery *query)
{
  stock->fits_everywhere = query->fits == NULL;
  for (int i = 0; i < stock->n; i++)
    for (int j = i; j < stock->n; j++)
      if (stock->module[i] == stock->module[j])
        stock->fits[i][j] = stock->fits[j][i] = query->fits == NULL
                                                || query->fits (trammel_gears_size (gears, (gsize)i),
                                                                trammel_gears_size (gears, (gsize)j), query->fits_data);
}

static TrammelFinderStock *
stock_new (const TrammelGears *gears, const TrammelFinderQuery *query)
{
  TrammelFinderStock *stock = g_new0 (TrammelFinderStock, 1);
  stock->n = (int)trammel_gears_n_sizes (gears);
  for (int i = 0; i < stock->n; i++)
    {
      const TrammelGearSize *gear = trammel_gears_size (gears, (gsize)i);
      if (i == 0 || !trammel_exact_equal (gear->module, stock->exact_module[stock->n_modules - 1]))
        {
          stock->first[stock->n_modules] = i;
          stock->mm[stock->n_modules] = trammel_exact_to_double (gear->module);
          stock->exact_module[stock->n_modules++] = gear->module;
        }
      stock->teeth[i] = gear->teeth;
      stock->count[i] = gear->count;
      stock->module[i] = stock->n_modules - 1;
    }
  stock->first[stock->n_modules] = stock->n;
  ask_what_fits (stock, gears, query);
  return stock;
}

/* TRUE where no size is in both sets. */
static gboolean
have_none_in_common (guint32 drivers, guint32 driven, int n)
{
  for (int i = 0; i < n; i++)
    {
      const guint32 same = driven ^ (guint32)trammel_finder_member (drivers, i) * 0x01010101U; /* a byte of 0 */
      if (((same - 0x01010101U) & ~same & 0x80808080U) != 0)
        return FALSE;
    }
  return TRUE;
}

static void
tell_progress (Search *search, double done)
{
  const double part = search->whole > 0 ? MIN (done / search->whole, 1) : 1;
  if (search->query->progress == NULL || part <= search->told)
    return;
  search->told = part;
  search->query->progress (part, search->query->progress_data);
}

/* What the drivers at hand make with one set of driven; FALSE: it is beyond the bound. */
static gboolean
try_pair (Search *search, const TrammelFinderSet *drivers, const TrammelFinderSet *driven, int n_pairs, double bound)
{
  const double error = (double)driven->product / ((double)drivers->product * search->target) - 1;
  if (fabs (error) > bound + 1e-12 * (1 + bound))
    return FALSE;
  if (have_none_in_common (drivers->members, driven->members, n_pairs))
    {
      const TrammelFinderCandidate candidate
          = { n_pairs, drivers->members, driven->members, driven->product, drivers->product };
      trammel_finder_list_offer (search->list, &candidate);
    }
  return TRUE;
}

/* Every driver set against those of the driven that lie within the bound, from the best one outwards. */
static gboolean
match_sets (Search *search, int n_pairs, GError **error)
{
  const TrammelFinderSet *drivers = (const TrammelFinderSet *)(gpointer)search->drivers->data;
  const TrammelFinderSet *driven = (const TrammelFinderSet *)(gpointer)search->driven->data;
  const guint n_driven = search->driven->len;
  guint middle = 0;

  for (guint i = 0; i < search->drivers->len; i++)
    {
      const double wanted = (double)drivers[i].product * search->target;
      double bound = trammel_finder_list_bound (search->list, n_pairs);
      if (bound < 0)
        return TRUE;
      if (i % STRIDE == 0)
        {
          tell_progress (search, search->done + i);
          if (g_cancellable_set_error_if_cancelled (search->cancellable, error))
            return FALSE;
        }
      while (middle < n_driven && (double)driven[middle].product < wanted)
        middle++;
      for (guint j = middle; j < n_driven && try_pair (search, &drivers[i], &driven[j], n_pairs, bound); j++)
        bound = trammel_finder_list_bound (search->list, n_pairs);
      for (guint j = middle; j > 0 && try_pair (search, &drivers[i], &driven[j - 1], n_pairs, bound); j--)
        bound = trammel_finder_list_bound (search->list, n_pairs);
    }
  return TRUE;
}

static guint64
between (guint64 low, guint64 high)
{
  return CLAMP ((guint64)sqrt ((double)low * (double)high), low, high - 1);
}

/* The drivers at hand against all driven of the range, in parts where they are too many. */
static gboolean
search_driven (Search *search, const TrammelFinderShape *shape, guint64 low, guint64 high, GError **error)
{
  const gsize n = trammel_finder_sets_count (search->stock, shape, low, high);
  if (n == 0)
    return TRUE;
  if (n > MOST_SETS && low < high)
    {
      const guint64 middle = between (low, high);
      return search_driven (search, shape, low, middle, error)
             && search_driven (search, shape, middle + 1, high, error);
    }
  trammel_finder_sets_collect (search->stock, shape, low, high, search->driven);
  return match_sets (search, shape->size, error);
}

static guint64
product_near (double value)
{
  if (!(value > 1))
    return 1;
  return value >= (double)LARGEST_PRODUCT ? LARGEST_PRODUCT : (guint64)value;
}

static gboolean
search_drivers (Search *search, const TrammelFinderShape *shape, guint64 low, guint64 high, GError **error)
{
  const gsize n = trammel_finder_sets_count (search->stock, shape, low, high);
  const double bound = trammel_finder_list_bound (search->list, shape->size);
  if (n == 0 || bound < 0)
    return TRUE;
  if (n > MOST_SETS && low < high)
    {
      const guint64 middle = between (low, high);
      return search_drivers (search, shape, low, middle, error)
             && search_drivers (search, shape, middle + 1, high, error);
    }
  trammel_finder_sets_collect (search->stock, shape, low, high, search->drivers);
  const double below = (double)low * search->target * (1 - bound) * (1 - 1e-12);
  const double above = (double)high * search->target * (1 + bound) * (1 + 1e-12) + 1;
  if (above < 1)
    return TRUE;
  if (!search_driven (search, shape, product_near (below), product_near (above), error))
    return FALSE;
  search->done += (double)n;
  return TRUE;
}

/* Calls @visit for every choice of modules for @shape->size gears, rising from @position on. */
static gboolean
for_each_shape (Search *search, TrammelFinderShape *shape, int position,
                gboolean (*visit) (Search *search, const TrammelFinderShape *shape, GError **error), GError **error)
{
  if (position == shape->size || position == TRAMMEL_FINDER_MOST_PAIRS)
    return visit (search, shape, error);
  for (int module = position > 0 ? shape->modules[position - 1] : 0; module < search->stock->n_modules; module++)
    {
      shape->modules[position] = module;
      if (!for_each_shape (search, shape, position + 1, visit, error))
        return FALSE;
    }
  return TRUE;
}

static gboolean
count_shape (Search *search, const TrammelFinderShape *shape, GError **error)
{
  search->whole += (double)trammel_finder_sets_count (search->stock, shape, 1, LARGEST_PRODUCT);
  return !g_cancellable_set_error_if_cancelled (search->cancellable, error);
}

static gboolean
search_shape (Search *search, const TrammelFinderShape *shape, GError **error)
{
  return search_drivers (search, shape, 1, LARGEST_PRODUCT, error);
}

static gboolean
for_each_number_of_pairs (Search *search,
                          gboolean (*visit) (Search *search, const TrammelFinderShape *shape, GError **error),
                          GError **error)
{
  for (int n_pairs = 1; n_pairs <= search->query->most_pairs; n_pairs++)
    {
      TrammelFinderShape shape = { .size = n_pairs };
      if (!for_each_shape (search, &shape, 0, visit, error))
        return FALSE;
    }
  return TRUE;
}

/* The lone pairs 1:1. */
static void
offer_equal_pairs (Search *search)
{
  for (int size = 0; size < search->stock->n; size++)
    if (search->stock->count[size] >= 2)
      {
        const guint32 members = 0xffffff00U | (guint32)size;
        const guint64 teeth = (guint64)search->stock->teeth[size];
        const TrammelFinderCandidate candidate = { 1, members, members, teeth, teeth };
        trammel_finder_list_offer (search->list, &candidate);
      }
}

/* (transfer full) (nullable): the trains of @query, in order. */
static TrammelFinderTrain *
search_stock (const TrammelFinderStock *stock, const TrammelFinderQuery *query, GCancellable *cancellable, gsize *n,
              GError **error)
{
  g_autoptr (TrammelFinderList) list = trammel_finder_list_new (stock, query);
  g_autoptr (GArray) drivers = g_array_new (FALSE, FALSE, sizeof (TrammelFinderSet));
  g_autoptr (GArray) driven = g_array_new (FALSE, FALSE, sizeof (TrammelFinderSet));
  Search search = {
    .query = query,
    .stock = stock,
    .list = list,
    .target = trammel_exact_to_double (query->target),
    .drivers = drivers,
    .driven = driven,
    .cancellable = cancellable,
  };

  offer_equal_pairs (&search);
  if (!for_each_number_of_pairs (&search, count_shape, error)
      || !for_each_number_of_pairs (&search, search_shape, error))
    return NULL;
  tell_progress (&search, search.whole);
  return trammel_finder_list_finish (list, n);
}

/* The one nearest train, however far. */
static gboolean
search_nearest (TrammelFinderResult *result, const TrammelFinderStock *stock, const TrammelFinderQuery *query,
                GCancellable *cancellable, GError **error)
{
  TrammelFinderQuery wider = *query;
  gsize n;

  wider.tolerance = INFINITY;
  wider.list = 1;
  wider.order = TRAMMEL_FINDER_BY_ERROR;
  wider.unbeaten = FALSE;
  wider.progress = NULL;
  g_autofree TrammelFinderTrain *trains = search_stock (stock, &wider, cancellable, &n, error);
  if (trains == NULL)
    return FALSE;
  result->has_nearest = n > 0;
  if (n > 0)
    result->nearest = trains[0];
  return TRUE;
}

TrammelFinderResult *
trammel_finder_search (const TrammelGears *gears, const TrammelFinderQuery *query, GCancellable *cancellable,
                       GError **error)
{
  g_return_val_if_fail (gears != NULL && query != NULL, NULL);

  if (!check_query (query, error))
    return NULL;
  g_autofree TrammelFinderStock *stock = stock_new (gears, query);
  g_autoptr (TrammelFinderResult) result = g_new0 (TrammelFinderResult, 1);
  result->searched = trammel_finder_count (stock, query->most_pairs);
  result->trains = search_stock (stock, query, cancellable, &result->n, error);
  if (result->trains == NULL)
    return NULL;
  if (result->n == 0 && !search_nearest (result, stock, query, cancellable, error))
    return NULL;
  return g_steal_pointer (&result);
}

void
trammel_finder_result_free (TrammelFinderResult *result)
{
  if (result == NULL)
    return;
  g_free (result->trains);
  g_free (result);
}
