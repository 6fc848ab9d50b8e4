/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/derived.h"

typedef struct
{
  TrammelAxis *axis; /* NULL: nothing here */
  TrammelFacts *facts;
  GError *error;
} AxisFacts;

struct _TrammelDerived
{
  void (*adjusted) (gpointer user_data);
  gpointer user_data;

  GArray *axes; /* AxisFacts, one per axis */

  TrammelScatter scatter;
  gboolean robust;
  TrammelMachine *adjusted_machine; /* the adjustment, the error, or the worker is for this one; NULL: none yet */
  TrammelAdjustment *adjustment;
  GError *error;
  GCancellable *worker; /* NULL: no worker is at it */
};

/* What a worker takes with it; the machine is immutable, so no lock is needed. */
typedef struct
{
  TrammelDerived *derived; /* for the main thread, and only where the worker was not cancelled */
  TrammelMachine *machine;
  TrammelAdjustOptions options;
} Work;

static void
axis_facts_clear (gpointer data)
{
  AxisFacts *facts = data;
  g_clear_pointer (&facts->axis, trammel_axis_unref);
  g_clear_pointer (&facts->facts, trammel_facts_free);
  g_clear_error (&facts->error);
}

static void
work_free (gpointer data)
{
  Work *work = data;
  trammel_machine_unref (work->machine);
  g_free (work);
}

TrammelDerived *
trammel_derived_new (void (*adjusted) (gpointer user_data), gpointer user_data)
{
  TrammelDerived *derived = g_new0 (TrammelDerived, 1);
  derived->adjusted = adjusted;
  derived->user_data = user_data;
  derived->axes = g_array_new (FALSE, TRUE, sizeof (AxisFacts));
  g_array_set_clear_func (derived->axes, axis_facts_clear);
  return derived;
}

static void
forget_adjustment (TrammelDerived *derived)
{
  if (derived->worker)
    g_cancellable_cancel (derived->worker);
  g_clear_object (&derived->worker);
  g_clear_pointer (&derived->adjustment, trammel_adjustment_unref);
  g_clear_error (&derived->error);
  g_clear_pointer (&derived->adjusted_machine, trammel_machine_unref);
}

void
trammel_derived_free (TrammelDerived *derived)
{
  forget_adjustment (derived);
  g_array_unref (derived->axes);
  g_free (derived);
}

const TrammelFacts *
trammel_derived_facts (TrammelDerived *derived, const TrammelMachine *machine, gsize i, GError **error)
{
  g_return_val_if_fail (i < trammel_machine_n_axes (machine), NULL);

  if (derived->axes->len != trammel_machine_n_axes (machine))
    g_array_set_size (derived->axes, (guint)trammel_machine_n_axes (machine));

  const TrammelAxis *axis = trammel_machine_axis (machine, i);
  AxisFacts *kept = &g_array_index (derived->axes, AxisFacts, i);
  if (kept->axis != axis)
    {
      axis_facts_clear (kept);
      kept->axis = trammel_axis_ref (axis);
      if (trammel_axis_check (axis, &kept->error))
        kept->facts = trammel_train_facts (trammel_axis_train (axis), &kept->error);
    }
  if (!kept->facts && error)
    *error = g_error_copy (kept->error);
  return kept->facts;
}

/* Whether an adjustment of @a is one of @b, too. */
static gboolean
same_axes (const TrammelMachine *a, const TrammelMachine *b)
{
  gsize n = trammel_machine_n_axes (a);
  if (n != trammel_machine_n_axes (b))
    return FALSE;
  for (gsize i = 0; i < n; i++)
    if (trammel_axis_letter (trammel_machine_axis (a, i)) != trammel_axis_letter (trammel_machine_axis (b, i))
        || trammel_axis_kind (trammel_machine_axis (a, i)) != trammel_axis_kind (trammel_machine_axis (b, i)))
      return FALSE;
  return TRUE;
}

static gboolean
same_instruments (const TrammelMachine *a, const TrammelMachine *b)
{
  gsize n, n_b;
  const TrammelInstrument *of_a = trammel_machine_instruments (a, &n);
  const TrammelInstrument *of_b = trammel_machine_instruments (b, &n_b);
  if (n != n_b)
    return FALSE;
  for (gsize i = 0; of_a != of_b && i < n; i++)
    if (!trammel_instrument_equal (&of_a[i], &of_b[i]))
      return FALSE;
  return trammel_thermal_equal (trammel_machine_part (a), trammel_machine_part (b));
}

