/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* What follows from the current value: kept while the part of the value that it follows from stays the same. */
typedef struct _TrammelDerived TrammelDerived;

/* Adjustments of more readings than this are made in a worker thread. */
#define TRAMMEL_DERIVED_AT_ONCE 20000

/* @adjusted is called with @user_data when a worker thread has finished. */
TrammelDerived *trammel_derived_new (void (*adjusted) (gpointer user_data), gpointer user_data);
/* A worker still at it is told to stop, and its result is dropped. */
void trammel_derived_free (TrammelDerived *derived);

/* Borrowed until the next call with another machine. As trammel_session_facts() and trammel_session_adjustment(). */
const TrammelFacts *trammel_derived_facts (TrammelDerived *derived, const TrammelMachine *machine, gsize i,
                                           GError **error);
const TrammelAdjustment *trammel_derived_adjustment (TrammelDerived *derived, const TrammelMachine *machine,
                                                     GError **error);
gboolean trammel_derived_is_adjusting (TrammelDerived *derived);

TrammelScatter trammel_derived_scatter (TrammelDerived *derived);
gboolean trammel_derived_robust (TrammelDerived *derived);
/* TRUE when it is another method than before. */
gboolean trammel_derived_set_method (TrammelDerived *derived, TrammelScatter scatter, gboolean robust);

G_END_DECLS
