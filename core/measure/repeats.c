/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/repeats-private.h"

#include <gsl/gsl_cdf.h>
#include <math.h>
#include <string.h>

/* Fewer than this of lack of fit is stated values being half-learned, not a test. */
#define LEAST_FREEDOM (1 - 1e-6)
#define NOTHING G_MAXUINT32
/* Set in a slot that holds a group, not a reading that has been met once. */
#define IS_GROUP ((guint32)1 << 31)

typedef struct
{
  guint32 first; /* reading */
  guint32 n;
  double weight, mean, square; /* Σ w, weighted mean, Σ w (y − mean)² */
} Group;

/* Open addressing. Most readings are never repeated, so that only those that are cost more than a slot. */
typedef struct
{
  const TrammelFit *fit;
  guint32 *slots;
  guint32 mask;
  GArray *groups;
} Table;

static inline guint64
stirred (guint64 hash, guint64 more)
{
  hash = (hash ^ more) * G_GUINT64_CONSTANT (0x9e3779b97f4a7c15);
  return hash ^ (hash >> 29);
}

static guint64
bits_of (double value)
{
  guint64 bits;

  value += 0.0; /* −0 and 0 are one place */
  memcpy (&bits, &value, sizeof bits);
  return bits;
}

/* Instrument and set, of which there are few, are left to the comparison. */
static guint64
hash_of (const TrammelReading *reading)
{
  guint64 hash = stirred (0, bits_of (reading->nominal));

  return stirred (hash, (guint64)reading->kind | (guint64)reading->approach << 8
                            | (guint64)(guchar)reading->along.axes[0] << 16
                            | (guint64)(guchar)reading->along.axes[1] << 24);
}

static inline gboolean
same_text (const GRefString *a, const GRefString *b)
{
  return a == b || g_strcmp0 (a, b) == 0;
}

static gboolean
same_thing (const TrammelReading *a, const TrammelReading *b)
{
  return a->nominal == b->nominal && a->kind == b->kind && a->approach == b->approach
         && trammel_direction_equal (&a->along, &b->along) && same_text (a->instrument, b->instrument)
         && same_text (a->set, b->set);
}

static void
group_add (Group *group, double measured, double weight)
{
  const double off = measured - group->mean;

  group->n++;
  group->weight += weight;
  group->mean += off * (weight / group->weight); /* the first: exactly itself */
  group->square += weight * off * (measured - group->mean);
}

static void
enter (const Table *table, Group *group, guint32 i)
{
  const double u = table->fit->fitted[i].u;

  group_add (group, table->fit->input->readings[i].measured, 1 / (u * u));
}

static guint32
first_of (const Table *table, guint32 slot)
{
  return slot & IS_GROUP ? g_array_index (table->groups, Group, slot & ~IS_GROUP).first : slot;
}

static void
meet (Table *table, guint32 i)
{
  const TrammelReading *readings = table->fit->input->readings;
  guint32 place = (guint32)(hash_of (&readings[i]) >> 32) & table->mask;

  while (table->slots[place] != NOTHING && !same_thing (&readings[first_of (table, table->slots[place])], &readings[i]))
    place = (place + 1) & table->mask;
  guint32 *slot = &table->slots[place];
  if (*slot == NOTHING)
    {
      *slot = i;
      return;
    }
  if (!(*slot & IS_GROUP))
    {
      Group fresh = { .first = *slot };
      enter (table, &fresh, *slot);
      *slot = table->groups->len | IS_GROUP;
      g_array_append_val (table->groups, fresh);
    }
  enter (table, &g_array_index (table->groups, Group, *slot & ~IS_GROUP), i);
}

static void
table_init (Table *table, const TrammelFit *fit)
{
  guint32 size = 16;

  while (size < 2 * fit->n_used)
    size *= 2;
  table->fit = fit;
  table->mask = size - 1;
  table->slots = g_new (guint32, size);
  memset (table->slots, 0xff, size * sizeof (guint32));
  table->groups = g_array_new (FALSE, FALSE, sizeof (Group));
}

static void
table_clear (Table *table)
{
  g_free (table->slots);
  g_array_unref (table->groups);
}

static void
test (const TrammelFit *fit, TrammelRepeats *repeats)
{
  const gboolean estimated = fit->input->scatter == TRAMMEL_SCATTER_ESTIMATED;
  const double freedom
      = estimated ? fit->freedom : (double)fit->n_used - fit->n_columns + trammel_fit_determined_by_stated (fit, 1);

  repeats->lack_of_fit_dof = MAX (freedom - (double)repeats->pure_error_dof, 0);
  repeats->lack_of_fit_ss = MAX (fit->rss - repeats->pure_error_ss, 0);
  repeats->f = repeats->p_value = NAN;
  if (!(repeats->lack_of_fit_dof >= LEAST_FREEDOM) || !(repeats->pure_error_ss > 0))
    return;
  repeats->f
      = repeats->lack_of_fit_ss / repeats->lack_of_fit_dof / (repeats->pure_error_ss / (double)repeats->pure_error_dof);
  repeats->p_value = gsl_cdf_fdist_Q (repeats->f, repeats->lack_of_fit_dof, (double)repeats->pure_error_dof);
}

gboolean
trammel_repeats_find (const TrammelFit *fit, TrammelRepeats *repeats)
{
  Table table;

  if (fit->n_used > TRAMMEL_REPEATS_MOST_READINGS)
    return FALSE;
  table_init (&table, fit);
  for (gsize i = 0; i < fit->input->n_readings; i++)
    if (trammel_fit_row_takes_part (&fit->fitted[i]))
      meet (&table, (guint32)i);
  *repeats = (TrammelRepeats){ .n_groups = table.groups->len };
  for (guint i = 0; i < table.groups->len; i++)
    {
      const Group *group = &g_array_index (table.groups, Group, i);
      repeats->pure_error_dof += group->n - 1;
      repeats->pure_error_ss += group->square;
    }
  table_clear (&table);
  if (repeats->n_groups == 0)
    return FALSE;
  test (fit, repeats);
  return TRUE;
}
