/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/foresight.h"

G_BEGIN_DECLS

/* Trials of an adjustment in a thread of their own, for a window that goes on meanwhile. Reference-counted. */
typedef struct _TrammelTrialsJob TrammelTrialsJob;

/* @adjustment was made of @machine by @how, which may hold scatter and robust only. @source is kept until @callback was
 * called, which is in the main loop, also after a cancellation. (transfer full) */
TrammelTrialsJob *trammel_trials_job_start (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                            const TrammelAdjustOptions *how, gsize trials, guint64 seed,
                                            gpointer source, GAsyncReadyCallback callback);
void trammel_trials_job_unref (TrammelTrialsJob *job);

void trammel_trials_job_cancel (TrammelTrialsJob *job);
/* What is done of it, 0…1. */
double trammel_trials_job_part (TrammelTrialsJob *job);
gsize trammel_trials_job_trials (TrammelTrialsJob *job);
guint64 trammel_trials_job_seed (TrammelTrialsJob *job);

/* For @callback: the job that @result is of; borrowed. */
TrammelTrialsJob *trammel_trials_job_of_result (GAsyncResult *result);
/* As trammel_machine_monte_carlo(). */
GArray *trammel_trials_job_finish (GAsyncResult *result, GError **error);

G_END_DECLS
