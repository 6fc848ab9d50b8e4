/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/gears.h"
#include "drive/mesh-grid.h"
#include "drive/train.h"

#include <gio/gio.h>

G_BEGIN_DECLS

/* Finds the trains of spur pairs, built of the gears in a bin, that come nearest to a wanted ratio.
 *
 * What a train is. Up to four pairs in a row, the driven gear of each on the shaft of the next driver; only gears of
 * equal module mesh; no gear is used more often than the bin has it. Turns in per turn out are Π driven / Π driver:
 * which driven stands behind which driver, and in what order, does not matter for the ratio, so all such arrangements
 * count as one train, given by its drivers and its driven (each a set with repeats; per module as many of the one as of
 * the other). It is told in the arrangement with the least play: with one module the largest driven follows the
 * smallest driver and stands last, the next before it, and so on. (In that arrangement no gear reaches the shaft
 * beyond its neighbor either.)
 *
 * What is left out. A train with gears of the same size among its drivers and its driven has the same ratio without
 * the two, with fewer gears: it is not listed, save a lone pair of equal gears (1:1).
 *
 * Direction. Every external mesh turns it. Where one is asked for and the number of pairs gives the other, an idler of
 * what is left in the bin is put between one pair: the smallest whose module fits; where none is left, a pair of equal
 * gears, if the bin has two and one more pair is allowed; else the train is not listed.
 *
 * How nothing is missed. For every number of pairs k (and every choice of modules) all sets of k gears are made, once
 * as drivers and once as driven, both sorted by the product of their teeth. Going up through the drivers, the driven
 * whose product lies at drivers · target are followed by a second pointer, and from there both ways as far as the
 * tolerance, or the worst listed error if that is less, reaches. So k pairs cost the number of sets of k gears, and not
 * of 2k: 123,410 instead of 10^10 for four pairs of 40 sizes. (Meeting in the middle; E. Horowitz, S. Sahni, J. ACM 21
 * (1974) 277.) More than half a million sets are made in ranges of their product, one after the other, so that memory
 * stays below 40 MB whatever the bin. Products are below 10^16 and exact in 64 bits; errors are compared exactly, save
 * where the target has a factor π.
 */

#define TRAMMEL_FINDER_MOST_PAIRS 4
#define TRAMMEL_FINDER_MOST_LISTED 10000
/* Play at the pitch circle that each mesh is taken to have, in modules. Common practice, no source. */
#define TRAMMEL_FINDER_PLAY 0.04

typedef enum
{
  TRAMMEL_FINDER_ANY,      /* either way */
  TRAMMEL_FINDER_SAME,     /* the last shaft turns as the first */
  TRAMMEL_FINDER_OPPOSITE, /* the other way */
} TrammelFinderDirection;

/* What is listed first; what is equal in it goes by error, then gears, then span. */
typedef enum
{
  TRAMMEL_FINDER_BY_ERROR,
  TRAMMEL_FINDER_BY_GEARS,
  TRAMMEL_FINDER_BY_SPAN,
  TRAMMEL_FINDER_BY_PLAY,
} TrammelFinderOrder;

/* Whether two gears can mesh where the shafts can be. Called before the search, from its thread, once for every two
 * sizes of equal module (which may be the same one twice). */
typedef gboolean (*TrammelFinderFits) (const TrammelGearSize *one, const TrammelGearSize *other, gpointer data);

/* Told now and then, from the thread of the search: the part done, 0…1. */
typedef void (*TrammelFinderProgress) (double part, gpointer data);

typedef struct
{
  TrammelExact target; /* turns in per turn out, > 0; π allowed */
  int most_pairs;      /* 1…TRAMMEL_FINDER_MOST_PAIRS */
  double tolerance;    /* largest |error|, ≥ 0; infinite: any */
  gsize list;          /* how many to list, 1…TRAMMEL_FINDER_MOST_LISTED */
  TrammelFinderDirection direction;
  TrammelFinderOrder order;
  /* Only trains that no other one beats: none is as good in |error|, number of gears and span and better in one. Of
   * several that are equal in all three, one. */
  gboolean unbeaten;
  TrammelFinderFits fits; /* NULL: everywhere */
  gpointer fits_data;
  TrammelFinderProgress progress; /* NULL: none */
  gpointer progress_data;
} TrammelFinderQuery;

