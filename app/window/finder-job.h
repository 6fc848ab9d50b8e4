/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/finder.h"
#include "drive/mesh-grid.h"

G_BEGIN_DECLS

/* A search for gears in a thread of its own, for a window that goes on meanwhile. Reference-counted. */
typedef struct _TrammelFinderJob TrammelFinderJob;

/* @query's fits and progress are set here: @grid is the plate of holes, pitch 0 for none. @source is kept until
 * @callback was called, which is in the main loop, also after a cancellation. (transfer full) */
TrammelFinderJob *trammel_finder_job_start (const TrammelGears *gears, const TrammelFinderQuery *query,
                                            TrammelHoleGrid grid, gpointer source, GAsyncReadyCallback callback);
void trammel_finder_job_unref (TrammelFinderJob *job);

void trammel_finder_job_cancel (TrammelFinderJob *job);
/* What is done of it, 0…1. */
double trammel_finder_job_part (TrammelFinderJob *job);

/* For @callback: the job that @result is of; borrowed. */
TrammelFinderJob *trammel_finder_job_of_result (GAsyncResult *result);
const TrammelFinderQuery *trammel_finder_job_query (TrammelFinderJob *job);
TrammelHoleGrid trammel_finder_job_grid (TrammelFinderJob *job); /* that it was started with */
/* As trammel_finder_search(). */
TrammelFinderResult *trammel_finder_job_finish (GAsyncResult *result, GError **error);

G_END_DECLS
