/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "machine/machine.h"

G_BEGIN_DECLS

/* What follows from the teeth of one axis: counts per unit, travel per count and per turn, direction, speed, shafts;
 * or, where the train does not work, the reason. */
#define TRAMMEL_TYPE_FACTS_VIEW (trammel_facts_view_get_type ())
G_DECLARE_FINAL_TYPE (TrammelFactsView, trammel_facts_view, TRAMMEL, FACTS_VIEW, GtkWidget)

/* @facts NULL: @trouble tells why (nullable). @unit: the display unit of lengths. All borrowed for the call. */
void trammel_facts_view_show (TrammelFactsView *view, const TrammelAxis *axis, const TrammelFacts *facts,
                              const char *trouble, const TrammelUnit *unit);

G_END_DECLS
