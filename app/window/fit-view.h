/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "machine/machine.h"

G_BEGIN_DECLS

/* The facts of a fit (readings, degrees of freedom, χ², p, Birge ratio, coverage), each with what it means in plain
 * words. */
#define TRAMMEL_TYPE_FIT_VIEW (trammel_fit_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelFitView, trammel_fit_view, TRAMMEL, FIT_VIEW, GtkWidget)

void trammel_fit_view_show (TrammelFitView *view, const TrammelMachine *machine, const TrammelAdjustment *adjustment);

G_END_DECLS
