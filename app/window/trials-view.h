/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* Trials of the whole model on demand: how many and from which seed, progress, and what they say of each axis; of the
 * session's selected axis as a histogram. What the fit has moved on from stays, and is said to be of before. */
#define TRAMMEL_TYPE_TRIALS_VIEW (trammel_trials_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelTrialsView, trammel_trials_view, TRAMMEL, TRIALS_VIEW, GtkWidget)

void trammel_trials_view_show (TrammelTrialsView *view, TrammelSession *session, const TrammelAdjustment *adjustment);
/* Another axis may be selected. Only after the above. */
void trammel_trials_view_show_selection (TrammelTrialsView *view);
/* Another document: what was found, or is being found, is of none of it. */
void trammel_trials_view_forget (TrammelTrialsView *view);

G_END_DECLS
