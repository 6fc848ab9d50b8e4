/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/finder.h"

G_BEGIN_DECLS

/* Inside of the finder. A size of the bin is told by its place there, which fits a byte. */

#define TRAMMEL_FINDER_MOST_GEARS (2 * TRAMMEL_FINDER_MOST_PAIRS + 1)

/* The bin, laid out for speed. */
typedef struct
{
  int n;
  int teeth[TRAMMEL_GEARS_MOST_SIZES];
  int count[TRAMMEL_GEARS_MOST_SIZES];
  int module[TRAMMEL_GEARS_MOST_SIZES]; /* its place in the following */
  int n_modules;
  int first[TRAMMEL_GEARS_MOST_MODULES + 1]; /* the sizes of a module: from its own first up to that of the next */
  TrammelExact exact_module[TRAMMEL_GEARS_MOST_MODULES];
  double mm[TRAMMEL_GEARS_MOST_MODULES];
  /* Which sizes mesh, by the query's say; all do where @fits_everywhere. */
  gboolean fits_everywhere;
  guint8 fits[TRAMMEL_GEARS_MOST_SIZES][TRAMMEL_GEARS_MOST_SIZES];
} TrammelFinderStock;

/* The modules of a set of gears, rising. */
typedef struct
{
  int size;
  int modules[TRAMMEL_FINDER_MOST_PAIRS];
} TrammelFinderShape;

/* A set of up to four gears: its product, and its sizes, rising, the first in the lowest byte; 0xff where there is
 * none. */
typedef struct
{
  guint64 product;
  guint32 members;
} TrammelFinderSet;

static inline int
trammel_finder_member (guint32 members, int i)
{
  return (int)(members >> (8 * i) & 0xff);
}

/* How many sets of @shape have a product from @low to @high. */
gsize trammel_finder_sets_count (const TrammelFinderStock *stock, const TrammelFinderShape *shape, guint64 low,
                                 guint64 high);
/* The sets themselves, by product, into @out (of TrammelFinderSet, emptied before). */
void trammel_finder_sets_collect (const TrammelFinderStock *stock, const TrammelFinderShape *shape, guint64 low,
                                  guint64 high, GArray *out);

/* How many different trains of up to @most_pairs pairs the bin gives. */
guint64 trammel_finder_count (const TrammelFinderStock *stock, int most_pairs);

/* A train before it is arranged. */
typedef struct
{
  int n_pairs;
  guint32 drivers, driven;
  guint64 num, den; /* products of driven and drivers */
} TrammelFinderCandidate;

/* What must be added to turn the direction. */
typedef struct
{
  int idler;      /* size, −1: none */
  int equal_pair; /* size, −1: none */
} TrammelFinderTurn;

/* FALSE where @candidate cannot be made to turn as asked. */
gboolean trammel_finder_turn (const TrammelFinderStock *stock, const TrammelFinderQuery *query,
                              const TrammelFinderCandidate *candidate, TrammelFinderTurn *out);
/* mm. */
double trammel_finder_span (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate,
                            const TrammelFinderTurn *turn);
/* Sets pairs and play, the least of all arrangements that fit; FALSE where none does. */
gboolean trammel_finder_arrange (const TrammelFinderStock *stock, const TrammelFinderCandidate *candidate,
                                 const TrammelFinderTurn *turn, TrammelFinderTrain *out);

/* (ratio − @target)/@target of the ratio @num/@den, both below 2^54; correct to an ulp, or to 1e-18 absolutely where
 * @target has a factor π. */
double trammel_finder_error_of (guint64 num, guint64 den, TrammelExact target);
/* Below 0 where |error| of ratio @a is the smaller one, 0 where they are equal. */
int trammel_finder_compare_errors (TrammelExact a, TrammelExact b, TrammelExact target);

/* The best trains so far. */
typedef struct _TrammelFinderList TrammelFinderList;

TrammelFinderList *trammel_finder_list_new (const TrammelFinderStock *stock, const TrammelFinderQuery *query);
void trammel_finder_list_free (TrammelFinderList *list);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelFinderList, trammel_finder_list_free)
/* How large |error| may be for a train of @n_pairs to enter; negative when none can. */
double trammel_finder_list_bound (const TrammelFinderList *list, int n_pairs);
void trammel_finder_list_offer (TrammelFinderList *list, const TrammelFinderCandidate *candidate);
/* (transfer full): in order. */
TrammelFinderTrain *trammel_finder_list_finish (TrammelFinderList *list, gsize *n);

G_END_DECLS
