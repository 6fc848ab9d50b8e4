/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/finder-job.h"

#include "drive/finder-grid.h"

#define WHOLE 1000

struct _TrammelFinderJob
{
  TrammelGears *gears;
  TrammelFinderQuery query;
  TrammelHoleGrid grid;
  GCancellable *cancellable;
  int done; /* of WHOLE; atomic */
};

static void
job_clear (TrammelFinderJob *job)
{
  trammel_gears_unref (job->gears);
  g_object_unref (job->cancellable);
}

void
trammel_finder_job_unref (TrammelFinderJob *job)
{
  g_atomic_rc_box_release_full (job, (GDestroyNotify)job_clear);
}

static void
note_progress (double part, gpointer data)
{
  TrammelFinderJob *job = data;
  g_atomic_int_set (&job->done, (int)(part * WHOLE));
}

static void
search (GTask *task, gpointer source, gpointer data, GCancellable *cancellable)
{
  TrammelFinderJob *job = data;
  GError *error = NULL;
  TrammelFinderResult *result = trammel_finder_search (job->gears, &job->query, cancellable, &error);
  if (result)
    g_task_return_pointer (task, result, (GDestroyNotify)trammel_finder_result_free);
  else
    g_task_return_error (task, error);
}

TrammelFinderJob *
trammel_finder_job_start (const TrammelGears *gears, const TrammelFinderQuery *query, TrammelHoleGrid grid,
                          gpointer source, GAsyncReadyCallback callback)
{
  g_return_val_if_fail (gears != NULL && query != NULL && G_IS_OBJECT (source), NULL);

  TrammelFinderJob *job = g_atomic_rc_box_new0 (TrammelFinderJob);
  job->gears = trammel_gears_ref (gears);
  job->query = *query;
  job->grid = grid;
  job->cancellable = g_cancellable_new ();
  job->query.progress = note_progress;
  job->query.progress_data = job;
  job->query.fits = grid.pitch > 0 ? trammel_finder_fits_grid : NULL;
  job->query.fits_data = &job->grid;

  g_autoptr (GTask) task = g_task_new (source, job->cancellable, callback, NULL);
  g_task_set_task_data (task, g_atomic_rc_box_acquire (job), (GDestroyNotify)trammel_finder_job_unref);
  g_task_run_in_thread (task, search);
  return job;
}

void
trammel_finder_job_cancel (TrammelFinderJob *job)
{
  g_cancellable_cancel (job->cancellable);
}

double
trammel_finder_job_part (TrammelFinderJob *job)
{
  return (double)g_atomic_int_get (&job->done) / WHOLE;
}

TrammelFinderJob *
trammel_finder_job_of_result (GAsyncResult *result)
{
  return g_task_get_task_data (G_TASK (result));
}

const TrammelFinderQuery *
trammel_finder_job_query (TrammelFinderJob *job)
{
  return &job->query;
}

TrammelHoleGrid
trammel_finder_job_grid (TrammelFinderJob *job)
{
  return job->grid;
}

TrammelFinderResult *
trammel_finder_job_finish (GAsyncResult *result, GError **error)
{
  return g_task_propagate_pointer (G_TASK (result), error);
}
