/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "machine/explanations.h"

G_BEGIN_DECLS

/* What may have been entered wrong, the most plausible first, each with a button that puts it right. Hidden when there
 * is nothing to explain.
 *
 * Signal: put-right (view, const TrammelExplanation *): a person wants this one; borrowed. */
#define TRAMMEL_TYPE_EXPLANATIONS_VIEW (trammel_explanations_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelExplanationsView, trammel_explanations_view, TRAMMEL, EXPLANATIONS_VIEW, GtkWidget)

/* NULL @adjustment: nothing to explain. */
void trammel_explanations_view_show (TrammelExplanationsView *view, const TrammelMachine *machine,
                                     const TrammelAdjustment *adjustment);

G_END_DECLS
