/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "drive/finder-private.h"

#include <stdlib.h>

typedef struct
{
  const TrammelFinderStock *stock;
  const TrammelFinderShape *shape;
  guint64 low, high;
  gsize n;
  GArray *out; /* NULL: only counted */
} Walk;

/* The first of the sizes @first up to @last, rising, that has at least @teeth. */
static int
first_of_at_least (const TrammelFinderStock *stock, int first, int last, guint64 teeth)
{
  while (first < last)
    {
      const int middle = first + (last - first) / 2;
      if ((guint64)stock->teeth[middle] < teeth)
        first = middle + 1;
      else
        last = middle;
    }
  return first;
}

/* The last gear: of the sizes @first up to @last those that bring the product into the range. */
static void
visit_last (Walk *walk, int first, int last, guint64 product, guint32 members)
{
  const int shift = 8 * (walk->shape->size - 1);
  const int from = first_of_at_least (walk->stock, first, last, (walk->low + product - 1) / product);
  const int to = first_of_at_least (walk->stock, from, last, walk->high / product + 1);

  walk->n += (gsize)(to - from);
  if (walk->out == NULL)
    return;
  for (int size = from; size < to; size++)
    {
      const TrammelFinderSet set = { product * (guint64)walk->stock->teeth[size], members | (guint32)size << shift };
      g_array_append_val (walk->out, set);
    }
}

/* The gear at @position and those behind it; @previous stands before it, for the @run-th time. */
static void
visit (Walk *walk, int position, int previous, int run, guint64 product, guint32 members)
{
  if (position >= TRAMMEL_FINDER_MOST_PAIRS)
    return;

  const TrammelFinderStock *stock = walk->stock;
  const int module = walk->shape->modules[position];
  const int last = stock->first[module + 1];
  int first = stock->first[module];

  if (position > 0 && walk->shape->modules[position - 1] == module)
    first = run < stock->count[previous] ? previous : previous + 1;
  if (position == walk->shape->size - 1)
    {
      visit_last (walk, first, last, product, members);
      return;
    }
  for (int size = first; size < last; size++)
    visit (walk, position + 1, size, size == previous ? run + 1 : 1, product * (guint64)stock->teeth[size],
           members | (guint32)size << (8 * position));
}

static void
visit_all (Walk *walk)
{
  const guint32 unused = walk->shape->size < 4 ? G_MAXUINT32 << (8 * walk->shape->size) : 0;
  visit (walk, 0, -1, 0, 1, unused);
}

gsize
trammel_finder_sets_count (const TrammelFinderStock *stock, const TrammelFinderShape *shape, guint64 low, guint64 high)
{
  Walk walk = { .stock = stock, .shape = shape, .low = low, .high = high };
  visit_all (&walk);
  return walk.n;
}

static int
compare_sets (const void *a, const void *b)
{
  const TrammelFinderSet *one = a, *other = b;
  if (one->product != other->product)
    return one->product < other->product ? -1 : 1;
  return (one->members > other->members) - (one->members < other->members);
}

void
trammel_finder_sets_collect (const TrammelFinderStock *stock, const TrammelFinderShape *shape, guint64 low,
                             guint64 high, GArray *out)
{
  Walk walk = { .stock = stock, .shape = shape, .low = low, .high = high, .out = out };
  g_array_set_size (out, 0);
  visit_all (&walk);
  qsort (out->data, out->len, sizeof (TrammelFinderSet), compare_sets);
}
