/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* What was found about each axis, and which corrections to adopt: a row for each axis that has a scale, in words and in
 * numbers, with a check; and the button that adopts the checked ones. A check starts set where the change is
 * significant.
 * Signal: adopt (results, letters): the button was pressed; letters of the checked axes, "XY". */
#define TRAMMEL_TYPE_AXIS_RESULTS (trammel_axis_results_get_type ())
G_DECLARE_FINAL_TYPE (TrammelAxisResults, trammel_axis_results, TRAMMEL, AXIS_RESULTS, GtkWidget)

void trammel_axis_results_show (TrammelAxisResults *results, const TrammelMachine *machine,
                                const TrammelAdjustment *adjustment);
/* Forgets which checks a person has changed. */
void trammel_axis_results_reset (TrammelAxisResults *results);

G_END_DECLS
