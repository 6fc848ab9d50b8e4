/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "base/quantity.h"
#include "machine/homing-report.h"

G_BEGIN_DECLS

/* What the scatter of a switch means: for a first layer of the height typed, against what approaching and looking so
 * fast cannot better, and how far the bed lies from the switch where that was touched. For axes that move in a line. */
#define TRAMMEL_TYPE_HOMING_USE (trammel_homing_use_get_type ())
G_DECLARE_FINAL_TYPE (TrammelHomingUse, trammel_homing_use, TRAMMEL, HOMING_USE, GtkWidget)

/**
 * trammel_homing_use_show:
 * @homing: copied
 * @unit: of lengths
 * @layer: (nullable): the height of the first layer to begin with, as files hold it; NULL: none is laid along this axis
 */
void trammel_homing_use_show (TrammelHomingUse *use, const TrammelHoming *homing, const TrammelUnit *unit,
                              const char *layer);

G_END_DECLS
