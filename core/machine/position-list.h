/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/quantity.h"
#include "measure/reading.h"

G_BEGIN_DECLS

/* A position test as people have it on a clipboard or in a file: a plain list of targets and of what the instrument
 * showed there, without any word of Trammel's. */

typedef enum
{
  TRAMMEL_LIST_VALUES_GUESSED,    /* places where they go with the targets, up or down; else deviations */
  TRAMMEL_LIST_VALUES_PLACES,     /* what the instrument shows grows with the target */
  TRAMMEL_LIST_VALUES_DEVIATIONS, /* how far from the target */
  TRAMMEL_LIST_VALUES_FALLING,    /* places on an instrument that counts the other way: taken with the other sign */
} TrammelListValues;

/* Which way the targets of each column behind the first were approached. */
typedef enum
{
  TRAMMEL_LIST_PASSES_GUESSED, /* as a header says (+, −, up, down, ↑, ↓); else in turn where their number is even */
  TRAMMEL_LIST_PASSES_IN_TURN, /* +, −, +, … */
  TRAMMEL_LIST_PASSES_UP,
  TRAMMEL_LIST_PASSES_DOWN,
} TrammelListPasses;

typedef struct
{
  char letter;             /* of the axis */
  gboolean rotary;         /* targets and values in degrees */
  const TrammelUnit *unit; /* (nullable): of lengths where neither number nor header tells it; NULL: mm */
  TrammelListValues values;
  TrammelListPasses passes;
  const char *set;        /* (nullable): of the rows */
  const char *instrument; /* (nullable) */
} TrammelPositionListOptions;

/* What was found. */
typedef struct
{
  TrammelReadings *readings; /* of kind position */
  gsize n_targets;           /* different ones */
  double low, high;          /* of the targets; mm or degrees */
  gsize n_up, n_down, n_unsaid;
  int n_runs;                                 /* the highest number of a run */
  gboolean in_columns;                        /* a column for each pass */
  TrammelListValues values;                   /* not GUESSED */
  double least_deviation, greatest_deviation; /* of the places from their targets; mm or degrees */
} TrammelPositionList;

/**
 * trammel_position_list_read:
 * @text: UTF-8, not trusted
 *
 * Reads one of these, with tabs, semicolons, commas or blanks between the cells, decimal point or comma, and maybe
 * header lines, which may name the unit of their column ("value (µm)"), and comments (#):
 *
 *  - two columns, target and value, in the order in which they were taken. A target above the one before was
 *    approached moving up, one below it moving down, and the first target of a list like the next. Where the
 *    direction turns, a target said twice ends one pass and begins the next. A single step back between two passes of
 *    the same direction is the way back to the start, and the target after it is approached like those that follow. A
 *    pass of a direction begins a new run when there was one of that direction before;
 *  - the same with a third column of + and − (up and down, ↑ and ↓);
 *  - a target and a value for each pass, in three columns or more: the passes are runs, in turn or as @passes says. An
 *    empty cell is a place that was not read.
 *
 * Returns: FALSE with @out untouched: TRAMMEL_ERROR_PARSE, _FORMAT ("line 3: …"), _DATA when there is nothing in it.
 */
gboolean trammel_position_list_read (const char *text, const TrammelPositionListOptions *options,
                                     TrammelPositionList *out, GError **error);
void trammel_position_list_clear (TrammelPositionList *list);
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (TrammelPositionList, trammel_position_list_clear)

/* TRUE for at least three lines that are nothing but such a list of numbers, two columns or more. */
gboolean trammel_position_list_is_likely (const char *text);

/* The rows of a position test that is still to be made, in the order in which a carriage passes them: run 1 up, run 1
 * down, run 2 up, …; only up without @both_ways. @n_targets of them, 2 or more, evenly from @low to @high; @n_runs ≥ 1.
 * (transfer full): NULL when that would be more than TRAMMEL_MAX_READINGS. */
TrammelReadings *trammel_position_plan (char letter, double low, double high, gsize n_targets, int n_runs,
                                        gboolean both_ways, const char *set, const char *instrument);

G_END_DECLS
