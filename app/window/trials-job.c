/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/trials-job.h"

struct _TrammelTrialsJob
{
  TrammelMachine *machine; /* immutable, so no lock is needed */
  TrammelAdjustment *adjustment;
  TrammelAdjustOptions how;
  TrammelMonteCarloOptions options;
  gsize done; /* trials; atomic */
};

static void
job_clear (TrammelTrialsJob *job)
{
  trammel_machine_unref (job->machine);
  trammel_adjustment_unref (job->adjustment);
  g_object_unref (job->options.cancellable);
}

void
trammel_trials_job_unref (TrammelTrialsJob *job)
{
  g_atomic_rc_box_release_full (job, (GDestroyNotify)job_clear);
}

/* Of several threads, so what comes last need not be the most. */
static void
note_progress (gsize done, gpointer data)
{
  TrammelTrialsJob *job = data;
  g_atomic_pointer_set (&job->done, done);
}

static void
make_trials (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  TrammelTrialsJob *job = data;
  GError *error = NULL;
  GArray *axes = trammel_machine_monte_carlo (job->machine, job->adjustment, &job->how, &job->options, &error);
  if (axes)
    g_task_return_pointer (task, axes, (GDestroyNotify)g_array_unref);
  else
    g_task_return_error (task, error);
}

TrammelTrialsJob *
trammel_trials_job_start (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                          const TrammelAdjustOptions *how, gsize trials, guint64 seed, gpointer source,
                          GAsyncReadyCallback callback)
{
  g_return_val_if_fail (machine != NULL && adjustment != NULL && how != NULL && G_IS_OBJECT (source), NULL);

  TrammelTrialsJob *job = g_atomic_rc_box_new0 (TrammelTrialsJob);
  job->machine = trammel_machine_ref (machine);
  job->adjustment = trammel_adjustment_ref (adjustment);
  job->how = (TrammelAdjustOptions){ .scatter = how->scatter, .robust = how->robust };
  job->options = (TrammelMonteCarloOptions){
    .trials = trials, .seed = seed, .cancellable = g_cancellable_new (), .progress = note_progress, .data = job
  };

  g_autoptr (GTask) task = g_task_new (source, job->options.cancellable, callback, NULL);
  g_task_set_task_data (task, g_atomic_rc_box_acquire (job), (GDestroyNotify)trammel_trials_job_unref);
  g_task_run_in_thread (task, make_trials);
  return job;
}

void
trammel_trials_job_cancel (TrammelTrialsJob *job)
{
  g_cancellable_cancel (job->options.cancellable);
}

double
trammel_trials_job_part (TrammelTrialsJob *job)
{
  return (double)(gsize)g_atomic_pointer_get (&job->done) / (double)job->options.trials;
}

gsize
trammel_trials_job_trials (TrammelTrialsJob *job)
{
  return job->options.trials;
}

guint64
trammel_trials_job_seed (TrammelTrialsJob *job)
{
  return job->options.seed;
}

TrammelTrialsJob *
trammel_trials_job_of_result (GAsyncResult *result)
{
  return g_task_get_task_data (G_TASK (result));
}

GArray *
trammel_trials_job_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
