/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/history.h"

/* Values share what an edit did not change, so only readings weigh: each step that changed them holds a copy. */
#define MOST_ROWS 10000000
#define MOST_STEPS 2000

typedef struct
{
  TrammelMachine *machine;
  char *what; /* led here; NULL for the first value */
  char *merge;
  int axis;
  gint64 time;
} Step;

struct _TrammelHistory
{
  GPtrArray *steps;
  guint place;
};

static void
step_free (gpointer data)
{
  Step *step = data;
  trammel_machine_unref (step->machine);
  g_free (step->what);
  g_free (step->merge);
  g_free (step);
}

static Step *
step_at (TrammelHistory *history, guint i)
{
  return g_ptr_array_index (history->steps, i);
}

TrammelHistory *
trammel_history_new (const TrammelMachine *machine)
{
  g_return_val_if_fail (machine != NULL, NULL);

  TrammelHistory *history = g_new0 (TrammelHistory, 1);
  Step *first = g_new0 (Step, 1);
  first->machine = trammel_machine_ref (machine);
  first->axis = -1;
  history->steps = g_ptr_array_new_with_free_func (step_free);
  g_ptr_array_add (history->steps, first);
  return history;
}

void
trammel_history_free (TrammelHistory *history)
{
  if (!history)
    return;
  g_ptr_array_unref (history->steps);
  g_free (history);
}

const TrammelMachine *
trammel_history_current (TrammelHistory *history)
{
  return step_at (history, history->place)->machine;
}

static gsize
rows_held (TrammelHistory *history)
{
  gsize rows = 0;
  const TrammelReadings *last = NULL;
  for (guint i = 0; i < history->steps->len; i++)
    {
      const TrammelReadings *readings = trammel_machine_readings (step_at (history, i)->machine);
      if (readings != last)
        rows += trammel_readings_length (readings);
      last = readings;
    }
  return rows;
}

/* The oldest steps go when there are too many; one can always be undone. */
static void
forget_oldest (TrammelHistory *history)
{
  while (history->steps->len > 2 && (history->steps->len > MOST_STEPS || rows_held (history) > MOST_ROWS))
    {
      g_ptr_array_remove_index (history->steps, 0);
      history->place--;
    }
}

static gboolean
goes_into_step (const Step *step, const char *merge, gint64 time)
{
  return merge && step->merge && g_str_equal (merge, step->merge) && time - step->time < TRAMMEL_HISTORY_MERGE_TIME;
}

void
trammel_history_put (TrammelHistory *history, TrammelMachine *machine, const char *what, const char *merge, int axis,
                     gint64 time)
{
  g_return_if_fail (history != NULL && machine != NULL);

  Step *now = step_at (history, history->place);
  if (history->place + 1 < history->steps->len)
    g_ptr_array_set_size (history->steps, history->place + 1);

  if (goes_into_step (now, merge, time))
    {
      trammel_machine_unref (now->machine);
      now->machine = machine;
      now->time = time;
      return;
    }

  Step *step = g_new0 (Step, 1);
  step->machine = machine;
  step->what = g_strdup (what);
  step->merge = g_strdup (merge);
  step->axis = axis;
  step->time = time;
  g_ptr_array_add (history->steps, step);
  history->place++;
  forget_oldest (history);
}

void
trammel_history_end_merging (TrammelHistory *history)
{
  g_clear_pointer (&step_at (history, history->place)->merge, g_free);
}

gboolean
trammel_history_undo (TrammelHistory *history, int *axis)
{
  if (history->place == 0)
    return FALSE;
  trammel_history_end_merging (history);
  if (axis)
    *axis = step_at (history, history->place)->axis;
  history->place--;
  trammel_history_end_merging (history);
  return TRUE;
}

gboolean
trammel_history_redo (TrammelHistory *history, int *axis)
{
  if (history->place + 1 >= history->steps->len)
    return FALSE;
  history->place++;
  if (axis)
    *axis = step_at (history, history->place)->axis;
  return TRUE;
}

const char *
trammel_history_undo_label (TrammelHistory *history)
{
  return history->place > 0 ? step_at (history, history->place)->what : NULL;
}

const char *
trammel_history_redo_label (TrammelHistory *history)
{
  return history->place + 1 < history->steps->len ? step_at (history, history->place + 1)->what : NULL;
}