static gboolean
same_stated (const TrammelMachine *a, const TrammelMachine *b)
{
  gsize n, n_b;
  const TrammelStated *of_a = trammel_machine_stated (a, &n);
  const TrammelStated *of_b = trammel_machine_stated (b, &n_b);
  if (n != n_b)
    return FALSE;
  for (gsize i = 0; of_a != of_b && i < n; i++)
    if (g_strcmp0 (of_a[i].name, of_b[i].name) != 0 || of_a[i].value != of_b[i].value || of_a[i].u != of_b[i].u)
      return FALSE;
  return TRUE;
}

static gboolean
same_input (const TrammelMachine *a, const TrammelMachine *b)
{
  return a == b
         || (trammel_machine_readings (a) == trammel_machine_readings (b) && same_axes (a, b) && same_instruments (a, b)
             && same_stated (a, b) && trammel_machine_display_unit (a) == trammel_machine_display_unit (b));
}

static gboolean
has_reading_to_fit (const TrammelMachine *machine)
{
  gsize n;
  const TrammelReading *rows = trammel_readings_rows (trammel_machine_readings (machine), &n);
  for (gsize i = 0; i < n; i++)
    if (trammel_reading_is_fitted (&rows[i]))
      return TRUE;
  return FALSE;
}

static void
adjust_in_thread (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  Work *work = data;
  GError *error = NULL;
  TrammelAdjustment *adjustment = trammel_machine_adjust (work->machine, &work->options, cancellable, &error);
  if (adjustment)
    g_task_return_pointer (task, adjustment, (GDestroyNotify)trammel_adjustment_unref);
  else
    g_task_return_error (task, error);
}

static void
worker_finished (GObject *source, GAsyncResult *result, gpointer data)
{
  GTask *task = G_TASK (result);
  Work *work = g_task_get_task_data (task);
  g_autoptr (GError) error = NULL;
  TrammelAdjustment *adjustment = g_task_propagate_pointer (task, &error);
  /* Cancelled: another one is under way, or there is nobody left who waits for this one. */
  if (g_cancellable_is_cancelled (g_task_get_cancellable (task)))
    {
      g_clear_pointer (&adjustment, trammel_adjustment_unref);
      return;
    }
  work->derived->adjustment = adjustment;
  work->derived->error = g_steal_pointer (&error);
  g_clear_object (&work->derived->worker);
  work->derived->adjusted (work->derived->user_data);
}

static void
start_worker (TrammelDerived *derived, const TrammelMachine *machine, const TrammelAdjustOptions *options)
{
  Work *work = g_new0 (Work, 1);
  work->derived = derived;
  work->machine = trammel_machine_ref (machine);
  work->options = *options;

  derived->worker = g_cancellable_new ();
  g_autoptr (GTask) task = g_task_new (NULL, derived->worker, worker_finished, NULL);
  g_task_set_source_tag (task, start_worker);
  g_task_set_task_data (task, work, work_free);
  g_task_run_in_thread (task, adjust_in_thread);
}

static void
adjust (TrammelDerived *derived, const TrammelMachine *machine)
{
  const TrammelAdjustOptions options = { .scatter = derived->scatter, .robust = derived->robust };

  forget_adjustment (derived);
  derived->adjusted_machine = trammel_machine_ref (machine);
  if (!has_reading_to_fit (machine))
    return;
  if (trammel_readings_length (trammel_machine_readings (machine)) > TRAMMEL_DERIVED_AT_ONCE)
    start_worker (derived, machine, &options);
  else
    derived->adjustment = trammel_machine_adjust (machine, &options, NULL, &derived->error);
}

const TrammelAdjustment *
trammel_derived_adjustment (TrammelDerived *derived, const TrammelMachine *machine, GError **error)
{
  if (!derived->adjusted_machine || !same_input (derived->adjusted_machine, machine))
    adjust (derived, machine);
  if (derived->error && error)
    *error = g_error_copy (derived->error);
  return derived->adjustment;
}

gboolean
trammel_derived_is_adjusting (TrammelDerived *derived)
{
  return derived->worker != NULL;
}

TrammelScatter
trammel_derived_scatter (TrammelDerived *derived)
{
  return derived->scatter;
}

gboolean
trammel_derived_robust (TrammelDerived *derived)
{
  return derived->robust;
}

gboolean
trammel_derived_set_method (TrammelDerived *derived, TrammelScatter scatter, gboolean robust)
{
  if (derived->scatter == scatter && !derived->robust == !robust)
    return FALSE;
  derived->scatter = scatter;
  derived->robust = robust;
  forget_adjustment (derived);
  return TRUE;
}
