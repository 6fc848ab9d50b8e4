/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Three children. Where there is room for two columns, `start` is the first, `end` above `below` the second; else all
 * stand one below the other: end, start, below. Properties: these three (GtkWidget), wide-from (pixels from which there
 * are two columns), spacing. */
#define TRAMMEL_TYPE_COLUMNS (trammel_columns_get_type ())
G_DECLARE_FINAL_TYPE (TrammelColumns, trammel_columns, TRAMMEL, COLUMNS, GtkWidget)

G_END_DECLS
