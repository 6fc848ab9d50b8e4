/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"
#include "measure/budget.h"
#include "measure/montecarlo.h"
#include "measure/next.h"

G_BEGIN_DECLS

/* What a fit of a machine's readings rests on, and what would make it better. @options are those that @adjustment was
 * made with. */

/* trammel_next_rank() within the machine's travels; where one is not given, 100 mm or a full turn. @letter '\0': the
 * axis known worst. (transfer full) */
GArray *trammel_machine_next (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                              const TrammelAdjustOptions *options, char letter, guint most);

/* trammel_budget(). (transfer full) */
GArray *trammel_machine_budget (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                const TrammelAdjustOptions *options);

/* trammel_monte_carlo(). (transfer full) (nullable) */
GArray *trammel_machine_monte_carlo (const TrammelMachine *machine, const TrammelAdjustment *adjustment,
                                     const TrammelAdjustOptions *options, const TrammelMonteCarloOptions *trials,
                                     GError **error);

/* trammel_plan_adjustment() of @plan with the machine's stated values: what measuring it will tell. Rows without u and
 * instrument are taken to be measured with the first of the machine's instruments, where it has one.
 * (transfer full) (nullable) */
TrammelAdjustment *trammel_machine_plan (const TrammelMachine *machine, const TrammelReadings *plan, GError **error);

G_END_DECLS
