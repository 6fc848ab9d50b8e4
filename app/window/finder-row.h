/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

#include "drive/finder-grid.h"
#include "machine/axis.h"

G_BEGIN_DECLS

/* A train that was found: drawn small, in words, with a button that puts it into the axis.
 *
 * Signal: use (row, const TrammelFinderTrain *): a person wants this one; borrowed. */
#define TRAMMEL_TYPE_FINDER_ROW (trammel_finder_row_get_type ())
G_DECLARE_FINAL_TYPE (TrammelFinderRow, trammel_finder_row, TRAMMEL, FINDER_ROW, GtkWidget)

GtkWidget *trammel_finder_row_new (void);

/* @grid: plate of which the holes are told, pitch 0: none; @axis (nullable): whose train it would replace. */
void trammel_finder_row_show (TrammelFinderRow *row, const TrammelFinderTrain *train, TrammelHoleGrid grid,
                              const TrammelAxis *axis, const TrammelUnit *unit);

G_END_DECLS