/* Three pairs, 0.2 %, 20 listed by error, either way; @target as given. */
TrammelFinderQuery trammel_finder_query (TrammelExact target);

typedef struct
{
  int driver, driven; /* teeth */
  int idler;          /* teeth of the gear between them; 0: none */
  TrammelExact module;
} TrammelFinderPair;

/* A plain value. */
typedef struct
{
  int n_pairs;
  TrammelFinderPair pairs[TRAMMEL_FINDER_MOST_PAIRS]; /* from the motor on */
  TrammelExact ratio;                                 /* turns in per turn out, > 0 */
  double error;                                       /* (ratio − target)/target */
  int gears;                                          /* with the idler */
  int direction;                                      /* 1: the last shaft turns as the first; −1 */
  /* From the first shaft to the last with all shafts in a row, mm: the sum of all center distances, which is half the
   * sum of all pitch diameters (an idler counts whole). */
  double span;
  /* Of the last shaft with the first held, rad: each mesh gives TRAMMEL_FINDER_PLAY modules at its pitch circle, an
   * angle of twice that over the pitch diameter of its driven, and the pairs behind it carry it on:
   * Σ 2·PLAY/driven_i · Π_{l > i} driver_l/driven_l. An idler makes two meshes of one. */
  double play;
} TrammelFinderTrain;

typedef struct
{
  TrammelFinderTrain *trains;
  gsize n;
  /* How many different trains of the bin the search covered: all of up to that many pairs, before direction and fit,
   * counted as said above. */
  guint64 searched;
  /* Where @n is 0 and the bin gives any train at all: the one nearest to the target. */
  gboolean has_nearest;
  TrammelFinderTrain nearest;
} TrammelFinderResult;

/**
 * trammel_finder_search:
 *
 * Returns: (transfer full) (nullable): the best trains, by the order asked for. May be called from any thread.
 * Errors: TRAMMEL_ERROR_RANGE (the query is out of bounds), G_IO_ERROR_CANCELLED.
 */
TrammelFinderResult *trammel_finder_search (const TrammelGears *gears, const TrammelFinderQuery *query,
                                            GCancellable *cancellable, GError **error);
void trammel_finder_result_free (TrammelFinderResult *result);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelFinderResult, trammel_finder_result_free)

/* (ratio − target)/target exactly, signed. FALSE where that does not fit 64 bits, or @target has a factor π. */
gboolean trammel_finder_error (const TrammelFinderTrain *train, TrammelExact target, TrammelExact *out);

/**
 * trammel_finder_target:
 * @counts_per_unit: wanted, per mm (per degree for a table), > 0
 *
 * The turns in per turn out that the stages of @train must give for that: counts_per_unit · |travel per turn of its
 * output| / counts per turn of its motor. What stages it has does not matter.
 * Errors: as trammel_train_facts() of its motor and output; TRAMMEL_ERROR_RANGE, _OVERFLOW.
 */
gboolean trammel_finder_target (const TrammelTrain *train, TrammelExact counts_per_unit, TrammelExact *out,
                                GError **error);

/**
 * trammel_finder_apply:
 * @grid: (nullable): a plate with holes: each mesh is placed at the offset with the least backlash, which gives center
 *   distances and lash (drive/stage-gears.h), where it runs in any two holes
 *
 * Returns: (transfer full) (nullable): @train with its stages replaced by the spur pairs of @found.
 * Errors: as trammel_record_with_integer() and trammel_train_with_stage_inserted(), for values that no search finds.
 */
TrammelTrain *trammel_finder_apply (const TrammelTrain *train, const TrammelFinderTrain *found,
                                    const TrammelHoleGrid *grid, GError **error);

G_END_DECLS
